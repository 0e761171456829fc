"""Perennials bear when growers expect them, at four stations of record (common practice)."""

from datetime import date, timedelta
from functools import cache

import pytest

from haulm.catalogue.loader import load_catalogue
from haulm.growing.perennials import PerennialStand, picking_years
from haulm.growing.weather import GrowingWeather, growing_weather
from haulm.measure.weeks import horizon_from
from haulm.site.seasons import seasons_from
from stations import PLACES, read_real
from truth.rows import rows_of

HORIZON = horizon_from(date(2027, 1, 4))


@cache
def weather_at(site: str) -> GrowingWeather:
    """Draw runs of weather from a station's record."""
    station = site.partition("_")[0]
    place = PLACES[station]
    first_day = HORIZON.first_day - timedelta(weeks=60)
    return growing_weather(
        seasons_from(read_real(station), place, first_day, 7 * 224, 60, 1), place
    )


@pytest.mark.parametrize(
    "row",
    rows_of("perennial_calendar.csv"),
    ids=lambda row: "-".join((row["site"][:4], row["kind"], row["food"])),
)
def test_perennials_bear_when_growers_expect_them(row: dict[str, str]) -> None:
    """In the middle year a full-grown stand is first picked in its usual weeks.

    Common practice for the dates; open records for the weather.
    """
    kind = load_catalogue().kinds[row["kind"]]
    stand = PerennialStand(kind, "family", kind.methods[0], date(2018, 3, 1), under_cover=False)
    years = picking_years(stand, weather_at(row["site"]), HORIZON)
    picked = next(one for one in years if (one.food, one.year) == (row["food"], 2027))
    earliest, latest = (
        date(2027, *map(int, row[end].split("-"))) for end in ("earliest", "latest")
    )
    assert earliest <= picked.ready.middle <= latest
