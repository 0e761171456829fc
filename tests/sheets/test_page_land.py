"""The chart of what so much ground feeds."""

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from haulm.sheets.page.land import ENOUGH, GroundStep, land_chart, land_rows
from sheets.page_reading import beyond, crossings, told

STEPS = (
    GroundStep(11, 0.2, ("lettuce", "courgette", "French beans", "ripe tomatoes")),
    GroundStep(24, 0.39, ("carrot", "leek", "kale or chard", "French beans from the freezer")),
    GroundStep(49.2, 0.64, (), "your beds"),
    GroundStep(72, 0.76, ("onion", "garlic", "winter squash", "winter salad", "peas")),
    GroundStep(143, 0.94, ("potato",), ENOUGH),
)


@pytest.mark.parametrize("units", ["metric", "us"])
@pytest.mark.parametrize("width", [328.0, 720.0])
def test_the_chart_can_be_read_and_is_told_in_full(units: str, width: float) -> None:
    """On a laptop and on a phone no text stands on another or off the field, and whoever does not
    see it is told every row.
    """
    drawing, table = land_chart(STEPS, units, width), land_rows(STEPS, units)
    title, description = told(drawing)
    assert title == table.caption
    assert crossings(drawing) == []
    assert beyond(drawing, 2) == []
    assert all(cell in description for row in table.rows for cell in row)
    assert ("sq ft" in drawing) == (units == "us")


def test_more_food_lies_higher_and_more_ground_further_right() -> None:
    """The marks of the steps rise and go on as shares and ground do, true to both."""
    marks = re.findall(r'<circle cx="([\d.]+)" cy="([\d.]+)" r="4"', land_chart(STEPS))
    xs, ys = ([float(mark[axis]) for mark in marks] for axis in (0, 1))
    per_m2 = (xs[-1] - xs[0]) / (STEPS[-1].open_m2 - STEPS[0].open_m2)
    per_share = (ys[0] - ys[-1]) / (STEPS[-1].share - STEPS[0].share)
    for step, x, y in zip(STEPS, xs, ys, strict=True):
        assert x == pytest.approx(xs[0] + per_m2 * (step.open_m2 - STEPS[0].open_m2), abs=0.02)
        assert y == pytest.approx(ys[0] - per_share * (step.share - STEPS[0].share), abs=0.02)


@settings(max_examples=40, deadline=None)
@given(
    sizes=st.lists(st.floats(0.5, 900), min_size=1, max_size=8, unique=True),
    names=st.lists(st.sampled_from(["leek", "winter squash", "peas from the freezer"]), max_size=9),
    own=st.integers(0, 7),
)
def test_whatever_the_steps_nothing_stands_on_anything(
    sizes: list[float], names: list[str], own: int
) -> None:
    """However near the steps lie and however much comes in at one, every word can be read."""
    ordered = sorted(sizes)
    steps = [
        GroundStep(
            area,
            (number + 1) / len(ordered),
            tuple(names) if number % 2 == 0 else ("garlic",),
            ENOUGH if area == ordered[-1] else "your beds" if number == own else "",
        )
        for number, area in enumerate(ordered)
    ]
    for width in (328.0, 720.0):
        drawing = land_chart(steps, "metric", width)
        assert crossings(drawing) == []
        assert beyond(drawing, 2) == []
