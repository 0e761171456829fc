"""The bound: what no plan could beat, from a smaller model in which all beds are one.

Each sowing keeps one area for all beds that cost it the same, and one whole number of patches.
Ground is counted together for every set of beds that some sowings are held to. All of a plan's
patches, added up, satisfy this model at no higher cost, so that its bound is a bound of the whole.
Rotation within the plan is kept where a bed is the only one of its cover; elsewhere rotation,
spread, and the rows that wait are left out, which can only lower the bound.
"""

import numpy as np

from haulm.planner.arrays import Ints
from haulm.planner.assembler import Assembler, without_waiting
from haulm.planner.build import Built, lay_areas
from haulm.planner.lone_beds import lone_rotation
from haulm.planner.pooled import pooled
from haulm.planner.program import solve_whole
from haulm.planner.rules.registry import PATCH_SIZE
from haulm.planner.stopping import Manner
from haulm.planner.tables import Tables

CLOSE = 1e-3
"""The bound's own gap at which it is good enough."""


def pooled_bound(tables: Tables, nodes: int, manner: Manner | None = None) -> float:
    """Bound the objective of the whole model from below.

    Parameters
    ----------
    tables
        The tables.
    nodes
        How many nodes the solver may open.
    manner
        How it is run; None for the question's seed, with nobody watching.
    """
    manner = manner or Manner(tables.question.seed)
    return solve_whole(
        pooled_model(tables).model, manner, nodes, gaps=(CLOSE, 0.0), dives=False
    ).bound


def pooled_model(tables: Tables) -> Built:
    """Build the model with all beds pooled and patches counted by sowing."""
    ground = tables.ground
    model, columns = lay_areas(pooled(tables))
    count = ground.chosen_count
    most = np.zeros(count)
    least = np.full(count, np.inf)
    np.maximum.at(most, ground.pair_sowing, ground.most_m2)
    np.minimum.at(least, ground.pair_sowing, ground.least_m2)
    sown = np.nonzero(most > 0)[0]
    of_sowing = np.full(count, -1, dtype=np.int64)
    row, one, nothing = np.arange(len(sown)), np.ones(len(sown)), np.zeros(len(sown))
    without = np.full(len(sown), -np.inf)
    total = columns.total[sown]
    largest = [(row, total, one)]
    smallest = [(row, total, -one)]
    at = np.searchsorted(sown, np.arange(count))
    for sowings, patches in _lay_patches(model, tables):
        of_sowing[sowings] = patches
        largest.append((at[sowings], patches, -most[sowings]))
        smallest.append((at[sowings], patches, least[sowings]))
    model.rows(PATCH_SIZE.name, (without, nothing), largest)
    model.rows(PATCH_SIZE.name, (without, nothing), smallest)
    lone_rotation(model, tables, columns.total, of_sowing)
    return Built(without_waiting(model.seal()), columns)


def _lay_patches(model: Assembler, tables: Tables) -> list[tuple[Ints, Ints]]:
    """Lay numbers of patches by price: (sowings, columns), those of the plan before last.

    A sowing may have as many patches at a price as it has pairs at that price.
    """
    sowing, price = tables.ground.pair_sowing, tables.patch_prices
    laid = []
    for each in np.unique(price)[::-1]:
        sowings, pairs = np.unique(sowing[price == each], return_counts=True)
        upper = pairs.astype(np.float64)
        laid.append(
            (sowings, model.columns(len(sowings), cost=float(each), upper=upper, whole=True))
        )
    return laid
