"""The world's grid held against four records, each left out when the daily range is fitted.

The records are those under ``tests/truth/data/weather`` (their README says where they are from).
"""

import numpy as np
import pytest

from haulm.site import daily_range
from haulm.site.world import normals_at
from stations import (
    NEVER_IN_AUTUMN,
    NEVER_IN_SPRING,
    PLACES,
    Station,
    four_stations,
    frosts_read,
    least_squares,
    left_out,
    odds_left_out,
)


@pytest.fixture
def stations() -> dict[str, Station]:
    """Give the four stations."""
    return four_stations()


def test_the_ranges_figures_are_what_the_records_give(stations: dict[str, Station]) -> None:
    """What the daily range is told by is the four records' own least squares, rounded."""
    ours = [
        daily_range.RANGE_C,
        daily_range.RANGE_BY_SUN,
        daily_range.RANGE_BY_SWING,
        daily_range.RANGE_BY_RAIN,
    ]
    np.testing.assert_allclose(ours, least_squares(list(stations.values())), atol=0.03)


@pytest.mark.parametrize("name", PLACES)
def test_the_daily_range_of_a_place_left_out(stations: dict[str, Station], name: str) -> None:
    """With a place left out of the fit, its daily range is told within 1.3 °C on average and
    2.5 °C in the worst month.
    """
    error_c = np.abs(left_out(stations, name) - stations[name].range_c)
    assert error_c.mean() < 1.3
    assert error_c.max() < 2.5


@pytest.mark.parametrize(
    ("name", "colder_c"),
    [("baltimore", 0.0), ("fulda", -0.5), ("melbourne", 1.5), ("seattle", 1.6)],
)
def test_the_grids_means(stations: dict[str, Station], name: str, colder_c: float) -> None:
    """The grid's year is as warm as was read inland, and some 1.5 °C colder than was read by the
    two coasts with hills behind them; no month is off by more than 2.2 °C.
    """
    station = stations[name]
    off_c = station.grid_mean_c - station.mean_c
    assert off_c.mean() == pytest.approx(-colder_c, abs=0.1)
    assert np.abs(off_c).max() < 2.2


@pytest.mark.parametrize(
    ("name", "more"), [("baltimore", -0.06), ("fulda", 0.15), ("seattle", 0.29)]
)
def test_the_grids_rain(stations: dict[str, Station], name: str, more: float) -> None:
    """A year's rain lies within 30 in 100 of what was read (of other years); hills bring more."""
    station = stations[name]
    ratio = sum(station.grid.rain_mm) / station.rain_mm.sum()
    assert ratio - 1.0 == pytest.approx(more, abs=0.03)


def test_frosts_fall_within_what_is_told_as_often_as_told(stations: dict[str, Station]) -> None:
    """With each place left out, at least 8 in 10 of its frosts fall between the dates told at odds
    0.1 and 0.9, and no more than 1 in 10 fall on the dangerous side, pooled over four places.
    """
    inside = dangerous = seasons = 0
    for name, station in stations.items():
        odds = odds_left_out(stations, name)
        spring, autumn = frosts_read(station)
        late, early = (
            NEVER_IN_SPRING if day is None else day
            for day in (odds.last_spring[0], odds.last_spring[-1])
        )
        first, last = (
            NEVER_IN_AUTUMN if day is None else day
            for day in (odds.first_autumn[0], odds.first_autumn[-1])
        )
        inside += int(np.sum((spring >= early) & (spring <= late)))
        inside += int(np.sum((autumn >= first) & (autumn <= last)))
        dangerous += int(np.sum(spring > late)) + int(np.sum(autumn < first))
        seasons += spring.size + autumn.size
    assert inside >= 0.8 * seasons
    assert dangerous <= 0.1 * seasons


@pytest.mark.parametrize(
    ("name", "spring_days_late", "autumn_days_late"),
    [("baltimore", 0, 11), ("fulda", -4, -11), ("seattle", 42, 0)],
)
def test_middle_frosts_of_a_place_left_out(
    stations: dict[str, Station], name: str, spring_days_late: int, autumn_days_late: int
) -> None:
    """The middle frosts are told within 12 days, but for spring at the mild coast, six weeks late:
    safe, and a long wait.
    """
    odds = odds_left_out(stations, name)
    spring, autumn = frosts_read(stations[name])
    middle = odds.odds.index(0.5)
    told_spring, told_autumn = odds.last_spring[middle], odds.first_autumn[middle]
    assert told_spring is not None
    assert told_autumn is not None
    assert told_spring - np.median(spring) == pytest.approx(spring_days_late, abs=4)
    assert told_autumn - np.median(autumn) == pytest.approx(autumn_days_late, abs=4)


def test_a_coast_all_but_free_of_frost_is_told_frosts(stations: dict[str, Station]) -> None:
    """At Melbourne it froze in two springs of ten or fewer, but the grid tells of frost in nearly
    every year: it does not know a warm town by the sea.
    """
    odds = odds_left_out(stations, "melbourne")
    spring, _ = frosts_read(stations["melbourne"])
    assert np.mean(spring > NEVER_IN_SPRING) <= 0.2
    assert odds.share_of_years_with_frost > 0.9


@pytest.mark.parametrize(
    ("latitude_deg", "longitude_deg", "month", "tmin_c", "tmax_c"),
    [
        (13 + 44 / 60, 100.5, 4, 25.6, 34.8),  # Bangkok, example 17
        (45 + 43 / 60, 5.0, 7, 14.8, 26.6),  # Lyon, example 20
        (-(22 + 54 / 60), -43.2, 5, 19.1, 25.1),  # Rio de Janeiro, example 11
    ],
)
def test_against_the_handbooks_months(
    latitude_deg: float, longitude_deg: float, month: int, tmin_c: float, tmax_c: float
) -> None:
    """Three months printed in FAO Irrigation and Drainage Paper 56 (1998; longitudes from memory)
    are told within 1.8 °C, though no place near the tropics was fitted to.
    """
    normals = normals_at(latitude_deg, longitude_deg)
    assert normals.tmin_c[month - 1] == pytest.approx(tmin_c, abs=1.8)
    assert normals.tmax_c[month - 1] == pytest.approx(tmax_c, abs=1.8)
