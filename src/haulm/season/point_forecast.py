"""Forecasts in MET Norway's open format for a point on earth, read into days and hours.

Format: "General point forecast JSON format", MET Norway (api.met.no/doc/ForecastJSON; a stored
copy of its excerpt was read): a GeoJSON feature whose ``properties.timeseries`` lists moments in
UTC; each has ``data.instant.details`` with ``air_temperature`` [celsius] and
``relative_humidity`` [%], and for the time that follows ``next_1_hours`` and ``next_6_hours``
with ``precipitation_amount`` [mm] and, of six hours, ``air_temperature_min`` and
``air_temperature_max``. ``properties.meta.units`` names units. The first days are told by the
hour, the later ones by six hours. The data are free to use under a Creative Commons licence, as
the service's first page says; its Terms of Service ask whoever sends a request to say who is
asking, and not to ask more than is needed.
"""

import json
from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, timedelta
from typing import Any

from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.season.ahead import DayAhead, HourTold
from haulm.season.blight_rules import HOURS_A_DAY, blight_rules

SERVICE = "MET Norway"
UNITS = {"air_temperature": "celsius", "relative_humidity": "%", "precipitation_amount": "mm"}
LONG_H = 6
DEGREES_AN_HOUR = 15.0
_ADDRESS = "https://api.met.no/weatherapi/locationforecast/2.0/complete"


@dataclass(frozen=True, slots=True)
class PointForecast:
    """A forecast as read: days told whole, and the hours that were told one by one."""

    days: tuple[DayAhead, ...]
    hours: tuple[HourTold, ...]


@dataclass(slots=True)
class _Day:
    """What is gathered of one day: hours covered, temperatures, rain, humidity by the hour."""

    covered_h: float = 0.0
    rained_h: float = 0.0
    low: list[float] = field(default_factory=list)
    high: list[float] = field(default_factory=list)
    rain_mm: float = 0.0
    humidity: list[float] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class _Step:
    """One moment of the forecast by the garden's clock, and how long until the next [h]."""

    at: datetime
    length_h: int
    now: Mapping[str, float]
    hour: Mapping[str, float]
    six: Mapping[str, float]


def forecast_address(latitude_deg: float, longitude_deg: float, height_m: float | None) -> str:
    """Give the address that asks the service for a place's forecast.

    Degrees are rounded to a hundredth, about a kilometre, for a valley's nights are not a hill's;
    the height is told in whole metres where it is known.
    """
    height = "" if height_m is None else f"&altitude={round(height_m)}"
    return f"{_ADDRESS}?lat={latitude_deg:.2f}&lon={longitude_deg:.2f}{height}"


def read_forecast(text: str, longitude_deg: float, told_at: datetime) -> PointForecast:
    """Read a forecast in the open format.

    Days are those of the sun's clock at the garden, to the whole hour: UTC and an hour for every 15
    degrees of longitude, summer time not counted. Only a day that is covered from its first hour to
    its last is told as a day. Lowest and highest come from the hours, or from the minima and maxima
    of six hours; six hours without those tell no day's lowest. Rain is told where all of the day is
    covered by it, humid hours where the day is told by the hour.

    Raises
    ------
    FaultsFoundError
        When it is not in the documented form, or its units are others.
    """
    steps = _steps(text, longitude_deg)
    gathered: dict[date, _Day] = defaultdict(_Day)
    hours = []
    for step in steps:
        _gather(step, gathered)
        humidity, warmth = step.now.get("relative_humidity"), step.now.get("air_temperature")
        if step.length_h == 1 and humidity is not None and warmth is not None:
            hours.append(HourTold(step.at.date(), step.at.hour, warmth, humidity))
    origin = f"{SERVICE}, forecast of {told_at.date().isoformat()}"
    days = tuple(
        _day_told(day, one, told_at, origin)
        for day, one in sorted(gathered.items())
        if one.covered_h >= HOURS_A_DAY
    )
    return PointForecast(days, tuple(hours))


def _gather(step: _Step, gathered: dict[date, _Day]) -> None:
    """Put a step into the day it lies in; six hours that lie in two are parted by the hour."""
    within = step.hour if step.length_h == 1 else step.six
    rain_mm = within.get("precipitation_amount")
    low, high = step.six.get("air_temperature_min"), step.six.get("air_temperature_max")
    warmth = step.now.get("air_temperature")
    for number in range(step.length_h):
        one = gathered[(step.at + timedelta(hours=number)).date()]
        if rain_mm is not None:
            one.rained_h += 1
            one.rain_mm += rain_mm / step.length_h
        if step.length_h == 1 and warmth is not None:
            one.covered_h += 1
            one.low.append(warmth)
            one.high.append(warmth)
            if "relative_humidity" in step.now:
                one.humidity.append(step.now["relative_humidity"])
        elif step.length_h > 1:
            one.covered_h += 1
            if low is not None and high is not None:
                one.low.append(low)
                one.high.append(high)


def _day_told(day: date, one: _Day, told_at: datetime, origin: str) -> DayAhead:
    whole = len(one.low) == HOURS_A_DAY
    humid = sum(value >= blight_rules().hutton.humidity for value in one.humidity)
    return DayAhead(
        day,
        told_at,
        tmin_c=min(one.low) if whole else None,
        tmax_c=max(one.high) if whole else None,
        rain_mm=round(one.rain_mm, 2) if one.rained_h == HOURS_A_DAY else None,
        humid_hours=float(humid) if len(one.humidity) == HOURS_A_DAY else None,
        origin=origin,
    )


def _steps(text: str, longitude_deg: float) -> list[_Step]:
    """Read the moments, each with what is told of the time until the next."""
    ahead = timedelta(hours=round(longitude_deg / DEGREES_AN_HOUR))
    try:
        properties = json.loads(text)["properties"]
        units = properties["meta"]["units"]
        series: Sequence[Any] = properties["timeseries"]
        moments = [_moment(one["time"]) for one in series]
        parts = [one["data"] for one in series]
        details = [_details(part) for part in parts]
    except (KeyError, TypeError, ValueError) as error:
        raise _not_in_form() from error
    for name, unit in UNITS.items():
        if units.get(name, unit) != unit:
            what = f"{name} is in {units[name]}, not in {unit}."
            raise FaultsFoundError([Finding(SERVICE, what, "Type the forecast instead.")])
    steps = []
    for place, (at, (now, hour, six)) in enumerate(zip(moments, details, strict=True)):
        following = moments[place + 1] if place + 1 < len(moments) else None
        until = LONG_H if following is None else round((following - at) / timedelta(hours=1))
        length = until if until in {1, LONG_H} else 0
        if following is None and not six:
            length = 0
        steps.append(_Step((at + ahead).replace(tzinfo=None), length, now, hour, six))
    return steps


def _details(
    part: Mapping[str, Any],
) -> tuple[dict[str, float], dict[str, float], dict[str, float]]:
    now = part["instant"]["details"]
    hour = part.get("next_1_hours", {}).get("details", {})
    six = part.get("next_6_hours", {}).get("details", {})
    return _floats(now), _floats(hour), _floats(six)


def _floats(details: Mapping[str, Any]) -> dict[str, float]:
    return {name: float(value) for name, value in details.items()}


def _moment(text: str) -> datetime:
    moment = datetime.fromisoformat(text)
    return moment.astimezone(UTC)


def _not_in_form() -> FaultsFoundError:
    what = "what it gave is not in its documented form."
    return FaultsFoundError([Finding(SERVICE, what, "Try again later, or type the forecast.")])
