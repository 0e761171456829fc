"""Limit: what was limited by hand stays within its most, and what is kept apart never meets.

Pairs that a limit leaves no place at all are left out of the tables. A most that is broken has so
high a price that no plan is worth it; the search may pass through such plans, and ends in none.
"""

from haulm.planner.arrays import Ints
from haulm.planner.assembler import Assembler
from haulm.planner.columns import Columns
from haulm.planner.limits import lay_apart, lay_caps
from haulm.planner.tables import Tables


def limit(model: Assembler, tables: Tables, columns: Columns) -> None:
    """For each pin with a most: Σ area of its pairs − over ≤ most [m²]."""
    if tables.limits.caps:
        over = model.columns(len(tables.limits.caps), cost=tables.question.prices.pin_m2)
        lay_caps(model, tables.limits, columns.area, over)


def apart(model: Assembler, tables: Tables, used: Ints) -> None:
    """For two patches that are kept apart: used + used ≤ 1."""
    lay_apart(model, tables.limits, used)
