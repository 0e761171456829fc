"""Hours drawn through a day's extremes, and the chill of a winter counted over them."""

from datetime import date

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from haulm.site.chill import season_first_day, season_months, winter_chill
from haulm.site.hours import hourly_c
from haulm.site.records import MonthlyNormals, Place, Seasons
from haulm.site.seasons import seasons_from


def one_day(low: float, high: float, length_h: float = 12.0) -> np.ndarray:
    """Draw the hours of a day among days like it."""
    hours = hourly_c(np.array([low]), np.array([high]), np.array([length_h]))
    return np.asarray(hours[0])


@given(st.floats(-20, 20), st.floats(1, 25), st.floats(0, 24))
def test_hours_lie_between_the_extremes(low: float, range_c: float, length_h: float) -> None:
    """No hour is colder than the night's lowest or warmer than the day's highest, and both are
    come near to.
    """
    hours = one_day(low, low + range_c, length_h)
    assert hours.min() >= low - 1e-9
    assert hours.max() <= low + range_c + 1e-9
    assert hours.max() > low + 0.95 * range_c
    assert hours.min() < low + 0.15 * range_c


def test_the_day_warms_and_the_night_cools() -> None:
    """Warmth rises from sunrise to past noon, and falls all night until the next sunrise."""
    hours = one_day(0.0, 10.0)
    assert np.argmax(hours) in {7, 8}
    assert (np.diff(hours[:8]) > 0).all()
    assert (np.diff(hours[12:]) < 0).all()


def steady(temperature_c: float, place: Place) -> Seasons:
    """Give a year that stays all but at one temperature."""
    even = np.full((1, 365), temperature_c)
    first_day = season_first_day(place, 2027)
    return Seasons("invented", first_day, even - 0.01, even + 0.01, np.zeros((1, 365)))


@pytest.mark.parametrize(
    ("temperature_c", "hours_a_day", "units_a_day"),
    [(-5.0, 0, 0), (5.0, 24, 24), (11.0, 0, 12), (14.0, 0, 0), (17.0, 0, 0), (25.0, 0, 0)],
)
def test_a_winter_that_stays_the_same(
    temperature_c: float, hours_a_day: float, units_a_day: float, place: Place
) -> None:
    """A winter at 5 °C counts every hour of 120 days; one below freezing or at 14 °C counts none,
    and warmth above takes back no more than there is.
    """
    hours, units = winter_chill(steady(temperature_c, place), place)
    assert hours[0] == pytest.approx(hours_a_day * 120)
    assert units[0] == pytest.approx(units_a_day * 120)


def test_the_season_is_the_winter_s(place: Place, southern_place: Place) -> None:
    """Chill is counted from November to February in the north, from May to August in the south."""
    assert season_months(place) == (11, 12, 1, 2)
    assert season_months(southern_place) == (5, 6, 7, 8)
    assert season_first_day(place, 2027) == date(2026, 11, 1)
    assert season_first_day(southern_place, 2027) == date(2027, 5, 1)


def test_an_upland_winter_has_chill_for_currants(normals: MonthlyNormals, place: Place) -> None:
    """A cool upland valley brings several hundred chill hours in nearly every winter."""
    first_day = season_first_day(place, 2027)
    hours, units = winter_chill(seasons_from(normals, place, first_day, 365, 40), place)
    assert np.quantile(hours, 0.1) > 400
    assert (hours <= 24 * 120).all()
    assert (units <= 24 * 120).all()
