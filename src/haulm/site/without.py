"""Weather with one misfortune taken out of it: a late frost, an early one, a season too cold."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from enum import StrEnum
from itertools import groupby

import numpy as np
from numpy.typing import NDArray

from haulm.site.calendar import Days, days_from
from haulm.site.frost import FROST_C
from haulm.site.records import Place, Seasons

MILD_NIGHT_C = 1.0
"""What a night is warmed to when its frost is taken out [°C]."""

HALF_YEAR_MONTHS = 6


class Part(StrEnum):
    """A part of the growing year, by what it is called north and south of the equator alike."""

    SPRING = "spring"
    SUMMER = "summer"
    AUTUMN = "autumn"
    WINTER = "winter"


_MONTHS = {Part.SPRING: 3, Part.SUMMER: 6, Part.AUTUMN: 9, Part.WINTER: 12}


@dataclass(frozen=True, slots=True, eq=False)
class Span:
    """Which days of the runs may be changed: from a column until another."""

    first: int
    until: int


def months_of(part: Part, place: Place) -> frozenset[int]:
    """Give the three months of a part of the year at a place."""
    first = _MONTHS[part] + (HALF_YEAR_MONTHS if place.southern else 0)
    return frozenset((first + month - 1) % 12 + 1 for month in range(3))


def without_frost(seasons: Seasons, run: int, place: Place, span: Span, *, late: bool) -> Seasons:
    """Take one run and warm the nights of its late frosts, or of its early ones.

    A late frost comes in the half-year before midsummer after the last frost of the middle of all
    runs, an early one in the other half before their first.

    Parameters
    ----------
    seasons, run
        All runs, and which is changed.
    place
        Where: it says when midsummer is.
    span
        Which days may be changed.
    late
        Whether the late frosts are taken out, or the early ones.
    """
    days = days_from(seasons.first_day, seasons.days)
    tmin = seasons.tmin_c[run].copy()
    for columns in _halves(days, place, span, late=late):
        frost = seasons.tmin_c[:, columns] <= FROST_C
        place_in = np.arange(columns.size)
        if late:
            last = np.median(np.where(frost, place_in, -1).max(axis=1))
            unusual = place_in > last
        else:
            first = np.median(np.where(frost, place_in, columns.size).min(axis=1))
            unusual = place_in < first
        these = columns[unusual & (tmin[columns] <= FROST_C)]
        tmin[these] = MILD_NIGHT_C
    tmax = np.maximum(seasons.tmax_c[run], tmin)
    return _one(seasons, run, tmin, tmax)


def with_usual_warmth(
    seasons: Seasons, run: int, place: Place, span: Span, part: Part
) -> tuple[Seasons, float]:
    """Take one run and bring a part of each of its years to the mean warmth of all runs.

    Every day of the part is shifted alike. Given with it is how much colder (under 0) or warmer
    than usual that part was, over its years [°C].
    """
    days = days_from(seasons.first_day, seasons.days)
    months = months_of(part, place)
    tmin, tmax = seasons.tmin_c[run].copy(), seasons.tmax_c[run].copy()
    off = []
    for columns in _stretches(days, span, lambda day: int(days.month[day]) in months):
        mean_c = (seasons.tmin_c[:, columns] + seasons.tmax_c[:, columns]).mean(axis=1) / 2
        unusual = float(mean_c[run] - mean_c.mean())
        tmin[columns] -= unusual
        tmax[columns] -= unusual
        off.append(unusual)
    return _one(seasons, run, tmin, tmax), float(np.mean(off)) if off else 0.0


def with_warmer_nights(seasons: Seasons, gain_c: float, span: Span) -> Seasons:
    """Warm every night of frost in all runs by so much, as fleece does [°C]."""
    tmin = seasons.tmin_c.copy()
    part = tmin[:, span.first : span.until]
    part += np.where(part <= FROST_C, gain_c, 0.0)
    return replace(seasons, tmin_c=tmin, tmax_c=np.maximum(seasons.tmax_c, tmin))


def together(parts: list[Seasons]) -> Seasons:
    """Put runs of the same days side by side."""
    return replace(
        parts[0],
        tmin_c=np.concatenate([one.tmin_c for one in parts]),
        tmax_c=np.concatenate([one.tmax_c for one in parts]),
        rain_mm=np.concatenate([one.rain_mm for one in parts]),
    )


def _one(
    seasons: Seasons, run: int, tmin_c: NDArray[np.float64], tmax_c: NDArray[np.float64]
) -> Seasons:
    """Make a single run of changed temperatures."""
    return replace(
        seasons,
        tmin_c=tmin_c[None, :],
        tmax_c=tmax_c[None, :],
        rain_mm=seasons.rain_mm[run : run + 1],
    )


def _halves(days: Days, place: Place, span: Span, *, late: bool) -> list[NDArray[np.int64]]:
    """Give the stretches from midwinter to midsummer, or those from midsummer to midwinter."""
    before_midsummer = set(range(7, 13)) if place.southern else set(range(1, 7))
    return _stretches(days, span, lambda day: (int(days.month[day]) in before_midsummer) == late)


def _stretches(days: Days, span: Span, belongs: Callable[[int], bool]) -> list[NDArray[np.int64]]:
    """Give the runs of neighbouring days that belong, within the span."""
    columns = range(max(span.first, 0), min(span.until, days.month.size))
    return [
        np.array(list(group), dtype=np.int64)
        for here, group in groupby(columns, key=belongs)
        if here
    ]
