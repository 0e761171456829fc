"""Late blight from daily rain and warmth: when it is first to be looked for, run by run."""

from math import log

import numpy as np
from numpy.lib.stride_tricks import sliding_window_view

from haulm.forecast.records import Floats, Weeks
from haulm.forecast.rules import forecast_rules
from haulm.growing.days import NEVER, Days
from haulm.site.records import Seasons

WARM_DAYS, RAIN_DAYS = 5, 10
OCCASIONS = 8
"""So many times ten favourable days are counted; what blight misses so often it spares."""


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


def blight_days(favourable: Floats, up: Days) -> Weeks:
    """Give the day on which blight has ended growth, by occasion and run; the last is never.

    Every ten favourable days since the plants came up are an occasion; blight is seen 7 to 14 days
    after (Krause, Massie and Hyre 1975), and has killed the leaves some time later (judged).
    """
    rules = forecast_rules()
    runs, days = favourable.shape
    since = np.where(np.arange(days)[None, :] >= up[:, None], favourable, 0.0).cumsum(axis=1)
    delay = round(rules.blight_delay_days.value + rules.blight_spread_days.value)
    told = np.full((OCCASIONS + 1, runs), NEVER)
    for occasion in range(OCCASIONS):
        reached = since >= rules.blight_days.value * (occasion + 1)
        told[occasion] = np.where(reached.any(axis=1), reached.argmax(axis=1) + delay, NEVER)
    return told


def occasion_of(even: Floats, chance: float) -> Weeks:
    """Give the occasion on which blight comes, for values drawn evenly from 0 to 1."""
    missed = np.floor(np.log(np.maximum(1 - even, 1e-12)) / log(1 - chance)).astype(np.int64)
    return np.minimum(missed, OCCASIONS)


def occasion_odds(chance: float) -> Floats:
    """Give the odds of each occasion, the last being that it never comes, adding up to 1."""
    missed = (1 - chance) ** np.arange(OCCASIONS + 1)
    return np.append(missed[:-1] * chance, missed[-1])


def _over(days: int, daily: Floats) -> Floats:
    """Add up each day and those before it; the first day stands for what lies before the run."""
    padded = np.pad(daily, ((0, 0), (days - 1, 0)), mode="edge")
    return np.asarray(sliding_window_view(padded, days, axis=1).sum(axis=-1))
