"""What can be measured of weather, read or drawn: days laid out as (runs, days)."""

from datetime import date

import numpy as np
from numpy.typing import NDArray

from haulm.site.calendar import days_from
from haulm.site.fitting import WET_DAY_MM

Values = NDArray[np.float64]
MONTHS = range(1, 13)


def by_month(values: Values, first_day: date) -> list[Values]:
    """Give what was read in each month of the year, all runs and years together."""
    month = days_from(first_day, values.shape[-1]).month
    found = [values[..., month == number].ravel() for number in MONTHS]
    return [one[np.isfinite(one)] for one in found]


def monthly_means(values: Values, first_day: date) -> Values:
    """Give the mean of each month of the year."""
    return np.array([one.mean() for one in by_month(values, first_day)])


def monthly_spreads(values: Values, first_day: date) -> Values:
    """Give the standard deviation of days in each month of the year."""
    return np.array([one.std() for one in by_month(values, first_day)])


def lag_one(values: Values, first_day: date) -> float:
    """Give how far each day goes with the day before, the months' own means taken off."""
    month = days_from(first_day, values.shape[-1]).month
    away = values - monthly_means(values, first_day)[month - 1]
    before, after = away[..., :-1].ravel(), away[..., 1:].ravel()
    known = np.isfinite(before) & np.isfinite(after)
    return float(np.corrcoef(before[known], after[known])[0, 1])


def wet_share(rain_mm: Values) -> float:
    """Give the share of days that are wet."""
    return float(np.mean(rain_mm >= WET_DAY_MM))


def mean_spells_d(rain_mm: Values) -> tuple[float, float]:
    """Give the mean length of wet and of dry spells; those cut by the ends count as they stand."""
    wet = np.atleast_2d(rain_mm) >= WET_DAY_MM
    changes = (wet[:, 1:] != wet[:, :-1]).sum()
    spells = changes + wet.shape[0]
    # Spells of both sorts alternate, so that each sort has half of them.
    return float(wet.sum() / (spells / 2)), float((~wet).sum() / (spells / 2))


def frost_days(half: Values, *, last: bool) -> Values:
    """Give the last or first day of frost of each half-year that was read and froze."""
    found = []
    for season in half[np.isfinite(half).any(axis=1)]:
        days = np.flatnonzero(season <= 0.0)
        if days.size:
            found.append(float(days[-1] if last else days[0]))
    return np.array(found)
