"""The newest plan re-added from its records, as it was before it was kept."""

from collections.abc import Iterator

from haulm.desk.garden.opening import Opened
from haulm.desk.planning.plans import asked_of, now_of, plan_before, question_hash
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding, Grade
from haulm.notebook.file import open_notebook
from haulm.planner.audit import audit

PLAN_AGAIN = "Plan again, and look at what changes."


def re_added(opened: Opened) -> tuple[str, tuple[Finding, ...]] | None:
    """Re-add the newest plan kept: how it was found, and where it does not add up; None without.

    A plan answers its garden as it was then. Where the garden would ask otherwise today, it cannot
    be re-added, and that is told.
    """
    if opened.notebook is None:
        return None
    with open_notebook(opened.notebook) as notebook:
        plans = notebook.plans()
        plan = notebook.plan(plans[-1].number) if plans else None
    if plan is None:
        return None
    entry = plans[-1]
    where = f"plan {entry.number} of {plan.made_on}"
    before = plan_before(opened, entry.number)
    try:
        now = now_of(opened, before, plan.made_on)
        seed = plan.solver.seed
        asked = asked_of(now, opened.catalogue, plan.made_on, seed, before=before)
    except FaultsFoundError:
        asked = None
    if asked is None or question_hash(asked.question) != entry.question_hash:
        what = "the garden, its diary or the catalogue say otherwise now than when it was made."
        return "not re-added", (Finding(where, what, PLAN_AGAIN, Grade.NOTE),)
    wrong = tuple(_wrong(where, audit(plan, asked.question)))
    return "does not add up" if wrong else "adds up", wrong


def _wrong(where: str, found: tuple[Finding, ...]) -> Iterator[Finding]:
    for one in found:
        yield Finding(f"{where}, {one.where}", one.what, PLAN_AGAIN)
