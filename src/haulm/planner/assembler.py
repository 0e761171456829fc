"""A linear model laid down column by column and row by row, then sealed."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from scipy import sparse

from haulm.planner.arrays import Flags, Floats, Ints

Entries = tuple[Ints, Ints, Floats]
"""(row counted from the rule's first, column, coefficient), one of each per entry."""


@dataclass(frozen=True, slots=True)
class LinearModel:
    """Minimise cost·z with lower ≤ z ≤ upper and row_lower ≤ matrix·z ≤ row_upper.

    ``rules`` maps a rule's name to its (first row, end row); ``waiting`` marks the rows that are
    only laid on once a solution breaks them; ``whole`` the columns that must be whole numbers.
    """

    cost: Floats
    lower: Floats
    upper: Floats
    matrix: sparse.csr_array
    row_lower: Floats
    row_upper: Floats
    rules: dict[str, tuple[int, int]]
    waiting: Flags
    whole: Flags


class Assembler:
    """Collects columns and rows; each rule adds its own."""

    def __init__(self) -> None:
        self._cost: list[Floats] = []
        self._lower: list[Floats] = []
        self._upper: list[Floats] = []
        self._whole: list[Flags] = []
        self._columns = 0
        self._rows = 0
        self._row_lower: list[Floats] = []
        self._row_upper: list[Floats] = []
        self._waiting: list[Flags] = []
        self._entries: list[Entries] = []
        self._rules: dict[str, tuple[int, int]] = {}
        self._later: list[tuple[Ints, Floats]] = []

    def columns(
        self,
        count: int,
        cost: Floats | float = 0.0,
        upper: Floats | float = np.inf,
        lower: Floats | float = 0.0,
        *,
        whole: bool = False,
    ) -> Ints:
        """Add columns and give their numbers."""
        self._cost.append(np.broadcast_to(np.asarray(cost, dtype=np.float64), count))
        self._lower.append(np.broadcast_to(np.asarray(lower, dtype=np.float64), count))
        self._upper.append(np.broadcast_to(np.asarray(upper, dtype=np.float64), count))
        self._whole.append(np.full(count, whole))
        self._columns += count
        return np.arange(self._columns - count, self._columns)

    def price(self, columns: Ints, amount: Floats | float) -> None:
        """Add to the cost of columns; a column named twice is charged twice."""
        charge = np.broadcast_to(np.asarray(amount, dtype=np.float64), columns.shape)
        self._later.append((columns, charge))

    def rows(
        self,
        rule: str,
        bounds: tuple[Floats, Floats],
        entries: Sequence[Entries],
        *,
        waiting: bool = False,
    ) -> None:
        """Add the rows of a rule: lower ≤ Σ coefficient · column ≤ upper."""
        count = len(bounds[0])
        self._row_lower.append(bounds[0])
        self._row_upper.append(bounds[1])
        self._waiting.append(np.full(count, waiting))
        self._entries += [(row + self._rows, column, value) for row, column, value in entries]
        first, _ = self._rules.get(rule, (self._rows, 0))
        self._rules[rule] = (first, self._rows + count)
        self._rows += count

    def seal(self) -> LinearModel:
        """Close the model; entries of one row and column add up."""
        cost = np.concatenate(self._cost)
        for columns, amount in self._later:
            np.add.at(cost, columns, amount)
        rows = np.concatenate([row for row, _, _ in self._entries])
        columns = np.concatenate([column for _, column, _ in self._entries])
        values = np.concatenate([value for _, _, value in self._entries])
        matrix = sparse.csr_array(
            sparse.coo_array((values, (rows, columns)), shape=(self._rows, self._columns))
        )
        sealed = LinearModel(
            cost=cost,
            lower=np.concatenate(self._lower),
            upper=np.concatenate(self._upper),
            matrix=matrix,
            row_lower=np.concatenate(self._row_lower),
            row_upper=np.concatenate(self._row_upper),
            rules=dict(self._rules),
            waiting=np.concatenate(self._waiting),
            whole=np.concatenate(self._whole),
        )
        for array in (sealed.cost, sealed.lower, sealed.upper, sealed.row_lower, sealed.row_upper):
            if np.isnan(array).any():
                message = "a figure is missing in the planner's tables"
                raise ValueError(message)
            array.flags.writeable = False
        return sealed


def without_waiting(model: LinearModel) -> LinearModel:
    """Leave out the rows that wait: what is left is a relaxation."""
    kept = np.nonzero(~model.waiting)[0]
    spans = {
        rule: (int(np.searchsorted(kept, first)), int(np.searchsorted(kept, end)))
        for rule, (first, end) in model.rules.items()
    }
    return replace(
        model,
        matrix=model.matrix[kept],
        row_lower=model.row_lower[kept],
        row_upper=model.row_upper[kept],
        waiting=model.waiting[kept],
        rules=spans,
    )
