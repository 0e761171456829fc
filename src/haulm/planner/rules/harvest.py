"""Harvest: no more is eaten or put by than the ground gives that week."""

import numpy as np

from haulm.catalogue.records import Role
from haulm.planner.assembler import Assembler, Entries
from haulm.planner.columns import Columns
from haulm.planner.food_tables import Gift
from haulm.planner.rules.registry import HARVEST
from haulm.planner.tables import Tables

Triple = tuple[int, int, float]


def harvest(model: Assembler, tables: Tables, columns: Columns) -> None:
    """Lay down what the ground gives.

    Each sowing's total is the sum of its patches. In each pool and week, fresh + put by ≤ what is
    picked. Food that stands: Σ taken ≤ yield · ground. Ground given to a food taken instead of the
    main one gives no main food, nor any by-product that would come after it.
    """
    _totals(model, tables, columns)
    _shared_ground(model, tables, columns)
    _standing_food(model, tables, columns)
    _pools(model, tables, columns)


def ground_of(tables: Tables, columns: Columns, number: int) -> list[tuple[int, float]]:
    """Give the (column, sign) whose sum is the area a gift is taken from."""
    gift = tables.food.gifts[number]
    if gift.role is Role.INSTEAD:
        return [(int(columns.given[number]), 1.0)]
    lost = [
        (int(columns.given[other]), -1.0)
        for other in tables.food.gifts_of.get(gift.sowing, ())
        if columns.given[other] >= 0 and _ends(tables.food.gifts[other], gift)
    ]
    return [(int(columns.total[gift.sowing]), 1.0), *lost]


def _ends(instead: Gift, gift: Gift) -> bool:
    """Say whether taking one food first leaves none of the other."""
    return gift.role is Role.MAIN or instead.first_week <= gift.first_week


def _totals(model: Assembler, tables: Tables, columns: Columns) -> None:
    ground = tables.ground
    chosen = np.arange(ground.chosen_count)
    zero = np.zeros(len(chosen))
    model.rows(
        HARVEST.name,
        (zero, zero),
        [
            (ground.pair_sowing, columns.area, np.ones(len(columns.area))),
            (chosen, columns.total[chosen], -np.ones(len(chosen))),
        ],
    )


def _shared_ground(model: Assembler, tables: Tables, columns: Columns) -> None:
    instead = np.nonzero(columns.given >= 0)[0]
    sowings = sorted({tables.food.gifts[number].sowing for number in instead})
    row_of = {sowing: row for row, sowing in enumerate(sowings)}
    row = np.array([row_of[tables.food.gifts[n].sowing] for n in instead], dtype=np.int64)
    rows = np.arange(len(sowings))
    model.rows(
        HARVEST.name,
        (np.full(len(rows), -np.inf), np.zeros(len(rows))),
        [
            (row, columns.given[instead], np.ones(len(row))),
            (rows, columns.total[np.array(sowings, dtype=np.int64)], -np.ones(len(rows))),
        ],
    )


def _standing_food(model: Assembler, tables: Tables, columns: Columns) -> None:
    stands = [n for n, gift in enumerate(tables.food.gifts) if gift.stands]
    row_of = {number: row for row, number in enumerate(stands)}
    triples = [
        (row, column, -sign * tables.food.gifts[number].yield_kg_m2)
        for number, row in row_of.items()
        for column, sign in ground_of(tables, columns, number)
    ]
    taken = np.array([row_of[int(g)] for g in columns.taken_gift], dtype=np.int64)
    model.rows(
        HARVEST.name,
        (np.full(len(stands), -np.inf), np.zeros(len(stands))),
        [(taken, columns.taken, np.ones(len(taken))), _entries(triples)],
    )


def _pools(model: Assembler, tables: Tables, columns: Columns) -> None:
    food, weeks = tables.food, tables.weeks
    triples: list[Triple] = []
    for number, gift in enumerate(food.gifts):
        if not gift.stands:
            base = gift.pool * weeks
            triples += [
                (base + week, column, -sign * kg)
                for column, sign in ground_of(tables, columns, number)
                for week, kg in zip(gift.weeks, gift.kg_m2, strict=True)
            ]
    pool_of_gift = np.array([gift.pool for gift in food.gifts], dtype=np.int64)
    new = np.array([n for n, lot in enumerate(food.lodgings) if not lot.in_hand], dtype=np.int64)
    put_by = np.array(
        [lot.pool * weeks + lot.week for lot in food.lodgings if not lot.in_hand], dtype=np.int64
    )
    parts = [
        _entries(triples),
        (
            pool_of_gift[columns.taken_gift] * weeks + columns.taken_week,
            columns.taken,
            -np.ones(len(columns.taken)),
        ),
        (food.fresh_pool * weeks + food.fresh_week, columns.fresh, np.ones(len(columns.fresh))),
        (put_by, columns.put_by[new], np.ones(len(new))),
    ]
    used = np.unique(np.concatenate([row for row, _, _ in parts]))
    model.rows(
        HARVEST.name,
        (np.full(len(used), -np.inf), np.zeros(len(used))),
        [(np.searchsorted(used, row), column, value) for row, column, value in parts],
    )


def _entries(triples: list[Triple]) -> Entries:
    return (
        np.array([row for row, _, _ in triples], dtype=np.int64),
        np.array([column for _, column, _ in triples], dtype=np.int64),
        np.array([value for _, _, value in triples], dtype=np.float64),
    )
