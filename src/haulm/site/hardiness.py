"""How cold the winters get: the mean of each winter's lowest temperature, and its zone."""

import math

import numpy as np
from numpy.typing import NDArray

from haulm.site.halves import Halves, drawn_halves, halves_of
from haulm.site.records import Place, Weather

_LOWEST_F = -60.0
_HALF_ZONE_F = 5.0
_HALF_ZONES = 26


def mean_annual_extreme_minimum_c(weather: Weather, place: Place, seed: int = 1) -> float:
    """Give the mean of each winter's lowest temperature [°C].

    A winter runs from midsummer to midsummer, so that one cold spell at New Year counts once.
    Winters not wholly read are left out. The zone maps rest on 30 years; with few years of record
    the mean can be off by half a zone, and from normals alone by a whole one: at Fulda, left out
    when the generator was judged, they give −12.8 °C for −17.1 °C read.

    Raises
    ------
    FaultsFoundError
        If the weather known is too little to fit the generator to.
    """
    winters = _lowest_by_winter(halves_of(weather, place, seed))
    if not np.isfinite(winters).any():
        winters = _lowest_by_winter(drawn_halves(weather, place, seed))
    return float(np.nanmean(winters))


def hardiness_zone(mean_c: float) -> str:
    """Name the plant hardiness zone, such as ``8b``, of a mean annual extreme minimum [°C].

    The zones of the United States Department of Agriculture: 1a begins at -60 °F, each half spans
    5 °F, and 13b ends at 70 °F; colder is told as 1a and warmer as 13b.
    """
    fahrenheit = mean_c * 9.0 / 5.0 + 32.0
    # A hair is added, lest a boundary given in °F fall short by rounding on its way through °C.
    half = math.floor((fahrenheit - _LOWEST_F) / _HALF_ZONE_F + 1e-9)
    half = min(max(half, 0), _HALF_ZONES - 1)
    return f"{half // 2 + 1}{'ab'[half % 2]}"


def _lowest_by_winter(halves: Halves) -> NDArray[np.float64]:
    """Give each winter's lowest temperature [°C], NaN for a winter not wholly read."""
    before = _lowest(halves.after_midsummer[:-1])
    return np.asarray(np.minimum(before, _lowest(halves.after_midwinter[1:])))


def _lowest(half: NDArray[np.float64]) -> NDArray[np.float64]:
    """Give each half-year's lowest minimum [°C], NaN for one not read."""
    return np.asarray(np.fmin.reduce(half, axis=1))
