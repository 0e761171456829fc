"""Each crop weighed by itself against the worth of ground: a bound, and what to sow.

With all beds as one, only ground is shared between crops that serve different lines. The linear
programme tells what ground is worth in each week. Charged that, instead of being kept within it,
the crops fall apart into small programmes, each solved with its choices whole. What they cost
together, less the worth of all the ground, is no more than any plan costs, whatever the charge
(Lagrangian relaxation; Geoffrion 1974, Mathematical Programming Study 2); and what they sow
together is near to what a garden of that much ground would.
"""

from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np
from scipy import sparse
from scipy.sparse.csgraph import connected_components

from haulm.planner.arrays import Flags, Floats, Ints
from haulm.planner.assembler import LinearModel
from haulm.planner.program import solve_relaxed, solve_whole
from haulm.planner.rules.registry import GROUND, REST
from haulm.planner.stopping import Manner

SHARED = (GROUND.name, REST.name)
"""The rules whose rows crops share."""
NODES = 50
CLOSE = 1e-3
"""All crops together are solved to within this share of what a plan can change [1]."""


@dataclass(frozen=True, slots=True)
class Weighed:
    """A proven lower bound; values of all columns, where every crop has some (else None)."""

    bound: float
    values: Floats | None


def weigh_crops(model: LinearModel, out_of_reach: float, manner: Manner) -> Weighed:
    """Bound the pooled model from below, and choose what to sow.

    Parameters
    ----------
    model
        The model with all beds as one, without rows that wait.
    out_of_reach
        What no plan could meet costs so much; only the rest is looked at closely.
    manner
        How it is run.
    """
    shared = np.zeros(len(model.row_lower), dtype=np.bool_)
    for rule in SHARED:
        first, end = model.rules.get(rule, (0, 0))
        shared[first:end] = True
    relaxed = solve_relaxed(model, manner)
    worth = np.minimum(0.0, relaxed.row_dual) * shared
    priced = replace(model, cost=model.cost - model.matrix.T @ worth)
    held = np.nonzero(worth)[0]
    bound = float(worth[held] @ model.row_upper[held])
    alone, parts = _parts(model, ~shared)
    close = CLOSE * (relaxed.objective - out_of_reach) / max(1, len(parts))
    values = np.zeros(len(model.cost))
    rest = solve_relaxed(_cut_out(priced, *alone), manner)
    bound += rest.objective
    values[alone[0]] = rest.values
    complete = True
    for columns, rows in parts:
        found = solve_whole(_cut_out(priced, columns, rows), manner, NODES, gaps=(0.0, close))
        bound += found.bound
        complete &= found.values is not None
        values[columns] = 0.0 if found.values is None else found.values
    return Weighed(max(bound, relaxed.objective), values if complete else None)


Part = tuple[Ints, Ints]
"""The columns and rows of one part of a model."""


def _parts(model: LinearModel, heeded: Flags) -> tuple[Part, list[Part]]:
    """Part the model along the rows heeded: all that needs no whole number, and each other part."""
    rows, columns = np.nonzero(heeded)[0], len(model.cost)
    entries = model.matrix[rows].tocoo()
    joined = sparse.coo_array(
        (np.ones(len(entries.data)), (entries.row + columns, entries.col)),
        shape=(columns + len(rows), columns + len(rows)),
    )
    count, label = connected_components(joined, directed=False)
    choosing = np.zeros(count, dtype=np.bool_)
    choosing[label[:columns][model.whole]] = True
    number = np.where(choosing, np.cumsum(choosing), 0)[label]
    order = np.argsort(number, kind="stable")
    ends = np.searchsorted(number[order], np.arange(choosing.sum() + 2))
    parts = [order[first:end] for first, end in pairwise(ends)]
    split = [(part[part < columns], rows[part[part >= columns] - columns]) for part in parts]
    return split[0], split[1:]


def _cut_out(model: LinearModel, columns: Ints, rows: Ints) -> LinearModel:
    """Cut a part out of a model."""
    return LinearModel(
        cost=model.cost[columns],
        lower=model.lower[columns],
        upper=model.upper[columns],
        matrix=model.matrix[rows][:, columns],
        row_lower=model.row_lower[rows],
        row_upper=model.row_upper[rows],
        rules={},
        waiting=np.zeros(len(rows), dtype=np.bool_),
        whole=model.whole[columns],
    )
