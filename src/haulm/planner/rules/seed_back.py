"""Seed back: planting stock is in hand, kept back from what was lifted, or bought."""

import numpy as np

from haulm.planner.assembler import Assembler
from haulm.planner.columns import Columns
from haulm.planner.rules.registry import SEED_BACK
from haulm.planner.tables import Tables


def seed_back(model: Assembler, tables: Tables, columns: Columns) -> None:
    """For each kind and week of planting: stock asked = in hand + kept back + bought [units]."""
    needs = tables.seed_needs
    rows = np.arange(len(needs))
    asked = [
        (row, int(columns.total[s]), tables.ground.sowings[s].stock_m2)
        for row, need in enumerate(needs)
        for s in need.sowings
    ]
    units = np.array([need.seed.units_per_kg for need in needs])
    model.rows(
        SEED_BACK.name,
        (np.zeros(len(rows)), np.zeros(len(rows))),
        [
            (
                np.array([row for row, _, _ in asked], dtype=np.int64),
                np.array([column for _, column, _ in asked], dtype=np.int64),
                np.array([stock for _, _, stock in asked], dtype=np.float64),
            ),
            (columns.seed_need, columns.seed_kept, -units[columns.seed_need]),
            (rows, columns.stock_used, -np.ones(len(rows))),
            (rows, columns.stock_bought, -np.ones(len(rows))),
        ],
    )
    seeds = tables.question.seed_back
    row_of = {seed.kind: row for row, seed in enumerate(seeds)}
    model.rows(
        SEED_BACK.name,
        (np.full(len(seeds), -np.inf), np.array([seed.in_hand_units for seed in seeds])),
        [
            (
                np.array([row_of[need.seed.kind] for need in needs], dtype=np.int64),
                columns.stock_used,
                np.ones(len(needs)),
            )
        ],
    )
