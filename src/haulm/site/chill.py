"""The cold of winter that buds need before they break: chill hours and chill units."""

import tomllib
from dataclasses import dataclass
from datetime import date
from functools import cache
from importlib.resources import files

import numpy as np
from numpy.typing import NDArray

from haulm.site.calendar import days_from
from haulm.site.day_length import day_length_h
from haulm.site.hours import hourly_c
from haulm.site.records import Place, Seasons

_FREEZING_F, _F_A_C = 32.0, 9.0 / 5.0
_MONTHS_A_YEAR, _HALF_YEAR = 12, 6


@dataclass(frozen=True, slots=True)
class ChillRules:
    """How an hour's temperature counts.

    Attributes
    ----------
    from_f, to_f
        A chill hour's span, both ends counted [°F].
    up_to_f, counts
        What an hour counts up to and with each temperature, and, last, above all of them [°F, 1].
    first_month, months
        The season in the north: first month and how many.
    """

    from_f: float
    to_f: float
    up_to_f: tuple[float, ...]
    counts: tuple[float, ...]
    first_month: int
    months: int


@cache
def chill_rules() -> ChillRules:
    """Read ``data/chill.toml``, where sources stand."""
    text = files("haulm.site").joinpath("data", "chill.toml").read_text(encoding="utf-8")
    data = tomllib.loads(text)
    hours, units, season = data["hours"], data["units"], data["season"]
    return ChillRules(
        hours["from_f"],
        hours["to_f"],
        tuple(units["up_to_f"]),
        tuple(units["counts"]),
        season["first_month"],
        season["months"],
    )


def chill_hours(temperature_c: NDArray[np.float64]) -> NDArray[np.float64]:
    """Count each hour from 0 to 7.2 °C as one, any other as none, element by element [1]."""
    rules, fahrenheit = chill_rules(), _fahrenheit(temperature_c)
    return ((fahrenheit >= rules.from_f) & (fahrenheit <= rules.to_f)).astype(np.float64)


def chill_units(temperature_c: NDArray[np.float64]) -> NDArray[np.float64]:
    """Count each hour by the Utah model: from 1 near 6 °C to −1 above 18 °C, element by element.

    Fitted to peaches in Utah; in mild winters warm days take back more than buds forget.
    """
    rules = chill_rules()
    band = np.searchsorted(np.array(rules.up_to_f), _fahrenheit(temperature_c), side="left")
    return np.asarray(np.array(rules.counts)[band])


def winter_chill(seasons: Seasons, place: Place) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Give chill hours and chill units over the season, November to February or May to August.

    Parameters
    ----------
    seasons
        Runs that hold the whole season once.
    place
        Where: the day's length shapes the hours.

    Returns
    -------
    Hours and units, each of shape (runs,) [h, 1]; units are held at 0 where warmth takes back more
    than cold gives.
    """
    calendar = days_from(seasons.first_day, seasons.days)
    here = np.isin(calendar.month, season_months(place))
    lengths = day_length_h(place.latitude_deg, calendar.day_of_year[here])
    hours = hourly_c(seasons.tmin_c[:, here], seasons.tmax_c[:, here], lengths)
    units = chill_units(hours).sum(axis=(1, 2))
    return chill_hours(hours).sum(axis=(1, 2)), np.maximum(units, 0.0)


def season_months(place: Place) -> tuple[int, ...]:
    """Give the months in which chill is counted."""
    rules = chill_rules()
    first = rules.first_month - 1 + (_HALF_YEAR if place.southern else 0)
    return tuple((first + step) % _MONTHS_A_YEAR + 1 for step in range(rules.months))


def season_first_day(place: Place, year: int) -> date:
    """Give the first day of the season of chill that ends in a year."""
    months = season_months(place)
    return date(year - int(months[0] > months[-1]), months[0], 1)


def _fahrenheit(celsius: NDArray[np.float64]) -> NDArray[np.float64]:
    return np.asarray(celsius * _F_A_C + _FREEZING_F)
