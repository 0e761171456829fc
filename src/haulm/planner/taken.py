"""What a solution means in the garden: kilograms picked, put by and eaten, cleaned of noise."""

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from haulm.planner.arrays import Flags, Floats
from haulm.planner.columns import Columns
from haulm.planner.rules.harvest import ground_of
from haulm.planner.tables import Tables

NOISE = 1e-6
"""Kilograms, areas and units below this are the solver's noise, and count as nothing."""


@dataclass(frozen=True, slots=True)
class Taken:
    """A plan in kilograms and square metres.

    Attributes
    ----------
    area_m2, total_m2
        (P), (S) areas [m²].
    fresh_kg, kept_kg, seed_kg
        (E), (V), (D) helpings and planting stock, as in the columns [kg].
    put_by_kg
        (lodgings) put by to be eaten, as lifted; seed not counted [kg].
    picked_kg
        (gift, week) → kilograms lifted.
    pool_kg
        (pool, week) → kilograms lifted, all sowings together.
    given_m2
        gift → area it is taken from, what was given to other foods left out [m²].
    """

    area_m2: Floats
    total_m2: Floats
    fresh_kg: Floats
    kept_kg: Floats
    seed_kg: Floats
    put_by_kg: Floats
    picked_kg: Mapping[tuple[int, int], float]
    pool_kg: Mapping[tuple[int, int], float]
    given_m2: Mapping[int, float]


def take(tables: Tables, columns: Columns, used: Flags, values: Floats) -> Taken:
    """Read a solution: drop noise, then let everything upstream follow from what is eaten."""
    food, ground = tables.food, tables.ground
    area = np.where(used, values[columns.area], 0.0)
    total = ground.fixed_m2 + np.bincount(
        ground.pair_sowing, weights=area, minlength=len(ground.sowings)
    )
    fresh, kept, seed = (
        np.where(values[block] > NOISE, values[block], 0.0)
        for block in (columns.fresh, columns.kept, columns.seed_kept)
    )
    put_by = np.bincount(
        food.kept_lodging, weights=kept / food.kept_sound, minlength=len(food.lodgings)
    ).astype(np.float64)
    lifted = put_by + np.bincount(
        columns.seed_lodging, weights=seed / columns.seed_sound, minlength=len(food.lodgings)
    )
    pools: dict[tuple[int, int], float] = defaultdict(float)
    for way in np.nonzero(fresh)[0]:
        pools[int(food.fresh_pool[way]), int(food.fresh_week[way])] += float(fresh[way])
    for number in np.nonzero(lifted)[0]:
        lodging = food.lodgings[number]
        if not lodging.in_hand:
            pools[lodging.pool, lodging.week] += float(lifted[number])
    values = _nothing_given_in_vain(tables, columns, values, pools)
    given = {
        number: max(
            0.0,
            sum(sign * float(values[c]) for c, sign in ground_of(tables, columns, number)),
        )
        for number, gift in enumerate(food.gifts)
        if total[gift.sowing] > 0
    }
    return Taken(
        area_m2=area,
        total_m2=total,
        fresh_kg=fresh,
        kept_kg=kept,
        seed_kg=seed,
        put_by_kg=put_by,
        picked_kg=_picked(tables, columns, values, (pools, given)),
        pool_kg=pools,
        given_m2=given,
    )


def _nothing_given_in_vain(
    tables: Tables, columns: Columns, values: Floats, pools: Mapping[tuple[int, int], float]
) -> Floats:
    """Give no ground over to a food taken instead of the main one where none of it is lifted."""
    idle = [
        int(columns.given[number])
        for number, gift in enumerate(tables.food.gifts)
        if columns.given[number] >= 0 and not any((gift.pool, w) in pools for w in gift.weeks)
    ]
    cleaned = values.copy()
    cleaned[idle] = 0.0
    return cleaned


def _picked(
    tables: Tables,
    columns: Columns,
    values: Floats,
    known: tuple[Mapping[tuple[int, int], float], Mapping[int, float]],
) -> dict[tuple[int, int], float]:
    """Share each pool's picking among its sowings, by what each has there that week."""
    pools, given = known
    offered: dict[tuple[int, int], dict[int, float]] = defaultdict(dict)
    for number, area in given.items():
        gift = tables.food.gifts[number]
        if not gift.stands:
            for week, kg in zip(gift.weeks, gift.kg_m2, strict=True):
                if (gift.pool, week) in pools and kg * area > 0:
                    offered[gift.pool, week][number] = kg * area
    for column, number, week in zip(
        columns.taken, columns.taken_gift, columns.taken_week, strict=True
    ):
        pool = tables.food.gifts[number].pool
        if (pool, int(week)) in pools and values[column] > 0:
            offered[pool, int(week)][int(number)] = float(values[column])
    return {
        (number, week): kg * pools[pool, week] / sum(by_gift.values())
        for (pool, week), by_gift in offered.items()
        for number, kg in by_gift.items()
    }
