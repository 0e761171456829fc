"""Reckonings that general reference libraries make too, on any day at any latitude and height."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, timedelta

import astral
import astral.sun
import numpy as np
import pandas as pd
import pyet
import refet
from numpy.typing import NDArray
from pvlib import irradiance, solarposition

from haulm.site.day_length import (
    day_length_h,
    extraterrestrial_radiation_mj_m2,
    solar_declination_rad,
)
from haulm.site.radiation import (
    clear_sky_radiation_mj_m2,
    net_longwave_mj_m2,
    net_shortwave_mj_m2,
    reference_evapotranspiration_mm,
)
from haulm.site.vapour import saturation_vapour_pressure_kpa
from haulm.water.reference import hargreaves_use_mm

NEW_YEAR = date(2027, 1, 1)
LEAST_TOP_MJ_M2 = 8.0
"""In the dark of high winters nothing is lost to speak of, and a ratio says nothing."""

Array = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class Days:
    """Some days of a place: latitude [°], height [m], days of the year, extremes [°C], humidity at
    the minimum and sun as shares of saturation and of the top of the air [1], wind at 2 m [m/s].
    """

    latitude_deg: float
    height_m: float
    day_of_year: NDArray[np.int64]
    tmin_c: Array
    tmax_c: Array
    humidity: Array
    sun: Array
    wind_m_s: Array

    @property
    def latitude_rad(self) -> float:
        """Latitude [rad]."""
        return float(np.radians(self.latitude_deg))

    @property
    def index(self) -> pd.DatetimeIndex:
        """The days, as an index."""
        days = [NEW_YEAR + timedelta(days=int(day) - 1) for day in self.day_of_year]
        return pd.DatetimeIndex(days)

    @property
    def top_mj_m2(self) -> Array:
        """Radiation at the top of the air [MJ/m²]."""
        return extraterrestrial_radiation_mj_m2(self.latitude_deg, self.day_of_year)

    @property
    def vapour_kpa(self) -> Array:
        """Vapour pressure [kPa]."""
        return saturation_vapour_pressure_kpa(self.tmin_c) * self.humidity

    def series(self, values: Array) -> pd.Series:
        """Give values as a series of the days."""
        return pd.Series(values, index=self.index)


def some_days(latitude_deg: float, height_m: float, seed: int, count: int = 24) -> Days:
    """Draw days of a place, spread over the year."""
    dice = np.random.default_rng(seed)
    tmin = dice.uniform(-5, 24, count)
    return Days(
        latitude_deg=latitude_deg,
        height_m=height_m,
        day_of_year=np.sort(dice.choice(np.arange(1, 366), count, replace=False)),
        tmin_c=tmin,
        tmax_c=tmin + dice.uniform(3, 18, count),
        humidity=dice.uniform(0.6, 1, count),
        sun=dice.uniform(0.3, 0.75, count),
        wind_m_s=dice.uniform(0.5, 6, count),
    )


@dataclass(frozen=True)
class Agreement:
    """One reckoning held to a library's.

    Attributes
    ----------
    what, library, unit
        What is reckoned, by which library too, and in which unit.
    ours, theirs
        Each side's answer for a day.
    least, most
        Theirs less ours lies between these [unit].
    why
        What the two do differently.
    widest_deg
        It is asked up to this latitude north and south [°].
    least_top_mj_m2
        It is asked of days with at least so much radiation at the top of the air [MJ/m²].
    """

    what: str
    library: str
    unit: str
    ours: Callable[[Days], Array]
    theirs: Callable[[Days], Array]
    least: float
    most: float
    why: str
    widest_deg: float = 60.0
    least_top_mj_m2: float = 0.0

    def differences(self, days: Days) -> Array:
        """Give theirs less ours, for the days on which it is asked."""
        asked = days.top_mj_m2 >= self.least_top_mj_m2
        return np.asarray(self.theirs(days) - self.ours(days))[asked]

    def holds(self, days: Days) -> bool:
        """Say whether the two lie as near as they should."""
        found = self.differences(days)
        return bool(((found >= self.least) & (found <= self.most)).all())


def grass_mm(days: Days) -> Array:
    """Give what reference grass loses by Penman and Monteith [mm]."""
    top = days.top_mj_m2
    sun, clear = days.sun * top, clear_sky_radiation_mj_m2(top, days.height_m)
    lost = net_longwave_mj_m2(days.tmin_c, days.tmax_c, days.vapour_kpa, sun, clear)
    energy = net_shortwave_mj_m2(sun) - lost
    return reference_evapotranspiration_mm(
        days.tmin_c, days.tmax_c, days.vapour_kpa, energy, days.wind_m_s, days.height_m
    )


def grass_by_refet_mm(days: Days) -> Array:
    """Give the same by refet [mm]."""
    theirs = refet.Daily(
        tmin=days.tmin_c,
        tmax=days.tmax_c,
        ea=days.vapour_kpa,
        rs=days.sun * days.top_mj_m2,
        uz=days.wind_m_s,
        zw=2.0,
        elev=days.height_m,
        lat=days.latitude_deg,
        doy=days.day_of_year,
        method="asce",
        rso_type="simple",
    ).eto()
    return np.asarray(theirs, dtype=np.float64)


def grass_by_pyet_mm(days: Days) -> Array:
    """Give the same by pyet [mm]."""
    theirs = pyet.pm_fao56(
        days.series((days.tmin_c + days.tmax_c) / 2),
        days.series(days.wind_m_s),
        rs=days.series(days.sun * days.top_mj_m2),
        tmax=days.series(days.tmax_c),
        tmin=days.series(days.tmin_c),
        ea=days.series(days.vapour_kpa),
        elevation=days.height_m,
        lat=days.latitude_rad,
    )
    return np.asarray(theirs, dtype=np.float64)


def warmth_alone_mm(days: Days) -> Array:
    """Give what Hargreaves' rule makes of the temperatures alone [mm]."""
    return hargreaves_use_mm(days.tmin_c, days.tmax_c, days.latitude_deg, days.day_of_year)


