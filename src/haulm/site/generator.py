"""Weather drawn by chance: many possible years from a record, or from monthly normals alone.

The scheme is that of C. W. Richardson, "Stochastic simulation of daily precipitation, temperature,
and solar radiation", *Water Resources Research* 17 (1981) 182-190: a first-order Markov chain of
wet and dry days by month, gamma amounts of rain, and a minimum and maximum that remember the day
before's and go with the rain. Here the weights differ by month, rain pushes the temperatures
through that memory rather than at once, and whole years differ a little besides.
"""

from datetime import date

import numpy as np
from numpy.typing import NDArray

from haulm.site.calendar import days_from
from haulm.site.fitting import WET_DAY_MM, fit_normals, fit_record
from haulm.site.records import Seasons
from haulm.site.weather_model import RainModel, WeatherModel

__all__ = ["NO_RAIN", "WeatherModel", "draw", "fit_normals", "fit_record"]

# Whole years differ by more than days that only remember the day before can make them: on the
# four records under tests/truth/data/weather their means spread 0.44 to 0.95 °C, of which chance
# from day to day explains about half.
YEAR_SPREAD_C = 0.5
LEAST_SPAN_C = 0.5
NO_RAIN = "; too little rain was read to tell any, so none is told"


def draw(
    model: WeatherModel, first_day: date, days: int, runs: int, rng: np.random.Generator
) -> Seasons:
    """Draw runs of weather.

    Parameters
    ----------
    model
        From :func:`fit_record` or :func:`fit_normals`.
    first_day, days, runs
        Day of every run's first value, length of a run [d], number of runs.
    rng
        The source of chance; the same state gives the same weather.

    Returns
    -------
    Seasons of shape (runs, days); rain is NaN throughout where the model knows none.
    """
    calendar = days_from(first_day, days)
    month, slot = calendar.month - 1, calendar.slot
    wet, rain_mm = _draw_rain(model.rain, month, runs, rng)

    share = np.zeros(12) if model.rain is None else model.rain.wet_share
    states = _temperature_states(model, month, wet - share[month], rng)
    year_number = calendar.year - calendar.year[0]
    year_shift = rng.normal(0.0, YEAR_SPREAD_C, (runs, int(year_number[-1]) + 1))[:, year_number]
    both = model.mean_c[slot] + model.spread_c[slot] * states + year_shift[..., None]
    tmin_c = both[..., 0]
    rain_told = NO_RAIN if model.rain is None else ""
    return Seasons(
        origin=f"{runs} runs drawn by chance; {model.origin}{rain_told}",
        first_day=first_day,
        tmin_c=tmin_c,
        tmax_c=np.maximum(both[..., 1], tmin_c + LEAST_SPAN_C),
        rain_mm=rain_mm,
    )


def _draw_rain(
    rain: RainModel | None, month: NDArray[np.int64], runs: int, rng: np.random.Generator
) -> tuple[NDArray[np.bool_], NDArray[np.float64]]:
    """Draw which days are wet and how much falls, shape (runs, days)."""
    shape = (runs, month.size)
    wet = np.zeros(shape, dtype=np.bool_)
    if rain is None:
        return wet, np.full(shape, np.nan)
    chance = rng.random(shape)
    after_dry, after_wet = rain.wet_after_dry[month], rain.wet_after_wet[month]
    before = rng.random(runs) < rain.wet_share[month[0]]
    for day in range(month.size):
        before = chance[:, day] < np.where(before, after_wet[day], after_dry[day])
        wet[:, day] = before
    amounts = rng.gamma(rain.shape[month], rain.scale_mm[month], shape)
    # A gamma's smallest draws would not count as a wet day, and its spell would break.
    return wet, np.where(wet, np.maximum(amounts, WET_DAY_MM), 0.0)


def _temperature_states(
    model: WeatherModel,
    month: NDArray[np.int64],
    wetness: NDArray[np.float64],
    rng: np.random.Generator,
) -> NDArray[np.float64]:
    """Draw minima and maxima in standard deviations, shape (runs, days, 2)."""
    runs, days = wetness.shape
    by_month = np.swapaxes(model.chance, 1, 2)
    own = np.einsum("rdi,dij->rdj", rng.standard_normal((runs, days, 2)), by_month[month])
    states = np.asarray(own, dtype=np.float64) + wetness[..., None] * model.wet_push[month]
    memory = np.swapaxes(model.memory, 1, 2)[month]
    # The day before the first is not known: the first takes the whole spread by chance.
    states[:, 0] = rng.multivariate_normal((0.0, 0.0), [[1.0, 0.6], [0.6, 1.0]], runs)
    for day in range(1, days):
        states[:, day] += states[:, day - 1] @ memory[day]
    return states
