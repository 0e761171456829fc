"""The weather of the coming days as it was told, typed or fetched; what was not told stays so."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, fields, replace
from datetime import date, datetime
from typing import Any

from haulm.measure.findings import Finding
from haulm.measure.units import show_rain, show_temperature

COLDEST_C, WARMEST_C = -90.0, 60.0
"""Nothing colder or warmer was ever read on earth, within a degree or two [°C]."""

HOURS_A_DAY = 24.0
MOST_RAIN_MM = 2_000.0


@dataclass(frozen=True, slots=True)
class DayAhead:
    """What was told of one day.

    Attributes
    ----------
    day
        The day.
    told_at
        When it was told last, with its zone.
    tmin_c, tmax_c
        Lowest and highest temperature of the air in the shelter [°C]; None where not told.
    rain_mm
        Rain [mm]; None where not told, which is not 0.
    rain_odds
        The odds of some rain [1].
    humid_hours
        Hours at a relative humidity of 90 % or more [h].
    origin
        Where it comes from, in words.
    """

    day: date
    told_at: datetime
    tmin_c: float | None = None
    tmax_c: float | None = None
    rain_mm: float | None = None
    rain_odds: float | None = None
    humid_hours: float | None = None
    origin: str = ""


@dataclass(frozen=True, slots=True)
class HourTold:
    """Temperature [°C] and relative humidity [%] of one hour of a day, by the garden's clock.

    ``hour`` is 0 for the hour from midnight on.
    """

    day: date
    hour: int
    temperature_c: float
    humidity: float


FIGURES = ("tmin_c", "tmax_c", "rain_mm", "rain_odds", "humid_hours")
"""The figures of a day ahead; each may be told by itself."""

FIGURE_WORDS: Mapping[str, str] = {
    "tmin_c": "the lowest temperature",
    "tmax_c": "the highest temperature",
    "rain_mm": "the rain",
    "rain_odds": "the odds of rain",
    "humid_hours": "the humid hours",
}

BOUNDS: Mapping[str, tuple[float, float]] = {
    "tmin_c": (COLDEST_C, WARMEST_C),
    "tmax_c": (COLDEST_C, WARMEST_C),
    "rain_mm": (0.0, MOST_RAIN_MM),
    "rain_odds": (0.0, 1.0),
    "humid_hours": (0.0, HOURS_A_DAY),
}


def told_last(days: Iterable[DayAhead]) -> tuple[DayAhead, ...]:
    """Put together what was told of each day: of each figure what was told last counts.

    A minimum typed in the afternoon leaves the rain that was told in the morning as it is.

    Parameters
    ----------
    days
        What was told, in any order; of several of the same moment the last one given counts.

    Returns
    -------
    One record a day, by day; ``told_at`` is when any of it was told last, ``origin`` names each
    source of a figure that counts.
    """
    by_day: dict[date, list[DayAhead]] = {}
    for one in sorted(days, key=lambda told: told.told_at):
        by_day.setdefault(one.day, []).append(one)
    return tuple(_together(told) for _, told in sorted(by_day.items()))


def _together(told: list[DayAhead]) -> DayAhead:
    figures: dict[str, Any] = {}
    origins: dict[str, str] = {}
    for one in told:
        for name in FIGURES:
            if getattr(one, name) is not None:
                figures[name], origins[name] = getattr(one, name), one.origin
    named = [origin for origin in dict.fromkeys(origins.values()) if origin]
    return replace(told[-1], **figures, origin="; ".join(named))


def check_ahead(told: DayAhead) -> tuple[Finding, ...]:
    """Tell everything that cannot be in what was told of a day; nothing where it can be taken."""
    return tuple(_faults(told))


def _faults(told: DayAhead) -> Iterator[Finding]:
    where = told.day.isoformat()
    if all(getattr(told, name) is None for name in FIGURES):
        what, remedy = "nothing is told of it.", "Give a temperature, rain or humid hours."
        yield Finding(where, what, remedy)
    for name, value in ((name, getattr(told, name)) for name in FIGURES):
        if value is not None and not can_be(name, value):
            what = f"{FIGURE_WORDS[name]} cannot be {_as_told(name, value)}."
            yield Finding(where, what, "Look at the number and its unit.", place=(name,))
    if told.tmin_c is not None and told.tmax_c is not None and told.tmin_c > told.tmax_c:
        what = "the lowest temperature is above the highest."
        yield Finding(where, what, "Look which is which.", place=("tmin_c",))


def _as_told(figure: str, value: float) -> str:
    """Write a figure that cannot be with its unit; a temperature in both degrees."""
    if figure in {"tmin_c", "tmax_c"}:
        return f"{value:g} °C ({show_temperature(value, 'us')})"
    if figure == "rain_mm":
        return f"{value:g} mm ({show_rain(value, 'us')})"
    return f"{value * 100:g} %" if figure == "rain_odds" else f"{value:g}"


def can_be(figure: str, value: float) -> bool:
    """Whether a figure of a day ahead can have a value."""
    low, high = BOUNDS[figure]
    return low <= value <= high


def told_figures(told: DayAhead) -> tuple[str, ...]:
    """List the figures that were told of a day."""
    return tuple(
        field.name
        for field in fields(told)
        if field.name in FIGURES and getattr(told, field.name) is not None
    )
