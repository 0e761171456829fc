"""A first climate for any place on land."""

import time
from datetime import date

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from haulm.measure.errors import FaultsFoundError
from haulm.site.daily_range import GREATEST_RANGE_C, LEAST_RANGE_C
from haulm.site.records import MonthlyNormals, Place, Soil
from haulm.site.seasons import seasons_from
from haulm.site.world import CREDIT, LIMITS, grid_origin, normals_at


def mean_c(normals: MonthlyNormals) -> NDArray[np.float64]:
    """Give the months' means."""
    return np.add(normals.tmin_c, normals.tmax_c, dtype=np.float64) / 2.0


def test_between_four_points_lies_their_mean() -> None:
    """In the middle of four points wholly on land, mean and rain are the mean of theirs."""
    corners = [normals_at(50.0 + up, 20.0 + right) for up in (0.0, 0.5) for right in (0.0, 0.5)]
    middle = normals_at(50.25, 20.25)
    expected_c = np.mean([mean_c(corner) for corner in corners], axis=0)
    np.testing.assert_allclose(mean_c(middle), expected_c, atol=0.16)
    expected_mm = np.mean([corner.rain_mm for corner in corners], axis=0)
    np.testing.assert_allclose(middle.rain_mm, expected_mm, atol=0.1)


def test_the_sea_does_not_make_a_coast_mild() -> None:
    """Halfway between a point at sea and one on land, the climate told is that of the land."""
    with pytest.raises(FaultsFoundError, match="sea"):
        normals_at(48.0, -5.0)
    halfway, on_land = normals_at(48.0, -4.75), normals_at(48.0, -4.5)
    assert halfway.tmin_c == on_land.tmin_c
    assert halfway.rain_mm == on_land.rain_mm


def test_longitudes_meet_at_greenwich_and_at_the_date_line() -> None:
    """A step over Greenwich, or over the date line, is a small one."""
    np.testing.assert_allclose(
        mean_c(normals_at(51.5, -0.01)), mean_c(normals_at(51.5, 0.01)), atol=0.16
    )
    assert normals_at(67.0, -180.0).tmin_c == normals_at(67.0, 180.0).tmin_c


@settings(max_examples=60, deadline=None)
@given(st.floats(-56.0, 72.0), st.floats(-180.0, 180.0))
def test_every_place_gives_usable_normals_or_a_reason(
    latitude_deg: float, longitude_deg: float
) -> None:
    """Any place within the grid gives twelve months that cannot be impossible, or says why not."""
    try:
        normals = normals_at(latitude_deg, longitude_deg)
    except FaultsFoundError as refused:
        told = str(refused)
        assume("this place lies in the sea" not in told)
        raise
    span = np.array(normals.tmax_c) - np.array(normals.tmin_c)
    assert len(normals.rain_mm) == 12
    assert np.all(span >= LEAST_RANGE_C - 0.11)
    assert np.all(span <= GREATEST_RANGE_C + 0.11)
    assert min(normals.rain_mm) >= 0.0
    assert -70.0 < min(normals.tmin_c) < max(normals.tmax_c) < 55.0


@pytest.mark.parametrize(
    ("latitude_deg", "longitude_deg", "key", "word"),
    [
        (80.0, 0.0, "latitude", "72° N"),
        (-60.0, 0.0, "latitude", "56° S"),
        (float("nan"), 0.0, "latitude", "56° S"),
        (10.0, 500.0, "longitude", "no longitude"),
        (10.0, float("nan"), "longitude", "no longitude"),
        (0.0, -30.0, "latitude", "sea"),
    ],
)
def test_a_place_beyond_the_grid_is_refused(
    latitude_deg: float, longitude_deg: float, key: str, word: str
) -> None:
    """Beyond the grid, or at sea, nothing is made up: the place is refused with a remedy."""
    with pytest.raises(FaultsFoundError) as refused:
        normals_at(latitude_deg, longitude_deg)
    (found,) = refused.value.findings
    assert word in found.what
    assert "record" in found.remedy
    assert found.place == ("place", key)


def test_where_it_comes_from_is_said() -> None:
    """The origin names the years, the place, what is estimated, and the credit its source asks."""
    origin = grid_origin(-37.8, -70.0)
    for told in ("2000 to 2025", "37.8° S", "70.0° W", "estimated", CREDIT):
        assert told in origin
    assert normals_at(-37.8, -70.0).origin == origin


def test_its_limits_are_said_in_one_sentence() -> None:
    """What the grid cannot tell is one plain sentence: means only, no range of days, no hills."""
    assert LIMITS.count(".") == 1
    for told in ("monthly means", "days differ from nights", "hills", "cold hollows", "frost"):
        assert told in LIMITS


def test_a_climate_is_found_at_once() -> None:
    """Once the grid is read, a place takes under 20 ms of work."""
    normals_at(46.4, 8.9)
    start = time.process_time()
    normals_at(46.9, 8.4)
    assert time.process_time() - start < 0.02


def test_weather_can_be_drawn_from_it() -> None:
    """Runs of weather drawn from a place's normals have its rain and warmth."""
    normals = normals_at(46.4, 8.9)
    place = Place("Torrenz", 46.4, 8.9, None, Soil.LOAM)
    seasons = seasons_from(normals, place, date(2027, 1, 1), 365, runs=20)
    drawn_c = float((seasons.tmin_c + seasons.tmax_c).mean()) / 2.0
    assert drawn_c == pytest.approx(float(mean_c(normals).mean()), abs=1.0)
