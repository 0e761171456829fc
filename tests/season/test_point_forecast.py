"""Forecasts in MET Norway's open format, from an answer made up after its documented excerpt."""

import json
from datetime import UTC, date, datetime, timedelta
from typing import Any

import pytest

from haulm.measure.errors import FaultsFoundError
from haulm.season.point_forecast import forecast_address, read_forecast

AT = datetime(2027, 7, 19, 14, tzinfo=UTC)
FIRST = datetime(2027, 7, 19, 15, tzinfo=UTC)
HOURLY = 33
"""From 15:00 UTC on the 19th by the hour to midnight of the 20th; then by six hours."""


def step(at: datetime, following: dict[str, Any], warmth: float, humidity: float) -> dict[str, Any]:
    """Make one moment as the format's documentation shows it."""
    details = {"air_temperature": warmth, "relative_humidity": humidity, "wind_speed": 2.1}
    data = {"instant": {"details": details}, **following}
    return {"time": at.strftime("%Y-%m-%dT%H:%M:%SZ"), "data": data}


def answer(units: dict[str, str] | None = None, *, minima: bool = True) -> str:
    """Make a forecast: 33 hours one by one, then two days by six hours."""
    series = []
    for hour in range(HOURLY):
        at = FIRST + timedelta(hours=hour)
        humid = 95.0 if at.hour < 7 else 60.0
        details = {"precipitation_amount": 0.5 if at.hour == 3 else 0.0}
        following = {"next_1_hours": {"summary": {"symbol_code": "fair"}, "details": details}}
        series.append(step(at, following, 10.0 + at.hour / 2, humid))
    for number in range(8):
        at = FIRST + timedelta(hours=HOURLY + 6 * number)
        more: dict[str, float] = {"precipitation_amount": 1.2}
        if minima:
            more |= {"air_temperature_min": 8.0 + number, "air_temperature_max": 20.0 + number}
        series.append(step(at, {"next_6_hours": {"details": more}}, 15.0, 70.0))
    named = {"air_temperature": "celsius", "relative_humidity": "%", "precipitation_amount": "mm"}
    properties = {
        "meta": {"updated_at": "2027-07-19T13:00:00Z", "units": named | (units or {})},
        "timeseries": series,
    }
    geometry = {"type": "Point", "coordinates": [1.4, 46.4, 410]}
    return json.dumps({"type": "Feature", "geometry": geometry, "properties": properties})


def test_a_day_told_by_the_hour_has_all_of_its_figures() -> None:
    """The 20th: lowest 10 °C at midnight, highest 21.5 °C at 23:00, half a millimetre, seven humid
    hours. The 19th is told from the afternoon on only, and no lowest of it is made up.
    """
    read = read_forecast(answer(), 1.4, AT)
    day = read.days[0]
    assert day.day == date(2027, 7, 20)
    assert (day.tmin_c, day.tmax_c, day.rain_mm, day.humid_hours) == (10.0, 21.5, 0.5, 7.0)
    assert day.origin == "MET Norway, forecast of 2027-07-19"
    assert len(read.hours) == HOURLY
    assert read.hours[0].hour == 15


def test_a_day_told_by_six_hours_has_its_minima_and_no_humid_hours() -> None:
    """The 21st has the least of its four minima and the sum of its rain; its humidity four times a
    day tells no hours.
    """
    day = read_forecast(answer(), 1.4, AT).days[1]
    assert day.day == date(2027, 7, 21)
    assert (day.tmin_c, day.tmax_c, day.humid_hours) == (8.0, 23.0, None)
    assert day.rain_mm == pytest.approx(4.8)


def test_six_hours_without_minima_tell_no_lowest() -> None:
    """Four temperatures a day miss the coldest hour: the lowest is not told, the rain is."""
    day = read_forecast(answer(minima=False), 1.4, AT).days[1]
    assert (day.tmin_c, day.tmax_c) == (None, None)
    assert day.rain_mm == pytest.approx(4.8)


def test_days_are_those_of_the_garden() -> None:
    """At 150° E the sun is ten hours ahead: what begins at 15:00 UTC is told from 1:00 on the 20th,
    and the first whole day is the 21st.
    """
    read = read_forecast(answer(), 150.0, AT)
    assert (read.hours[0].day, read.hours[0].hour) == (date(2027, 7, 20), 1)
    assert read.days[0].day == date(2027, 7, 21)


@pytest.mark.parametrize(
    "text",
    ["", "{}", "[]", "<html>", '{"properties": {"meta": {"units": {}}, "timeseries": [{}]}}'],
)
def test_what_is_no_forecast_is_refused(text: str) -> None:
    """A page of apology, or an answer in another form, is never read as weather."""
    with pytest.raises(FaultsFoundError, match="documented form"):
        read_forecast(text, 1.4, AT)


def test_other_units_are_refused() -> None:
    """Should the service tell kelvin one day, nothing is taken for Celsius."""
    with pytest.raises(FaultsFoundError, match="air_temperature is in kelvin"):
        read_forecast(answer({"air_temperature": "kelvin"}), 1.4, AT)


def test_no_more_of_the_place_is_sent_than_is_needed() -> None:
    """Degrees go to a hundredth, a kilometre or so, and the height, if known, in whole metres."""
    address = forecast_address(46.38271, 10.12345, 410.4)
    assert address.endswith("?lat=46.38&lon=10.12&altitude=410")
    assert "altitude" not in forecast_address(46.4, 10.1, None)
