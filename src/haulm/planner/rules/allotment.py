"""Allotment: a family keeps to the ground that the years ahead leave it in a bed.

Where several years were laid out, beds wait for families: a family that stands in one within its
years of rest before the year in which it has ground there spends that rest. So each square metre
beyond what it is allotted has its price, by the years that will be missing. Where no later year
waits, nobody is held to anything; what stands already is not counted.
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
