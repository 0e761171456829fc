"""Weather drawn by chance: many possible years from a record, or from monthly normals alone.

The scheme follows C. W. Richardson, "Stochastic simulation of daily precipitation, temperature,
and solar radiation", *Water Resources Research* 17 (1981) 182-190: a first-order Markov chain of
wet and dry days by month, gamma amounts of rain, and temperatures that remember the day before
and differ between wet and dry days. Where Richardson draws minimum and maximum, the day's centre
(the mean of the two) and its span (the one less the other, lognormal) are drawn here, so that a
maximum never lies under its minimum and both monthly means are kept exactly.
"""

from datetime import date

import numpy as np
from numpy.typing import NDArray

from haulm.site.calendar import days_from
from haulm.site.fitting import fit_normals, fit_record
from haulm.site.records import Seasons
from haulm.site.weather_model import RainModel, WeatherModel

__all__ = ["WeatherModel", "draw", "fit_normals", "fit_record"]

# Whole years differ by more than days that only remember the day before can make them: on the
# four records under tests/truth/data/weather their means spread 0.44 to 0.95 °C, of which chance
# from day to day explains about half.
YEAR_SPREAD_C = 0.5


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

    shock = _remembering(model.centre_memory, (runs, days), rng)
    own = _remembering(model.span_memory, (runs, days), rng)
    coupling = model.coupling[month]
    stretch = coupling * shock + np.sqrt(1.0 - coupling**2) * own

    share = np.zeros(12) if model.rain is None else model.rain.wet_share
    year_number = calendar.year - calendar.year[0]
    year_shift = rng.normal(0.0, YEAR_SPREAD_C, (runs, int(year_number[-1]) + 1))[:, year_number]
    centre = (
        model.centre_c[slot]
        + model.wet_centre_c[month] * (wet - share[month])
        + model.centre_spread_c[slot] * shock
        + year_shift
    )
    # Dry days have the longer span; the factors are set so that their mean over the month is 1.
    dry_factor = 1.0 / (1.0 - share + share * model.wet_span)
    factor = np.where(wet, dry_factor[month] * model.wet_span[month], dry_factor[month])
    spread = model.span_spread[slot]
    span = model.span_c[slot] * factor * np.exp(spread * stretch - spread**2 / 2.0)
    return Seasons(
        origin=f"{runs} runs drawn by chance; {model.origin}",
        first_day=first_day,
        tmin_c=centre - span / 2.0,
        tmax_c=centre + span / 2.0,
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
    return wet, np.where(wet, amounts, 0.0)


def _remembering(
    memory: float, shape: tuple[int, int], rng: np.random.Generator
) -> NDArray[np.float64]:
    """Draw a standard normal series along the last axis whose days remember the day before."""
    values = rng.standard_normal(shape)
    values[:, 1:] *= np.sqrt(1.0 - memory**2)
    for day in range(1, shape[1]):
        values[:, day] += memory * values[:, day - 1]
    return values
