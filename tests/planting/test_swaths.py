"""Claims about the sweep of a bed in swaths."""

from itertools import pairwise
from math import cos, pi, sin

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from haulm.ground.records import Outline, Shape
from haulm.planting.swaths import cut_bed, most_swaths, runs_in, sweep_of


def bed(*corners: tuple[float, float]) -> Outline:
    """Give a bed by its corners."""
    return Outline(Shape.CORNERS, corners, shapely.Polygon(corners).area)


def box(width: float, height: float) -> Outline:
    """Give a rectangular bed."""
    return bed((0, 0), (width, 0), (width, height), (0, height))


BEDS = {
    "lying": box(5.5, 4),
    "standing": box(3, 12),
    "bent": bed((0, 0), (5.2, 0), (5.2, 2), (2, 2), (2, 5.6), (0, 5.6)),
    "two arms": bed((0, 0), (4, 0), (4, 1), (0.5, 1), (0.5, 2), (4, 2), (4, 3), (0, 3)),
    "three corners": bed((0, 0), (4, 0), (1, 3)),
    "slanting": bed((0, 0), (8, 0), (8, 3), (0, 4)),
    "round": bed(*((1 + cos(k * pi / 48), 1 + sin(k * pi / 48)) for k in range(96))),
}


@settings(max_examples=60, deadline=None)
@given(
    which=st.sampled_from(sorted(BEDS)),
    count=st.integers(1, 5),
    shares=st.lists(st.floats(0, 1), min_size=1, max_size=4, unique=True),
)
def test_stretches_one_after_another_fill_the_bed(
    which: str, count: int, shares: list[float]
) -> None:
    """Cut anywhere along its swaths, a bed falls into parts of just the areas asked for, which lie
    side by side and leave nothing over.
    """
    outline = BEDS[which]
    sweep = sweep_of(outline, count)
    at = [0.0, *sorted(shares), 1.0]
    ground = shapely.Polygon()
    for start, end in pairwise(at):
        if (end - start) * outline.area_m2 < 1e-5:
            continue
        cut = shapely.union_all(cut_bed(sweep, start, end))
        assert cut.area == pytest.approx((end - start) * outline.area_m2, abs=4e-6)
        assert ground.intersection(cut).area < 1e-6
        ground = ground.union(cut)
    assert ground.area == pytest.approx(outline.area_m2, abs=1e-4)


def test_a_bed_is_swept_along_its_longer_side() -> None:
    """Shares run along the longer side: up a bed that lies north, east along one that lies east."""
    (lower,) = cut_bed(sweep_of(box(1.2, 4.8)), 0.0, 0.25)
    assert lower.bounds == pytest.approx((0, 0, 1.2, 1.2), abs=1e-6)
    (left,) = cut_bed(sweep_of(box(4.8, 1.2)), 0.0, 0.25)
    assert left.bounds == pytest.approx((0, 0, 1.2, 1.2), abs=1e-6)


def test_swaths_follow_one_another_up_and_down_the_bed() -> None:
    """The second swath begins beside the end of the first, and comes back along it."""
    sweep = sweep_of(box(3, 12), 2)
    (first,) = cut_bed(sweep, 0.0, 0.25)
    (third,) = cut_bed(sweep, 0.5, 0.75)
    assert first.bounds == pytest.approx((0, 0, 1.5, 6), abs=1e-6)
    assert third.bounds == pytest.approx((1.5, 6, 3, 12), abs=1e-6)


@pytest.mark.parametrize(("start", "end"), [(0, 1), (0, 2 / 3), (1 / 3, 2 / 3), (1 / 3, 1)])
def test_whole_swaths_side_by_side_are_one_rectangle(start: float, end: float) -> None:
    """Ground that takes two or three whole swaths is one piece with four corners."""
    (part,) = cut_bed(sweep_of(box(3, 12), 3), start, end)
    assert len(part.exterior.coords) == 5
    assert part.area == pytest.approx(36 * (end - start))


@pytest.mark.parametrize("which", ["lying", "standing", "round", "slanting"])
def test_ground_across_two_swaths_is_one_piece(which: str) -> None:
    """Where swaths end side by side, what ends one and begins the next hangs together."""
    sweep = sweep_of(BEDS[which], 3)
    turn = sweep.swaths[1].start_m2 / sweep.bed.area
    assert len(cut_bed(sweep, turn - 0.05, turn + 0.08)) == 1
    assert len(list(runs_in(sweep, turn - 0.05, turn + 0.08))) == 2


def test_a_bent_bed_cut_along_its_arms_hangs_together() -> None:
    """A bed with two arms gives a half of it in one piece if it is swept arm by arm, in two if it
    is swept across both.
    """
    assert len(cut_bed(sweep_of(BEDS["two arms"], 1), 0.5, 1.0)) == 2
    assert len(cut_bed(sweep_of(BEDS["two arms"], 3), 0.5, 1.0)) == 1


def test_the_parts_of_a_stretch_come_in_the_order_of_the_sweep() -> None:
    """Of a stretch that falls apart in a bent bed, the part first met comes first."""
    standing = bed((0, 0), (3, 0), (3, 4), (2, 4), (2, 0.5), (1, 0.5), (1, 4), (0, 4))
    left, right = cut_bed(sweep_of(standing, 1), 0.5, 0.8)
    assert left.bounds[0] < right.bounds[0]
    first, second = cut_bed(sweep_of(standing, 2), 0.3, 0.7)
    assert first.bounds[0] < second.bounds[0]


@pytest.mark.parametrize(
    ("width", "swaths"), [(0.4, 1), (1.2, 1), (1.49, 1), (1.5, 2), (2.5, 3), (4.0, 5)]
)
def test_a_bed_is_divided_only_where_it_is_wide(width: float, swaths: int) -> None:
    """No swath is narrower than half of a bed that is worked from either side."""
    assert most_swaths(box(width, 12)) == most_swaths(box(12, width)) == swaths
