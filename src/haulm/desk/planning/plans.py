"""Make a plan, keep it in the notebook, and answer why it is as it is."""

import hashlib
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

from haulm import __version__
from haulm.catalogue.records import Catalogue
from haulm.desk.beds.ground import closures_told
from haulm.desk.beds.ground_covers import bare_ground_told
from haulm.desk.beds.layouts import crowded, lay_out_plan
from haulm.desk.beds.perennials import no_stand, stands_told
from haulm.desk.beds.soil_told import soils_told
from haulm.desk.garden.changes import PLAN_AGAIN, outgrown
from haulm.desk.garden.dating import old_stock
from haulm.desk.garden.opening import Opened, open_garden
from haulm.desk.odds.certainty import plan_as_asked
from haulm.desk.planning.differences import differences
from haulm.desk.planning.question import Asked, OnOffer, ask, display_names, on_offer
from haulm.desk.planning.reasons import Difference
from haulm.desk.planning.state import Now, garden_on, noted_since, unused_lots
from haulm.desk.planning.unknown_work import hours_left_out
from haulm.desk.planning.windowless import windowless
from haulm.desk.season.diary_state import with_diary, with_notes
from haulm.desk.table.storing import unkept
from haulm.ground.records import Bed
from haulm.growing.sowings import Planned
from haulm.measure.day_words import long_day
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding, Grade
from haulm.measure.near import near_names
from haulm.notebook.file import open_notebook
from haulm.notebook.garden import Garden
from haulm.notebook.notebook import PlanEntry
from haulm.plan.records import Plan, Planting
from haulm.planner.question import Before, Effort, PlanQuestion, Watcher
from haulm.planting.records import PatchLayout

LOOK_AGAIN = "it is no longer the newest: another was made, kept or dropped in another window."
OTHER_GARDEN = "the garden or the catalogue has changed since this plan was proposed."


@dataclass(frozen=True, slots=True)
class Made:
    """A plan with all that its sheets need: the garden, the catalogue, every bed's layout.

    ``since`` warns of what has changed since a plan was kept; ``number`` is the plan's in its
    notebook, by which a proposal is kept (None: it is in none); ``changes`` tells in what a plan
    just made differs from the one it carries on; ``now`` is the state it was made from.
    """

    plan: Plan
    garden: Garden
    catalogue: Catalogue
    layouts: Mapping[str, tuple[PatchLayout, ...]]
    names: Mapping[str, str]
    since: tuple[Finding, ...] = ()
    number: int | None = None
    changes: tuple[Difference, ...] = ()
    now: Now | None = None

    @property
    def begun_from(self) -> Garden:
        """The garden as it was when the plan was made: what stood then, and what lay in store."""
        return self.now.garden if self.now else self.garden

    @property
    def planned(self) -> Planned:
        """What a plan before it had still to sow, which was offered again."""
        return self.now.planned if self.now else frozenset()


@dataclass(frozen=True, slots=True)
class Means:
    """By whom the long parts of showing a plan are done: here and now, unless someone keeps them.

    ``lay`` lays out a plan in its beds; ``offer`` works out what may be sown.
    """

    lay: Callable[[Plan, Sequence[Bed], Catalogue], Mapping[str, tuple[PatchLayout, ...]]] = (
        lay_out_plan
    )
    offer: Callable[[Garden, Catalogue, date, int, Planned], OnOffer] = on_offer


HERE_AND_NOW = Means()


def leave_unlaid(
    _plan: Plan, _beds: Sequence[Bed], _catalogue: Catalogue
) -> Mapping[str, tuple[PatchLayout, ...]]:
    """Lay nothing out: for whoever needs no stations, since that takes long."""
    return {}


UNLAID = Means(lay=leave_unlaid)


