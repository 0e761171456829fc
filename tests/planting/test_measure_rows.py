"""Claims about the measure in whole centimetres."""

from math import cos, pi, sin

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from haulm.planting.layout import lay_out
from haulm.planting.measure_rows import closest_m, to_centimetres
from haulm.planting.records import Layout

Corners = tuple[tuple[float, float], ...]
HALF_CM = 0.005


def is_whole(length_m: float) -> bool:
    """Say whether a length is a whole centimetre."""
    return abs(length_m * 100 - round(length_m * 100)) < 1e-6


def check_measure(layout: Layout, corners: Corners, spacing: float, edge: float) -> None:
    """Assert that a tape shows whole centimetres and that spacing and edge hold to half of one."""
    for row in layout.rows:
        assert is_whole(row.from_base_m)
        assert is_whole(row.first_m)
        assert is_whole(row.step_m)
    assert closest_m(layout) >= spacing - HALF_CM - 1e-9
    outline = shapely.Polygon(corners)
    points = shapely.points(np.array(layout.stations_m).reshape(-1, 2))
    assert shapely.covers(outline, points).all()
    assert shapely.distance(outline.exterior, points).min(initial=9) >= edge - HALF_CM - 1e-9


@settings(max_examples=30, deadline=None)
@given(
    length=st.floats(0.5, 4.0),
    width=st.floats(0.5, 1.5),
    skew=st.floats(-0.3, 0.3),
    spacing_cm=st.integers(6, 40),
)
def test_a_tape_shows_whole_centimetres(
    length: float, width: float, skew: float, spacing_cm: int
) -> None:
    """Every row, first hole and step is a whole centimetre; spacing and edge hold to half one."""
    corners = ((0.3, 0.0), (length + 0.3, max(skew, 0)), (length, width + 0.3), (0.0, width))
    spacing = spacing_cm / 100
    layout = lay_out(corners, spacing)
    measured = to_centimetres(layout, corners)
    assert measured.count <= layout.count
    if measured.count:
        check_measure(measured, corners, spacing, spacing / 2)


@pytest.mark.parametrize(
    ("length", "width", "spacing"),
    [(4.8, 1.2, 0.15), (3.0, 1.2, 0.30), (2.4, 0.75, 0.25), (6.0, 1.5, 0.20), (4.8, 1.2, 0.45)],
)
def test_rounding_to_the_tape_costs_few_plants(length: float, width: float, spacing: float) -> None:
    """Whole centimetres cost at most one plant in twenty on usual beds."""
    corners = ((0.0, 0.0), (length, 0.0), (length, width), (0.0, width))
    layout = lay_out(corners, spacing)
    measured = to_centimetres(layout, corners)
    assert measured.count >= 0.95 * layout.count
    check_measure(measured, corners, spacing, spacing / 2)


def test_stations_agree_with_the_measure() -> None:
    """Each station lies where its row, first hole and step put it."""
    corners = ((0.0, 0.0), (4.8, 0.0), (4.8, 1.2), (0.0, 1.2))
    measured = to_centimetres(lay_out(corners, 0.15), corners)
    for row in measured.rows:
        for number, (x, y) in enumerate(row.stations_m):
            assert x == pytest.approx(row.first_m + number * row.step_m, abs=1e-9)
            assert y == pytest.approx(row.from_base_m, abs=1e-9)
    assert {row.half_step for row in measured.rows} == {True, False}


def test_an_odd_bed_is_measured_along_its_own_base() -> None:
    """Rows askew to the garden are whole centimetres above the outline's lowest point."""
    turn = pi / 7
    corners = tuple(
        (x * cos(turn) - y * sin(turn) + 2, x * sin(turn) + y * cos(turn))
        for x, y in ((0, 0), (3, 0), (3, 0.9), (0, 0.9))
    )
    layout = lay_out(corners, 0.15)
    measured = to_centimetres(layout, corners)
    assert measured.angle_deg % 90 == pytest.approx(180 / 7)
    assert measured.count >= 0.95 * layout.count
    check_measure(measured, corners, 0.15, 0.075)


def test_a_round_bed_is_measured_by_its_true_edge() -> None:
    """A round bed's stations stay half a spacing inside its circle, to half a centimetre."""
    corners = tuple((1 + cos(2 * pi * k / 64), 1 + sin(2 * pi * k / 64)) for k in range(64))
    layout = lay_out(corners, 0.2, diameter_m=2.0)
    measured = to_centimetres(layout, corners, 2.0)
    assert measured.count >= 0.9 * layout.count
    reach = np.hypot(*(np.array(measured.stations_m) - 1).T).max()
    assert reach <= 1 - 0.1 + HALF_CM


def test_planned_plants_stay_planned() -> None:
    """A patch cut short at 30 plants still shows 30, or fewer, on the tape."""
    corners = ((0.0, 0.0), (2.0, 0.0), (2.0, 1.0), (0.0, 1.0))
    measured = to_centimetres(lay_out(corners, 0.2, most=30), corners)
    assert measured.count == 30


def test_a_bed_without_rows_stays_without() -> None:
    """A bed too small for any plant has no measure, and that is no fault."""
    corners = ((0.0, 0.0), (0.1, 0.0), (0.1, 0.1), (0.0, 0.1))
    layout = lay_out(corners, 0.2)
    assert to_centimetres(layout, corners) == layout
    assert closest_m(layout) == float("inf")


def test_a_measure_in_whole_centimetres_stays_as_it_is() -> None:
    """Put to whole centimetres twice, rows stand where they stood after the first time."""
    corners = ((0.0, 0.0), (3.07, 0.0), (3.07, 1.19), (0.0, 1.19))
    once = to_centimetres(lay_out(corners, 0.173), corners)
    assert to_centimetres(once, corners) is once
