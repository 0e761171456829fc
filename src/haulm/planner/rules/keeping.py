"""Keeping: food in store is eaten while it is sound; what rots is counted lost."""

import numpy as np

from haulm.planner.assembler import Assembler
from haulm.planner.columns import Columns
from haulm.planner.rules.registry import KEEPING
from haulm.planner.tables import Tables


def keeping(model: Assembler, tables: Tables, columns: Columns) -> None:
    """For each lot: Σ taken out / sound share by then = put by; in hand, ≤ what lies there [kg]."""
    lots = np.arange(len(tables.food.lodgings))
    in_hand = np.array([lot.in_hand for lot in tables.food.lodgings], dtype=np.bool_)
    model.rows(
        KEEPING.name,
        (np.where(in_hand, -np.inf, 0.0), np.zeros(len(lots))),
        [
            (tables.food.kept_lodging, columns.kept, 1.0 / tables.food.kept_sound),
            (columns.seed_lodging, columns.seed_kept, 1.0 / columns.seed_sound),
            (lots, columns.put_by, -np.ones(len(lots))),
        ],
    )
