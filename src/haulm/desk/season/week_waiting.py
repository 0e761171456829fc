"""What it costs to leave a job of the week: each job asked of what the plan feeds."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import timedelta

from haulm.catalogue.food_facts import load_food_facts
from haulm.catalogue.records import Absent, Catalogue, Picking
from haulm.desk.planning.plans import Made
from haulm.desk.planning.question import portions_kg
from haulm.household.records import TableLine
from haulm.plan.records import Lot, Plan, Planting
from haulm.planner.question import Prices
from haulm.season.as_it_stands import OffPlan
from haulm.season.feeding import Feeding, TableWorth, feeding_of
from haulm.season.waiting import (
    NOTHING,
    Waits,
    clear_waits,
    lift_waits,
    pick_waits,
    put_by_waits,
    set_out_waits,
    start_waits,
    tend_waits,
)
from haulm.sheets.acts import JobKind
from haulm.sheets.week_jobs import Job
from haulm.sheets.week_list import Timed

GRAMS_A_KG, GRAMS_TOLD = 1000, 100
STARTS = frozenset({JobKind.SOW_TRAYS, JobKind.SOW, JobKind.PLANT})
TAKES = frozenset({JobKind.PICK, JobKind.LIFT})


@dataclass(frozen=True, slots=True)
class Asked:
    """What the jobs of a plan are asked with.

    Attributes
    ----------
    feeding
        What the plan, as it was made, feeds.
    plantings
        Its plantings, by id.
    lots
        Its lots, by id.
    moved
        How far each planting is from its plan.
    bed_ids
        The id of each bed, by its name.
    together
        By lot: all lots of one food, kind, form, place and week, which are one job.
    """

    feeding: Feeding
    plantings: Mapping[str, Planting]
    lots: Mapping[str, Lot]
    moved: Mapping[str, OffPlan]
    bed_ids: Mapping[str, str]
    together: Mapping[str, tuple[Lot, ...]]

    @property
    def plan(self) -> Plan:
        """The plan as it was made."""
        return self.feeding.plan

    def weeks_moved(self, planting: str) -> int:
        """Give how many weeks a planting is later than planned [weeks]."""
        moved = self.moved.get(planting)
        return moved.weeks if moved else 0


def feeding_for(made: Made) -> Feeding:
    """Trace what a kept plan feeds, each line weighed as the planner weighs it."""
    catalogue, table = made.catalogue, made.garden.household.table
    how = {
        (kind.id, giving.food): giving.picking
        for kind in catalogue.kinds.values()
        for giving in kind.givings
    }
    return feeding_of(made.plan, table_worth(catalogue, table), how)


def table_worth(catalogue: Catalogue, table: Sequence[TableLine]) -> TableWorth:
    """Say what a kilogram of each food is at table: portions, energy as lifted, priority."""
    facts = load_food_facts().facts
    weights = Prices().priority_weight
    kcal = {}
    for food in catalogue.foods.values():
        held = facts[food.id].energy_kcal_100g if food.id in facts else None
        if held is not None:
            kcal[food.id] = held * food.kitchen_share.value * GRAMS_A_KG / GRAMS_TOLD
    return TableWorth(
        portions_kg(catalogue),
        kcal,
        {line.id: line.foods for line in table},
        {line.id: weights[line.priority - 1] for line in table},
    )


def asked_of(made: Made, feeding: Feeding, moved: Mapping[str, OffPlan]) -> Asked:
    """Gather what the jobs of a plan are asked with."""
    plan = made.plan
    same: dict[tuple[int, str, str, str, str], list[Lot]] = {}
    for lot in plan.lots:
        if not lot.in_hand:
            key = (lot.put_by_week, lot.food, lot.kind, lot.form, lot.place)
            same.setdefault(key, []).append(lot)
    return Asked(
        feeding,
        {planting.id: planting for planting in plan.plantings},
        {lot.id: lot for lot in plan.lots},
        moved,
        {bed.name: bed.id for bed in plan.beds},
        {lot.id: tuple(lots) for lots in same.values() for lot in lots},
    )


def waits_of(asked: Asked, job: Job, growth: float = 1.0) -> Waits:
    """Say what it costs to leave a job; ``growth`` is how fast weeds grow against summer [1]."""
    if job.kind is JobKind.TEND:
        bed, week = asked.bed_ids[job.place], asked.plan.horizon.week_of(job.first_day)
        return tend_waits(asked.feeding, bed, week, growth)
    if job.kind is JobKind.PUT_BY:
        lots = lots_of(asked, job)
        if not lots:
            return NOTHING
        week = asked.plan.horizon.week_of(job.first_day)
        ids = [lot.id for lot in lots]
        return put_by_waits(asked.feeding, ids, lots[0].form, week)
    planting = asked.plantings.get(job.planting)
    return _of_planting(asked, job, planting) if planting else NOTHING


def _of_planting(asked: Asked, job: Job, planting: Planting) -> Waits:
    weeks = asked.weeks_moved(planting.id)
    feeding = asked.feeding
    if job.kind in STARTS:
        return start_waits(feeding, planting)
    if job.kind is JobKind.SET_OUT:
        return _later(set_out_waits(feeding, planting), weeks)
    if job.kind in TAKES:
        food = food_of(job, planting)
        planned = asked.plan.horizon.week_of(job.first_day) - weeks
        once = feeding.how.get((planting.kind, food)) is Picking.ONCE
        take = lift_waits if once else pick_waits
        return _later(take(feeding, planting, food, planned), weeks)
    if job.kind in {JobKind.CLEAR, JobKind.DIG_IN}:
        return clear_waits(feeding, planting)
    return NOTHING


def food_of(job: Job, planting: Planting) -> str:
    """Name the food that a picking or lifting takes."""
    foods = [pick.food for pick in planting.picks]
    return next((food for food in foods if f"-{job.kind.value}-{food}-" in job.id), "")


def lots_of(asked: Asked, job: Job) -> tuple[Lot, ...]:
    """Give the lots that a putting by makes."""
    return asked.together.get(job.id.removesuffix(f"-{JobKind.PUT_BY.value}"), ())


def _later(waits: Waits, weeks: int) -> Waits:
    """Move what waiting costs by some weeks."""
    if not weeks:
        return waits
    by = timedelta(weeks=weeks)
    last = waits.last_day + by if waits.last_day else None
    return replace(waits, steps=tuple((day + by, lost) for day, lost in waits.steps), last_day=last)


def spread_of(asked: Asked, job: Job) -> tuple[float, float] | None:
    """Give what a planting yields in a poor and in a good year against the middle [1]."""
    planting = asked.plantings.get(job.planting)
    if planting is None or not planting.expects:
        return None
    food = food_of(job, planting)
    chief = max(planting.expects, key=lambda one: (one.food == food, one.kg))
    return (chief.low_kg / chief.kg, chief.high_kg / chief.kg) if chief.kg > 0 else None


def over_kg(asked: Asked, job: Job) -> float:
    """Give what a week's picking brings beyond what is eaten or put by [kg]."""
    planting = asked.plantings.get(job.planting)
    if planting is None or job.kind not in TAKES:
        return 0.0
    food = food_of(job, planting)
    week = asked.plan.horizon.week_of(job.first_day) - asked.weeks_moved(planting.id)
    own = asked.feeding.picks.get((planting.id, food), {}).get(week, 0.0)
    whole = asked.feeding.picked.get((food, week), 0.0)
    return asked.feeding.glut.get((food, week), 0.0) * own / whole if whole > 0 else 0.0


