"""Succession: sowings found backwards, so that a kind is picked evenly."""

from datetime import date, timedelta
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from growing.kinds_by_hand import (
    BEAN,
    DAYS,
    HORIZON,
    KINDS,
    SALAD,
    place,
    wave_weather,
    yearly_wave,
)
from haulm.catalogue.loader import load_catalogue
from haulm.catalogue.records import Kind
from haulm.growing.succession import (
    NEAR_ENOUGH,
    Succession,
    SuccessionWish,
    succession,
    usual_interval_days,
)
from haulm.growing.timing import course, main_giving
from haulm.growing.weather import GrowingWeather, growing_weather
from haulm.growing.windows import windows
from haulm.site.records import Seasons

WEATHER = wave_weather()
TODAY = HORIZON.first_day


def sown(
    kind: Kind,
    first: date,
    last: date,
    every: int,
    weather: GrowingWeather = WEATHER,
    method: int = 0,
) -> Succession:
    """Ask for a succession in the open."""
    wish = SuccessionWish(first, last, every, TODAY)
    return succession(kind, kind.methods[method], wish, weather, HORIZON, under_cover=False)


def steady() -> GrowingWeather:
    """Make weather without change, 14 °C all year round."""
    mean = np.full((3, DAYS), 14.0)
    first = yearly_wave(9, 9, runs=1).first_day
    return growing_weather(
        Seasons("steady", first, mean - 2, mean + 2, np.zeros((3, DAYS))), place(10.0)
    )


def test_in_steady_warmth_sowings_lie_as_far_apart_as_harvests() -> None:
    """Where every day is as warm as the next, 14 days between harvests are 14 between sowings.

    By hand: 460 degree-days above 4 °C at 14 °C are 46 days.
    """
    found = sown(SALAD, date(2026, 5, 1), date(2026, 8, 1), 14, steady())
    assert len(found.sowings) == 7
    for one in found.sowings:
        assert one.wanted_on == one.ready.early == one.ready.middle == one.ready.late
        assert one.wanted_on - one.sow_on == timedelta(46)
    assert {days for days, _ in found.spaced} == {14}


def test_spring_sowings_close_up() -> None:
    """What is 14 days apart in harvest is further apart in a cold April than in June: early sowings
    wait for the same warmth (common practice: sow again when the one before shows).
    """
    found = sown(SALAD, date(2026, 6, 1), date(2026, 8, 15), 14)
    days = [apart for apart, _ in found.spaced]
    assert days == sorted(days, reverse=True)
    assert days[0] > 14
    assert days[0] >= days[-1] + 4


@settings(max_examples=25)
@given(
    which=st.integers(0, len(KINDS) - 1),
    start=st.integers(60, 300),
    length=st.integers(0, 200),
    every=st.integers(4, 40),
)
def test_sowings_come_ready_evenly(which: int, start: int, length: int, every: int) -> None:
    """Each sowing is ready within a quarter of an interval of its day in the middle of years, no
    wanted day is forgotten, and no sowing lies outside a window or before today.
    """
    kind = KINDS[which]
    first = HORIZON.first_day + timedelta(start)
    found = sown(kind, first, first + timedelta(length), every)
    wanted = found.wish.wanted_days
    served = [one.wanted_on for one in found.sowings]
    without = [d for d in wanted if any(n.first_day <= d <= n.last_day for n in found.none_ready)]
    assert set(served) | set(without) == set(wanted)
    allowed = windows(kind, kind.methods[0], under_cover=False, weather=WEATHER, horizon=HORIZON)
    for one in found.sowings:
        assert abs((one.ready.middle - one.wanted_on).days) <= NEAR_ENOUGH * every
        assert one.ready.early <= one.ready.middle <= one.ready.late
        assert one.sow_on >= TODAY
        assert any(w.first_day <= one.sow_on <= w.last_day for w in allowed)
    assert all(one.sow_on < later.sow_on for one, later in pairwise(found.sowings))
    assert all(none.why for none in found.none_ready)
    assert len(found.between) == max(0, len(found.sowings) - 1)


@settings(max_examples=15)
@given(which=st.integers(0, len(KINDS) - 1), start=st.integers(0, 500), later=st.integers(1, 60))
def test_a_later_sowing_is_never_ready_earlier(which: int, start: int, later: int) -> None:
    """In one and the same run of weather, what is sown later is ready no sooner."""
    kind = KINDS[which]
    begins = np.array([start, start + later])
    fared = course(kind, kind.methods[0], begins, WEATHER, under_cover=False)
    ready = fared.phase_ends[main_giving(kind).after]
    assert np.all(ready[:, 0] <= ready[:, 1])


@settings(max_examples=15)
@given(every=st.integers(5, 35), start=st.integers(150, 220))
def test_gaps_and_overlaps_agree_with_their_odds(every: int, start: int) -> None:
    """Where nothing lies bare in any year, the two can be picked together or meet; the spread of
    the distance holds its middle, and a longest bare time is told only where there is one.
    """
    first = HORIZON.first_day + timedelta(start)
    for between in sown(SALAD, first, first + timedelta(100), every).between:
        assert between.low_days <= between.middle_days <= between.high_days
        assert 0 <= between.bare <= 1
        assert between.bare_days == 0 or between.bare >= 0.1
        assert between.bare <= 0.5 or between.overlap_days == 0


def test_what_can_not_be_ready_is_told_with_the_reason() -> None:
    """No bean is picked in January: what would be ready then is killed by frost."""
    found = sown(BEAN, date(2026, 12, 1), date(2027, 2, 1), 14)
    assert found.sowings == ()
    (none,) = found.none_ready
    assert none.first_day == date(2026, 12, 1)
    assert "frost" in none.why


def test_what_had_to_be_sown_already_is_told_so() -> None:
    """On 5 January nothing sown from now on is ready within a week."""
    found = sown(SALAD, TODAY, TODAY + timedelta(7), 7)
    assert [none.why for none in found.none_ready] == [
        "what is sown from now on is not ready so soon"
    ]


def test_modules_are_sown_their_weeks_before_they_are_set_out() -> None:
    """Beans raised for three weeks are set out 21 days after they are sown."""
    found = sown(BEAN, date(2026, 7, 15), date(2026, 8, 15), 10, method=1)
    assert found.sowings
    assert {one.set_on - one.sow_on for one in found.sowings} == {timedelta(21)}


def test_the_south_is_half_a_year_away() -> None:
    """With the seasons turned round, beans are picked in January."""
    weather = growing_weather(yearly_wave(9, -9), place(-47.0))
    found = sown(BEAN, date(2027, 1, 10), date(2027, 2, 20), 14, weather)
    assert len(found.sowings) >= 2
    assert all(one.sow_on.month in {10, 11, 12} for one in found.sowings)


@pytest.mark.parametrize(
    ("kind", "published"),
    [
        # Successive Planting, Longfellow's Greenhouses: "planting every two weeks or so"; green
        # beans "every two weeks from mid-May until the end of July".
        ("french bean/dwarf", (14, 21)),
        # Common practice: radishes and leaf crops every two to three weeks.
        ("radish/summer", (7, 21)),
        ("spinach/spring", (14, 28)),
    ],
)
def test_usual_intervals_are_those_of_gardening_advice(
    kind: str, published: tuple[int, int]
) -> None:
    """Where nobody says how often, a kind is wanted again as often as advice says to sow it."""
    low, high = published
    assert low <= usual_interval_days(load_catalogue().kinds[kind]) <= high
