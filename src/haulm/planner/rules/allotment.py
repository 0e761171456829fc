"""Allotment: a family keeps to the ground that the years ahead leave it in a bed.

Where several years were laid out, every bed and year has ground for some families, and none for
others. What a family takes beyond it spends a rest that a later year counts on, so each square
metre has its price. It is asked only of years that were laid out, and of families that rest for
more than a year; what stands already is not counted.
"""

import numpy as np

from haulm.planner.assembler import Assembler
from haulm.planner.columns import Columns
from haulm.planner.rules.registry import ALLOTMENT


def allotment(model: Assembler, columns: Columns) -> None:
    """For each bed, year of clearing and family: Σ x ≤ what is allotted + over [m²]."""
    groups = columns.allotted
    if not groups:
        return
    row = np.repeat(np.arange(len(groups)), [len(one.pairs) for one in groups])
    pairs = np.concatenate([one.pairs for one in groups])
    model.rows(
        ALLOTMENT.name,
        (np.full(len(groups), -np.inf), np.array([one.most_m2 for one in groups])),
        [
            (row, columns.area[pairs], np.ones(len(row))),
            (np.arange(len(groups)), columns.over_allotment, -np.ones(len(groups))),
        ],
    )
