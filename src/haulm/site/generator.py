"""Weather drawn by chance: many possible years from a record, or from monthly normals alone.

The scheme is that of C. W. Richardson, "Stochastic simulation of daily precipitation, temperature,
and solar radiation", *Water Resources Research* 17 (1981) 182-190: a first-order Markov chain of
wet and dry days by month, gamma amounts of rain, and a minimum and maximum that remember the day
before's and go with the rain. Here the weights differ by month, rain pushes the temperatures
through that memory rather than at once, and whole years differ a little besides.
"""

from datetime import MINYEAR, date, timedelta

import numpy as np
from numpy.typing import NDArray

from haulm.site.calendar import Days, days_from
from haulm.site.chance import CalendarChance, Purpose
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


def draw(model: WeatherModel, first_day: date, days: int, runs: int, seed: int) -> Seasons:
    """Draw runs of weather.

    What chance deals to a calendar day of a run is that day's own, and each chain of days is begun
    a year or more before the first: two draws of one seed agree on every day they share (to a
    millionth of a degree, what a day still remembers of a year before), whenever they begin and
    end and however many runs they have.

    Parameters
    ----------
    model
        From :func:`fit_record` or :func:`fit_normals`.
    first_day, days, runs
        Day of every run's first value, length of a run [d], number of runs.
    seed
        The seed of chance, 0 or more; the same seed gives the same weather.

    Returns
    -------
    Seasons of shape (runs, days); rain is NaN throughout where the model knows none.
    """
    begun = date(max(first_day.year - 1, MINYEAR), 1, 1)
    last_day = first_day + timedelta(days=days - 1)
    calendar = days_from(begun, (date(last_day.year, 12, 31) - begun).days + 1)
    told = slice((first_day - begun).days, (last_day - begun).days + 1)
    chance = CalendarChance(seed, runs)
    wet, rain_mm = _draw_rain(model.rain, calendar, chance)

    share = np.zeros(12) if model.rain is None else model.rain.wet_share
    month = calendar.month - 1
    states = _temperature_states(model, calendar, wet - share[month], chance)[:, told]
    slot = calendar.slot[told]
    both = model.mean_c[slot] + model.spread_c[slot] * states
    both += _year_shifts_c(calendar.year[told], chance)[..., None]
    tmin_c = both[..., 0]
    rain_told = NO_RAIN if model.rain is None else ""
    return Seasons(
        origin=f"{runs} runs drawn by chance; {model.origin}{rain_told}",
        first_day=first_day,
        tmin_c=tmin_c,
        tmax_c=np.maximum(both[..., 1], tmin_c + LEAST_SPAN_C),
        rain_mm=rain_mm[:, told],
    )


def _draw_rain(
    rain: RainModel | None, calendar: Days, chance: CalendarChance
) -> tuple[NDArray[np.bool_], NDArray[np.float64]]:
    """Draw which days are wet and how much falls, shape (runs, days)."""
    month = calendar.month - 1
    shape = (chance.runs, month.size)
    wet = np.zeros(shape, dtype=np.bool_)
    if rain is None:
        return wet, np.full(shape, np.nan)
    drawn = chance.by_day(Purpose.WET, calendar, lambda rng, shape, _: rng.random(shape))
    after_dry, after_wet = rain.wet_after_dry[month], rain.wet_after_wet[month]
    first_year = int(calendar.year[0])
    start = chance.in_year(Purpose.WET_BEFORE, first_year, lambda rng, runs: rng.random(runs))
    before = start < rain.wet_share[month[0]]
    for day in range(month.size):
        before = drawn[:, day] < np.where(before, after_wet[day], after_dry[day])
        wet[:, day] = before
    amounts = chance.by_day(
        Purpose.RAIN,
        calendar,
        lambda rng, shape, year: rng.gamma(
            rain.shape[month[year]], rain.scale_mm[month[year]], shape
        ),
    )
    # A gamma's smallest draws would not count as a wet day, and its spell would break.
    return wet, np.where(wet, np.maximum(amounts, WET_DAY_MM), 0.0)


def _temperature_states(
    model: WeatherModel,
    calendar: Days,
    wetness: NDArray[np.float64],
    chance: CalendarChance,
) -> NDArray[np.float64]:
    """Draw minima and maxima in standard deviations, shape (runs, days, 2)."""
    month = calendar.month - 1
    by_month = np.swapaxes(model.chance, 1, 2)
    drawn = chance.by_day(
        Purpose.AIR, calendar, lambda rng, shape, _: rng.standard_normal((*shape, 2))
    )
    own = np.einsum("rdi,dij->rdj", drawn, by_month[month])
    states = np.asarray(own, dtype=np.float64) + wetness[..., None] * model.wet_push[month]
    memory = np.swapaxes(model.memory, 1, 2)[month]
    # The day before the first is not known: the first takes the whole spread by chance.
    states[:, 0] = chance.in_year(
        Purpose.AIR_BEFORE,
        int(calendar.year[0]),
        lambda rng, runs: rng.multivariate_normal((0.0, 0.0), [[1.0, 0.6], [0.6, 1.0]], runs),
    )
    for day in range(1, month.size):
        states[:, day] += states[:, day - 1] @ memory[day]
    return states


def _year_shifts_c(year: NDArray[np.int64], chance: CalendarChance) -> NDArray[np.float64]:
    """Draw by how much each calendar year differs as a whole, day by day, shape (runs, days)."""
    years, place = np.unique(year, return_inverse=True)
    shifts = [
        chance.in_year(Purpose.YEAR, one, lambda rng, runs: rng.normal(0.0, YEAR_SPREAD_C, runs))
        for one in years
    ]
    return np.stack(shifts, axis=1)[:, place]
