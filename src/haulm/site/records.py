"""The site's records: the place, its weather on record, and many runs of weather to plan by."""

from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray


class Soil(StrEnum):
    """The soil classes of FAO-56 Table 19."""

    SAND = "sand"
    LOAMY_SAND = "loamy sand"
    SANDY_LOAM = "sandy loam"
    LOAM = "loam"
    SILT_LOAM = "silt loam"
    SILT = "silt"
    SILTY_CLAY_LOAM = "silty clay loam"
    SILTY_CLAY = "silty clay"
    CLAY = "clay"


@dataclass(frozen=True, slots=True)
class Place:
    """Where the garden lies: latitude and longitude [°, north and east positive], height [m].

    ``height_m`` is None where nobody gave it.
    """

    name: str
    latitude_deg: float
    longitude_deg: float
    height_m: float | None
    soil: Soil

    @property
    def southern(self) -> bool:
        """Whether the place lies south of the equator."""
        return self.latitude_deg < 0


@dataclass(frozen=True, slots=True, eq=False)
class DailyRecord:
    """A daily weather record without duplicate days, in order; a day nobody read is NaN, never 0.

    Attributes
    ----------
    origin
        Where it came from, in words.
    first_day
        The day of the first value.
    tmin_c, tmax_c, rain_mm
        One value a day from ``first_day`` on, shape (days,) [°C, °C, mm].
    height_m
        How high above the sea it was read, where the file itself says so [m].
    doubt_c
        How far all of it may be off for the garden: standard deviation of one shift [°C].
    """

    origin: str
    first_day: date
    tmin_c: NDArray[np.float64]
    tmax_c: NDArray[np.float64]
    rain_mm: NDArray[np.float64]
    height_m: float | None = None
    doubt_c: float = 0.0


@dataclass(frozen=True, slots=True)
class MonthlyNormals:
    """Twelve monthly means, January first: daily minimum and maximum [°C] and month's rain [mm].

    ``doubt_c`` is how far all of it may be off for the garden: standard deviation of a shift [°C].
    """

    origin: str
    tmin_c: tuple[float, ...]
    tmax_c: tuple[float, ...]
    rain_mm: tuple[float, ...]
    doubt_c: float = 0.0


Weather = DailyRecord | MonthlyNormals
SomeWeather = TypeVar("SomeWeather", bound=Weather)


@dataclass(frozen=True, slots=True)
class KnownFrosts:
    """What a grower knows of the garden's frosts: their usual days, as month and day.

    ``last_spring`` is the middle day of the last frost of spring and ``first_autumn`` that of the
    first of autumn; half the years lie on either side. None where it is not known.
    """

    last_spring: tuple[int, int] | None = None
    first_autumn: tuple[int, int] | None = None


@dataclass(frozen=True, slots=True, eq=False)
class Seasons:
    """Many possible runs of weather over the plan's time, for odds and distributions.

    Attributes
    ----------
    origin
        How they were made, in words, with the years of record they rest on.
    first_day
        The day of every run's first value.
    tmin_c, tmax_c, rain_mm
        One row a run, one column a day, shape (runs, days) [°C, °C, mm]; no NaN, but that the
        rain is NaN throughout when the record has none.
    """

    origin: str
    first_day: date
    tmin_c: NDArray[np.float64]
    tmax_c: NDArray[np.float64]
    rain_mm: NDArray[np.float64]

    @property
    def runs(self) -> int:
        """How many runs of weather there are."""
        return int(self.tmin_c.shape[0])

    @property
    def days(self) -> int:
        """How many days each run lasts."""
        return int(self.tmin_c.shape[1])


@dataclass(frozen=True, slots=True)
class FrostOdds:
    """When frosts of one threshold end in spring and begin in autumn.

    Attributes
    ----------
    threshold_c
        A frost is a daily minimum at or under this [°C].
    years
        Years of weather used.
    share_of_years_with_frost
        Share of years in which such a frost came at all [1].
    odds
        The shares of years that ``last_spring`` and ``first_autumn`` are given for [1]: at odds
        0.1, one year in ten has a later last spring frost, and one year in ten an earlier first
        autumn frost.
    last_spring, first_autumn
        Day of the site's season for each of the odds, counted from 0 at the day after midwinter
        (1 January north of the equator, 1 July south of it); None where too few years freeze.
    frost_free_days
        Median length between them [d]; None where too few years freeze.
    how
        The method in words: counted years, or the stated fall-back.
    """

    threshold_c: float
    years: int
    share_of_years_with_frost: float
    odds: tuple[float, ...]
    last_spring: tuple[float | None, ...]
    first_autumn: tuple[float | None, ...]
    frost_free_days: float | None
    how: str
