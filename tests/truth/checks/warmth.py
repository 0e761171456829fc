"""Degree-days and hardiness zones, against published rules and tables."""

from functools import partial

import numpy as np

from haulm.catalogue.loader import load_catalogue
from haulm.site.degree_days import averaging, limited_averaging, single_sine
from haulm.site.hardiness import hardiness_zone
from truth.published import Check, Section, Table

ZONES = [f"{number}{half}" for number in range(1, 14) for half in "ab"]
# Half zones read in the table; 6a, 9a and 12b were not.
ZONES_READ = [zone for zone in ZONES if zone not in {"6a", "9a", "12b"}]


def celsius(fahrenheit: float) -> float:
    """Turn °F into °C."""
    return (fahrenheit - 32.0) * 5.0 / 9.0


def averaged(tmin: float, tmax: float, base: float) -> float:
    """Give a day's degree-days by its mean."""
    return float(averaging(np.array([tmin]), np.array([tmax]), base)[0])


def limited(tmin: float, tmax: float) -> float:
    """Give a day's degree-days as for maize [°F d]."""
    return float(limited_averaging(np.array([tmin]), np.array([tmax]), 50, 86)[0])


def sine(tmin: float, tmax: float, base: float, upper: float) -> float:
    """Give a day's degree-days by the single sine."""
    return float(single_sine(np.array([tmin]), np.array([tmax]), base, upper)[0])


def coldest_of(zone: str) -> float:
    """Give the lowest mean winter minimum, in whole °F, that bears a zone's name."""
    named = [f for f in range(-60, 71) if hardiness_zone(celsius(f)) == zone]
    return float(min(named))


DEGREE_DAYS = Section(
    "Degree-days",
    (
        Table(
            claim="A day's mean above the base counts.",
            source="A simple way to calculate degree-days, UC IPM",
            unit="°F d",
            why="arithmetic",
            checks=(Check("54 to 74 °F over 53", 11, partial(averaged, 54, 74, 53)),),
        ),
        Table(
            claim="Degree-days of maize count no minimum below 50 and no maximum above 86 °F.",
            source="Agron 541, lesson 2b, Iowa State University",
            unit="°F d",
            why="arithmetic",
            checks=(
                Check("50 to 70 °F", 10, partial(limited, 50, 70)),
                Check("40 to 70 °F", 10, partial(limited, 40, 70)),
                Check("the most in a day", 36, partial(limited, 90, 110)),
            ),
        ),
        Table(
            claim="A day's mean above another base counts alike.",
            source="Growing Degree Days, Midwestern Regional Climate Center",
            unit="°F d",
            why="arithmetic",
            checks=(Check("65 to 85 °F over 65", 10, partial(averaged, 65, 85, 65)),),
        ),
        Table(
            claim="The single sine gives what its reference prints.",
            source="TrenchR function reference, citing Allen 1976 and UC IPM",
            unit="°C d",
            tolerance=0.005,
            why="printed to two decimals",
            checks=(Check("7 to 14 °C over 12", 0.47, partial(sine, 7, 14, 12, 33)),),
        ),
        Table(
            claim="A fast pea needs the warmth that was counted.",
            source="Weekly Crop Update 2025, University of Delaware",
            unit="°F d over 40 °F",
            tolerance=2,
            why="ours is held in whole °C d",
            carried=True,
            checks=(
                Check(
                    "fast peas, sowing to picking",
                    1250,
                    lambda: load_catalogue().kinds["pea/early"].phases[0].amount.value * 1.8,
                ),
            ),
        ),
    ),
)

HARDINESS = Section(
    "Hardiness zones",
    (
        Table(
            claim="A half zone begins where the table says.",
            source="Plant Hardiness Zone table, United States Department of Agriculture",
            unit="°F",
            why="zones are told in whole °F",
            read="as two public pages give it, which agree",
            checks=tuple(
                Check(
                    f"zone {zone} begins",
                    -60 + 5 * ZONES.index(zone),
                    partial(coldest_of, zone),
                )
                for zone in ZONES_READ
            ),
        ),
    ),
)
