"""Appetite: what is eaten and what is short come to what was wanted."""

import numpy as np

from haulm.planner.assembler import Assembler
from haulm.planner.columns import Columns
from haulm.planner.rules.registry import APPETITE
from haulm.planner.tables import Tables


def appetite(model: Assembler, tables: Tables, columns: Columns) -> None:
    """For each line and week: fresh + kept + short = wanted [kg]."""
    food = tables.food
    wants = np.arange(len(food.want_kg))
    model.rows(
        APPETITE.name,
        (food.want_kg, food.want_kg),
        [
            (food.fresh_want, columns.fresh, np.ones(len(columns.fresh))),
            (food.kept_want, columns.kept, np.ones(len(columns.kept))),
            *((wants, part, np.ones(len(wants))) for part in columns.short.T),
        ],
    )
