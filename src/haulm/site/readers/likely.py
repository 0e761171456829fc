"""Which units a record without any is likely in, told from its figures."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import isnan
from typing import Literal

from haulm.site.readers.readings import WARMEST_C, WARMEST_MEAN_C, Reading

WIDEST_DAY = 19.0
"""No place has days that swing by more than this on average [°C]; in °F most do."""

WIDEST_YEARS = 95.0
"""Nor has any more between its coldest and its warmest reading in ordinary years [°C]."""

DRIZZLE = 1.0
"""Wet days bring more than this on average wherever it rains often [mm]; in inches none do."""

OFTEN_WET = 0.12
LEAST_DAYS = 60
"""From so few days no mean is told [d]."""


@dataclass(frozen=True, slots=True)
class LikelyUnits:
    """The likely units, and why where they are not °C and mm; empty where they are."""

    degrees: Literal["c", "f"]
    depth: Literal["mm", "in"]
    why_degrees: str = ""
    why_depth: str = ""


def likely_units(readings: Sequence[Reading]) -> LikelyUnits:
    """Tell the likely units of figures that were read as if they were °C and mm.

    What could be either is taken as °C and mm: cool figures of a few weeks tell nothing.
    """
    why_degrees, why_depth = _fahrenheit(readings), _inches(readings)
    return LikelyUnits(
        "f" if why_degrees else "c", "in" if why_depth else "mm", why_degrees, why_depth
    )


def _fahrenheit(readings: Sequence[Reading]) -> str:
    """Say why temperatures look like °F; empty where they may be °C."""
    both = [one for one in readings if not isnan(one.tmin_c + one.tmax_c)]
    if not both:
        return ""
    coldest, warmest = min(one.tmin_c for one in both), max(one.tmax_c for one in both)
    swing = sum(one.tmax_c - one.tmin_c for one in both) / len(both)
    mean = sum(one.tmax_c for one in both) / len(both)
    enough = len(both) >= LEAST_DAYS
    reasons = (
        (warmest > WARMEST_C, f"the warmest day reads {warmest:g}"),
        (enough and mean > WARMEST_MEAN_C, f"the warmest of each day averages {mean:.0f}"),
        (enough and swing > WIDEST_DAY, f"days swing by {swing:.0f} on average"),
        (
            enough and warmest - coldest > WIDEST_YEARS,
            f"they run from {coldest:g} to {warmest:g}",
        ),
    )
    return next((why for holds, why in reasons if holds), "")


def _inches(readings: Sequence[Reading]) -> str:
    """Say why rain looks like inches; empty where it may be mm."""
    known = [one.rain_mm for one in readings if not isnan(one.rain_mm)]
    wet = [depth for depth in known if depth > 0.0]
    if len(known) < LEAST_DAYS or len(wet) < OFTEN_WET * len(known):
        return ""
    mean = sum(wet) / len(wet)
    if mean >= DRIZZLE:
        return ""
    return f"a day with rain brings {mean:.2f} on average"
