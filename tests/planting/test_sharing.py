"""Claims about patches that share a bed over time."""

from dataclasses import replace
from itertools import combinations
from math import cos, dist, nan, pi, sin

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from haulm.ground.records import Outline, Shape
from haulm.measure.errors import FaultsFoundError
from haulm.planting.records import PatchLayout, PatchWish
from haulm.planting.sharing import share_out_bed

LONG_BED = Outline(Shape.RECTANGLE, ((0, 0), (4.8, 0), (4.8, 1.2), (0, 1.2)), 5.76)
TALL_BED = Outline(Shape.RECTANGLE, ((0, 0), (1.2, 0), (1.2, 4.8), (0, 4.8)), 5.76)
L_BED = Outline(Shape.CORNERS, ((0, 0), (3, 0), (3, 1), (1, 1), (1, 2.5), (0, 2.5)), 4.5)
U_BED = Outline(
    Shape.CORNERS,
    ((0, 0), (4, 0), (4, 0.4), (0.5, 0.4), (0.5, 0.8), (4, 0.8), (4, 1.2), (0, 1.2)),
    3.4,
)
WIDE_BED = Outline(Shape.RECTANGLE, ((0, 0), (4, 0), (4, 5.5), (0, 5.5)), 22.0)
THREE_CORNERED_BED = Outline(Shape.CORNERS, ((0, 0), (4, 0), (1, 3)), 6.0)


def round_bed(diameter_m: float) -> Outline:
    """Give a round bed, drawn with 96 corners."""
    radius, turn = diameter_m / 2, pi / 48
    corners = tuple(
        (radius + radius * cos(k * turn), radius + radius * sin(k * turn)) for k in range(96)
    )
    return Outline(Shape.CIRCLE, corners, pi * radius**2, diameter_m)


def wish(name: str, area_m2: float, from_week: int, until_week: int) -> PatchWish:
    """Wish for ground, at 15 cm."""
    plants = int(area_m2 / 0.0195)
    return PatchWish(name, area_m2, 0.15, 0.13, 0.075, from_week, until_week, plants)


def overlap_m2(one: PatchLayout, other: PatchLayout) -> float:
    """Measure the ground that two patches share."""
    return float(
        sum(
            shapely.Polygon(a.corners_m).intersection(shapely.Polygon(b.corners_m)).area
            for a in one.pieces
            for b in other.pieces
        )
    )


@st.composite
def feasible_wishes(draw: st.DrawFn) -> list[PatchWish]:
    """Draw patches that never want more than 4.5 m² in one week."""
    wishes: list[PatchWish] = []
    for number in range(draw(st.integers(1, 7))):
        start = draw(st.integers(0, 30))
        new = wish(f"p{number}", draw(st.floats(0.3, 2.0)), start, start + draw(st.integers(1, 30)))
        fits = all(
            sum(w.area_m2 for w in [*wishes, new] if w.from_week <= week < w.until_week) <= 4.5
            for week in range(61)
        )
        if fits:
            wishes.append(new)
    return wishes


@settings(max_examples=15, deadline=None)
@given(
    wishes=feasible_wishes(),
    bed=st.sampled_from([L_BED, LONG_BED, THREE_CORNERED_BED, round_bed(3.2), WIDE_BED]),
)
def test_patches_of_the_same_weeks_never_overlap(wishes: list[PatchWish], bed: Outline) -> None:
    """Patches that stand in the same week never share ground, and each gets all it wished for."""
    shared = share_out_bed(bed, wishes)
    for asked, got in zip(wishes, shared, strict=True):
        assert got.name == asked.name
        drawn = bed.area_m2 / shapely.Polygon(bed.corners_m).area
        area = sum(shapely.Polygon(piece.corners_m).area for piece in got.pieces) * drawn
        assert area == pytest.approx(asked.area_m2, abs=5e-6)
        shares = sum(piece.share_to - piece.share_from for piece in got.pieces)
        assert shares * bed.area_m2 == pytest.approx(asked.area_m2, abs=5e-6)
    for (one, a), (other, b) in combinations(list(zip(wishes, shared, strict=True)), 2):
        if one.from_week < other.until_week and other.from_week < one.until_week:
            assert overlap_m2(a, b) < 1e-5


def test_the_order_of_wishes_makes_no_difference() -> None:
    """The same wishes give the same ground, in whatever order they come."""
    wishes = [wish("leek", 1.5, 10, 40), wish("pea", 2.0, 5, 20), wish("kale", 2.0, 22, 50)]
    forwards = share_out_bed(LONG_BED, wishes)
    backwards = share_out_bed(LONG_BED, wishes[::-1])
    assert forwards == backwards[::-1]


