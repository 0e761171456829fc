"""Claims about the pieces of a patch and the quick reckoning of what they hold."""

from dataclasses import replace
from math import sqrt

import numpy as np
import pytest
import shapely

from haulm.ground.records import Outline, Shape
from haulm.planting.measure_rows import to_centimetres
from haulm.planting.pieces import pieces_of, reckoned_count
from haulm.planting.records import PatchWish
from haulm.planting.swaths import sweep_of

BED = Outline(Shape.RECTANGLE, ((0, 0), (3, 0), (3, 6), (0, 6)), 18.0)


def test_the_quick_reckoning_is_near_the_count() -> None:
    """Within a swath, the stations reckoned are those laid out, but for one in twenty-five on
    average.
    """
    draw = np.random.default_rng(2)
    off = []
    for _ in range(40):
        spacing, swaths = int(draw.integers(15, 70)) / 100, int(draw.integers(1, 4))
        gap = spacing * sqrt(0.75) if draw.integers(2) else spacing + 0.2
        area = draw.uniform(max(0.5, 1.3 * spacing * gap), 3.0)
        start = 18.0 / swaths * int(draw.integers(swaths)) + draw.uniform(0, 18 / swaths - area)
        wish = PatchWish("a", area, spacing, gap, spacing / 2, 0, 9)
        sweep, stretches = sweep_of(BED, swaths), [(start, start + area)]
        laid = sum(piece.layout.count for piece in pieces_of(BED, sweep, wish, stretches))
        off.append(abs(reckoned_count(BED, sweep, wish, stretches) - laid) / laid)
    assert sum(off) / len(off) < 0.04


def test_a_lone_station_stands_in_the_middle_of_its_piece() -> None:
    """A squash set on a strip across a bed stands halfway along it, in whole centimetres, and
    putting its measure to whole centimetres again leaves it there.
    """
    wish = PatchWish("squash", 0.6, 1.3, 1.126, 0.65, 18, 40, plants=1)
    (piece,) = pieces_of(BED, sweep_of(BED, 1), wish, [(9.0, 9.6)])
    assert piece.layout.stations_m == ((1.5, 3.1),)
    assert to_centimetres(piece.layout, piece.corners_m) == piece.layout
    assert piece.layout.edge_m == pytest.approx(0.1)


def test_a_lone_station_keeps_from_the_end_of_the_bed() -> None:
    """The same strip at the end of the bed holds no squash, its middle being too near the edge."""
    wish = PatchWish("squash", 0.6, 1.3, 1.126, 0.65, 18, 40, plants=1)
    (piece,) = pieces_of(BED, sweep_of(BED, 1), wish, [(0.0, 0.6)])
    assert piece.layout.count == 0
    assert reckoned_count(BED, sweep_of(BED, 1), wish, [(0.0, 0.6)]) == 0


def test_a_part_that_was_to_hold_no_plant_gets_none() -> None:
    """Of a squash split in two halves, neither half is a plant's."""
    wish = PatchWish("squash", 0.6, 1.3, 1.126, 0.65, 18, 40, plants=1)
    for piece in pieces_of(BED, sweep_of(BED, 1), wish, [(6.0, 6.3), (9.0, 9.3)]):
        assert piece.layout.count == 0
    both = pieces_of(BED, sweep_of(BED, 1), replace(wish, plants=2), [(6.0, 6.3), (9.0, 9.3)])
    assert [piece.layout.count for piece in both] == [1, 1]


def test_a_bent_piece_keeps_its_narrow_part_clear() -> None:
    """A piece that turns from one swath into the next has its stations inside it, half a spacing
    from its sides.
    """
    wish = PatchWish("kale", 3.0, 0.45, 0.39, 0.225, 0, 9, plants=17)
    (piece,) = pieces_of(BED, sweep_of(BED, 2), wish, [(8.0, 11.0)])
    outline = shapely.Polygon(piece.corners_m)
    assert len(piece.corners_m) == 6
    assert piece.layout.count >= 10
    for station in piece.layout.stations_m:
        assert outline.contains(shapely.Point(station))
        assert outline.exterior.distance(shapely.Point(station)) >= 0.22 - 1e-9


def test_a_row_down_a_narrow_strip_holds_no_more_than_planned() -> None:
    """Three sweet corn planned on a strip of 17 cm across the bed are three, spread along it, not
    the seven that would fit between its ends.
    """
    wish = PatchWish("corn", 0.51, 0.4, 0.346, 0.2, 0, 9, plants=3)
    (piece,) = pieces_of(BED, sweep_of(BED, 1), wish, [(9.0, 9.51)])
    xs = sorted(x for x, _ in piece.layout.stations_m)
    assert len(xs) == 3
    assert xs[2] - xs[1] == pytest.approx(xs[1] - xs[0], abs=0.011)
    assert xs[1] - xs[0] > 1.2
    assert piece.layout.spacing_m == 0.4
    (uncounted,) = pieces_of(BED, sweep_of(BED, 1), replace(wish, plants=0), [(9.0, 9.51)])
    assert uncounted.layout.count == 7
    assert xs[0] == pytest.approx(0.2, abs=0.01)
