"""The world's grid held against four records, each left out when the daily range is fitted.

The records are those under ``tests/truth/data/weather`` (their README says where they are from).
They are of other years than the grid's (2000 to 2025), so warming is among the differences.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
import pytest
from numpy.typing import NDArray

from haulm.site import daily_range
from haulm.site.calendar import MONTH_LENGTHS, days_from
from haulm.site.daily_range import range_causes
from haulm.site.frost import frost_odds
from haulm.site.halves import halves_of
from haulm.site.records import DailyRecord, FrostOdds, MonthlyNormals, Place, Soil
from haulm.site.world import normals_at

PLACES = {
    "baltimore": Place("Baltimore", 39.2, -76.7, None, Soil.LOAM),
    "fulda": Place("Fulda", 50.5, 9.7, None, Soil.LOAM),
    "melbourne": Place("Melbourne", -37.8, 145.0, None, Soil.LOAM),
    "seattle": Place("Seattle", 47.4, -122.3, None, Soil.LOAM),
}
NEVER_IN_SPRING, NEVER_IN_AUTUMN = -1.0, 400.0
Values = NDArray[np.float64]


@dataclass(frozen=True)
class Station:
    """A record's own months beside the grid's at its place."""

    record: DailyRecord
    place: Place
    range_c: Values
    mean_c: Values
    rain_mm: Values
    grid: MonthlyNormals

    @property
    def grid_mean_c(self) -> Values:
        """Give the grid's means."""
        return np.add(self.grid.tmin_c, self.grid.tmax_c, dtype=np.float64) / 2.0

    @property
    def causes(self) -> Values:
        """Give what the range is told from."""
        return range_causes(self.grid_mean_c, np.array(self.grid.rain_mm), self.place.latitude_deg)


@pytest.fixture
def stations(real: Callable[[str], DailyRecord]) -> dict[str, Station]:
    """Give the four stations."""

    def station(name: str, place: Place) -> Station:
        """Read one."""
        record = real(name)
        month = days_from(record.first_day, record.tmin_c.size).month

        def by_month(values: Values) -> Values:
            """Average what was read in each month; NaN where nothing was."""
            known = np.isfinite(values)
            return np.array(
                [
                    values[known & (month == number)].mean() if known.any() else np.nan
                    for number in range(1, 13)
                ]
            )

        return Station(
            record=record,
            place=place,
            range_c=by_month(record.tmax_c - record.tmin_c),
            mean_c=(by_month(record.tmax_c) + by_month(record.tmin_c)) / 2.0,
            rain_mm=by_month(record.rain_mm) * np.array(MONTH_LENGTHS),
            grid=normals_at(place.latitude_deg, place.longitude_deg),
        )

    return {name: station(name, place) for name, place in PLACES.items()}


def least_squares(stations: list[Station]) -> Values:
    """Fit the daily range to what it is told from."""
    causes = np.concatenate([station.causes for station in stations])
    ranges = np.concatenate([station.range_c for station in stations])
    return np.asarray(np.linalg.lstsq(causes, ranges, rcond=None)[0])


def left_out(stations: dict[str, Station], name: str) -> Values:
    """Estimate a station's daily range by a fit to the other three [°C]."""
    others = [station for other, station in stations.items() if other != name]
    told = stations[name].causes @ least_squares(others)
    return np.clip(told, daily_range.LEAST_RANGE_C, daily_range.GREATEST_RANGE_C)


def odds_left_out(stations: dict[str, Station], name: str) -> FrostOdds:
    """Give the odds of frost at a station from the grid, its own record left out."""
    station, half_c = stations[name], left_out(stations, name) / 2.0
    normals = MonthlyNormals(
        "the grid",
        tuple((station.grid_mean_c - half_c).tolist()),
        tuple((station.grid_mean_c + half_c).tolist()),
        station.grid.rain_mm,
    )
    return frost_odds(normals, station.place, 0.0)


def frosts_read(station: Station) -> tuple[Values, Values]:
    """Find each season's last spring and first autumn frost, far off where none came."""
    halves = halves_of(station.record, station.place, seed=1)
    found: list[list[float]] = [[], []]
    for half, dates in zip((halves.after_midwinter, halves.after_midsummer), found, strict=True):
        for season in half[np.isfinite(half).any(axis=1)]:
            days = np.flatnonzero(season <= 0.0)
            if half is halves.after_midwinter:
                dates.append(days[-1] if days.size else NEVER_IN_SPRING)
            else:
                dates.append(182 + days[0] if days.size else NEVER_IN_AUTUMN)
    return np.array(found[0]), np.array(found[1])


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
