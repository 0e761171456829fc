"""Succession against what is printed of staggered sowings: warmth between sowings and harvests."""

from datetime import date, timedelta
from functools import cache
from itertools import pairwise

import numpy as np
import pytest

from haulm.catalogue.loader import load_catalogue
from haulm.growing.days import day_in_share_of_runs
from haulm.growing.succession import SuccessionWish, succession
from haulm.growing.timing import course, main_giving
from haulm.growing.weather import GrowingWeather, growing_weather
from haulm.measure.weeks import horizon_from
from haulm.site.seasons import seasons_from
from stations import PLACES, read_real

HORIZON = horizon_from(date(2027, 1, 4))


@cache
def weather_at(station: str) -> GrowingWeather:
    """Draw runs of weather from a station's record."""
    place = PLACES[station]
    first_day = HORIZON.first_day - timedelta(weeks=60)
    record = seasons_from(read_real(station), place, first_day, 7 * 224, 20, 1)
    return growing_weather(record, place)


def ready_on(kind: str, station: str, sown: list[date]) -> list[date]:
    """Give the day on which each direct sowing is ready in the middle of years."""
    found, weather = load_catalogue().kinds[kind], weather_at(station)
    method = next(method for method in found.methods if method.id == "direct")
    begins = np.array([weather.column_of(day) for day in sown])
    fared = course(found, method, begins, weather, under_cover=False)
    ready = day_in_share_of_runs(fared.phase_ends[main_giving(found).after], 0.5)
    return [weather.day_of(int(day)) for day in ready]


@pytest.mark.parametrize("station", ["fulda", "seattle"])
@pytest.mark.parametrize("every", [7, 10])
def test_as_much_warmth_lies_between_sowings_as_between_harvests(station: str, every: int) -> None:
    """Vining peas are sown when as many heat units have come since the last sowing as come on
    average between two days of harvest.

    Source: Ottosson, "Some aspects on heat unit calculations for sowing-programs of vining peas",
    ISHS Acta Horticulturae 27 (abstract, read). The sums are of the mean year; whole days leave up
    to a warm day at either end.
    """
    kind, weather = load_catalogue().kinds["pea/maincrop"], weather_at(station)
    wish = SuccessionWish(date(2027, 6, 25), date(2027, 8, 5), every, HORIZON.first_day)
    found = succession(kind, kind.methods[0], wish, weather, HORIZON, under_cover=False)
    warmth = kind.warmth
    sums = weather.degree_day_sums(warmth.base_c.value, warmth.upper_c.value, under_cover=False)
    mean = sums.mean(axis=0)

    def between(first: date, last: date) -> float:
        """Add up the mean year's degree-days from one day to another."""
        return float(mean[weather.column_of(last)] - mean[weather.column_of(first)])

    pairs = list(pairwise(found.sowings))
    assert len(pairs) >= 2
    for one, later in pairs:
        sown = between(one.sow_on, later.sow_on)
        harvested = between(one.ready.middle, later.ready.middle)
        assert sown == pytest.approx(harvested, abs=2 * 16)


def test_early_sweet_corn_sown_a_week_apart_all_but_meets() -> None:
    """Sown on 22 April, 1 May and 10 May, sweet corn took 90 to 98, 86 to 89 and 81 to 85 days: the
    18 days between first and last came to 7 at harvest, and sowings a week apart were often
    harvested on one day.

    Source: D. E. Hill, *Yellow and Bicolor Supersweet Corn Trials 1996-1997*, Connecticut
    Agricultural Experiment Station Bulletin 950, 1998 (summary, read). The record is Baltimore's,
    where spring is somewhat warmer: so ours may lie a few days further apart.
    """
    sown = [date(2027, 4, 22), date(2027, 5, 1), date(2027, 5, 10)]
    first, second, third = ready_on("sweet corn/early", "baltimore", sown)
    assert 4 <= (third - first).days <= 11
    assert 1 <= (second - first).days <= 6


@pytest.mark.parametrize("station", ["baltimore", "fulda", "seattle"])
@pytest.mark.parametrize("kind", ["lettuce/leaf", "french bean/dwarf", "radish/summer"])
def test_early_sowings_lie_further_apart_than_those_of_june(kind: str, station: str) -> None:
    """For harvests two weeks apart, spring's sowings lie further apart than those of June.

    Sources: V. Grubinger, *Scheduling Sweet Corn Plantings*, University of Vermont Extension:
    early plantings need much more time between them than those after; common practice for others.
    """
    found, weather = load_catalogue().kinds[kind], weather_at(station)
    method = next(method for method in found.methods if method.id == "direct")
    wish = SuccessionWish(date(2027, 4, 25), date(2027, 8, 31), 14, HORIZON.first_day)
    told = succession(found, method, wish, weather, HORIZON, under_cover=False)
    spring = [days for days, day in told.spaced if day.month <= 5]
    june = [days for days, day in told.spaced if day.month in {6, 7}]
    assert june
    assert not spring or max(spring) > min(june)
    assert 10 <= min(june) <= 18
