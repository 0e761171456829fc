"""Stations in beds, against what mathematics knows of packing."""

from functools import cache, partial
from math import cos, pi, sin, sqrt

import numpy as np

from haulm.planting.layout import lay_out
from haulm.planting.records import Layout
from truth.published import Check, Rule, Section, Table

SPECHT = "E. Specht, The best known packings of equal circles in a square, packomania.com"
IN_A_CIRCLE = "Circle packing in a circle, Wikipedia, table of enclosing radii"

BEST_SPACING_IN_UNIT_SQUARE = {
    2: 1.414214, 4: 1.000000, 5: 0.707107, 7: 0.535898, 8: 0.517638, 10: 0.421280, 11: 0.398207,
    13: 0.366096, 14: 0.348915, 16: 0.333333, 17: 0.306154, 19: 0.289542, 20: 0.286612,
    30: 0.224503, 36: 0.200000, 39: 0.194365, 40: 0.188176, 49: 0.167386, 50: 0.166527,
    56: 0.156157, 60: 0.149506, 70: 0.137907, 75: 0.132489, 86: 0.125044, 90: 0.120448,
    100: 0.114581,
}  # fmt: skip
"""n: the largest least distance known among n points of a unit square."""

MADE_OF_ROWS = (4, 16, 20, 30, 36, 39, 56)
"""Numbers whose best known packing is made of rows, offset or square."""

A337020 = (
    *(0, 1, 1, 2, 3, 4, 4, 5, 5, 6, 8, 9, 9, 9, 10, 11, 12, 13, 13, 15),
    *(16, 16, 16, 18, 18, 20, 20, 21, 22, 22, 24, 25, 25, 25, 27, 27, 28, 30, 30),
)
"""Circles of area 1 that fit a square of area n, n from 1."""

ENCLOSING_RADIUS = {
    1: 1.0, 2: 2.0, 4: 2.4142, 5: 2.7013, 7: 3.0, 8: 3.3048, 10: 3.8130, 11: 3.9238, 13: 4.2361,
    14: 4.328, 16: 4.615, 17: 4.792, 19: 4.8637, 20: 5.122,
}  # fmt: skip
"""n: the smallest radius known that holds n unit circles."""


def square(side_m: float) -> tuple[tuple[float, float], ...]:
    """Give a square's corners."""
    return ((0, 0), (side_m, 0), (side_m, side_m), (0, side_m))


def round_bed(radius_m: float) -> tuple[tuple[float, float], ...]:
    """Give a circle's corners."""
    turns = np.linspace(0, 2 * pi, 96, endpoint=False)
    return tuple((radius_m * (1 + cos(a)), radius_m * (1 + sin(a))) for a in turns)


@cache
def on_best_square(number: int) -> Layout:
    """Lay stations at the best known spacing for so many; its last printed digit is let go."""
    return lay_out(square(1.0), BEST_SPACING_IN_UNIT_SQUARE[number] - 1e-6, 0.0)


def in_best_square(number: int) -> float:
    """Count stations in a square bed at the best known spacing for so many."""
    return float(on_best_square(number).count)


def in_best_circle(number: int) -> float:
    """Count stations in the smallest circle known to hold so many, its last digit let go."""
    radius = ENCLOSING_RADIUS[number] + 5e-5
    return float(lay_out(round_bed(radius), 2.0, 1.0, diameter_m=2 * radius).count)


@cache
def in_square_of(area_m2: int) -> float:
    """Count circles of one square metre in a square bed."""
    spacing = 2 / sqrt(pi)
    return float(lay_out(square(sqrt(area_m2)), spacing, spacing / 2).count)


@cache
def cans() -> Layout:
    """Lay cans of 8 cm in a box of 632 cm."""
    return lay_out(square(6.32), 0.08, 0.04)


@cache
def large() -> Layout:
    """Lay a bed so large that its edges hardly count."""
    return lay_out(square(20.0), 0.15)


SECTION = Section(
    "Stations in a bed",
    (
        Table(
            claim="A square bed of rows never holds more than the best packing known.",
            source=SPECHT,
            unit="stations",
            rule=Rule.AT_MOST,
            why="rows are not the best of all packings, so theirs is a bound on ours",
            read="its table of radii, as others give it",
            checks=tuple(
                Check(
                    f"square bed for {number}",
                    number,
                    partial(in_best_square, number),
                )
                for number in BEST_SPACING_IN_UNIT_SQUARE
                if number not in MADE_OF_ROWS
            ),
        ),
        Table(
            claim="Where the best packing known is made of rows, a bed holds as many.",
            source=SPECHT,
            unit="stations",
            why="a count",
            read="its table of radii, as others give it",
            checks=tuple(
                Check(
                    f"square bed for {number}",
                    number,
                    partial(in_best_square, number),
                )
                for number in MADE_OF_ROWS
            ),
        ),
        Table(
            claim="Circles of a square metre in a square bed never outnumber the proven most.",
            source="OEIS A337020, unit-area circles in a square of area n",
            unit="stations",
            rule=Rule.AT_MOST,
            why="rows are not the best of all packings, so theirs is a bound on ours",
            checks=tuple(
                Check(f"square bed of {area} m²", most, partial(in_square_of, area))
                for area, most in enumerate(A337020, start=1)
            ),
        ),
        Table(
            claim="A round bed of rows never holds more than the best packing known.",
            source=IN_A_CIRCLE,
            unit="stations",
            rule=Rule.AT_MOST,
            why="rows are not the best of all packings, so theirs is a bound on ours",
            checks=tuple(
                Check(f"round bed for {number}", number, partial(in_best_circle, number))
                for number in ENCLOSING_RADIUS
                if number not in {1, 2, 7}
            ),
        ),
        Table(
            claim="A round bed holds one, two or seven in the smallest circle that can.",
            source=IN_A_CIRCLE,
            unit="stations",
            why="a count",
            checks=tuple(
                Check(f"round bed for {number}", number, partial(in_best_circle, number))
                for number in (1, 2, 7)
            ),
        ),
        Table(
            claim="Cans in square rows number what the worked problem says.",
            source="algebra.com, worked problem 1197925",
            unit="stations",
            why="a count",
            checks=(Check("square rows", 6241, lambda: float(cans().square_count)),),
        ),
        Table(
            claim="Cans in offset rows number at least what the worked problem says.",
            source="algebra.com, worked problem 1197925",
            unit="stations",
            rule=Rule.AT_LEAST,
            why="ours also spreads what the width leaves over",
            checks=(Check("offset rows", 7065, lambda: float(cans().count)),),
        ),
        Table(
            claim="On a large bed square rows cover the square lattice's share.",
            source="senseofstudy.com, packing example 2",
            unit="1",
            tolerance=0.01,
            why="the bed has edges, the lattice none",
            checks=(
                Check(
                    "share covered, π/4",
                    0.7853981634,
                    lambda: large().square_count * pi / 4 * 0.15**2 / 400,
                ),
            ),
        ),
    ),
)
