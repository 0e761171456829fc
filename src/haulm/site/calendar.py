"""Days laid out as arrays: years, months and days of the year from a first day on."""

from dataclasses import dataclass
from datetime import date

import numpy as np
from numpy.typing import NDArray

DAYS_A_YEAR = 365
MONTH_LENGTHS = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
_MONTH_STARTS = np.concatenate([[0], np.cumsum(MONTH_LENGTHS)[:-1]])


@dataclass(frozen=True, slots=True, eq=False)
class Days:
    """A run of days.

    Attributes
    ----------
    year, month, day
        Calendar year, month (1 to 12) and day of the month, shape (days,).
    day_of_year
        1 on 1 January, up to 366.
    slot
        Place in a year of 365 days, 0 on 1 January; 29 February shares the slot of the 28th.
    """

    year: NDArray[np.int64]
    month: NDArray[np.int64]
    day: NDArray[np.int64]
    day_of_year: NDArray[np.int64]
    slot: NDArray[np.int64]


def days_from(first_day: date, days: int) -> Days:
    """Lay out a number of days from a first day on."""
    stamps = np.datetime64(first_day, "D") + np.arange(days)
    months = stamps.astype("datetime64[M]")
    years = stamps.astype("datetime64[Y]")
    month = months.astype(np.int64) % 12 + 1
    day = (stamps - months.astype("datetime64[D]")).astype(np.int64) + 1
    slot = _MONTH_STARTS[month - 1] + np.minimum(day, np.array(MONTH_LENGTHS)[month - 1]) - 1
    return Days(
        year=years.astype(np.int64) + 1970,
        month=month,
        day=day,
        day_of_year=(stamps - years.astype("datetime64[D]")).astype(np.int64) + 1,
        slot=slot,
    )