def warmth_alone_by_pyet_mm(days: Days) -> Array:
    """Give the same by pyet [mm]."""
    mean = (days.tmin_c + days.tmax_c) / 2
    theirs = pyet.hargreaves(
        days.series(mean),
        days.series(days.tmax_c),
        days.series(days.tmin_c),
        days.latitude_rad,
        method=0,
    )
    return np.asarray(theirs, dtype=np.float64)


def top_mj_m2(days: Days) -> Array:
    """Give radiation at the top of the air [MJ/m²]."""
    return days.top_mj_m2


def top_by_pyet_mj_m2(days: Days) -> Array:
    """Give the same by pyet [MJ/m²]."""
    return np.asarray(pyet.extraterrestrial_r(days.index, days.latitude_rad), dtype=np.float64)


def top_by_pvlib_mj_m2(days: Days) -> Array:
    """Give the same by pvlib's distance and declination, summed over five minutes [MJ/m²]."""
    declination = solarposition.declination_spencer71(days.day_of_year)[:, None]
    turn = np.linspace(-np.pi, np.pi, 288, endpoint=False)[None, :]
    height = np.sin(days.latitude_rad) * np.sin(declination)
    height = height + np.cos(days.latitude_rad) * np.cos(declination) * np.cos(turn)
    normal_w_m2 = np.asarray(irradiance.get_extra_radiation(days.day_of_year))
    return np.asarray(np.clip(height, 0.0, None).mean(axis=1) * normal_w_m2 * 86_400 / 1e6)


def length_min(days: Days) -> Array:
    """Give the day's length [minutes]."""
    return 60 * day_length_h(days.latitude_deg, days.day_of_year)


def length_seen_min(days: Days) -> Array:
    """Give the time from the first to the last ray seen, by FAO-56's declination [minutes].

    The sun's rim shows when its middle lies 0.833° under a level horizon.
    """
    declination = solar_declination_rad(days.day_of_year)
    over = np.sin(np.radians(-0.833)) - np.sin(days.latitude_rad) * np.sin(declination)
    cosine = over / (np.cos(days.latitude_rad) * np.cos(declination))
    return np.asarray(1440 / np.pi * np.arccos(np.clip(cosine, -1, 1)))


def length_by_pyet_min(days: Days) -> Array:
    """Give the same by pyet [minutes]."""
    return 60 * np.asarray(pyet.daylight_hours(days.index, days.latitude_rad), dtype=np.float64)


