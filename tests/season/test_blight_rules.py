"""Late blight's weather: each rule is met on its side of every published threshold, not beyond it.

Hutton Criteria: AHDB project 11120018 (James Hutton Institute): two days in a row, each with a
minimum of 10 °C and 6 h at 90 % humidity. Smith Period: 11 h, from memory. Irish Rules: Technical
Note 13, Irish Meteorological Service, 1953. Wallin's severity: Michigan State University's table.
"""

from collections.abc import Callable
from datetime import UTC, date, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from haulm.season.ahead import DayAhead, HourTold
from haulm.season.blight_rules import (
    HumidDay,
    blight_rules,
    can_be_said,
    day_meets,
    effective_hours,
    humid_days,
    severities,
    spans_met,
)

DAY = date(2027, 7, 20)
AT = datetime(2027, 7, 19, tzinfo=UTC)
RULES = blight_rules()
HUTTON, SMITH = RULES.hutton, RULES.smith


def told(*days: tuple[float | None, float | None]) -> tuple[HumidDay, ...]:
    """Make days in a row of a minimum and humid hours each."""
    ahead = [
        DayAhead(DAY + timedelta(days=number), AT, tmin_c=tmin, humid_hours=hours)
        for number, (tmin, hours) in enumerate(days)
    ]
    return humid_days(ahead, (), HUTTON.humidity)


