"""What one more of each scarce thing would bring to a kept plan, and what was left out of it."""

from collections.abc import Mapping
from dataclasses import asdict, dataclass, field, replace
from datetime import date

from haulm.desk.planning.plans import Made
from haulm.desk.planning.question import OnOffer, ask, on_offer, portions_kg
from haulm.growing.records import Sowing
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.plan.records import Planting
from haulm.planner.counted import as_counted
from haulm.planner.elsewhere import elsewhere
from haulm.planner.held import HeldPlan, OtherGardenError, patches_of
from haulm.planner.left_out import left_out
from haulm.planner.one_more import one_more, worth_by_week
from haulm.planner.question import PlanQuestion
from haulm.planner.records import Elsewhere, LeftOut, OneMore


@dataclass(frozen=True, slots=True)
class Worths:
    """What is told beside a plan.

    Attributes
    ----------
    question
        What the plan answers, without its sowings: for names, weeks and units.
    more
        What one more of each scarce thing would bring.
    left_out
        The kinds that could serve the table and are not planted.
    begun
        The method and the day of each sowing that ``left_out`` names, by its id.
    hours_kg
        By week, what a first hair of an hour would bring [weighted kg/h].
    beds_kg
        By bed and week, what a first hair of a square metre would bring; a bed's worth stands in
        the week from which it is fullest [weighted kg/m²].
    portions_kg
        By line of the table, a usual portion of its first food, as lifted or bought [kg].
    """

    question: PlanQuestion
    more: tuple[OneMore, ...]
    left_out: tuple[LeftOut, ...]
    begun: Mapping[str, tuple[str, date]]
    hours_kg: tuple[float, ...]
    beds_kg: Mapping[str, tuple[float, ...]]
    portions_kg: Mapping[str, float]


def question_of(made: Made, offer: OnOffer | None = None) -> PlanQuestion:
    """Ask again what a plan answers, in the garden as it is now, as of the day it was made.

    Raises
    ------
    FaultsFoundError
        When the garden can no longer be asked about as of that day.
    """
    plan = made.plan
    garden, catalogue, seed = made.begun_from, made.catalogue, plan.solver.seed
    offer = offer or on_offer(garden, catalogue, plan.made_on, seed, made.planned)
    asked = ask(garden, catalogue, plan.made_on, seed, offer=offer)
    return as_counted(asked.question, plan.certainty)


def worths_of(made: Made, offer: OnOffer | None = None) -> Worths:
    """Reckon what one more would bring to a plan; what was left out is not looked for.

    Raises
    ------
    FaultsFoundError
        When the garden has changed so that the plan no longer fits it.
    """
    question = question_of(made, offer)
    try:
        held = HeldPlan(question, patches_of(made.plan))
    except OtherGardenError as error:
        raise _outgrown(error) from error
    hours, beds = worth_by_week(held)
    portions = portions_kg(made.catalogue)
    return Worths(
        question=replace(question, sowings=()),
        more=one_more(held),
        left_out=(),
        begun={},
        hours_kg=tuple(hours.tolist()),
        beds_kg={bed.id: tuple(row) for bed, row in zip(question.beds, beds.tolist(), strict=True)},
        portions_kg={a.line: portions[a.foods[0]] for a in question.appetites},
    )


def with_left_out(
    worths: Worths, made: Made, line: str | None = None, offer: OnOffer | None = None
) -> Worths:
    """Add what was left out of a plan: of one line of the table, or of all.

    Raises
    ------
    FaultsFoundError
        When the garden has changed so that the plan no longer fits it.
    """
    question = question_of(made, offer)
    try:
        others = left_out(question, patches_of(made.plan), line)
    except OtherGardenError as error:
        raise _outgrown(error) from error
    sowings = {sowing.id: sowing for sowing in question.sowings}
    begun = {one.sowing: _begun(sowings[one.sowing]) for one in others if one.sowing}
    return replace(worths, left_out=others, begun=begun)


@dataclass(frozen=True, slots=True)
class Others:
    """A planting somewhere else: in other beds and in other weeks, and when each is begun."""

    beds: tuple[Elsewhere, ...] = ()
    weeks: tuple[Elsewhere, ...] = ()
    begun: Mapping[str, date] = field(default_factory=dict)


def others_of(made: Made, planting: Planting, offer: OnOffer | None = None) -> Others:
    """Try a planting in other beds and weeks; nothing is tried of what stands already.

    Raises
    ------
    FaultsFoundError
        When the garden has changed so that the plan no longer fits it.
    """
    if planting.standing:
        return Others()
    question = question_of(made, offer)
    try:
        beds, weeks = elsewhere(question, patches_of(made.plan), (planting.sowing, planting.bed))
    except OtherGardenError as error:
        raise _outgrown(error) from error
    named = {other.sowing for other in (*beds, *weeks)}
    days = {s.id: s.sow_on for s in question.sowings if s.id in named}
    return Others(beds, weeks, days)


def _begun(sowing: Sowing) -> tuple[str, date]:
    return sowing.method, sowing.sow_on


def _outgrown(error: OtherGardenError) -> FaultsFoundError:
    return FaultsFoundError([Finding("the plan", f"{error}.", "Plan again.")])


def as_data(worths: Worths) -> dict[str, object]:
    """Give worths as plain data, the question left out; what has no number has none."""
    plain = [
        asdict(left) | {"cost_kg": left.cost_kg if left.bed else None} for left in worths.left_out
    ]
    return {
        "more": [asdict(more) | {"fed_kg": more.fed_kg} for more in worths.more],
        "left_out": plain,
        "hours_kg": worths.hours_kg,
        "beds_kg": worths.beds_kg,
        "portions_kg": worths.portions_kg,
    }
