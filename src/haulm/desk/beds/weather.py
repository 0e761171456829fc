"""The weather a garden is planned through: many runs, from long before the plan to long after."""

from datetime import timedelta

from haulm.growing.weather import GrowingWeather, growing_weather
from haulm.measure.weeks import DAYS_A_WEEK, Horizon
from haulm.notebook.garden import Garden
from haulm.site.records import Place, Weather
from haulm.site.seasons import seasons_from

WEEKS_BEFORE = 60
"""What stands in the ground today was started at most so long ago [weeks]."""

WEEKS_AFTER = 60
"""What is started in the last week still has to be followed to its end [weeks]."""

RUNS = 30
"""Runs of weather where the record is too short to give its own years."""


def planning_weather(garden: Garden, horizon: Horizon, seed: int) -> GrowingWeather:
    """Draw or replay the weather of a garden's place around a horizon."""
    return weather_around(garden.weather, garden.place, horizon, RUNS, seed)


def weather_around(
    weather: Weather, place: Place, horizon: Horizon, runs: int, seed: int
) -> GrowingWeather:
    """Draw or replay the weather of a place around a horizon, in so many runs where drawn."""
    first_day = horizon.first_day - timedelta(weeks=WEEKS_BEFORE)
    days = DAYS_A_WEEK * (WEEKS_BEFORE + horizon.weeks + WEEKS_AFTER)
    return growing_weather(seasons_from(weather, place, first_day, days, runs, seed), place)
