"""The tide of the larder in figures: in store, at table, short, week by week and month by month."""

from collections import defaultdict
from collections.abc import Collection, Sequence
from dataclasses import dataclass
from datetime import date

import numpy as np
from numpy.typing import NDArray

from haulm.catalogue.records import Form
from haulm.plan.records import Lot, Plan
from haulm.sheets.wording import LAYER_OF_FORM, LAYERS

# A hungry gap: weeks on end in which the table lacks this share of what it wants.
GAP_SHARE = 0.3
GAP_WEEKS = 3

Weekly = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class Tide:
    """Weekly figures of a plan, each of shape (weeks,) [kg].

    ``store`` and ``from_store`` by layer of the larder: what still lies sound at the week's end,
    and what the table takes that week. ``fresh``, ``short`` and ``wanted`` are of the whole table.
    """

    store: dict[str, Weekly]
    from_store: dict[str, Weekly]
    fresh: Weekly
    short: Weekly
    wanted: Weekly

    @property
    def all_store(self) -> Weekly:
        """All that lies in store at each week's end [kg]."""
        total: Weekly = np.sum(list(self.store.values()), axis=0)
        return total

    @property
    def all_from_store(self) -> Weekly:
        """All that the table takes from store in each week [kg]."""
        total: Weekly = np.sum(list(self.from_store.values()), axis=0)
        return total


@dataclass(frozen=True, slots=True)
class Gap:
    """Weeks on end in which the table runs short: first and last week, kilograms short, wanted."""

    first_week: int
    last_week: int
    short_kg: float
    wanted_kg: float


@dataclass(frozen=True, slots=True)
class TideMonth:
    """One month of the tide table [kg]; the store as it lies at the end of its last week."""

    month: date
    fresh_kg: float
    stored_kg: float
    short_kg: float
    store_kg: float


def store_of_lot(lot: Lot, weeks: int) -> Weekly:
    """Follow a lot: what lies sound at each week's end [kg], shape (weeks,).

    Each week what is eaten, or kept back as planting stock, leaves first; the rest keeps by the
    lot's curve, the ratio of its sound shares from one week of age to the next.
    """
    taken = [0.0] * weeks
    for week, kg in lot.eaten:
        taken[week] += kg
    if lot.seed_week is not None and lot.seed_week < weeks:
        taken[lot.seed_week] += lot.seed_kg
    held = [0.0] * weeks
    left, age = lot.kg_in, lot.age_weeks
    for week in range(max(0, lot.put_by_week), weeks):
        left = max(0.0, left - taken[week])
        if not left:
            break
        held[week] = left
        left *= _keeps(lot.sound, age)
        age += 1
    return np.array(held)


def _keeps(sound: Sequence[float], age: int) -> float:
    if age + 1 >= len(sound) or sound[age] <= 0:
        return 0.0
    return sound[age + 1] / sound[age]


def tide_of(plan: Plan, lines: Collection[str] | None = None) -> Tide:
    """Add up a plan's larder and table week by week, for all lines of the table or some.

    A lot belongs to the lines that eat of it; if none does, to those its food serves from a
    planting. A lot that lines share is counted whole with each of them.
    """
    weeks = plan.horizon.weeks
    store = {layer: np.zeros(weeks) for layer in LAYERS}
    from_store = {layer: np.zeros(weeks) for layer in LAYERS}
    layer_of_lot = {lot.id: LAYER_OF_FORM[Form(lot.form)] for lot in plan.lots}
    theirs = None if lines is None else lots_of(plan, lines)
    for lot in plan.lots:
        if theirs is None or lot.id in theirs:
            store[layer_of_lot[lot.id]] += store_of_lot(lot, weeks)
    for helping in plan.helpings:
        if helping.lot is not None and (lines is None or helping.line in lines):
            from_store[layer_of_lot[helping.lot]][helping.week] += helping.kg
    fresh, short, wanted = (np.zeros(weeks) for _ in range(3))
    rows = [row for row in plan.table if lines is None or row.line in lines]
    if rows:
        when = np.array([row.week for row in rows])
        np.add.at(fresh, when, [row.fresh_kg for row in rows])
        np.add.at(short, when, [row.short_kg for row in rows])
        np.add.at(wanted, when, [row.wanted_kg for row in rows])
    return Tide(store, from_store, fresh, short, wanted)


def lots_of(plan: Plan, lines: Collection[str]) -> set[str]:
    """Give the lots that belong to some lines of the table."""
    eaters: dict[str, set[str]] = defaultdict(set)
    for helping in plan.helpings:
        if helping.lot is not None:
            eaters[helping.lot].add(helping.line)
    served: dict[str, set[str]] = defaultdict(set)
    for planting in plan.plantings:
        for serves in planting.serves:
            served[serves.food].add(serves.line)
    wanted = set(lines)
    return {lot.id for lot in plan.lots if (eaters[lot.id] or served[lot.food]) & wanted}


def hungry_gaps(tide: Tide) -> tuple[Gap, ...]:
    """Find the weeks on end in which much of the table is missing, in order of time."""
    hungry = (tide.short >= GAP_SHARE * tide.wanted) & (tide.wanted > 0)
    gaps: list[Gap] = []
    start: int | None = None
    for week, missing in enumerate([*hungry, False]):
        if missing and start is None:
            start = week
        elif not missing and start is not None:
            if week - start >= GAP_WEEKS:
                span = slice(start, week)
                short, wanted = float(tide.short[span].sum()), float(tide.wanted[span].sum())
                gaps.append(Gap(start, week - 1, short, wanted))
            start = None
    return tuple(gaps)


def tide_table(plan: Plan, tide: Tide) -> tuple[TideMonth, ...]:
    """Add the weeks up by month; a week belongs to the month of its Thursday, as in ISO 8601."""
    weeks_of: dict[date, list[int]] = defaultdict(list)
    for week in range(plan.horizon.weeks):
        monday = plan.horizon.monday(week)
        weeks_of[date.fromordinal(monday.toordinal() + 3).replace(day=1)].append(week)
    stored, lying = tide.all_from_store, tide.all_store
    return tuple(
        TideMonth(
            month,
            float(tide.fresh[some].sum()),
            float(stored[some].sum()),
            float(tide.short[some].sum()),
            float(lying[some[-1]]),
        )
        for month, some in weeks_of.items()
    )
