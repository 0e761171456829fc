"""What a plan means to have in store, week by week, and to take from it."""

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from haulm.forecast.records import Floats
from haulm.plan.records import Lot, Plan


@dataclass(frozen=True, slots=True, eq=False)
class StorePlan:
    """What a plan means to have in store.

    Attributes
    ----------
    taken_kg
        By line, food and week: what is taken out for the line [kg].
    sound_kg
        By food: what is sound at the start of each week, shape (weeks,) [kg].
    put_by
        By food: the weeks in which any of it is put by, in order.
    weeks
        The weeks of the plan.
    """

    taken_kg: Mapping[tuple[str, str, int], float]
    sound_kg: Mapping[str, Floats]
    put_by: Mapping[str, tuple[int, ...]]
    weeks: int

    def there_kg(self, food: str, week: int) -> float:
        """Give what the plan means to have in store at the start of a week [kg]."""
        return float(self.sound_kg[food][week]) if food in self.sound_kg else 0.0

    def weeks_to_last(self, food: str, week: int) -> int:
        """Count the weeks until the food is put by again, or the plan ends; 1 at least."""
        again = next((put for put in self.put_by.get(food, ()) if put > week), self.weeks)
        return max(1, again - week)


def store_plan(plan: Plan) -> StorePlan:
    """Add up a plan's lots and what it takes from them."""
    taken: dict[tuple[str, str, int], float] = defaultdict(float)
    for helping in plan.helpings:
        if helping.lot is not None:
            taken[helping.line, helping.food, helping.week] += helping.kg
    weeks = plan.horizon.weeks
    sound: dict[str, Floats] = defaultdict(lambda: np.zeros(weeks))
    put_by: dict[str, set[int]] = defaultdict(set)
    for lot in plan.lots:
        sound[lot.food] += _sound_kg(lot, weeks)
        if not lot.in_hand:
            put_by[lot.food].add(lot.put_by_week)
    return StorePlan(
        taken, sound, {food: tuple(sorted(when)) for food, when in put_by.items()}, weeks
    )


def sound_since(lot: Lot, weeks: NDArray[np.int64]) -> Floats:
    """Give the share of a lot that is sound in weeks of the plan, against its first day there [1].

    That day is the one it is put by, or for a lot in hand the plan's first; 0 before it, and once
    it is past keeping.
    """
    table = np.asarray(lot.sound)
    before = lot.age_weeks if lot.in_hand else -lot.put_by_week
    ages = weeks + before
    there = (ages >= max(before, 0)) & (ages < table.size)
    start = table[lot.age_weeks] if lot.in_hand and lot.age_weeks < table.size else 1.0
    return np.where(there, table[np.clip(ages, 0, table.size - 1)] / start, 0.0)


def _sound_kg(lot: Lot, weeks: int) -> Floats:
    """Give what is sound of a lot at the start of each week, shape (weeks,) [kg]."""
    share = sound_since(lot, np.arange(weeks))
    out = np.zeros(weeks)
    for week, kg in lot.eaten:
        if share[week] > 0:
            out[week] += kg / share[week]
    left = lot.kg_in - np.concatenate(([0.0], np.cumsum(out)[:-1]))
    return np.asarray(np.maximum(left, 0.0) * share)