def length_by_pvlib_min(days: Days) -> Array:
    """Give the same by pvlib's declination [minutes]."""
    declination = solarposition.declination_spencer71(days.day_of_year)
    cosine = -np.tan(days.latitude_rad) * np.tan(declination)
    return np.asarray(1440 / np.pi * np.arccos(np.clip(cosine, -1, 1)))


def length_by_astral_min(days: Days) -> Array:
    """Give the time from the first to the last ray seen, by astral [minutes]."""
    observer = astral.Observer(days.latitude_deg, 0.0, 0.0)
    suns = [astral.sun.sun(observer, on.date(), tzinfo="UTC") for on in days.index]
    return np.array([(sun["sunset"] - sun["sunrise"]).total_seconds() / 60 % 1440 for sun in suns])


DECLINATION = (
    "FAO-56's declination is one sine, an almanac's is not: they part by up to a degree late in "
    "September, and the more minutes the higher the latitude"
)
AGREEMENTS = (
    Agreement(
        "reference evapotranspiration, Penman-Monteith",
        "refet",
        "mm",
        grass_mm,
        grass_by_refet_mm,
        -0.005,
        0.005,
        "it follows the ASCE standard, whose constants carry more figures than FAO-56's print",
        least_top_mj_m2=LEAST_TOP_MJ_M2,
    ),
    Agreement(
        "reference evapotranspiration, Penman-Monteith",
        "pyet",
        "mm",
        grass_mm,
        grass_by_pyet_mm,
        -0.0001,
        0.0001,
        "the same equations",
        least_top_mj_m2=LEAST_TOP_MJ_M2,
    ),
    Agreement(
        "reference evapotranspiration, Hargreaves",
        "pyet",
        "mm",
        warmth_alone_mm,
        warmth_alone_by_pyet_mm,
        -0.1,
        0.15,
        "its heat of evaporation falls with warmth, where FAO-56 takes that at 20 °C throughout",
    ),
    Agreement(
        "radiation at the top of the air",
        "pyet",
        "MJ/m²",
        top_mj_m2,
        top_by_pyet_mj_m2,
        -0.0001,
        0.0001,
        "the same equations",
    ),
    *(
        Agreement(
            f"radiation at the top of the air to {widest:g}° of latitude",
            "pvlib",
            "MJ/m²",
            top_mj_m2,
            top_by_pvlib_mj_m2,
            -most,
            most,
            f"{DECLINATION}; its distance and solar constant are newer",
            widest_deg=widest,
        )
        for widest, most in ((30.0, 1.1), (60.0, 1.8))
    ),
    Agreement(
        "day length",
        "pyet",
        "minutes",
        length_min,
        length_by_pyet_min,
        -0.0001,
        0.0001,
        "the same equations",
    ),
    *(
        Agreement(
            f"day length to {widest:g}° of latitude",
            "pvlib",
            "minutes",
            length_min,
            length_by_pvlib_min,
            -minutes,
            minutes,
            DECLINATION,
            widest_deg=widest,
        )
        for widest, minutes in ((30.0, 7.5), (46.0, 13.0), (58.0, 20.5))
    ),
    Agreement(
        "day length, against first to last ray seen",
        "astral",
        "minutes",
        length_min,
        length_by_astral_min,
        -5.0,
        30.0,
        (
            "the air bends light and the sun has a width, so that the first ray is seen before "
            f"its middle has risen; and {DECLINATION}"
        ),
        widest_deg=58.0,
    ),
    Agreement(
        "the same, with that refraction and width given to ours",
        "astral",
        "minutes",
        length_seen_min,
        length_by_astral_min,
        -21.0,
        21.0,
        DECLINATION,
        widest_deg=58.0,
    ),
)


def seen_differences(agreement: Agreement) -> tuple[float, float]:
    """Give the least and the greatest difference on days that are the same each time."""
    found = np.concatenate(
        [
            agreement.differences(some_days(float(latitude), height, seed))
            for seed, (latitude, height) in enumerate(
                zip(
                    np.linspace(-agreement.widest_deg, agreement.widest_deg, 17),
                    np.linspace(0, 2500, 17),
                    strict=True,
                )
            )
        ]
    )
    return float(found.min()), float(found.max())
