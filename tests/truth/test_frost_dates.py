"""Frost dates on four real records, against plain counts over the same readings.

What the odds mean follows the glossary of NOAA's National Climatic Data Center ("Last Freeze/Frost
Probability"): in spring the chance of a freeze after a date, in autumn of one before it, in two
parts: whether a year freezes at all, then when.
"""

from datetime import date, timedelta
from pathlib import Path

import numpy as np
import pytest

from haulm.site.frost import frost_date, frost_odds
from haulm.site.readers.choose import read_record
from haulm.site.records import DailyRecord, Place, Soil

WEATHER = Path(__file__).parent / "data" / "weather"
PLACES = {
    "baltimore_2010_2019": Place("Baltimore", 39.2, -76.7, 45.0, Soil.LOAM),
    "fulda_1979_1988": Place("Fulda", 50.5, 9.7, 280.0, Soil.LOAM),
    "melbourne_1981_1990": Place("Melbourne", -37.8, 145.0, 31.0, Soil.LOAM),
    "seattle_2012_2015": Place("Seattle", 47.4, -122.3, 130.0, Soil.LOAM),
}


def counted_dates(
    record: DailyRecord, threshold_c: float, *, southern: bool
) -> tuple[list[int | None], list[int | None]]:
    """Walk through a record day by day: each season's last spring and first autumn frost."""
    spring: dict[int, int | None] = {}
    autumn: dict[int, int | None] = {}
    read: dict[tuple[int, str], int] = {}
    for index, tmin in enumerate(record.tmin_c):
        day = record.first_day + timedelta(days=index)
        year = day.year - 1 if southern and day.month < 7 else day.year
        number = (day - date(year, 7 if southern else 1, 1)).days
        half = "spring" if number < 182 else "autumn"
        read[year, half] = read.get((year, half), 0) + int(np.isfinite(tmin))
        dates = spring if half == "spring" else autumn
        dates.setdefault(year, None)
        if tmin <= threshold_c and (half == "spring" or dates[year] is None):
            dates[year] = number
    return (
        [found for year, found in spring.items() if read[year, "spring"] >= 173],
        [found for year, found in autumn.items() if read[year, "autumn"] >= 175],
    )


@pytest.mark.parametrize("name", PLACES)
@pytest.mark.parametrize("threshold_c", [0.0, -2.2, 2.0])
def test_odds_against_a_plain_count(name: str, threshold_c: float) -> None:
    """The number of seasons and the middle dates agree with a walk through the record."""
    record, _ = read_record(WEATHER / f"{name}.csv")
    place = PLACES[name]
    odds = frost_odds(record, place, threshold_c)
    spring, autumn = counted_dates(record, threshold_c, southern=place.southern)
    assert odds.years == min(len(spring), len(autumn))
    for half, ours in ((spring, odds.last_spring), (autumn, odds.first_autumn)):
        known = [day for day in half if day is not None]
        if len(known) < len(half):
            continue
        middle = ours[odds.odds.index(0.5)]
        assert middle is not None
        expected = np.median(known) if odds.years >= 10 else np.mean(known)
        assert middle == pytest.approx(float(expected))


def test_spring_odds_at_fulda_mean_a_later_freeze() -> None:
    """At Fulda one year in ten froze after the date at odds 0.1 and nine in ten after the date at
    odds 0.9: the small odds are the late date in spring and the early one in autumn.
    """
    record, _ = read_record(WEATHER / "fulda_1979_1988.csv")
    odds = frost_odds(record, PLACES["fulda_1979_1988"], 0.0)
    spring, autumn = counted_dates(record, 0.0, southern=False)
    for share, late, early in zip(odds.odds, odds.last_spring, odds.first_autumn, strict=True):
        assert late is not None
        assert early is not None
        # A year that freezes on the very date counts half.
        after = np.mean([((day > late) + (day >= late)) / 2 for day in spring if day is not None])
        before = np.mean(
            [((day < early) + (day <= early)) / 2 for day in autumn if day is not None]
        )
        # Of ten years one more or less is a tenth.
        assert after == pytest.approx(share, abs=0.101)
        assert before == pytest.approx(share, abs=0.101)


def test_two_parts_where_few_years_freeze() -> None:
    """Where three years in ten freeze in spring, no date has odds above three in ten, and the
    date at odds 0.1 splits the freezing years by thirds.
    """
    days = 3652
    tmin = np.full(days, 8.0)
    for year, day in ((2011, 40), (2014, 60), (2017, 80)):
        tmin[(date(year, 1, 1) - date(2010, 1, 1)).days + day] = -1.0
    record = DailyRecord("invented", date(2010, 1, 1), tmin, tmin + 8.0, np.zeros(days))
    place = Place("Torrenz", 46.4, 10.0, 410.0, Soil.LOAM)
    odds = frost_odds(record, place, 0.0, (0.1, 0.15, 0.3, 0.5))
    assert odds.share_of_years_with_frost == pytest.approx(0.3)
    assert odds.last_spring[0] is not None
    assert 60 < odds.last_spring[0] <= 80
    assert odds.last_spring[1] == pytest.approx(60)
    assert odds.last_spring[2:] == (None, None)
    assert odds.first_autumn == (None, None, None, None)
    assert odds.frost_free_days is None
    assert frost_date(odds, place, 2027, "first_autumn", 0.1) is None


def test_few_years_show_a_spread_of_at_least_10_days() -> None:
    """With four years at Seattle the dates at odds 0.1 and 0.9 lie at least 2.56 × 10.5 days
    apart, though its own four dates may lie closer, and the method says so.
    """
    record, _ = read_record(WEATHER / "seattle_2012_2015.csv")
    odds = frost_odds(record, PLACES["seattle_2012_2015"], 0.0)
    late, early = odds.last_spring[0], odds.last_spring[-1]
    assert late is not None
    assert early is not None
    assert late - early >= 2 * 1.2815 * 10.5
    assert "4 years" in odds.how
    assert "10.5 days" in odds.how


def test_autumn_comes_next_year_in_the_south() -> None:
    """South of the equator a season starts on 1 July, so its autumn frosts fall in the year
    after.
    """
    days = 365 * 12 + 3
    first_day = date(2010, 1, 1)
    day_numbers = np.arange(days)
    tmin = 6.0 + 9.0 * np.cos(2 * np.pi * (day_numbers - 15) / 365.25)
    record = DailyRecord("invented", first_day, tmin, tmin + 10.0, np.zeros(days))
    place = Place("southern Torrenz", -42.0, 147.0, 50.0, Soil.LOAM)
    odds = frost_odds(record, place, 0.0)
    spring = frost_date(odds, place, 2026, "last_spring", 0.5)
    autumn = frost_date(odds, place, 2026, "first_autumn", 0.5)
    assert spring is not None
    assert autumn is not None
    assert date(2026, 8, 15) < spring < date(2026, 9, 30)
    assert date(2027, 4, 20) < autumn < date(2027, 6, 10)
