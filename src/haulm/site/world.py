"""A first climate for any place on land, from a grid of the world's monthly means."""

from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from io import BytesIO

import numpy as np
from numpy.typing import NDArray

from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.site.daily_range import daily_range_c
from haulm.site.records import MonthlyNormals
from haulm.site.weather_model import Months

LIMITS = (
    "The world's grid knows only monthly means of temperature and rain over half a degree, some "
    "55 km: how far days differ from nights is estimated, hills, cold hollows and warm towns are "
    "smoothed away, and frost dates can be weeks off."
)
CREDIT = "contains modified Copernicus Climate Change Service information"
YEARS = "2000 to 2025"

_STEP_DEG = 0.5
_FULL_LAND = 200
_HIGHEST_LONGITUDE = 180.0
_ROUND_DEG = 360.0
_REMEDY = (
    "Check the degrees, south and west being negative, or give twelve monthly normals or a daily "
    "record of your own."
)


@dataclass(frozen=True, slots=True, eq=False)
class _World:
    """The grid: latitudes falling, longitudes rising from 0, share of land about each point.

    ``mean_c`` and ``rain_mm`` have a row of twelve months for each point with land about it,
    ``row_of`` its number, -1 at sea.
    """

    latitude_deg: NDArray[np.float64]
    longitude_deg: NDArray[np.float64]
    land_share: NDArray[np.float64]
    row_of: NDArray[np.int64]
    mean_c: NDArray[np.float64]
    rain_mm: NDArray[np.float64]


def normals_at(latitude_deg: float, longitude_deg: float) -> MonthlyNormals:
    """Give monthly normals for a place on land, the daily range in them estimated.

    Mean and rain lie between the four points of the grid around the place, each counted by its
    nearness and by the share of land around it: the grid holds seas as well, and a point half at
    sea is milder than the garden ashore.

    Parameters
    ----------
    latitude_deg, longitude_deg
        From 56° S to 72° N; longitudes west of Greenwich are negative.

    Raises
    ------
    FaultsFoundError
        When the place is beyond the grid, or none of the four points has land about it.
    """
    weights, rows = _nearby(latitude_deg, longitude_deg)
    world = _world()
    mean_c, rain_mm = weights @ world.mean_c[rows], weights @ world.rain_mm[rows]
    half_c = daily_range_c(mean_c, rain_mm, latitude_deg) / 2.0
    return MonthlyNormals(
        grid_origin(latitude_deg, longitude_deg),
        _rounded(mean_c - half_c),
        _rounded(mean_c + half_c),
        _rounded(rain_mm),
    )


def grid_origin(latitude_deg: float, longitude_deg: float) -> str:
    """Say where the normals of a place come from, with the credit that its source asks for."""
    north = f"{abs(latitude_deg):.1f}° {'S' if latitude_deg < 0 else 'N'}"
    east = f"{abs(longitude_deg):.1f}° {'W' if longitude_deg < 0 else 'E'}"
    return (
        f"monthly means of {YEARS} on a world grid of half a degree, at {north} {east}; "
        f"day and night estimated; {CREDIT}"
    )


def _nearby(
    latitude_deg: float, longitude_deg: float
) -> tuple[NDArray[np.float64], NDArray[np.int64]]:
    """Weigh the points of land around a place: weights that sum to 1, and their rows."""
    world = _world()
    south, north = float(world.latitude_deg[-1]), float(world.latitude_deg[0])
    if not south <= latitude_deg <= north:
        beyond = f"the world's climate is known from {-south:g}° S to {north:g}° N only."
        raise _refusal(beyond)
    if not abs(longitude_deg) <= _HIGHEST_LONGITUDE:
        nowhere = f"{longitude_deg:g}° is no longitude."
        raise _refusal(nowhere, "longitude")
    down = (north - latitude_deg) / _STEP_DEG
    right = longitude_deg % _ROUND_DEG / _STEP_DEG
    top, left = min(int(down), world.latitude_deg.size - 2), int(right)
    rows, columns = np.array([top, top + 1]), np.array([left, left + 1]) % world.longitude_deg.size
    near = np.outer([1 - (down - top), down - top], [1 - (right - left), right - left])
    at = np.ix_(rows, columns)
    weights = (near * world.land_share[at]).ravel()
    land = weights > 0.0
    if not land.any():
        at_sea = "this place lies in the sea."
        raise _refusal(at_sea)
    return weights[land] / weights.sum(), world.row_of[at].ravel()[land]


def _refusal(what: str, key: str = "latitude") -> FaultsFoundError:
    return FaultsFoundError([Finding("the place", what, _REMEDY, place=("place", key))])


def _rounded(months: Months) -> tuple[float, ...]:
    return tuple(round(float(value), 1) for value in months)


@cache
def _world() -> _World:
    """Read the grid once."""
    packed = BytesIO((files("haulm.site") / "data" / "world_climate.npz").read_bytes())
    with np.load(packed) as grid:
        shares = grid["land_share_200"]
        row_of = np.full(shares.shape, -1, dtype=np.int64)
        row_of[shares > 0] = np.arange(np.count_nonzero(shares))
        return _World(
            latitude_deg=grid["latitude_deg"].astype(np.float64),
            longitude_deg=grid["longitude_deg"].astype(np.float64),
            land_share=shares / _FULL_LAND,
            row_of=row_of,
            # Each month but the first is kept as its step from the month before.
            mean_c=np.cumsum(grid["mean_decidegree_c"], axis=0).T / 10.0,
            rain_mm=np.cumsum(grid["rain_mm"], axis=0).T.astype(np.float64),
        )
