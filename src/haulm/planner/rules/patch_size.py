"""Patch size: no patch is smaller than the smallest worth having; each is a sowing to make."""

import numpy as np

from haulm.planner.arrays import Ints
from haulm.planner.assembler import Assembler
from haulm.planner.columns import Columns
from haulm.planner.rules.registry import PATCH_SIZE
from haulm.planner.tables import Tables


def patch_size(model: Assembler, tables: Tables, columns: Columns) -> Ints:
    """For each pair: least · used ≤ area ≤ most · used, used 0 or 1; give the columns of used."""
    ground = tables.ground
    pairs = np.arange(len(ground.pair_sowing))
    used = model.columns(len(pairs), cost=tables.patch_prices, upper=1.0, whole=True)
    one = np.ones(len(pairs))
    nothing = np.zeros(len(pairs))
    without = np.full(len(pairs), -np.inf)
    model.rows(
        PATCH_SIZE.name,
        (without, nothing),
        [(pairs, columns.area, one), (pairs, used, -ground.most_m2)],
    )
    model.rows(
        PATCH_SIZE.name,
        (without, nothing),
        [(pairs, columns.area, -one), (pairs, used, ground.least_m2)],
    )
    return used
