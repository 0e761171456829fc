"""What a ground wants, week by week and in which order, out of its balance."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from haulm.measure.weeks import DAYS_A_WEEK
from haulm.water.records import Array, GroundBalance

FORTNIGHT = 2 * DAYS_A_WEEK
"""Drought is asked about over the coming fortnight [d]."""


def daily_l(balance: GroundBalance, rows: Sequence[int]) -> Array:
    """Give the litres given to some rows on each day, shape (runs, days): 1 mm on 1 m² is 1 l."""
    chosen = np.asarray(rows, dtype=np.int64)
    return np.asarray(np.einsum("rd,rnd->nd", balance.area_m2[chosen], balance.watered_mm[chosen]))


def weekly_l(daily: Array, first_column: int, weeks: int) -> Array:
    """Add up days to weeks, shape (runs, weeks) [l], from a column on; all days must be there."""
    days = daily[:, first_column : first_column + DAYS_A_WEEK * weeks]
    return np.asarray(days.reshape(daily.shape[0], weeks, DAYS_A_WEEK).sum(axis=2))


def days_until_thirsty(
    balance: GroundBalance, row: int, first_column: int, days: int
) -> NDArray[np.float64]:
    """Count the days from a column until a row's easy water is spent, one a run [d].

    ``days`` where it is not spent within them.
    """
    when = slice(first_column, first_column + days)
    past = balance.depletion_mm[row, :, when] >= balance.easy_mm[row, :, when]
    first = np.where(past.any(axis=1), past.argmax(axis=1), past.shape[1])
    return np.asarray(first, dtype=np.float64)


def lost_share(
    watered: GroundBalance, dry: GroundBalance, row: int, when: slice, response: float
) -> NDArray[np.float64]:
    """Give the share of its yield that a row loses by going dry over some days, one a run [1].

    What it takes less than where it is watered, against all it takes on its days in the run.
    Source: FAO-56, equation 90, with ``response`` for Ky.
    """
    whole = _taken(watered, row, slice(None))
    missed = _taken(watered, row, when) - _taken(dry, row, when)
    share = response * np.maximum(missed, 0.0) / np.maximum(whole, 1e-9)
    return np.asarray(np.minimum(share, 1.0), dtype=np.float64)


def _taken(balance: GroundBalance, row: int, when: slice) -> NDArray[np.float64]:
    """Add up what leaves and soil give to the air over some days, one a run [mm]."""
    taken = balance.crop_use_mm[row, :, when] + balance.evaporated_mm[row, :, when]
    return np.asarray(taken.sum(axis=1), dtype=np.float64)
