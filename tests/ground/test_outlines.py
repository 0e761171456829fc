"""Bed outlines."""

import math
from collections.abc import Sequence

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from haulm.ground.outlines import circle, polygon, rectangle
from haulm.ground.records import Outline, Shape
from haulm.measure.errors import FaultsFoundError

L_BED = ((0.0, 0.0), (4.0, 0.0), (4.0, 1.0), (1.0, 1.0), (1.0, 3.0), (0.0, 3.0))


def signed_area(outline: Outline) -> float:
    """Add up the signed trapezia under the edges: above 0 where corners run anticlockwise."""
    corners = outline.corners_m
    after = (*corners[1:], corners[0])
    return sum((x - nx) * (y + ny) / 2 for (x, y), (nx, ny) in zip(corners, after, strict=True))


def test_a_rectangle_has_its_sides_product_as_area() -> None:
    """A bed of 1.2 by 4.8 m holds 5.76 m², its width along the base."""
    bed = rectangle(1.2, 4.8)
    assert bed.area_m2 == pytest.approx(5.76)
    assert max(x for x, _ in bed.corners_m) == 1.2
    assert max(y for _, y in bed.corners_m) == 4.8
    assert signed_area(bed) == pytest.approx(5.76)


def test_a_round_bed_keeps_its_true_area() -> None:
    """A round bed's area is that of the circle, not of the polygon it is drawn with."""
    bed = circle(2.0)
    assert bed.area_m2 == pytest.approx(math.pi)
    assert bed.diameter_m == 2.0
    assert signed_area(bed) == pytest.approx(math.pi, rel=0.001)
    assert all(math.hypot(x - 1, y - 1) == pytest.approx(1.0) for x, y in bed.corners_m)
    assert min(min(corner) for corner in bed.corners_m) == pytest.approx(0.0, abs=1e-12)


def test_an_l_shaped_bed_is_the_sum_of_its_two_arms() -> None:
    """An L of 4 by 1 m and 1 by 2 m holds 6 m²."""
    assert polygon(L_BED).area_m2 == pytest.approx(4 * 1 + 1 * 2)


@settings(max_examples=40, deadline=None)
@given(
    start=st.integers(0, 5),
    backwards=st.booleans(),
    east=st.floats(-100, 100),
    north=st.floats(-100, 100),
)
def test_how_corners_are_listed_does_not_matter(
    *, start: int, backwards: bool, east: float, north: float
) -> None:
    """Whichever corner comes first, whichever way round, wherever the origin: one bed."""
    corners = [(x + east, y + north) for x, y in (*L_BED[start:], *L_BED[:start])]
    bed = polygon(corners[::-1] if backwards else corners)
    assert bed.shape is Shape.CORNERS
    assert bed.area_m2 == pytest.approx(6.0, rel=1e-9)
    assert signed_area(bed) == pytest.approx(6.0, rel=1e-9)
    assert min(x for x, _ in bed.corners_m) == 0.0
    assert min(y for _, y in bed.corners_m) == 0.0


def test_a_closing_corner_is_let_fall() -> None:
    """A list that ends where it began is the same bed."""
    assert polygon((*L_BED, L_BED[0])) == polygon(L_BED)


@pytest.mark.parametrize("size", [0.0, -1.0, math.nan, math.inf])
def test_a_side_that_is_no_size_is_refused(size: float) -> None:
    """A bed of no width, less than none, or no number is refused; both sides are told at once."""
    with pytest.raises(FaultsFoundError, match="Round bed"):
        circle(size, "Round bed")
    with pytest.raises(FaultsFoundError) as refused:
        rectangle(size, size, "Bench")
    assert len(refused.value.findings) == 2


@pytest.mark.parametrize(
    ("corners", "says"),
    [
        ([], "0 corners"),
        ([(0, 0), (1, 1)], "2 corners"),
        ([(0, 0), (1, 0), (1, 0), (0, 1)], "corners 2 and 3 are the same point"),
        ([(0, 0), (1, 0), (math.nan, 1)], "corner 3 has no number"),
        ([(0, 0), (2, 2), (2, 0), (0, 2)], "corner 1 to 2 and the edge from corner 3 to 4 cross"),
        ([(0, 0), (1, 0), (2, 0)], "run over each other"),
        ([(0, 0), (4, 0), (4, 2), (2, 0), (0, 2)], "corner 1 to 2 and the edge from corner 3 to 4"),
    ],
)
def test_corners_that_make_no_bed_are_refused(
    corners: Sequence[tuple[float, float]], says: str
) -> None:
    """A bed that crosses, touches or folds onto itself is refused, and the edges are named."""
    with pytest.raises(FaultsFoundError, match=says):
        polygon(corners, "Elbow")