def plan_garden(
    path: Path,
    day: date,
    effort: Effort,
    seed: int,
    watch: Watcher | None = None,
    *,
    propose: bool = False,
) -> Made:
    """Plan a garden as of a day; a notebook keeps the plan, garden.toml is left as it is.

    The plan is made for the certainty that the garden asks for, of means where it asks for none.
    Where the notebook keeps a plan already, the new one carries it on: what was due before the
    Monday of the day counts as done, but for what was noted; what stands is fixed; and a change of
    what is still to come has to be worth its price.

    Parameters
    ----------
    path
        The notebook, or garden.toml.
    day, effort, seed, watch
        As of when, how hard to look, the seed of every random draw, and who is told how it goes.
    propose
        Whether the plan is only proposed: :func:`keep_proposal` keeps it, and until then the plan
        kept before is the one that holds.

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
    before = plan_before(opened)
    now = now_of(opened, before, day)
    asked = asked_of(now, opened.catalogue, day, seed, before=before)
    question = asked.question
    plan = plan_as_asked(question, opened, effort, watch)
    layouts = lay_out_plan(plan, opened.garden.beds, opened.catalogue)
    noticed = (
        *opened.findings,
        *now.findings,
        *old_stock(opened.garden, day),
        *unkept(now.garden, asked.kinds),
        *hours_left_out(asked.kinds),
        *closures_told(opened.garden, opened.catalogue),
        *soils_told(opened.garden, opened.catalogue, asked.kinds),
        *windowless(asked),
        *no_stand(opened.garden, opened.catalogue, asked),
        *stands_told(now.garden, opened.catalogue, asked),
        *crowded(plan, layouts, question.names),
        *bare_ground_told(plan, opened.catalogue, asked, opened.garden.units),
    )
    unused = unused_lots(plan, now.garden, opened.garden)
    begun = replace(now.begun, unused=unused)
    plan = replace(plan, findings=plan.findings + noticed, begun=begun)
    number = None
    if opened.notebook is not None:
        with open_notebook(opened.notebook, writing=True) as notebook:
            mark = question_hash(question)
            number = notebook.write_plan(plan, mark, __version__, kept=not propose)
    changes: tuple[Difference, ...] = ()
    if before is not None:
        changes = differences(before, plan, question.names, opened.garden.units, now.gone)
    return Made(
        plan,
        opened.garden,
        opened.catalogue,
        layouts,
        question.names,
        number=number,
        changes=changes,
        now=now,
    )


def newest_kept(opened: Opened) -> Plan | None:
    """Give the plan that is kept as it was made; None where there is none, or no notebook."""
    return plan_before(opened)


def plan_before(opened: Opened, number: int | None = None) -> Plan | None:
    """Give the plan that is kept, or that was before one of a number; None where none was."""
    if opened.notebook is None:
        return None
    with open_notebook(opened.notebook) as notebook:
        kept = [entry.number for entry in notebook.plans()]
        earlier = [each for each in kept if number is None or each < number]
        return notebook.plan(earlier[-1]) if earlier else None


def asked_now(opened: Opened, day: date, seed: int, means: Means = HERE_AND_NOW) -> Asked:
    """Put the question of a garden as of a day, its kept plan carried on until then."""
    now = garden_on(opened.garden, opened.catalogue, plan_before(opened), day)
    return asked_of(now, opened.catalogue, day, seed, means=means)


def asked_of(
    now: Now,
    catalogue: Catalogue,
    day: date,
    seed: int,
    *,
    before: Plan | None = None,
    means: Means = HERE_AND_NOW,
) -> Asked:
    """Put the question of a garden as it is on a day, what is still planned offered again."""
    patches = tuple(
        Before(planting.sowing, planting.bed, planting.area_m2)
        for planting in (before.plantings if before else ())
        if not planting.standing
    )
    offer = means.offer(now.garden, catalogue, day, seed, now.planned)
    return ask(now.garden, catalogue, day, seed, patches, offer)


def now_of(opened: Opened, before: Plan | None, day: date) -> Now:
    """Give a garden on a day as it is told, as its diary has it, and as its plan was carried on."""
    told = with_diary(opened, before, day)
    return garden_on(told.garden, opened.catalogue, before, day, books_kept=told.books_kept)


def changes_between(kept: Made, proposed: Made) -> tuple[Difference, ...]:
    """Tell in what a plan differs from the one it carries on, and why where a note says so."""
    gone = proposed.now.gone if proposed.now else ()
    units = proposed.garden.units
    return differences(kept.plan, proposed.plan, proposed.names, units, gone)


def question_hash(question: PlanQuestion) -> str:
    """Give a short mark of everything a plan answers, pins included.

    The plan before it is left out: it says which answer was at hand, not what was asked.
    """
    # A set is written in another order by every run of Python; all else keeps its own.
    asked = replace(question, too_dark=frozenset(), before=())
    ordered = (asked, sorted(question.too_dark))
    return hashlib.sha256(repr(ordered).encode()).hexdigest()[:16]


def kept_plan(path: Path, means: Means = HERE_AND_NOW) -> Made:
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
        entry = notebook.plans()[-1]
    return _taken_out(opened, plan, entry, means)


def proposed_plan(path: Path, means: Means = HERE_AND_NOW) -> Made | None:
    """Take the plan that is proposed out of a notebook, laid out again; None where there is none.

    Raises
    ------
    FaultsFoundError
        When the path is no notebook, or the garden no longer has what the plan stands on.
    """
    opened = open_garden(path)
    proposal = _proposal(path)
    return proposal and _taken_out(opened, proposal[1], proposal[0], means)


def keep_proposal(path: Path, number: int) -> None:
    """Keep the plan that is proposed; from now on it is the one that holds.

    Parameters
    ----------
    path
        The notebook.
    number
        That of the proposal that was looked at, as :func:`proposed_plan` gave it.

    Raises
    ------
    FaultsFoundError
        When another plan was made since, or the garden is no longer what the plan answers; it is
        not kept then.
    """
    opened = open_garden(path)
    proposal = _proposal(path)
    if proposal is None or proposal[0].number != number:
        raise _not_kept(LOOK_AGAIN)
    entry, plan = proposal
    if outgrown(plan, opened.garden, opened.catalogue) or changed_since(plan, opened, entry):
        raise _not_kept(OTHER_GARDEN)
    with open_notebook(path, writing=True) as notebook:
        newest = notebook.proposal()
        if newest is None or newest[0].number != number:
            raise _not_kept(LOOK_AGAIN)
        notebook.keep(number)


def drop_proposal(path: Path) -> None:
    """Drop the plan that is proposed, if there is one; the plan kept before goes on holding."""
    with open_notebook(path, writing=True) as notebook:
        notebook.drop_proposals()


def _proposal(path: Path) -> tuple[PlanEntry, Plan] | None:
    """Give the plan that is proposed, with what is needed to make it again."""
    with open_notebook(path) as notebook:
        return notebook.proposal()


def _not_kept(what: str) -> FaultsFoundError:
    """Make the error that refuses to keep a proposal."""
    return FaultsFoundError([Finding("the plan proposed", what, "Plan again, and look at that.")])


def _taken_out(opened: Opened, plan: Plan, entry: PlanEntry, means: Means) -> Made:
    """Lay a plan out in the garden of today, and warn where that is no longer the same.

    Raises
    ------
    FaultsFoundError
        When the garden no longer has what the plan stands on.
    """
    gone = outgrown(plan, opened.garden, opened.catalogue)
    if gone:
        raise FaultsFoundError(gone)
    return Made(
        plan,
        opened.garden,
        opened.catalogue,
        means.lay(plan, opened.garden.beds, opened.catalogue),
        display_names(opened.garden, opened.catalogue),
        since=changed_since(plan, opened, entry, means),
        number=entry.number,
        now=now_of(opened, plan_before(opened, entry.number), plan.made_on),
    )


def changed_since(
    plan: Plan, opened: Opened, entry: PlanEntry, means: Means = HERE_AND_NOW
) -> tuple[Finding, ...]:
    """Warn where a garden would ask another question today than the one its plan answers.

    What was noted after the day of the plan is a change too, though it asks nothing of that day.
    """
    try:
        catalogue = opened.catalogue
        day, seed = plan.made_on, plan.solver.seed
        now = now_of(opened, plan_before(opened, entry.number), day)
        asked = asked_of(now, catalogue, day, seed, means=means)
        same = question_hash(asked.question) == entry.question_hash
        same = same and not noted_since(with_notes(opened, plan), plan)
    except FaultsFoundError:
        # What was started or put by since cannot be asked about as of the day of the plan.
        same = False
    if same:
        return ()
    what = "the garden or the catalogue has changed since it was made."
    return (Finding(f"the plan of {long_day(plan.made_on)}", what, PLAN_AGAIN, Grade.WARNING),)


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
