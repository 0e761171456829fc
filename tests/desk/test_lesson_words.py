"""Figures learnt in words, on the terminal and on paper."""

import pytest

from haulm.desk.season.lesson_records import Moved, Taught
from haulm.desk.season.lesson_words import amount, state
from haulm.measure.units import Units

YIELD = Moved(
    Taught.YIELD, "leek/winter", "givings.leek.yield_kg_m2", "winter leek: yield", "kg/m²",
    3.0, 2.0, 1.8, 2.2, 0.3, (), (), now=2.0,
)  # fmt: skip


@pytest.mark.parametrize("units", ["metric", "us"])
def test_what_is_planned_by_stands_in_the_garden_s_units(units: Units) -> None:
    """A figure that plans are made by is written like the figure beside it, unit and all."""
    assert state(YIELD, units) == f"planned by: {amount(YIELD, 2.0, units)}"
    assert ("lb" in state(YIELD, units)) is (units == "us")
