"""Nursery: trays hold no more cells than there is room for."""

import numpy as np

from haulm.planner.assembler import Assembler
from haulm.planner.columns import Columns
from haulm.planner.rules.registry import NURSERY
from haulm.planner.tables import Tables


def nursery(model: Assembler, tables: Tables, columns: Columns) -> None:
    """For each week: Σ cells in trays ≤ room + over [cells]; no rows where room is not limited."""
    room = tables.question.tray_cells
    if room is None:
        return
    held = [
        (week, int(columns.total[s]), sowing.cells_m2)
        for s, sowing in enumerate(tables.ground.sowings)
        for week in range(max(0, sowing.tray_weeks[0]), min(tables.weeks, sowing.tray_weeks[1]))
    ]
    weeks = np.arange(tables.weeks)
    model.rows(
        NURSERY.name,
        (np.full(len(weeks), -np.inf), np.full(len(weeks), float(room))),
        [
            (
                np.array([week for week, _, _ in held], dtype=np.int64),
                np.array([column for _, column, _ in held], dtype=np.int64),
                np.array([cells for _, _, cells in held], dtype=np.float64),
            ),
            (weeks, columns.over_cells, -np.ones(len(weeks))),
        ],
        waiting=True,
    )
