"""Who is served: each kilogram traced from the patch, straight or through store, to the table."""

from collections import defaultdict
from dataclasses import dataclass

import numpy as np

from haulm.plan.records import Serves
from haulm.planner.tables import Tables
from haulm.planner.taken import Taken


@dataclass(slots=True)
class _Run:
    """What one food brings to one line so far."""

    kg: float
    first: int
    last: int


def serves_by_sowing(tables: Tables, taken: Taken) -> dict[int, tuple[Serves, ...]]:
    """Trace what every sowing brings to each line, in shares of what was picked together [kg]."""
    question, food = tables.question, tables.food
    tables_of = _eaten_from(tables, taken)
    runs: dict[int, dict[tuple[int, str], _Run]] = defaultdict(dict)
    for (number, week), kg in taken.picked_kg.items():
        gift = food.gifts[number]
        share = kg / taken.pool_kg[gift.pool, week]
        for line, eaten_week, eaten in tables_of.get((gift.pool, week), ()):
            key = (line, food.pools[gift.pool][1])
            run = runs[gift.sowing].setdefault(key, _Run(0.0, eaten_week, eaten_week))
            run.kg += share * eaten
            run.first, run.last = min(run.first, eaten_week), max(run.last, eaten_week)
    return {
        sowing: tuple(
            Serves(question.appetites[line].line, eaten, run.kg, run.first, run.last)
            for (line, eaten), run in sorted(found.items(), key=lambda item: -item[1].kg)
        )
        for sowing, found in runs.items()
    }


def _eaten_from(
    tables: Tables, taken: Taken
) -> dict[tuple[int, int], list[tuple[int, int, float]]]:
    """List, for each pool and week of lifting, the (line, week eaten, kg at table) it fed."""
    food = tables.food
    fed: dict[tuple[int, int], list[tuple[int, int, float]]] = defaultdict(list)
    for way in np.nonzero(taken.fresh_kg)[0]:
        week = int(food.fresh_week[way])
        line = int(food.want_line[food.fresh_want[way]])
        fed[int(food.fresh_pool[way]), week].append((line, week, float(taken.fresh_kg[way])))
    for way in np.nonzero(taken.kept_kg)[0]:
        lodging = food.lodgings[food.kept_lodging[way]]
        line = int(food.want_line[food.kept_want[way]])
        fed[lodging.pool, lodging.week].append(
            (line, int(food.kept_week[way]), float(taken.kept_kg[way]))
        )
    return fed
