"""Weather read at one height, told for a garden at another."""

from dataclasses import replace
from math import hypot

import numpy as np
from numpy.typing import NDArray

from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.site.figures import air_figure
from haulm.site.records import DailyRecord, SomeWeather

METRES_A_KM = 1000.0
LEAST_SPAN_C = 0.5
LEAST_HEIGHT_M = 1.0
"""Less than this is no difference worth a word [m]."""


def at_height(weather: SomeWeather, read_at_m: float, garden_m: float) -> SomeWeather:
    """Tell weather read at one height for a garden at another.

    Nights fall by 3.8 °C and days by 6.5 °C for each kilometre; how far the true rates may differ
    (1.5 °C/km) is added to the weather's doubt, and widens every date told of it. Rain is left.

    Parameters
    ----------
    weather
        As it was read.
    read_at_m, garden_m
        Height of the station or of the grid's cell, and of the garden, above the sea [m].

    Raises
    ------
    FaultsFoundError
        If they lie more than 1500 m apart.

    Notes
    -----
    The rates, their sources and their range stand in ``data/air.toml``. One rate for all months:
    published months differ by place more than they agree. A valley floor on a clear night is
    colder than the slope above it, the other way round: no rate of height tells that.
    """
    higher_m = garden_m - read_at_m
    if abs(higher_m) < LEAST_HEIGHT_M:
        return weather
    if abs(higher_m) > air_figure("furthest_height_m"):
        what = f"the weather is from {read_at_m:g} m and the garden lies at {garden_m:g} m."
        remedy = "Look at both heights, or take weather from nearer the garden's height."
        raise FaultsFoundError(
            [Finding("the weather's height", what, remedy, place=("weather", "height"))]
        )
    kilometres = higher_m / METRES_A_KM
    colder_night_c = air_figure("lapse_minimum_c_km") * kilometres
    colder_day_c = air_figure("lapse_maximum_c_km") * kilometres
    doubt_c = hypot(weather.doubt_c, air_figure("lapse_spread_c_km") * kilometres)
    told = (
        f"{weather.origin}; read at {read_at_m:.0f} m and told for {garden_m:.0f} m: nights "
        f"{-colder_night_c:+.1f} °C, days {-colder_day_c:+.1f} °C, give or take {doubt_c:.1f} °C"
    )
    tmin_c = np.asarray(weather.tmin_c) - colder_night_c
    tmax_c = np.asarray(weather.tmax_c) - colder_day_c
    return with_temperatures(weather, tmin_c, tmax_c, told, doubt_c)


def with_temperatures(
    weather: SomeWeather,
    tmin_c: NDArray[np.float64],
    tmax_c: NDArray[np.float64],
    origin: str,
    doubt_c: float,
) -> SomeWeather:
    """Give weather with other temperatures [°C]; no maximum comes under its minimum."""
    tmax_c = np.maximum(tmax_c, tmin_c + LEAST_SPAN_C)
    if isinstance(weather, DailyRecord):
        return replace(weather, origin=origin, tmin_c=tmin_c, tmax_c=tmax_c, doubt_c=doubt_c)
    tmins, tmaxs = tuple(tmin_c.tolist()), tuple(tmax_c.tolist())
    return replace(weather, origin=origin, tmin_c=tmins, tmax_c=tmaxs, doubt_c=doubt_c)
