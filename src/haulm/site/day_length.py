"""The sun's path: declination, day length and radiation at the top of the air, by FAO-56.

Source: Allen, Pereira, Raes, Smith, *Crop evapotranspiration*, FAO Irrigation and Drainage
Paper 56, Rome 1998, chapter 3 (equations 21 to 25 and 34). What a grower reads in an almanac, from
the first ray to the last, is `daylight_h`.
"""

from datetime import date, timedelta

import numpy as np
from numpy.typing import NDArray

from haulm.site.calendar import DAYS_A_YEAR

SOLAR_CONSTANT_MJ_M2_MIN = 0.0820
TEN_HOURS_H = 10.0
_MINUTES_A_DAY = 1440.0
_RIM_BELOW_HORIZON_RAD = np.radians(50.0 / 60.0)
"""How far the sun's centre lies under the horizon at the first and last ray [rad]."""
_J2000 = date(2000, 1, 1).toordinal()
"""The day at whose noon the almanac's series begin."""
ORDINARY_YEAR = 2026
"""A year in the middle between two leap days, whose sun stands for that of any."""


def inverse_relative_distance(day_of_year: NDArray[np.int64]) -> NDArray[np.float64]:
    """Give the inverse relative distance from earth to sun [1], FAO-56 equation 23."""
    return np.asarray(1.0 + 0.033 * np.cos(2.0 * np.pi * day_of_year / 365.0))


def solar_declination_rad(day_of_year: NDArray[np.int64]) -> NDArray[np.float64]:
    """Give the sun's declination [rad] on days of the year (1 to 366), FAO-56 equation 24."""
    return np.asarray(0.409 * np.sin(2.0 * np.pi * day_of_year / 365.0 - 1.39))


def sunset_hour_angle_rad(
    latitude_deg: float, day_of_year: NDArray[np.int64]
) -> NDArray[np.float64]:
    """Give the hour angle of sunset [rad], FAO-56 equation 25; 0 in polar night, π in polar day."""
    declination = solar_declination_rad(day_of_year)
    cosine = -np.tan(np.radians(latitude_deg)) * np.tan(declination)
    return np.asarray(np.arccos(np.clip(cosine, -1.0, 1.0)))


def day_length_h(latitude_deg: float, day_of_year: NDArray[np.int64]) -> NDArray[np.float64]:
    """Give the hours between sunrise and sunset.

    Parameters
    ----------
    latitude_deg
        Latitude, north positive [°].
    day_of_year
        Days of the year, 1 to 366, any shape.

    Returns
    -------
    Day length, same shape [h]; 24 in polar day and 0 in polar night.

    Notes
    -----
    FAO-56 equation 34. The sun is a point and the air bends no light, so that the time from the
    first to the last ray seen is some 10 minutes longer at middle latitudes. The declination of
    equation 24 strays by up to a degree late in September: 13 minutes at 46°, 20 at 58°.
    """
    return np.asarray(24.0 / np.pi * sunset_hour_angle_rad(latitude_deg, day_of_year))


def daylight_h(latitude_deg: float, days: NDArray[np.int64]) -> NDArray[np.float64]:
    """Give the hours from sunrise to sunset as almanacs print them.

    Parameters
    ----------
    latitude_deg
        Latitude, north positive [°].
    days
        Days by their proleptic ordinal (``date.toordinal``), any shape.

    Returns
    -------
    Daylight, same shape [h]; 24 in polar day and 0 in polar night.

    Notes
    -----
    Sunrise is when the sun's upper rim shows over a flat horizon, its centre 50 minutes of arc
    beneath: 16 for the rim, 34 for the air's bending. The sun's place at noon is that of the
    *Astronomical Almanac*'s low-precision formulas, good to 0.01° (both from memory; held to the
    astral library in the tests).
    """
    since = np.asarray(days) - _J2000
    anomaly = np.radians(357.528 + 0.9856003 * since)
    longitude = 280.460 + 0.9856474 * since
    longitude = longitude + 1.915 * np.sin(anomaly) + 0.020 * np.sin(2 * anomaly)
    tilt = np.radians(23.439 - 0.0000004 * since)
    declination = np.arcsin(np.sin(tilt) * np.sin(np.radians(longitude)))
    latitude = np.radians(latitude_deg)
    risen = -np.sin(_RIM_BELOW_HORIZON_RAD) - np.sin(latitude) * np.sin(declination)
    cosine = risen / (np.cos(latitude) * np.cos(declination))
    return np.asarray(24.0 / np.pi * np.arccos(np.clip(cosine, -1.0, 1.0)))


def daylight_of_year_h(latitude_deg: float) -> NDArray[np.float64]:
    """Give the daylight of each day of an ordinary year, 1 January first [h]."""
    return daylight_h(latitude_deg, date(ORDINARY_YEAR, 1, 1).toordinal() + np.arange(DAYS_A_YEAR))


def extraterrestrial_radiation_mj_m2(
    latitude_deg: float, day_of_year: NDArray[np.int64]
) -> NDArray[np.float64]:
    """Give the radiation at the top of the air [MJ/m² a day], FAO-56 equation 21.

    Parameters
    ----------
    latitude_deg
        Latitude, north positive [°].
    day_of_year
        Days of the year, 1 to 366, any shape.
    """
    latitude = np.radians(latitude_deg)
    declination = solar_declination_rad(day_of_year)
    sunset = sunset_hour_angle_rad(latitude_deg, day_of_year)
    height = sunset * np.sin(latitude) * np.sin(declination)
    swing = np.cos(latitude) * np.cos(declination) * np.sin(sunset)
    scale = _MINUTES_A_DAY / np.pi * SOLAR_CONSTANT_MJ_M2_MIN
    return np.asarray(scale * inverse_relative_distance(day_of_year) * (height + swing))


def ten_hour_days(latitude_deg: float, year: int) -> tuple[date, date] | None:
    """Find when daylight falls under ten hours in a year's winter and when it is back.

    Growth of leafy crops all but stops in between (common practice); the hours are those that
    almanacs print, which growers go by.

    Parameters
    ----------
    latitude_deg
        Latitude, north positive [°].
    year
        The year in which the winter begins: north of the equator that of the autumn before it.

    Returns
    -------
    The last day of ten hours or more before the winter and the first after it, or None where no
    day is shorter than ten hours.
    """
    first_day = date(year, 1, 1) if latitude_deg < 0 else date(year, 7, 1)
    lengths = daylight_h(latitude_deg, first_day.toordinal() + np.arange(DAYS_A_YEAR))
    short = np.flatnonzero(lengths < TEN_HOURS_H)
    if short.size == 0:
        return None
    return (
        first_day + timedelta(days=int(short[0]) - 1),
        first_day + timedelta(days=int(short[-1]) + 1),
    )
