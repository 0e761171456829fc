"""A place's climate on one page: what its weather promises a grower, with the spread."""

from dataclasses import dataclass
from datetime import date

import numpy as np
from numpy.typing import NDArray

from haulm.site.calendar import DAYS_A_YEAR, days_from
from haulm.site.chill import season_first_day, winter_chill
from haulm.site.day_length import daylight_of_year_h, ten_hour_days
from haulm.site.degree_days import averaging, single_sine
from haulm.site.frost import FROST_C, frost_odds
from haulm.site.halves import season_start
from haulm.site.hardiness import hardiness_zone, mean_annual_extreme_minimum_c
from haulm.site.records import DailyRecord, FrostOdds, Place, Seasons, Weather
from haulm.site.seasons import seasons_from, whole_years
from haulm.site.spread import Spread, spread_of

HARD_FROST_C = -2.2
WARMTH_BASES_C = (5.0, 10.0)
_RUNS = 60
_YEAR_WITHOUT_LEAP_DAY = 2027


@dataclass(frozen=True, slots=True)
class MonthSummary:
    """One month: number, mean daily minimum and maximum [°C] and month's rain [mm].

    The spread is over years of the month's mean or sum; rain is None where none is known.
    """

    month: int
    tmin_c: Spread
    tmax_c: Spread
    rain_mm: Spread | None


@dataclass(frozen=True, slots=True)
class SiteSummary:
    """A place's climate.

    Attributes
    ----------
    origin
        What the months, warmth and rain rest on, in words.
    years
        Whole years of record; 0 for normals.
    months
        January to December.
    frost, hard_frost
        Odds at 0 °C and at -2.2 °C.
    extreme_minimum_c, zone
        Mean of each winter's lowest temperature [°C], and its hardiness zone.
    warmth
        Degree-days a year by the single sine, by base [°C: °C d].
    warmth_by_averaging
        The same by the day's mean, as many tables have it: less, since cool days count for none.
    chill_hours, chill_units
        Chill over the four months in which buds rest [h, 1].
    rain_mm
        Rain a year [mm]; None where none is known.
    ten_hours
        The last day of ten hours before a winter and the first after it; None where none is
        shorter.
    longest_day, shortest_day
        The day and its length [h].
    """

    origin: str
    years: int
    months: tuple[MonthSummary, ...]
    frost: FrostOdds
    hard_frost: FrostOdds
    extreme_minimum_c: float
    zone: str
    warmth: dict[float, Spread]
    warmth_by_averaging: dict[float, Spread]
    chill_hours: Spread
    chill_units: Spread
    rain_mm: Spread | None
    ten_hours: tuple[date, date] | None
    longest_day: tuple[date, float]
    shortest_day: tuple[date, float]


def summarise(weather: Weather, place: Place, seed: int = 1) -> SiteSummary:
    """Sum up a place's climate.

    Raises
    ------
    FaultsFoundError
        If the weather known is too little to fit the generator to.
    """
    first_day = date(_YEAR_WITHOUT_LEAP_DAY, 1, 1)
    years = seasons_from(weather, place, first_day, DAYS_A_YEAR, _RUNS, seed)
    month = days_from(first_day, DAYS_A_YEAR).month
    coldest = mean_annual_extreme_minimum_c(weather, place, seed)
    lengths = daylight_of_year_h(place.latitude_deg)
    season = _from_midwinter(weather, place, seed)
    chilled = season_first_day(place, _YEAR_WITHOUT_LEAP_DAY)
    hours, units = winter_chill(
        seasons_from(weather, place, chilled, DAYS_A_YEAR, _RUNS, seed), place
    )
    return SiteSummary(
        origin=years.origin,
        years=whole_years(weather) if isinstance(weather, DailyRecord) else 0,
        months=tuple(_month(years, month == number, number) for number in range(1, 13)),
        frost=frost_odds(weather, place, FROST_C, seed=seed),
        hard_frost=frost_odds(weather, place, HARD_FROST_C, seed=seed),
        extreme_minimum_c=coldest,
        zone=hardiness_zone(coldest),
        warmth={
            base: spread_of(single_sine(season.tmin_c, season.tmax_c, base, np.inf).sum(axis=1))
            for base in WARMTH_BASES_C
        },
        warmth_by_averaging={
            base: spread_of(averaging(season.tmin_c, season.tmax_c, base).sum(axis=1))
            for base in WARMTH_BASES_C
        },
        chill_hours=spread_of(hours),
        chill_units=spread_of(units),
        rain_mm=_rain(years.rain_mm),
        ten_hours=ten_hour_days(place.latitude_deg, _YEAR_WITHOUT_LEAP_DAY),
        longest_day=_day_and_length(lengths, int(np.argmax(lengths))),
        shortest_day=_day_and_length(lengths, int(np.argmin(lengths))),
    )


def _month(years: Seasons, here: NDArray[np.bool_], number: int) -> MonthSummary:
    """Sum up one month over all years."""
    return MonthSummary(
        month=number,
        tmin_c=spread_of(years.tmin_c[:, here].mean(axis=1)),
        tmax_c=spread_of(years.tmax_c[:, here].mean(axis=1)),
        rain_mm=_rain(years.rain_mm[:, here]),
    )


def _from_midwinter(weather: Weather, place: Place, seed: int) -> Seasons:
    """Give years that start at midwinter, so that no summer is cut."""
    first_day = season_start(place, _YEAR_WITHOUT_LEAP_DAY - int(place.southern) * 2)
    return seasons_from(weather, place, first_day, DAYS_A_YEAR, _RUNS, seed)


def _rain(rain_mm: NDArray[np.float64]) -> Spread | None:
    """Give the spread of the rain's sum over years; None where none is known."""
    return None if np.isnan(rain_mm).any() else spread_of(rain_mm.sum(axis=1))


def _day_and_length(lengths: NDArray[np.float64], index: int) -> tuple[date, float]:
    """Name a day of the year with its length."""
    return date.fromordinal(date(_YEAR_WITHOUT_LEAP_DAY, 1, 1).toordinal() + index), float(
        lengths[index]
    )
