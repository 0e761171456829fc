"""A rain gauge's readings spread over the days they tell of."""

from collections.abc import Mapping

import numpy as np

from haulm.water.records import Array


def gauge_rain_mm(
    readings: Mapping[int, float], days: int, gap_days: int, beside_mm: Array | None = None
) -> Array:
    """Give the rain of each day as a gauge tells it, shape (days,); NaN where it does not [mm].

    A gauge is read in the morning, and tells of the days since it was read before, the day of the
    reading itself not counted (as weather stations do: common practice). That is so where it was
    read no more than ``gap_days`` ago; else it tells of the day before alone, and the days before
    that are not known. Days after the last reading are not known either: nobody has looked. What
    several days brought together is shared out as the rain beside it fell, where that is known for
    each of them and rain fell; else evenly.

    Parameters
    ----------
    readings
        What was read on which day of the run, 0 included [mm]; several of a day added up.
    days
        The length of the run [d].
    gap_days
        A gauge read no longer ago is being kept [d].
    beside_mm
        The rain of a station near by, shape (days,), NaN where it is not known [mm].
    """
    rain = np.full(days, np.nan)
    before: int | None = None
    for day in sorted(readings):
        kept = before is not None and day - before <= gap_days
        first = before if kept and before is not None else day - 1
        before = day
        # Of a gauge emptied before the run began nobody knows how much fell within it.
        if first < 0 or day > days:
            continue
        span = slice(first, day)
        beside = None if beside_mm is None else beside_mm[span]
        rain[span] = readings[day] * _shares(day - first, beside)
    return rain


def _shares(days: int, beside_mm: Array | None) -> Array:
    """Share one reading out over its days [1]."""
    if beside_mm is not None and np.isfinite(beside_mm).all() and beside_mm.sum() > 0:
        return np.asarray(beside_mm / beside_mm.sum())
    return np.full(days, 1.0 / days)
