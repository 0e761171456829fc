"""Claims about stations laid into outlines."""

from itertools import pairwise
from math import cos, nan, pi, sin

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from haulm.measure.errors import FaultsFoundError
from haulm.planting.layout import lay_out
from haulm.planting.records import Layout, Pattern

Corners = tuple[tuple[float, float], ...]
L_SHAPE: Corners = ((0, 0), (3, 0), (3, 1), (1, 1), (1, 2.5), (0, 2.5))
U_SHAPE: Corners = ((0, 0), (3, 0), (3, 2), (2.2, 2), (2.2, 0.6), (0.8, 0.6), (0.8, 2), (0, 2))


def rectangle(width_m: float, height_m: float) -> Corners:
    """Give a rectangle's corners."""
    return ((0, 0), (width_m, 0), (width_m, height_m), (0, height_m))


def closest_m(layout: Layout) -> float:
    """Measure the least distance between two stations by brute force."""
    points = np.array(layout.stations_m)
    if len(points) < 2:
        return float("inf")
    apart = np.hypot(*(points[:, None] - points[None]).transpose(2, 0, 1))
    return float(apart[np.triu_indices(len(points), 1)].min())


def to_edge_m(layout: Layout, corners: Corners) -> float:
    """Measure the least distance from a station to the outline; below 0 for one outside."""
    outline = shapely.Polygon(corners)
    points = shapely.points(np.array(layout.stations_m).reshape(-1, 2))
    distance = shapely.distance(outline.exterior, points)
    signed = np.where(shapely.covers(outline, points), distance, -distance)
    return float(signed.min(initial=float("inf")))


@st.composite
def star_outlines(draw: st.DrawFn) -> Corners:
    """Draw a simple outline, seldom convex: corners at rising angles and any distance."""
    number = draw(st.integers(3, 9))
    reach = draw(st.lists(st.floats(0.3, 2.0), min_size=number, max_size=number))
    turn = draw(st.floats(0, 2 * pi))
    angles = [turn + 2 * pi * k / number for k in range(number)]
    return tuple(
        (2 + r * cos(angle), 2 + r * sin(angle)) for r, angle in zip(reach, angles, strict=True)
    )


@settings(max_examples=40, deadline=None)
@given(corners=star_outlines(), spacing=st.floats(0.12, 0.6), edge_share=st.floats(0, 1))
def test_no_two_plants_stand_nearer_than_the_spacing(
    corners: Corners, spacing: float, edge_share: float
) -> None:
    """In any bed no two stations are nearer than the spacing, none is nearer to the edge than the
    edge distance, and there are never fewer than on a square grid.
    """
    layout = lay_out(corners, spacing, edge_share * spacing)
    assert closest_m(layout) >= spacing - 1e-9
    assert to_edge_m(layout, corners) >= edge_share * spacing - 1e-9
    assert layout.count >= layout.square_count


@settings(max_examples=25, deadline=None)
@given(
    width=st.floats(0.3, 2.0),
    height=st.floats(0.3, 2.0),
    spacing=st.floats(0.1, 0.3),
    gap=st.floats(0.1, 0.5),
)
def test_rows_keep_the_row_gap(width: float, height: float, spacing: float, gap: float) -> None:
    """Rows stand at least the asked gap apart, and no two stations nearer than the spacing."""
    layout = lay_out(rectangle(width, height), spacing, 0.05, row_gap_m=gap)
    assert closest_m(layout) >= spacing - 1e-9
    heights = [row.from_base_m for row in layout.rows]
    assert all(b - a >= gap - 1e-9 for a, b in pairwise(heights))


@settings(max_examples=25, deadline=None)
@given(width=st.floats(0.4, 2.0), height=st.floats(0.4, 2.0), spacing=st.floats(0.1, 0.3))
def test_half_as_much_again_of_bed_holds_no_fewer(
    width: float, height: float, spacing: float
) -> None:
    """A bed half as long again holds at least as many stations."""
    small = lay_out(rectangle(width, height), spacing)
    large = lay_out(rectangle(width * 1.5, height), spacing)
    assert large.count >= small.count


@pytest.mark.parametrize("corners", [L_SHAPE, U_SHAPE], ids=["L", "U"])
def test_bent_beds_are_planted_into_both_arms(corners: Corners) -> None:
    """A bed bent round a corner is planted in all its arms, every station inside its edge."""
    layout = lay_out(corners, 0.2)
    points = np.array(layout.stations_m)
    assert points.max(axis=0) == pytest.approx(np.array(corners).max(axis=0) - 0.1, abs=0.12)
    assert to_edge_m(layout, corners) >= 0.1 - 1e-9
    assert layout.count > 0.9 * shapely.Polygon(corners).area / 0.04


def test_offset_rows_beat_square_rows_on_a_usual_bed() -> None:
    """Offset rows hold more garlic than square rows on a bed of 1.2 by 4.8 m (common practice)."""
    layout = lay_out(rectangle(4.8, 1.2), 0.15, 0.075)
    assert layout.pattern is Pattern.OFFSET
    assert layout.square_count == 8 * 32
    assert layout.count == 5 * 32 + 4 * 31


def test_a_bed_holds_the_same_whichever_way_it_lies() -> None:
    """A bed laid north to south holds as many stations as the same bed laid east to west."""
    lying = lay_out(rectangle(4.8, 1.2), 0.15)
    standing = lay_out(rectangle(1.2, 4.8), 0.15)
    assert lying.count == standing.count
    assert (lying.angle_deg, standing.angle_deg) == (0, 90)


