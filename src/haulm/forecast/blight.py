"""Late blight from daily rain and warmth: when it is first to be looked for, run by run."""

import numpy as np
from numpy.lib.stride_tricks import sliding_window_view

from haulm.forecast.records import Floats, Weeks
from haulm.forecast.rules import forecast_rules
from haulm.growing.days import NEVER, Days
from haulm.site.records import Seasons

WARM_DAYS, RAIN_DAYS = 5, 10


def favourable_days(seasons: Seasons) -> Floats | None:
    """Mark the days that favour late blight with 1, shape (runs, days); None without rain.

    The mean temperature of five days is under 25.5 °C, ten days' rain is 30 mm or more, and the
    night is no colder than 7.2 °C. Source: R. A. Hyre 1954, as UC IPM gives it.
    """
    if np.isnan(seasons.rain_mm).any():
        return None
    rules = forecast_rules()
    mean_c = _over(WARM_DAYS, (seasons.tmin_c + seasons.tmax_c) / 2) / WARM_DAYS
    rain_mm = _over(RAIN_DAYS, seasons.rain_mm)
    favours = (
        (mean_c < rules.blight_mean_c.value)
        & (rain_mm >= rules.blight_rain_mm.value)
        & (seasons.tmin_c >= rules.blight_least_c.value)
    )
    return favours.astype(np.float64)


def first_blight(favourable: Floats, up: Days) -> Weeks:
    """Give the day on which blight has ended growth, one a run; never where it did not come.

    Ten favourable days since the plants came up bring it, 7 to 14 days later. Source: Krause,
    Massie and Hyre 1975.
    """
    rules = forecast_rules()
    days = favourable.shape[1]
    column = np.arange(days)
    since = np.where(column[None, :] >= up[:, None], favourable, 0.0).cumsum(axis=1)
    reached = since >= rules.blight_days.value
    first = np.where(reached.any(axis=1), reached.argmax(axis=1), NEVER)
    delay = rules.blight_delay_days.high or rules.blight_delay_days.value
    struck: Weeks = np.where(first == NEVER, NEVER, first + round(delay))
    return struck


def _over(days: int, daily: Floats) -> Floats:
    """Add up each day and those before it; the first day stands for what lies before the run."""
    padded = np.pad(daily, ((0, 0), (days - 1, 0)), mode="edge")
    return np.asarray(sliding_window_view(padded, days, axis=1).sum(axis=-1))
