"""The crop coefficient through the season."""

import numpy as np
from numpy.typing import NDArray

from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding

LEAST_ADJUSTED = 0.45
"""A late coefficient under this is a dry crop's and is left alone; FAO-56, equation 65 [1]."""

HUMIDITY_RANGE_PCT = (20.0, 80.0)
"""Least humidities that the climate adjustments of FAO-56 hold for [%]; equations 62 and 65."""

_WIND_M_S = (1.0, 6.0)
_HEIGHT_M = (0.1, 10.0)


def adjusted_coefficient(
    table: float, wind_m_s: float, least_humidity_pct: float, height_m: float
) -> float:
    """Adjust a middle or late coefficient from table 12 or 17 to a place's air [-].

    Tables hold at a wind of 2 m/s and a least humidity of 45 %. Windy, dry air takes more from a
    tall crop. Values under 0.45 are left alone. Valid at 1 to 6 m/s, 20 to 80 % and 0.1 to 10 m;
    what lies beyond is taken as the nearest.
    Source: FAO-56, equations 62, 65 and 70.
    """
    if table < LEAST_ADJUSTED:
        return table
    wind = np.clip(wind_m_s, *_WIND_M_S)
    humidity = np.clip(least_humidity_pct, *HUMIDITY_RANGE_PCT)
    height = np.clip(height_m, *_HEIGHT_M)
    air = 0.04 * (wind - 2.0) - 0.004 * (humidity - 45.0)
    return float(table + air * (height / 3.0) ** 0.3)


def season_curve(
    shares: tuple[float, float, float, float],
    coefficients: tuple[float, float, float],
    progress: NDArray[np.float64],
) -> NDArray[np.float64]:
    """Give the coefficient at each point of a season, shape as ``progress`` [-].

    Parameters
    ----------
    shares
        The four stages as shares of the season [1]; they add up to 1.
    coefficients
        At start, middle and end.
    progress
        How far the season has gone, 0 to 1.

    Raises
    ------
    FaultsFoundError
        When the shares do not add up to 1 or one is negative.

    Notes
    -----
    FAO-56, equation 66 on a season of length 1: its lengths of stages belong to other places, so
    only their shares are used here.
    """
    if min(shares) < 0 or abs(sum(shares) - 1.0) > 1e-6:  # noqa: PLR2004
        what = "the four stages of a season do not add up to the whole of it."
        raise FaultsFoundError([Finding("stages", what, "Mend the shares.")])
    start, middle, end = coefficients
    turns = np.cumsum((0.0, *shares))
    return np.interp(progress, turns, (start, start, middle, middle, end))


def warm_progress(warmth: NDArray[np.float64]) -> NDArray[np.float64]:
    """Give how far a season has gone by the end of each day, shape as ``warmth`` (days,) [1].

    A crop that stands through a winter does not close its leaves in January: the season is
    counted by each day's warmth above the kind's base [°C d], not by days. Where there is none at
    all it is counted by days.
    """
    total = float(warmth.sum())
    if total <= 0:
        return np.arange(1, warmth.size + 1) / max(warmth.size, 1)
    return np.cumsum(warmth) / total
