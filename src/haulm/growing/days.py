"""Day columns: finding, run by run, the first day on which something holds or has added up."""

import numpy as np
from numpy.typing import NDArray

Days = NDArray[np.int64]
"""Day columns of runs of weather; NEVER where the runs end first."""

NEVER = 1_000_000
"""The day column of what does not happen within the weather on hand: later than any day."""


def sums_from_daily(daily: NDArray[np.float64]) -> NDArray[np.float64]:
    """Add up a daily amount, shape (runs, days), into sums before each day, (runs, days + 1)."""
    sums = np.zeros((daily.shape[0], daily.shape[1] + 1))
    np.cumsum(daily, axis=1, out=sums[:, 1:])
    return sums


def next_day_of(holds: NDArray[np.bool_]) -> Days:
    """Give for each day, and the day past the last, the first day on or after which it holds.

    Parameters
    ----------
    holds
        Whether it holds, shape (..., days).

    Returns
    -------
    Days
        Shape (..., days + 1); NEVER where it does not hold again.
    """
    days = holds.shape[-1]
    found = np.full((*holds.shape[:-1], days + 1), NEVER, dtype=np.int64)
    found[..., :-1] = np.where(holds, np.arange(days), NEVER)
    return np.minimum.accumulate(found[..., ::-1], axis=-1)[..., ::-1]


def look_up(next_days: Days, begins: Days) -> Days:
    """Look up the next day after each beginning.

    Parameters
    ----------
    next_days
        As from `next_day_of`: shape (days + 1,), or (runs, days + 1).
    begins
        Beginnings, shape (runs, starts); NEVER stays NEVER.
    """
    last = next_days.shape[-1] - 1
    columns = np.clip(begins, 0, last)
    if next_days.ndim == 1:
        found = next_days[columns]
    else:
        found = np.take_along_axis(next_days, columns, axis=1)
    return np.where(begins > last, NEVER, found)


def first_reaching(sums: NDArray[np.float64], begins: Days, amount: float) -> Days:
    """Find the first day by whose morning an amount has added up since each beginning.

    Parameters
    ----------
    sums
        As from `sums_from_daily`, shape (runs, days + 1), never falling.
    begins
        Beginnings, shape (runs, starts).
    amount
        What must add up.

    Notes
    -----
    All runs are searched at once: each run's sums are lifted above those of the run before it,
    so that together they rise, and one binary search serves them all.
    """
    if amount <= 0:
        return begins
    runs, columns = sums.shape
    lift = (np.arange(runs) * (sums[:, -1].max() + amount + 1.0))[:, None]
    from_sums = np.take_along_axis(sums, np.clip(begins, 0, columns - 1), axis=1)
    places = np.searchsorted((sums + lift).ravel(), (from_sums + lift + amount).ravel())
    found = places.reshape(begins.shape) - (np.arange(runs) * columns)[:, None]
    return np.where((begins >= columns) | (found >= columns), NEVER, found)


def day_in_share_of_runs(days: Days, share: float) -> Days:
    """Give, start by start, the day by which something has happened in a share of the runs.

    Always a day that some run gave, never one between two runs.
    """
    ordered = np.sort(days, axis=0)
    place = int(np.ceil(share * days.shape[0] - 1e-9)) - 1
    chosen: Days = ordered[max(place, 0)]
    return chosen