def test_a_patch_follows_on_the_ground_another_leaves() -> None:
    """Beans take the whole bed the week garlic leaves it, in one piece."""
    garlic, bean = share_out_bed(
        LONG_BED, [wish("garlic", 5.76, 0, 30), wish("bean", 5.76, 30, 45)]
    )
    assert len(garlic.pieces) == len(bean.pieces) == 1
    assert bean.pieces[0].layout.count == 284


def test_a_patch_is_split_only_where_no_gap_is_wide_enough() -> None:
    """A patch is split in two when what is free lies on both sides of a standing one."""
    wishes = [
        wish("early", 2.0, 0, 10),
        wish("long", 1.76, 0, 50),
        wish("short", 2.0, 0, 9),
        wish("late", 4.0, 10, 30),
    ]
    shared = share_out_bed(LONG_BED, wishes)
    pieces = {patch.name: len(patch.pieces) for patch in shared}
    assert pieces["early"] == pieces["long"] == pieces["short"] == 1
    assert pieces["late"] <= 2


def test_gaps_are_chosen_so_that_few_patches_are_split() -> None:
    """Through two years of a full bed hardly one patch in ten is split."""
    draw = np.random.default_rng(3)
    wishes: list[PatchWish] = []
    for number in range(60):
        start, weeks = int(draw.integers(0, 90)), int(draw.integers(8, 35))
        new = wish(f"p{number:02d}", draw.uniform(0.5, 2), start, start + weeks)
        crowd = [*wishes, new]
        held = [
            sum(w.area_m2 for w in crowd if w.from_week <= week < w.until_week)
            for week in range(125)
        ]
        if max(held) <= LONG_BED.area_m2:
            wishes.append(new)
    shared = share_out_bed(LONG_BED, wishes)
    assert len(shared) > 15
    assert sum(len(patch.pieces) > 1 for patch in shared) <= len(shared) / 10


def test_stations_are_measured_from_the_bed_not_the_patch() -> None:
    """The second patch along a bed counts its first hole from the bed's own west side."""
    wishes = [wish("a", 2.88, 0, 9), wish("b", 2.88, 0, 9)]
    second = share_out_bed(LONG_BED, wishes)[1].pieces[0]
    assert min(x for x, _ in second.layout.stations_m) >= 2.4 + 0.07
    assert all(row.first_m >= 2.4 or row.from_base_m >= 2.4 for row in second.layout.rows)


def test_a_bent_bed_gives_its_parts_apart() -> None:
    """Where the sweep cuts both arms of a bent bed, each arm is a piece with its share of area."""
    wishes = [wish("a", 1.7, 0, 9), wish("b", 1.7, 0, 9)]
    _, second = share_out_bed(U_BED, wishes)
    assert len(second.pieces) == 2
    assert [p.share_to - p.share_from for p in second.pieces] == pytest.approx([0.25, 0.25])
    assert second.pieces[0].share_to == pytest.approx(second.pieces[1].share_from)


def test_a_whole_round_bed_uses_its_circle() -> None:
    """A patch that takes a whole round bed fills its circle; halves of it share the diameter."""
    bed = round_bed(2.0)
    (whole,) = share_out_bed(bed, [wish("a", pi, 0, 9)])
    halves = share_out_bed(bed, [wish("a", pi / 2, 0, 9), wish("b", pi / 2, 0, 9)])
    assert len(whole.pieces) == 1
    assert whole.pieces[0].layout.count > sum(h.pieces[0].layout.count for h in halves) > 0


def test_a_strip_narrower_than_its_edges_gets_a_middle_row() -> None:
    """A half square metre of courgettes at 90 cm across a 1.2 m bed still gets its plant."""
    (patch,) = share_out_bed(LONG_BED, [PatchWish("courgette", 0.5, 0.9, 0.78, 0.45, 0, 9)])
    assert patch.pieces[0].layout.count == 1


def test_ground_for_half_a_plant_gets_its_plant() -> None:
    """A squash at 1.3 m on 0.77 m², a little over half its ground, is set in the middle of it."""
    (patch,) = share_out_bed(TALL_BED, [PatchWish("squash", 0.77, 1.3, 1.126, 0.65, 0, 9)])
    assert patch.pieces[0].layout.count == 1


def test_neighbours_keep_a_spacing_however_near_the_edge_they_go() -> None:
    """Plants may go near the bed's edge, but those of two patches stay a spacing apart."""
    wishes = [PatchWish(name, 2.88, 0.3, 0.26, 0.05, 0, 9) for name in "ab"]
    stations = [patch.pieces[0].layout.stations_m for patch in share_out_bed(LONG_BED, wishes)]
    apart = min(dist(one, other) for one in stations[0] for other in stations[1])
    assert apart >= 0.3 - 0.01
    assert min(y for _, y in stations[0]) < 0.1


