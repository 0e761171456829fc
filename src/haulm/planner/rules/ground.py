"""Ground: no bed holds more than its area in any week; what follows on takes it the day it's free.

A patch holds its ground from the week it is set until the week it is cleared, that week not
counted: so the next sowing may be set in the very week the ground comes free.
"""

import numpy as np

from haulm.planner.assembler import Assembler
from haulm.planner.columns import Columns
from haulm.planner.rules.registry import GROUND
from haulm.planner.tables import Tables


def ground(model: Assembler, tables: Tables, columns: Columns) -> None:
    """For each bed, at each week when it may be fullest: Σ area ≤ area not yet standing [m²]."""
    free = tables.ground.clique_free_m2
    model.rows(
        GROUND.name,
        (np.full(len(free), -np.inf), free),
        [
            (
                tables.ground.in_clique,
                columns.area[tables.ground.of_pair],
                np.ones(len(tables.ground.of_pair)),
            )
        ],
    )
