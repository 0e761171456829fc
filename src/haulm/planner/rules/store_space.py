"""Store space: no store holds more than it has room for."""

import numpy as np

from haulm.planner.arrays import Ints
from haulm.planner.assembler import Assembler
from haulm.planner.columns import Columns
from haulm.planner.rules.registry import STORE_SPACE
from haulm.planner.tables import Tables


def store_space(model: Assembler, tables: Tables, columns: Columns) -> None:
    """For each limited store and week: litres of what has not been taken out ≤ room + over [l].

    A lot fills its room from the week it is put by to the week it is taken out, both counted; what
    is not taken out of a lot in hand fills it until the lot is past keeping.
    """
    food, weeks, stores = tables.food, tables.weeks, tables.question.stores
    room = np.repeat([np.inf if s.capacity_l is None else s.capacity_l for s in stores], weeks)
    first_row = {store.id: number * weeks for number, store in enumerate(stores)}
    base = np.array([first_row[lot.place] for lot in food.lodgings], dtype=np.int64)
    start = np.array([lot.week for lot in food.lodgings], dtype=np.int64)
    end = np.array([min(weeks, lot.week + len(lot.sound)) for lot in food.lodgings], dtype=np.int64)
    space = np.array([lot.space_l_kg for lot in food.lodgings])
    lot_of = np.concatenate([food.kept_lodging, columns.seed_lodging])
    need_week = np.array([need.week for need in tables.seed_needs], dtype=np.int64)
    out = np.concatenate([food.kept_week, need_week[columns.seed_need]])
    column = np.concatenate([columns.kept, columns.seed_kept])
    freed = space[lot_of] / np.concatenate([food.kept_sound, columns.seed_sound])
    filled_at, filled = _spans(start, end)
    left_at, left = _spans(out + 1, end[lot_of])
    rows = np.arange(len(room))
    model.rows(
        STORE_SPACE.name,
        (np.full(len(room), -np.inf), room),
        [
            (base[filled_at] + filled, columns.put_by[filled_at], space[filled_at]),
            (base[lot_of[left_at]] + left, column[left_at], -freed[left_at]),
            (rows, columns.over_store, -np.ones(len(rows))),
        ],
        waiting=True,
    )


def _spans(start: Ints, end: Ints) -> tuple[Ints, Ints]:
    """Unroll spans of weeks into (number of the span, week)."""
    length = np.maximum(end - start, 0)
    owner = np.repeat(np.arange(len(start)), length)
    first = np.repeat(np.cumsum(length) - length, length)
    return owner, np.repeat(start, length) + np.arange(len(owner)) - first
