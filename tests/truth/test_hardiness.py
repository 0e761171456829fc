"""Hardiness zones, against the zone table of the United States Department of Agriculture.

The table's zones run from -60 °F to 70 °F in halves of 5 °F (read second-hand, its °C recomputed).
"""

from datetime import date
from pathlib import Path

import numpy as np
import pytest

from haulm.site.hardiness import hardiness_zone, mean_annual_extreme_minimum_c
from haulm.site.readers.choose import read_record
from haulm.site.records import DailyRecord, Place, Soil

WEATHER = Path(__file__).parent / "data" / "weather"


@pytest.mark.parametrize(
    ("mean_c", "zone"), [(-51.0, "1a"), (-9.3, "8b"), (-6.8, "8b"), (1.6, "10a")]
)
def test_zones_told_in_celsius(mean_c: float, zone: str) -> None:
    """The same table in °C gives the same zones."""
    assert hardiness_zone(mean_c) == zone


def test_beyond_the_table() -> None:
    """Colder than the table is its first half-zone, warmer its last."""
    assert hardiness_zone(-60.0) == "1a"
    assert hardiness_zone(25.0) == "13b"


@pytest.mark.parametrize(
    ("name", "latitude_deg", "first_months"),
    [("fulda_1979_1988", 50.5, (7, 1)), ("melbourne_1981_1990", -37.8, (1, 1))],
)
def test_extreme_minimum_counted_apart(
    name: str, latitude_deg: float, first_months: tuple[int, int]
) -> None:
    """The mean of each winter's lowest reading equals a plain count over the same record."""
    record, _ = read_record(WEATHER / f"{name}.csv")
    place = Place(name, latitude_deg, 0.0, 100.0, Soil.LOAM)
    lowest = []
    for year in range(1979, 1991):
        start = (date(year, *first_months) - record.first_day).days
        end = (date(year + 1, *first_months) - record.first_day).days
        if start >= 0 and end <= record.tmin_c.size:
            lowest.append(np.nanmin(record.tmin_c[start:end]))
    assert len(lowest) >= 9
    ours = mean_annual_extreme_minimum_c(record, place)
    # The southern cut at midsummer falls on 30 December, hence a season more or less.
    assert ours == pytest.approx(float(np.mean(lowest)), abs=0.1)


def test_one_cold_spell_counts_once() -> None:
    """A cold spell over New Year lowers one winter, not two."""
    days = 365 * 5 + 1
    tmin = np.full(days, 5.0)
    new_year = (date(2024, 1, 1) - date(2022, 1, 1)).days
    tmin[new_year - 3 : new_year + 3] = -15.0
    record = DailyRecord("invented", date(2022, 1, 1), tmin, tmin + 8.0, np.zeros(days))
    place = Place("Torrenz", 46.4, 10.0, 410.0, Soil.LOAM)
    assert mean_annual_extreme_minimum_c(record, place) == pytest.approx((5 * 3 - 15) / 4)
