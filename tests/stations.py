"""Four stations' records beside the world's grid at their places, for tests of what it tells.

The records are those under ``tests/truth/data/weather`` (their README says where they are from).
They are of other years than the grid's (2000 to 2025), so warming is among the differences.
"""

from dataclasses import dataclass
from functools import cache
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from haulm.site import daily_range
from haulm.site.calendar import MONTH_LENGTHS, days_from
from haulm.site.daily_range import range_causes
from haulm.site.frost import frost_odds
from haulm.site.halves import halves_of
from haulm.site.readers.choose import read_record
from haulm.site.records import DailyRecord, FrostOdds, MonthlyNormals, Place, Soil
from haulm.site.world import normals_at

PLACES = {
    "baltimore": Place("Baltimore", 39.2, -76.7, None, Soil.LOAM),
    "fulda": Place("Fulda", 50.5, 9.7, None, Soil.LOAM),
    "melbourne": Place("Melbourne", -37.8, 145.0, None, Soil.LOAM),
    "seattle": Place("Seattle", 47.4, -122.3, None, Soil.LOAM),
}
WEATHER = Path(__file__).parent / "truth" / "data" / "weather"
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


def read_real(name: str) -> DailyRecord:
    """Read the real record whose name begins with a word."""
    (path,) = WEATHER.glob(f"{name}_*.csv")
    return read_record(path)[0]


@cache
def four_stations() -> dict[str, Station]:
    """Give the four stations."""

    def station(name: str, place: Place) -> Station:
        """Read one."""
        record = read_real(name)
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


def normals_left_out(stations: dict[str, Station], name: str) -> MonthlyNormals:
    """Give the grid's normals at a station, its own record left out of the daily range's fit."""
    station, half_c = stations[name], left_out(stations, name) / 2.0
    return MonthlyNormals(
        "the grid",
        tuple((station.grid_mean_c - half_c).tolist()),
        tuple((station.grid_mean_c + half_c).tolist()),
        station.grid.rain_mm,
    )


def odds_left_out(stations: dict[str, Station], name: str) -> FrostOdds:
    """Give the odds of frost at a station from the grid, its own record left out."""
    return frost_odds(normals_left_out(stations, name), stations[name].place, 0.0)


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