def hours(
    number: int, warmth: Callable[[int], float], humidity: Callable[[int], float]
) -> list[HourTold]:
    """Make hours in a row from midnight on."""
    return [
        HourTold(DAY + timedelta(days=hour // 24), hour % 24, warmth(hour), humidity(hour))
        for hour in range(number)
    ]


@pytest.mark.parametrize(
    ("days", "met"),
    [
        (((10.0, 6.0), (10.0, 6.0)), True),
        (((9.9, 6.0), (10.0, 6.0)), False),
        (((10.0, 6.0), (9.9, 6.0)), False),
        (((10.0, 5.0), (10.0, 6.0)), False),
        (((10.0, 6.0), (10.0, 5.9)), False),
        (((10.0, 6.0),), False),
        (((10.0, 6.0), (9.0, 6.0), (10.0, 6.0)), False),
    ],
)
def test_hutton_wants_two_days_warm_and_humid_enough(
    days: tuple[tuple[float, float], ...], *, met: bool
) -> None:
    """Two days in a row of 10 °C and six humid hours meet it; a tenth of a degree less does not."""
    assert bool(spans_met(told(*days), HUTTON)) is met


@pytest.mark.parametrize(("humid", "met"), [(11.0, True), (10.0, False)])
def test_smith_wants_eleven_hours(humid: float, *, met: bool) -> None:
    """Ten humid hours a day meet Hutton and not Smith; eleven meet both."""
    days = told((10.0, humid), (12.0, humid))
    assert bool(spans_met(days, SMITH)) is met
    assert spans_met(days, HUTTON)


def test_days_that_follow_on_are_told_as_one_span() -> None:
    """Four such days are one spell from the first to the last."""
    assert spans_met(told(*((11.0, 8.0),) * 4), HUTTON) == ((DAY, DAY + timedelta(days=3)),)


def test_without_humidity_nothing_is_said() -> None:
    """A day without a word of humidity neither meets the rule nor fails it, unless it is cold."""
    silent, cold = told((12.0, None), (5.0, None))
    assert day_meets(silent, HUTTON) is None
    assert day_meets(cold, HUTTON) is False
    assert not can_be_said((silent, cold), HUTTON, DAY, DAY + timedelta(days=1))
    assert can_be_said((cold,), HUTTON, cold.day, cold.day)


@pytest.mark.parametrize(("humidity", "count"), [(90.0, 24.0), (89.9, 0.0)])
def test_an_hour_counts_from_ninety_per_cent(humidity: float, count: float) -> None:
    """Ninety per cent is humid, a tenth less is not; the hours go before a count that was told."""
    read = hours(24, lambda _: 12.0, lambda _: humidity)
    (day,) = humid_days([DayAhead(DAY, AT, tmin_c=3.0, humid_hours=9.0)], read, HUTTON.humidity)
    assert (day.hours, day.tmin_c, day.whole) == (count, 12.0, True)


def test_hours_that_are_missing_may_meet_a_rule_but_never_fail_it() -> None:
    """Six humid hours of seven that were read are enough; five of seven are not yet too few."""
    enough = hours(7, lambda _: 11.0, lambda hour: 95.0 if hour < 6 else 50.0)
    short = hours(7, lambda _: 11.0, lambda hour: 95.0 if hour < 5 else 50.0)
    ahead = [DayAhead(DAY, AT, tmin_c=11.0)]
    assert day_meets(humid_days(ahead, enough, 90.0)[0], HUTTON) is True
    assert day_meets(humid_days(ahead, short, 90.0)[0], HUTTON) is None
    assert day_meets(humid_days((), enough, 90.0)[0], HUTTON) is None


@pytest.mark.parametrize(
    ("number", "effective"), [(11, None), (12, 1), (22, 11), (23, 12), (30, 19)]
)
def test_the_irish_rules_take_eleven_hours_off_a_spell(number: int, effective: int | None) -> None:
    """A spell of 12 h has one effective hour; it takes 23 h to the twelve that warn."""
    spells = effective_hours(hours(number, lambda _: 10.0, lambda _: 90.0), RULES.irish)
    assert [found for _, found in spells] == ([] if effective is None else [effective])


@pytest.mark.parametrize(("warmth", "humidity"), [(9.9, 95.0), (15.0, 89.9)])
def test_one_cool_or_dry_hour_breaks_an_irish_spell(warmth: float, humidity: float) -> None:
    """Of thirty hours with a break after the eighteenth, only the first spell is long enough."""
    read = hours(
        30,
        lambda hour: warmth if hour == 18 else 12.0,
        lambda hour: humidity if hour == 18 else 95.0,
    )
    assert [found for _, found in effective_hours(read, RULES.irish)] == [7]
    gap = [hour for hour in hours(30, lambda _: 12.0, lambda _: 95.0) if hour.hour != 18]
    assert [found for _, found in effective_hours(gap, RULES.irish)] == [7]


WALLIN = [
    (45, (15, 0), (16, 1), (18, 1), (19, 2), (21, 2), (22, 3), (24, 3)),
    (53, (15, 0), (16, 1), (18, 1), (19, 2), (21, 2), (22, 3), (24, 3)),
    (54, (12, 0), (13, 1), (15, 1), (16, 2), (18, 2), (19, 3), (21, 3), (22, 4), (24, 4)),
    (59, (12, 0), (13, 1), (15, 1), (16, 2), (18, 2), (19, 3), (21, 3), (22, 4), (24, 4)),
    (60, (9, 0), (10, 1), (12, 1), (13, 2), (15, 2), (16, 3), (18, 3), (19, 4), (24, 4)),
    (80, (9, 0), (10, 1), (12, 1), (13, 2), (15, 2), (16, 3), (18, 3), (19, 4), (24, 4)),
    (44, (24, 0)),
    (81, (24, 0)),
]
"""Hours and severity at a temperature [°F], as Michigan State University prints its three bands."""


@pytest.mark.parametrize(
    ("warmth_f", "wet", "severity"),
    [(row[0], *pair) for row in WALLIN for pair in row[1:]],  # type: ignore[misc]
)
def test_wallins_severity_is_as_printed(warmth_f: int, wet: int, severity: int) -> None:
    """A day's hours over 80 % at their mean temperature give the severity of the printed table."""
    warmth_c = (warmth_f - 32) * 5 / 9
    read = hours(
        24,
        lambda hour: warmth_c if hour < wet else 30.0,
        lambda hour: 80.1 if hour < wet else 80.0,
    )
    assert severities(read, RULES.wallin) == {DAY: severity}
    assert severities(read[:23], RULES.wallin) == {}


@given(
    st.lists(st.tuples(st.none() | st.floats(5, 15), st.none() | st.integers(0, 24)), max_size=8)
)
def test_more_warmth_and_wet_never_make_it_safer(
    days: list[tuple[float | None, float | None]],
) -> None:
    """Whatever is met stays met when every day is a degree warmer and an hour wetter."""
    wetter = [
        (None if t is None else t + 1, None if h is None else min(24, h + 1)) for t, h in days
    ]
    met = {day for first, last in spans_met(told(*days), HUTTON) for day in (first, last)}
    again = spans_met(told(*wetter), HUTTON)
    assert all(any(first <= day <= last for first, last in again) for day in met)
    assert len(spans_met(told(*days), SMITH)) <= len(met)