def test_a_bed_asked_for_too_much_is_told() -> None:
    """Patches that want more than the bed has are told, with the week and their names."""
    wishes = [wish("leek", 4.0, 3, 9), wish("kale", 4.0, 5, 9)]
    with pytest.raises(FaultsFoundError, match=r"week 5: .*want 8\.00 m² of 5\.76 m²"):
        share_out_bed(LONG_BED, wishes)


def test_wishes_without_sense_are_told_all_at_once() -> None:
    """A wish without area, spacing or time, or with another's name, is told by name."""
    wishes = [
        PatchWish("a", nan, 0.15, 0.13, 0.07, 0, 9),
        PatchWish("b", 1.0, 0.0, 0.13, 0.07, 0, 9),
        wish("c", 1.0, 9, 9),
        wish("c", 1.0, 9, 10),
    ]
    with pytest.raises(FaultsFoundError) as told:
        share_out_bed(LONG_BED, wishes)
    assert [finding.where for finding in told.value.findings] == ["a", "b", "c", "c"]


def test_a_bed_nobody_wants_is_empty() -> None:
    """A bed without wishes has no patches."""
    assert share_out_bed(LONG_BED, []) == ()


def squash(name: str, area_m2: float, plants: int) -> PatchWish:
    """Wish for a spring and summer of a large squash at 1.2 m."""
    return PatchWish(name, area_m2, 1.2, 1.04, 0.6, 18, 40, plants)


def test_a_wide_bed_is_divided_where_more_plants_fit() -> None:
    """Four patches of lettuce in a bed of 4 m, a foot deep each as strips, are squarer in swaths
    and hold more.
    """
    lettuces = [PatchWish(f"lettuce-{n}", 1.2, 0.25, 0.217, 0.125, 0, 9, 22) for n in range(4)]
    strips = share_out_bed(WIDE_BED, [replace(each, plants=0) for each in lettuces])
    swaths = share_out_bed(WIDE_BED, lettuces)
    held = [sum(p.pieces[0].layout.count for p in shared) for shared in (strips, swaths)]
    assert held[1] > held[0]
    assert all(len(patch.pieces) == 1 for patch in swaths)
    west, base, east, top = shapely.Polygon(swaths[0].pieces[0].corners_m).bounds
    assert max(east - west, top - base) <= 1.34


def test_a_patch_that_fills_a_wide_bed_is_one_piece() -> None:
    """A bed divided for what comes before is still one piece for what takes all of it."""
    small = [PatchWish(f"lettuce-{n}", 1.2, 0.25, 0.217, 0.125, 0, 9, 22) for n in range(4)]
    whole = PatchWish("leek", 22.0, 0.15, 0.3, 0.075, 9, 50, 488)
    *_, leek = share_out_bed(WIDE_BED, [*small, whole])
    assert [len(leek.pieces), len(leek.pieces[0].corners_m)] == [1, 4]
    assert (leek.pieces[0].share_from, leek.pieces[0].share_to) == (0, 1)


def test_a_single_squash_stands_in_the_middle_of_little_ground() -> None:
    """A squash at 1.2 m on 0.45 m², less than half its ground, is set where its ground is deepest,
    if the bed's edge is far enough.
    """
    bed = Outline(Shape.RECTANGLE, ((0, 0), (1.4, 0), (1.4, 4), (0, 4)), 5.6)
    wishes = [squash("squash", 0.45, 1), wish("leek", 2.0, 0, 50), wish("kale", 2.0, 0, 50)]
    shared = share_out_bed(bed, wishes)
    assert all(patch.pieces[0].layout.count > 0 for patch in shared[1:])
    (piece,) = shared[0].pieces
    at_end = min(y for _, y in piece.corners_m) < 0.01 or max(y for _, y in piece.corners_m) > 3.99
    assert piece.layout.count == (0 if at_end else 1)


def test_a_squash_is_not_set_at_the_edge_of_a_narrow_bed() -> None:
    """In a bed of 1 m no place is 60 cm from the edge, so too small a patch stays without squash;
    nor is one set where none was planned.
    """
    narrow = Outline(Shape.RECTANGLE, ((0, 0), (1, 0), (1, 4), (0, 4)), 4.0)
    (patch,) = share_out_bed(narrow, [squash("squash", 0.45, 1)])
    assert patch.pieces[0].layout.count == 0
    (patch,) = share_out_bed(WIDE_BED, [squash("squash", 0.45, 0)])
    assert patch.pieces[0].layout.count == 0