def test_rows_follow_an_odd_side_where_that_fits_more() -> None:
    """Rows of a bed that lies askew run along its own side, not along the garden's axes."""
    turn = pi / 7
    askew = tuple(
        (x * cos(turn) - y * sin(turn) + 2, x * sin(turn) + y * cos(turn))
        for x, y in rectangle(3.0, 0.45)
    )
    layout = lay_out(askew, 0.15)
    assert layout.count == lay_out(rectangle(3.0, 0.45), 0.15).count
    assert layout.angle_deg == pytest.approx(180 / 7)
    assert layout.rows[0].from_base_m == pytest.approx(0.075, abs=1e-6)


def test_a_bed_that_just_fits_one_plant_holds_one() -> None:
    """A bed as wide as both edges holds one station at its middle, a smaller one holds none."""
    layout = lay_out(rectangle(0.15, 0.15), 0.15)
    assert layout.stations_m[0] == pytest.approx((0.075, 0.075))
    assert layout.count == layout.square_count == 1
    assert lay_out(rectangle(0.1, 0.1), 0.15).count == 0
    assert lay_out(rectangle(0.1, 0.1), 0.15).rows == ()


def test_a_bed_as_narrow_as_its_edges_holds_one_row() -> None:
    """A bed just as wide as both edges holds one row down its middle."""
    layout = lay_out(rectangle(0.9, 0.15), 0.15)
    assert layout.count == 6
    assert len(layout.rows) == 1
    assert layout.pattern is Pattern.SQUARE


def test_each_side_may_keep_its_own_distance() -> None:
    """Where sides keep different distances, each station keeps each side's own."""
    corners = rectangle(2.0, 1.0)
    layout = lay_out(corners, 0.2, (0.05, 0.3, 0.1, 0.0))
    x, y = np.array(layout.stations_m).T
    assert (x.min(), x.max(), y.min(), y.max()) == pytest.approx((0, 1.7, 0.05, 0.9), abs=0.1)
    assert x.max() <= 1.7 + 1e-9
    assert y.min() >= 0.05 - 1e-9
    assert y.max() <= 0.9 + 1e-9
    with pytest.raises(FaultsFoundError, match="2 edge distances do not go with 4 sides"):
        lay_out(corners, 0.2, (0.1, 0.2))


def test_planned_plants_are_not_exceeded() -> None:
    """A patch with 40 plants planned shows 40, the last row shortened."""
    full = lay_out(rectangle(2, 1), 0.2)
    layout = lay_out(rectangle(2, 1), 0.2, most=40)
    assert layout.count == 40 < full.count
    assert layout.stations_m == full.stations_m[:40]


def test_a_round_bed_uses_its_true_edge() -> None:
    """A round bed of 3 spacings holds seven plants, six about one, by its true circle."""
    corners = tuple((3 + 3 * cos(2 * pi * k / 64), 3 + 3 * sin(2 * pi * k / 64)) for k in range(64))
    layout = lay_out(corners, 2.0, 1.0, diameter_m=6.0)
    assert layout.count == 7
    distances = np.hypot(*(np.array(layout.stations_m) - 3).T)
    assert distances.max() <= 2 + 1e-9


def test_rows_are_named_from_the_base_up() -> None:
    """Rows are named 1, 2, 3 from the base, and each says where its first hole is and its step."""
    layout = lay_out(rectangle(1.2, 0.8), 0.15)
    assert [row.name for row in layout.rows] == [str(n + 1) for n in range(len(layout.rows))]
    heights = [row.from_base_m for row in layout.rows]
    assert heights == sorted(heights)
    for row in layout.rows:
        for number, (x, y) in enumerate(row.stations_m):
            assert x == pytest.approx(row.first_m + number * row.step_m)
            assert y == pytest.approx(row.from_base_m)


@pytest.mark.parametrize(
    ("spacing", "edge", "gap", "most", "words"),
    [
        (0.0, 0.1, None, None, "spacing: 0 m is no usable length"),
        (-0.1, 0.1, None, None, "spacing: -0.1 m is no usable length"),
        (nan, 0.1, None, None, "spacing: its length is missing"),
        (0.0015, 0.1, None, None, "spacing: plants 0.0015 m apart would be more than 250000"),
        (0.1, -0.1, None, None, "edge: -0.1 m is no usable length"),
        (0.1, 0.1, 0.0, None, "row gap: 0 m is no usable length"),
        (0.1, 0.1, None, -1, "plants: -1 plants cannot be set"),
    ],
)
def test_unusable_lengths_are_told(
    spacing: float, edge: float, gap: float | None, most: int | None, words: str
) -> None:
    """A missing, zero or negative length is told by name, with the remedy."""
    with pytest.raises(FaultsFoundError, match=words) as told:
        lay_out(rectangle(1, 1), spacing, edge, gap, most)
    assert all(finding.remedy for finding in told.value.findings)


@pytest.mark.parametrize(
    ("corners", "words"),
    [
        (((0, 0), (1, 1)), "2 corners enclose no ground"),
        (((0, 0), (1, 1), (1, 0), (0, 1)), "its sides cross"),
        (((0, 0), (1, 0), (2, 0)), "encloses no ground"),
        (((0, 0), (nan, 0), (1, 1)), "a corner has no figure"),
        ((), "0 corners enclose no ground"),
    ],
)
def test_an_outline_that_encloses_nothing_is_told(corners: Corners, words: str) -> None:
    """A bed whose sides cross or enclose nothing is told, all faults at once."""
    with pytest.raises(FaultsFoundError, match=words) as told:
        lay_out(corners, -1.0)
    assert len(told.value.findings) >= 2
