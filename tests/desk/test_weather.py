from datetime import date

import numpy as np
import pytest

from haulm.catalogue.loader import load_catalogue
from haulm.desk.beds.weather import RUNS, WEEKS_AFTER, WEEKS_BEFORE, planning_weather
from haulm.desk.garden.opening import Opened
from haulm.growing.timing import course
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


@pytest.mark.parametrize("kind_id", ["carrot/storing", "pea/early", "lettuce/leaf"])
def test_what_is_sown_is_ready_when_the_plan_before_reckoned(kind_id: str, opened: Opened) -> None:
    """A crop sown in May, July or next March is ready on the same days, to one, in every run of
    weather, whether the plan was begun in February, in March or in late April.
    """
    kind = load_catalogue().kinds[kind_id]
    sown = [date(2027, 5, 3), date(2027, 7, 5), date(2028, 3, 27)]
    ready = []
    for begun in (date(2027, 2, 1), date(2027, 3, 1), date(2027, 4, 26)):
        weather = planning_weather(opened.garden, horizon_from(begun), seed=1)
        columns = np.array([weather.column_of(day) for day in sown])
        fared = course(kind, kind.methods[0], columns, weather, under_cover=False)
        ends = np.stack(list(fared.phase_ends.values()))
        ready.append(ends + weather.seasons.first_day.toordinal())
    for later in ready[1:]:
        assert np.abs(later - ready[0]).max() <= 1
