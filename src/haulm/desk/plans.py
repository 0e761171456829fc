"""Make a plan, keep it in the notebook, and answer why it is as it is."""

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

from haulm import __version__
from haulm.catalogue.records import Catalogue
from haulm.desk.changes import PLAN_AGAIN, outgrown
from haulm.desk.dating import old_stock
from haulm.desk.ground import closures_told
from haulm.desk.layouts import crowded, lay_out_plan
from haulm.desk.opening import Opened, open_garden
from haulm.desk.question import ask, display_names
from haulm.desk.storing import unkept
from haulm.desk.windowless import windowless
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding, Grade
from haulm.measure.near import near_names
from haulm.notebook.file import open_notebook
from haulm.notebook.garden import Garden
from haulm.plan.records import Plan, Planting
from haulm.planner.make import make_plan
from haulm.planner.question import Effort, PlanQuestion, Watcher
from haulm.planting.records import PatchLayout


@dataclass(frozen=True, slots=True)
class Made:
    """A plan with all that its sheets need: the garden, the catalogue, every bed's layout.

    ``since`` warns of what has changed since a plan was kept.
    """

    plan: Plan
    garden: Garden
    catalogue: Catalogue
    layouts: Mapping[str, tuple[PatchLayout, ...]]
    names: Mapping[str, str]
    since: tuple[Finding, ...] = ()


def plan_garden(
    path: Path, day: date, effort: Effort, seed: int, watch: Watcher | None = None
) -> Made:
    """Plan a garden as of a day; a notebook keeps the plan, garden.toml is left as it is.

    Raises
    ------
    FaultsFoundError
        When the garden's data has faults; nothing is planned or written.
    AuditFailedError
        When the plan does not survive its independent re-adding; nothing is written.
    InterruptedPlanError
        When it was stopped before there was a plan; nothing is written.
    """
    opened = open_garden(path)
    asked = ask(opened.garden, opened.catalogue, day, seed)
    question = asked.question
    plan = make_plan(question, effort, watch)
    layouts = lay_out_plan(plan, opened.garden.beds, opened.catalogue)
    noticed = (
        *opened.findings,
        *old_stock(opened.garden, day),
        *unkept(opened.garden, asked.kinds),
        *closures_told(opened.garden, opened.catalogue),
        *windowless(asked),
        *crowded(plan, layouts, question.names),
    )
    plan = replace(plan, findings=plan.findings + noticed)
    if opened.notebook is not None:
        with open_notebook(opened.notebook) as notebook:
            notebook.write_plan(plan, question_hash(question), __version__)
    return Made(plan, opened.garden, opened.catalogue, layouts, question.names)


def question_hash(question: PlanQuestion) -> str:
    """Give a short mark of everything a plan depended on, so that it can be made again."""
    # A set is written in another order by every run of Python; all else keeps its own.
    ordered = (replace(question, too_dark=frozenset()), sorted(question.too_dark))
    return hashlib.sha256(repr(ordered).encode()).hexdigest()[:16]


def kept_plan(path: Path) -> Made:
    """Take the newest plan out of a notebook, laid out again.

    Raises
    ------
    FaultsFoundError
        When the path is no notebook, there is no plan in it, or the garden no longer has what the
        plan stands on.
    """
    opened = open_garden(path)
    if opened.notebook is None:
        raise FaultsFoundError(
            [
                Finding(
                    where=str(path),
                    what="garden.toml holds no plans; a notebook does.",
                    remedy="Make one with haulm import, then haulm plan.",
                )
            ]
        )
    with open_notebook(opened.notebook) as notebook:
        plan = notebook.plan()
        asked_then = notebook.plans()[-1].question_hash
    gone = outgrown(plan, opened.garden, opened.catalogue)
    if gone:
        raise FaultsFoundError(gone)
    return Made(
        plan,
        opened.garden,
        opened.catalogue,
        lay_out_plan(plan, opened.garden.beds, opened.catalogue),
        display_names(opened.garden, opened.catalogue),
        since=changed_since(plan, opened, asked_then),
    )


def changed_since(plan: Plan, opened: Opened, asked_then: str) -> tuple[Finding, ...]:
    """Warn where a garden would ask another question today than the one its plan answers."""
    try:
        asked = ask(opened.garden, opened.catalogue, plan.made_on, plan.solver.seed)
        same = question_hash(asked.question) == asked_then
    except FaultsFoundError:
        # What was started or put by since cannot be asked about as of the day of the plan.
        same = False
    if same:
        return ()
    what = "the garden or the catalogue has changed since it was made."
    return (Finding(f"the plan of {plan.made_on}", what, PLAN_AGAIN, Grade.WARNING),)


def find_planting(plan: Plan, wanted: str) -> Planting:
    """Find a planting by its id, suggesting the near ones when there is none.

    Raises
    ------
    FaultsFoundError
        When no planting has that id.
    """
    by_id = {planting.id: planting for planting in plan.plantings}
    if wanted in by_id:
        return by_id[wanted]
    near = near_names(wanted, by_id)
    ids = ", ".join(near or sorted(by_id))
    raise FaultsFoundError(
        [
            Finding(
                where="planting",
                what=f"the plan has no planting called {wanted}.",
                remedy=f"Did you mean {ids}?" if near else f"It has: {ids}.",
            )
        ]
    )
