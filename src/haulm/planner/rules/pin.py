"""Pin: what was settled by hand is kept, and what was forbidden is not planted.

Pairs that a pin forbids are left out of the tables. What a pin keeps was settled before
(``planner.settle``), so that all of it fits the beds; leaving it has so high a price that no plan
is worth it.
"""

import numpy as np

from haulm.planner.assembler import Assembler, Entries
from haulm.planner.columns import Columns
from haulm.planner.rules.registry import PIN
from haulm.planner.tables import Tables


def pin(model: Assembler, tables: Tables, columns: Columns) -> None:
    """For each pin that keeps: Σ area of its pairs + short − over = what is settled of it [m²]."""
    rows, one = np.arange(len(tables.kept)), np.ones(len(tables.kept))
    entries: list[Entries] = [(rows, columns.pin_short, one), (rows, columns.pin_over, -one)]
    for row, kept in enumerate(tables.kept):
        area = columns.area[kept.pairs]
        entries.append((np.full(len(area), row), area, np.ones(len(area))))
    settled = np.array([kept.settled_m2 for kept in tables.kept], dtype=np.float64)
    model.rows(PIN.name, (settled, settled), entries)
