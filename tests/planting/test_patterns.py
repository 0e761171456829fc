"""Claims about row patterns."""

from math import sqrt

import numpy as np
import pytest

from haulm.planting.patterns import (
    best_start,
    counts_in,
    mixed_stand,
    offset_lanes,
    regular_stand,
    square_lanes,
)
from haulm.planting.spans import Ground, Spans, frame_at, ground_in


def bed(width_m: float, height_m: float) -> Ground:
    """Give a rectangle whose edge may be planted."""
    corners = np.array(((0, 0), (width_m, 0), (width_m, height_m), (0, height_m)), dtype=float)
    return ground_in(corners, frame_at(corners, 0), 0.0)


def test_every_offset_pattern_keeps_the_spacing() -> None:
    """In every pattern tried, neighbours along, across and two rows on are a spacing apart."""
    for lanes in offset_lanes(bed(3.07, 1.31), 0.2, 0.0):
        across = min(lanes.shift_m, lanes.step_m - lanes.shift_m)
        assert lanes.step_m >= 0.2
        assert np.hypot(across, lanes.change_gap_m) >= 0.2 - 1e-12
        assert 2 * lanes.change_gap_m >= 0.2 - 1e-12
        assert lanes.stay_gap_m >= 0.2


def test_equilateral_rows_come_first() -> None:
    """The first pattern tried has its rows √3/2 of a spacing apart."""
    lanes = next(offset_lanes(bed(3.0, 1.0), 0.2, 0.0))
    assert lanes.step_m == 0.2
    assert lanes.change_gap_m == pytest.approx(0.2 * sqrt(3) / 2)


def test_a_wider_row_gap_is_kept_by_every_pattern() -> None:
    """No pattern sets rows nearer than the gap asked for."""
    for lanes in (square_lanes(0.2, 0.3), *offset_lanes(bed(3.0, 1.3), 0.2, 0.3)):
        assert lanes.change_gap_m >= 0.3
        assert lanes.stay_gap_m >= 0.3


def test_the_best_start_is_the_best_of_all_starts() -> None:
    """No first hole gives more stations than the one found, tried millimetre by millimetre."""
    draw = np.random.default_rng(7)
    for _ in range(30):
        west = draw.uniform(0, 1, 8)
        spans = Spans(np.arange(8), west, west + draw.uniform(0, 1, 8))
        start, count = best_start(spans, 0.3, np.zeros(8))
        tried = [counts_in(spans, 0.3, np.full(8, at)).sum() for at in np.arange(0, 0.3, 0.001)]
        assert count >= max(tried)
        assert counts_in(spans, 0.3, np.full(8, start)).sum() == count


def test_a_bed_without_spans_holds_nothing() -> None:
    """Where no station may stand, none is counted."""
    none = Spans(np.empty(0, dtype=np.int64), np.empty(0), np.empty(0))
    assert best_start(none, 0.3, np.empty(0)) == (0.0, 0)


def test_mixing_rows_never_holds_fewer() -> None:
    """Rows of both moves hold at least what plain rows hold, and more on some beds."""
    gains = []
    for height in np.arange(0.8, 1.8, 0.05):
        ground = bed(1.0, float(height))
        plain = regular_stand(ground, next(offset_lanes(ground, 0.1379, 0.0)), 12)
        gains.append(mixed_stand(plain).count - plain.count)
    assert min(gains) >= 0
    assert max(gains) > 0
