"""Layouts held against what mathematics knows of packing, beside the page of checks."""

from math import pi, sqrt

import numpy as np
import pytest

from haulm.planting.layout import lay_out
from truth.checks.packing import (
    A337020,
    BEST_SPACING_IN_UNIT_SQUARE,
    in_square_of,
    large,
    on_best_square,
)


def test_square_beds_hold_nearly_the_best_packing() -> None:
    """Square beds of 30 stations or more hold over 97 % of the best known packing on average, and
    none under 90 %.
    """
    shares = [on_best_square(n).count / n for n in BEST_SPACING_IN_UNIT_SQUARE if n >= 30]
    assert float(np.mean(shares)) > 0.97
    assert min(shares) > 0.90


def test_square_beds_come_near_the_proven_counts() -> None:
    """A square of n m² holds at least two thirds of the circles of a square metre that can fit."""
    for area, most in enumerate(A337020, start=1):
        assert in_square_of(area) >= 0.66 * most


def test_large_beds_come_near_the_densest_packing() -> None:
    """On a large bed circles of half the spacing cover π/(2√3) of the ground, the most there is."""
    covered = large().count * pi / 4 * 0.15**2 / 20.0**2
    assert covered == pytest.approx(pi / (2 * sqrt(3)), rel=0.01)
    assert covered < pi / (2 * sqrt(3))


def test_offset_rows_gain_a_seventh_on_large_beds() -> None:
    """Without edges offset rows hold 2/√3 = 1.1547 times what square rows hold."""
    assert large().count / large().square_count == pytest.approx(2 / sqrt(3), rel=0.01)


def test_equilateral_rows_lie_half_root_three_apart() -> None:
    """Offset rows of one spacing lie √3/2 of it apart where the width leaves nothing to spread."""
    spacing = 0.2
    corners = ((0, 0), (3.0, 0), (3.0, spacing * sqrt(3) + spacing), (0, spacing * (1 + sqrt(3))))
    layout = lay_out(corners, spacing)
    assert layout.row_gap_m == pytest.approx(0.8660254038 * spacing)
    assert len(layout.rows) == 3