def timed_of(job: Job, catalogue: Catalogue, asked: Asked) -> Timed:
    """Say what is known of a job's minutes."""
    planting = asked.plantings.get(job.planting)
    kind = catalogue.kinds.get(planting.kind) if planting else None
    if job.kind is JobKind.PUT_BY:
        return _timed_by([lot.work_min_kg for lot in lots_of(asked, job)])
    if kind is not None:
        figure = {JobKind.PICK: kind.labour.pick_min_kg, JobKind.LIFT: kind.labour.pick_min_kg}.get(
            job.kind, kind.labour.start_min_m2
        )
        if isinstance(figure, Absent):
            return Timed.NOBODY_KNOWS
    return Timed.WITH_OTHERS if job.minutes is None else Timed.KNOWN


def _timed_by(minutes: Iterable[float]) -> Timed:
    return Timed.KNOWN if any(one > 0 for one in minutes) else Timed.NOBODY_KNOWS


def has_figure(job: Job, planting: Planting | None) -> bool:
    """Say whether what waiting costs has a figure: yearly care and green manures have none."""
    if job.kind in {JobKind.MULCH, JobKind.CUT_DOWN, JobKind.DIG_IN}:
        return False
    return planting is None or bool(planting.expects) or job.kind is JobKind.CLEAR
