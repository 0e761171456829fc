"""Weather as plants meet it."""

from datetime import date

import numpy as np
import pytest

from growing.kinds_by_hand import place, wave_weather, yearly_wave
from haulm.growing.weather import growing_weather


def test_days_lengthen_from_midwinter_to_midsummer() -> None:
    """North of the equator days lengthen in March, south of it in October."""
    for latitude, lengthens, shortens in (
        (47.0, date(2026, 3, 1), date(2026, 10, 1)),
        (-47.0, date(2026, 10, 1), date(2026, 3, 1)),
    ):
        weather = wave_weather(latitude_deg=latitude)
        assert weather.lengthening[weather.column_of(lengthens)]
        assert not weather.lengthening[weather.column_of(shortens)]


@pytest.mark.parametrize("latitude", [47.0, -47.0, 10.0])
def test_the_calendar_agrees_with_the_sun(latitude: float) -> None:
    """On nearly every day that the calendar calls lengthening, the day is longer than the last."""
    weather = wave_weather(latitude_deg=latitude)
    longer = np.diff(weather.day_length_h) > 0
    assert np.mean(longer == weather.lengthening[1:]) > 0.98


def test_midwinter_is_in_june_south_of_the_equator() -> None:
    """The winter a southern planting stands through has its shortest day in June."""
    weather = wave_weather(latitude_deg=-47.0)
    column = int(weather.next_midwinter()[weather.column_of(date(2026, 3, 1))])
    assert weather.day_of(column) == date(2026, 6, 21)


def test_a_tunnel_is_never_colder() -> None:
    """Under cover no degree-day sum falls behind the open, and frost comes no sooner."""
    weather = wave_weather()
    covered = weather.degree_day_sums(4.0, 30.0, under_cover=True)
    assert (covered >= weather.degree_day_sums(4.0, 30.0, under_cover=False)).all()
    frost = weather.next_frost(-0.5, under_cover=True)
    assert (frost >= weather.next_frost(-0.5, under_cover=False)).all()


def test_sums_are_worked_out_once() -> None:
    """Two kinds of the same base share one sum."""
    weather = wave_weather()
    first = weather.degree_day_sums(5.0, 28.0, under_cover=False)
    assert weather.degree_day_sums(5.0, 28.0, under_cover=False) is first
    assert weather.degree_day_sums(6.0, 28.0, under_cover=False) is not first


def test_a_day_past_the_weather_is_its_last_day() -> None:
    """A date beyond the weather on hand is given as the last day there is."""
    seasons = yearly_wave(9, 9, runs=2)
    weather = growing_weather(seasons, place())
    assert weather.column_of(weather.day_of(10**6)) == seasons.days - 1
