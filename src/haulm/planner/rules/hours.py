"""Hours: no week asks more hours than the household gives."""

import numpy as np

from haulm.planner.arrays import Floats, Ints
from haulm.planner.assembler import Assembler
from haulm.planner.columns import Columns
from haulm.planner.rules.registry import HOURS
from haulm.planner.tables import Tables

MINUTES_AN_HOUR = 60.0


def hours(model: Assembler, tables: Tables, columns: Columns) -> None:
    """For each week: minutes of work / 60 ≤ hours given + overtime [h]."""
    week, column, minutes = work(tables, columns)
    weeks = np.arange(tables.weeks)
    model.rows(
        HOURS.name,
        (np.full(len(weeks), -np.inf), np.array(tables.question.hours_week)),
        [
            (week, column, minutes / MINUTES_AN_HOUR),
            (weeks, columns.overtime, -np.ones(len(weeks))),
        ],
        waiting=True,
    )


def work(tables: Tables, columns: Columns) -> tuple[Ints, Ints, Floats]:
    """List (week, column, minutes for one unit of the column): beds, picking, kitchen."""
    food = tables.food
    beds = [
        (week, int(columns.total[s]), minutes)
        for s, sowing in enumerate(tables.ground.sowings)
        for week, minutes in sowing.work_min_m2
        if 0 <= week < tables.weeks and minutes > 0
    ]
    stores = [
        (lot.week, int(columns.put_by[n]), lot.work_min_kg + float(food.pool_pick_min[lot.pool]))
        for n, lot in enumerate(food.lodgings)
        if not lot.in_hand
    ]
    listed = beds + stores
    return (
        np.concatenate([np.array([w for w, _, _ in listed], dtype=np.int64), food.fresh_week]),
        np.concatenate([np.array([c for _, c, _ in listed], dtype=np.int64), columns.fresh]),
        np.concatenate(
            [
                np.array([minutes for _, _, minutes in listed], dtype=np.float64),
                food.pool_pick_min[food.fresh_pool],
            ]
        ),
    )
