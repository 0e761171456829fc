"""Layouts held against what mathematics knows of packing.

Sources: E. Specht, "The best known packings of equal circles in a square", packomania.com, table of
radii (read second-hand), proven best up to n = 30 and at 36; OEIS A337020, unit-area circles in a
square of area n; "Circle packing in a circle", Wikipedia, table of enclosing radii; a worked
problem on cans in a box, algebra.com question 1197925.
"""

from math import cos, pi, sin, sqrt

import numpy as np
import pytest

from haulm.planting.layout import lay_out
from haulm.planting.records import Layout

BEST_SPACING_IN_UNIT_SQUARE = {
    1: float("inf"),
    2: 1.414214,
    4: 1.000000,
    5: 0.707107,
    7: 0.535898,
    8: 0.517638,
    10: 0.421280,
    11: 0.398207,
    13: 0.366096,
    14: 0.348915,
    16: 0.333333,
    17: 0.306154,
    19: 0.289542,
    20: 0.286612,
    30: 0.224503,
    36: 0.200000,
    39: 0.194365,
    40: 0.188176,
    49: 0.167386,
    50: 0.166527,
    56: 0.156157,
    60: 0.149506,
    70: 0.137907,
    75: 0.132489,
    86: 0.125044,
    90: 0.120448,
    100: 0.114581,
}
"""n: the largest least distance known among n points of a unit square (Specht's table)."""

A337020 = (
    *(0, 1, 1, 2, 3, 4, 4, 5, 5, 6, 8, 9, 9, 9, 10, 11, 12, 13, 13, 15),
    *(16, 16, 16, 18, 18, 20, 20, 21, 22, 22, 24, 25, 25, 25, 27, 27, 28, 30, 30),
)
"""Circles of area 1 that fit a square of area n, n from 1 (OEIS A337020)."""

ENCLOSING_RADIUS = {
    1: 1.0,
    2: 2.0,
    4: 2.4142,
    5: 2.7013,
    7: 3.0,
    8: 3.3048,
    10: 3.8130,
    11: 3.9238,
    13: 4.2361,
    14: 4.328,
    16: 4.615,
    17: 4.792,
    19: 4.8637,
    20: 5.122,
}
"""n: the smallest radius known that holds n unit circles (Wikipedia's table)."""


def square(side_m: float) -> tuple[tuple[float, float], ...]:
    """Give a square's corners."""
    return ((0, 0), (side_m, 0), (side_m, side_m), (0, side_m))


def round_bed(radius_m: float) -> tuple[tuple[float, float], ...]:
    """Give a circle's corners."""
    turns = np.linspace(0, 2 * pi, 96, endpoint=False)
    return tuple((radius_m * (1 + cos(a)), radius_m * (1 + sin(a))) for a in turns)


def on_best_square(number: int) -> Layout:
    """Lay stations at the best known spacing for so many; its last printed digit is let go."""
    return lay_out(square(1.0), BEST_SPACING_IN_UNIT_SQUARE[number] - 1e-6, 0.0)


@pytest.mark.parametrize("number", [n for n in BEST_SPACING_IN_UNIT_SQUARE if n > 1])
def test_no_square_bed_holds_more_than_the_best_packing(number: int) -> None:
    """A square bed never holds more plants than the best known packing of as many circles."""
    assert on_best_square(number).count <= number


def test_square_beds_hold_nearly_the_best_packing() -> None:
    """Square beds of 30 stations or more hold over 97 % of the best known packing on average, and
    none under 90 %.
    """
    shares = [on_best_square(n).count / n for n in BEST_SPACING_IN_UNIT_SQUARE if n >= 30]
    assert float(np.mean(shares)) > 0.97
    assert min(shares) > 0.90


@pytest.mark.parametrize("number", [4, 16, 20, 30, 36, 39, 56])
def test_rows_reach_the_best_packing_where_it_is_rows(number: int) -> None:
    """Where the best known packing is made of rows, the bed holds just as many plants."""
    assert on_best_square(number).count == number


def test_square_beds_keep_under_the_proven_counts() -> None:
    """Circles of one square metre in a square of n never outnumber the proven maximum."""
    spacing = 2 / sqrt(pi)
    for area, most in enumerate(A337020, start=1):
        layout = lay_out(square(sqrt(area)), spacing, spacing / 2)
        assert 0.66 * most <= layout.count <= most


def test_large_beds_come_near_the_densest_packing() -> None:
    """On a large bed circles of half the spacing cover π/(2√3) of the ground, the most there is."""
    side, spacing = 20.0, 0.15
    covered = lay_out(square(side), spacing).count * pi / 4 * spacing**2 / side**2
    assert covered == pytest.approx(pi / (2 * sqrt(3)), rel=0.01)
    assert covered < pi / (2 * sqrt(3))


def test_offset_rows_gain_a_seventh_on_large_beds() -> None:
    """Without edges offset rows hold 2/√3 = 1.1547 times what square rows hold."""
    layout = lay_out(square(20.0), 0.15)
    assert layout.count / layout.square_count == pytest.approx(2 / sqrt(3), rel=0.01)


def test_equilateral_rows_lie_half_root_three_apart() -> None:
    """Offset rows of one spacing lie √3/2 of it apart where the width leaves nothing to spread."""
    spacing = 0.2
    corners = ((0, 0), (3.0, 0), (3.0, spacing * sqrt(3) + spacing), (0, spacing * (1 + sqrt(3))))
    layout = lay_out(corners, spacing)
    assert layout.row_gap_m == pytest.approx(0.8660254038 * spacing)
    assert len(layout.rows) == 3


def test_cans_in_a_box() -> None:
    """A box of 632 cm holds 6241 cans of 8 cm in square rows, and at least 7065 in offset rows."""
    layout = lay_out(square(6.32), 0.08, 0.04)
    assert layout.square_count == 6241
    assert layout.count >= 7065


@pytest.mark.parametrize("number", list(ENCLOSING_RADIUS))
def test_no_round_bed_holds_more_than_the_best_packing(number: int) -> None:
    """A round bed never holds more plants than the best known packing of circles in a circle."""
    radius = ENCLOSING_RADIUS[number] + 5e-5
    layout = lay_out(round_bed(radius), 2.0, 1.0, diameter_m=2 * radius)
    assert layout.count <= number


@pytest.mark.parametrize("number", [1, 2, 7])
def test_round_beds_of_rows_hold_the_best_packing(number: int) -> None:
    """A round bed holds one, two or seven plants in the smallest circle that can hold them."""
    radius = ENCLOSING_RADIUS[number]
    assert lay_out(round_bed(radius), 2.0, 1.0, diameter_m=2 * radius).count == number
