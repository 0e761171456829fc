"""Claims about where along a row a station may stand."""

from math import cos, pi, sin

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from haulm.planting.spans import Frame, angles_to_try, frame_at, ground_in, spans_at

Corners = tuple[tuple[float, float], ...]
U_SHAPE: Corners = ((0, 0), (3, 0), (3, 2), (2.2, 2), (2.2, 0.6), (0.8, 0.6), (0.8, 2), (0, 2))


def level(corners: Corners) -> Frame:
    """Set axes level with the base."""
    return frame_at(np.array(corners), 0)


def test_a_row_across_a_bent_bed_is_interrupted() -> None:
    """A row through both arms of a bed has one stretch in each, an edge inside them."""
    ground = ground_in(np.array(U_SHAPE, dtype=float), level(U_SHAPE), 0.1)
    spans = spans_at(ground, np.array([0.3, 1.5]))
    assert spans.row.tolist() == [0, 1, 1]
    assert spans.west_m == pytest.approx([0.1, 0.1, 2.3], abs=1e-9)
    assert spans.east_m == pytest.approx([2.9, 0.7, 2.9], abs=1e-9)


def test_an_inner_corner_is_kept_clear_all_round() -> None:
    """Beside an inner corner of a bed the edge runs in a quarter circle about it."""
    corners = ((0, 0), (2, 0), (2, 1), (1, 1), (1, 2), (0, 2))
    ground = ground_in(np.array(corners, dtype=float), level(corners), 0.2)
    height = 1 - 0.2 * sin(pi / 4)
    spans = spans_at(ground, np.array([height]))
    assert spans.east_m[0] == pytest.approx(1 - 0.2 * cos(pi / 4), abs=1e-9)


@settings(max_examples=40, deadline=None)
@given(
    reach=st.lists(st.floats(0.4, 2.0), min_size=3, max_size=9),
    edge=st.floats(0, 0.3),
    height=st.floats(0, 4),
    along=st.floats(0, 4),
)
def test_a_place_is_allowed_just_where_it_keeps_its_distance(
    reach: list[float], edge: float, height: float, along: float
) -> None:
    """A place lies in a stretch if it is inside and its distance from the edge is kept, and only
    then.
    """
    turn = 2 * pi / len(reach)
    corners = np.array(
        [(2 + r * cos(k * turn), 2 + r * sin(k * turn)) for k, r in enumerate(reach)]
    )
    ground = ground_in(corners, frame_at(corners, 0), edge)
    spans = spans_at(ground, np.array([height]))
    allowed = bool(((spans.west_m <= along) & (along <= spans.east_m)).any())
    outline, place = shapely.Polygon(corners), shapely.Point(along, height)
    distance = outline.exterior.distance(place) * (1 if outline.covers(place) else -1)
    if abs(distance - edge) > 1e-6:
        assert allowed == (distance > edge)


def test_a_circle_is_swept_by_its_own_chords() -> None:
    """A round bed's stretches are chords of its circle less the edge, not of its drawn corners."""
    corners = np.array([(1 + cos(k * pi / 6), 1 + sin(k * pi / 6)) for k in range(12)])
    ground = ground_in(corners, frame_at(corners, 0), 0.2, diameter_m=2.0)
    spans = spans_at(ground, np.array([1.0, 1.48]))
    assert spans.east_m - spans.west_m == pytest.approx([1.6, 2 * 0.64], abs=1e-6)


def test_turning_and_turning_back_leaves_a_place_where_it_was() -> None:
    """Places turned into the rows' axes and back lie where they were, at every angle."""
    corners = np.array(U_SHAPE, dtype=float)
    for angle in (0.0, 90.0, 30.0, 135.0):
        frame = frame_at(corners, angle)
        assert frame.to_bed(frame.from_bed(corners)) == pytest.approx(corners)


def test_rows_may_follow_long_odd_sides_only() -> None:
    """Rows are tried along both axes and along sides that make a tenth of the way round."""
    assert angles_to_try(np.array(((0, 0), (2, 0), (2, 1), (0, 1)), dtype=float)) == (0, 90)
    tilted = np.array(((0, 0), (2, 1), (1, 3), (0, 2.95), (-0.05, 2.9)))
    angles = angles_to_try(tilted)
    assert angles[:2] == (0, 90)
    assert pytest.approx(26.565, abs=1e-3) in angles
    assert pytest.approx(45.0) not in angles


@settings(max_examples=40, deadline=None)
@given(
    edges=st.lists(st.floats(0, 0.6), min_size=4, max_size=4),
    heights=st.lists(st.floats(0, 2), min_size=1, max_size=5),
)
def test_a_rectangle_is_swept_as_any_outline_is(edges: list[float], heights: list[float]) -> None:
    """A rectangle has the same stretches whether or not a fifth corner lies on one of its sides."""
    corners = np.array(((0, 0), (3, 0), (3, 2), (0, 2)), dtype=float)
    hidden = np.insert(corners, 1, (1.3, 0.0), axis=0)
    levels = np.sort(np.array(heights))
    box = spans_at(ground_in(corners, frame_at(corners, 0), edges), levels)
    other = spans_at(ground_in(hidden, frame_at(hidden, 0), [edges[0], *edges]), levels)
    assert box.row.tolist() == other.row.tolist()
    assert box.west_m == pytest.approx(other.west_m, abs=1e-8)
    assert box.east_m == pytest.approx(other.east_m, abs=1e-8)
