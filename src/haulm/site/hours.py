"""The hours of a day drawn through its minimum and maximum."""

import numpy as np
from numpy.typing import NDArray

HOURS_A_DAY = 24
_AFTER_NOON_H = 4.0
"""The day's warmth would be back at the minimum so long after sunset, were there no night [h]."""
_SHORTEST_DAY_H, _LONGEST_DAY_H = 4.0, 20.0


def hourly_c(
    tmin_c: NDArray[np.float64], tmax_c: NDArray[np.float64], day_length_h: NDArray[np.float64]
) -> NDArray[np.float64]:
    """Draw each day's 24 hours from sunrise on: a sine by day, a logarithmic fall by night.

    Parameters
    ----------
    tmin_c, tmax_c
        Daily extremes, shape (..., days) [°C]; NaN gives NaN.
    day_length_h
        Hours from sunrise to sunset, shape (days,) [h]; held between 4 and 20, beyond which there
        is no day or no night to draw.

    Returns
    -------
    Temperatures of the hours' middles, shape (..., days, 24) [°C].

    Notes
    -----
    Linvill, *HortScience* 25 (1990) 14-16: by day the sine of π t / (length + 4), by night a fall
    by the logarithm of the hours since sunset to the next minimum (equations from memory; the
    method as told in the reference of the R package fruclimadapt). The last day falls to its own
    minimum.
    """
    length_h = np.clip(day_length_h, _SHORTEST_DAY_H, _LONGEST_DAY_H)[:, None]
    hours = np.arange(HOURS_A_DAY) + 0.5
    low, high = tmin_c[..., None], tmax_c[..., None]
    next_low = np.concatenate([tmin_c[..., 1:], tmin_c[..., -1:]], axis=-1)[..., None]
    by_day = low + (high - low) * np.sin(np.pi * hours / (length_h + _AFTER_NOON_H))
    at_sunset = low + (high - low) * np.sin(np.pi * length_h / (length_h + _AFTER_NOON_H))
    since_sunset = np.maximum(hours - length_h, 0.0)
    night_h = HOURS_A_DAY - length_h
    # One hour is added, so that the fall begins at sunset itself and not an hour later.
    fallen = np.log1p(since_sunset) / np.log1p(night_h)
    by_night = at_sunset - (at_sunset - next_low) * fallen
    return np.asarray(np.where(hours <= length_h, by_day, by_night))
