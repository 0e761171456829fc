"""Warmth summed over time: degree-days by the single sine and by averaging."""

from typing import Literal

import numpy as np
from numpy.typing import NDArray

Cutoff = Literal["horizontal", "intermediate", "vertical"]


def single_sine(
    tmin_c: NDArray[np.float64],
    tmax_c: NDArray[np.float64],
    base_c: float,
    upper_c: float,
    cutoff: Cutoff = "horizontal",
) -> NDArray[np.float64]:
    """Give each day's degree-days by the single sine.

    The day's temperature is taken as a sine through its minimum and maximum; what lies above
    ``base_c`` counts, and warmth above ``upper_c`` adds nothing more.

    Parameters
    ----------
    tmin_c, tmax_c
        Daily minima and maxima, any shapes that go together [°C]; NaN gives NaN.
    base_c, upper_c
        Lower and upper threshold [°C]; ``inf`` for no upper one.
    cutoff
        What warmth above the upper threshold does: adds no more (horizontal, as growth of plants
        is reckoned here), takes back as much as it goes beyond (intermediate), or lets the whole
        hour count nothing (vertical).

    Returns
    -------
    Degree-days, element by element [°C d].

    Notes
    -----
    Baskerville & Emin, *Ecology* 50 (1969) 514-517; Allen, *Environmental Entomology* 5 (1976)
    388-396.
    """
    beyond = _warmth_above(tmin_c, tmax_c, upper_c)
    horizontal = _warmth_above(tmin_c, tmax_c, base_c) - beyond
    if cutoff == "horizontal" or np.isinf(upper_c):
        return horizontal
    if cutoff == "intermediate":
        return np.asarray(np.maximum(horizontal - beyond, 0.0))
    return horizontal - (upper_c - base_c) * _share_above(tmin_c, tmax_c, upper_c)


def averaging(
    tmin_c: NDArray[np.float64], tmax_c: NDArray[np.float64], base_c: float
) -> NDArray[np.float64]:
    """Give each day's degree-days [°C d] as its mean temperature above a base, never under 0.

    Too low in cool months, when days reach above the base though their mean does not.
    """
    return np.asarray(np.maximum((tmin_c + tmax_c) / 2.0 - base_c, 0.0))


def limited_averaging(
    tmin_c: NDArray[np.float64], tmax_c: NDArray[np.float64], base_c: float, upper_c: float
) -> NDArray[np.float64]:
    """Give each day's degree-days [°C d] with both extremes first held within the thresholds.

    This is how degree-days for maize are reckoned in North America (86/50 °F).
    """
    return averaging(np.clip(tmin_c, base_c, upper_c), np.clip(tmax_c, base_c, upper_c), base_c)


def _share_above(
    tmin_c: NDArray[np.float64], tmax_c: NDArray[np.float64], threshold_c: float
) -> NDArray[np.float64]:
    """Give the share of the day that the sine spends above a threshold [1]."""
    mean, swing = (tmax_c + tmin_c) / 2.0, (tmax_c - tmin_c) / 2.0
    height = np.clip((threshold_c - mean) / np.where(swing > 0.0, swing, 1.0), -1.0, 1.0)
    share = 0.5 - np.arcsin(height) / np.pi
    return np.asarray(np.where(swing > 0.0, share, 1.0 * (mean > threshold_c)) + 0.0 * mean)


def _warmth_above(
    tmin_c: NDArray[np.float64], tmax_c: NDArray[np.float64], threshold_c: float
) -> NDArray[np.float64]:
    """Integrate the sine above a threshold over one day [°C d]."""
    mean = (tmax_c + tmin_c) / 2.0
    swing = (tmax_c - tmin_c) / 2.0
    crossing = np.clip(threshold_c, tmin_c, tmax_c) - mean
    # A day without a swing is a flat line: the part above is then all in the last term.
    angle = np.arcsin(np.clip(crossing / np.where(swing > 0.0, swing, 1.0), -1.0, 1.0))
    part = (swing * np.cos(angle) - crossing * (np.pi / 2.0 - angle)) / np.pi
    return np.asarray(
        np.where(swing > 0.0, part, 0.0) + np.maximum(tmin_c - threshold_c, 0.0) + 0.0 * mean
    )
