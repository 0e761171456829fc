from datetime import date

import numpy as np

from haulm.desk.beds.weather import RUNS, WEEKS_AFTER, WEEKS_BEFORE, planning_weather
from haulm.desk.garden.opening import Opened
from haulm.measure.weeks import horizon_from


def test_the_weather_reaches_beyond_both_ends_of_the_plan(opened: Opened, day: date) -> None:
    """What was sown a year ago and what is sown in the last week can both be followed."""
    horizon = horizon_from(day)
    weather = planning_weather(opened.garden, horizon, seed=1)
    assert weather.column_of(horizon.first_day) == 7 * WEEKS_BEFORE
    assert weather.seasons.days == 7 * (WEEKS_BEFORE + horizon.weeks + WEEKS_AFTER)
    assert weather.seasons.tmin_c.shape[0] == RUNS


def test_the_same_seed_draws_the_same_weather(opened: Opened, day: date) -> None:
    """The weather can be drawn again; another seed draws other years at the same place."""
    horizon = horizon_from(day)
    first, again, other = (
        planning_weather(opened.garden, horizon, seed).seasons for seed in (1, 1, 2)
    )
    assert np.array_equal(first.tmin_c, again.tmin_c)
    assert not np.array_equal(first.tmin_c, other.tmin_c)
    assert abs(first.tmin_c.mean() - other.tmin_c.mean()) < 0.5
