"""What weather jobs want, and jobs laid out on days: what needs a dry day gets one."""

from datetime import date, timedelta

import pytest

from haulm.season.job_weather import (
    DayOfWork,
    ToLay,
    Weather,
    is_wet,
    lay_out_days,
    wants_of,
    weather_wants,
)
from haulm.sheets.acts import JobKind

MONDAY = date(2027, 7, 19)


TOLD = {"wet": True, "dry": False, "?": None}


def days(words: str, minutes: float = 60.0) -> list[DayOfWork]:
    """Give days from Monday on, wet, dry or not known, each knowing the one before."""
    wet = [TOLD[word] for word in words.split()]
    before = [None, *wet]
    return [
        DayOfWork(MONDAY + timedelta(days=number), minutes, is_wet, before[number])
        for number, is_wet in enumerate(wet)
    ]


def job(name: str, minutes: float, wants: Weather, last: int = 6) -> ToLay:
    """Make a job that may be done from Monday on."""
    return ToLay(name, minutes, wants, MONDAY, MONDAY + timedelta(days=last))


def test_every_job_of_a_week_has_its_weather() -> None:
    """There is no job of which it is not said what weather it wants, and why."""
    for kind in JobKind:
        assert wants_of(kind.value).note
    assert all(one.note for one in weather_wants().values())


def test_bulbs_want_a_dry_day_and_trays_any() -> None:
    """Onions, garlic and potatoes are lifted dry; trays are sown indoors; under cover rain is no
    matter (common practice).
    """
    assert wants_of("lift", "onion").wants is Weather.DRY
    assert wants_of("lift", "green garlic", "garlic").wants is Weather.ANY
    assert wants_of("lift", "leek").wants is Weather.ANY
    assert wants_of("sow in trays").wants is Weather.INDOORS
    assert wants_of("set out").wants is Weather.DAMP
    assert wants_of("tend", under_cover=True).wants is Weather.INDOORS


@pytest.mark.parametrize(
    ("mm", "odds", "wet"),
    [
        (0.0, 0.9, False),
        (5.0, None, True),
        (None, 0.8, True),
        (None, 0.1, False),
        (None, None, None),
    ],
)
def test_a_day_is_wet_by_its_rain_else_by_its_odds(
    mm: float | None, odds: float | None, *, wet: bool | None
) -> None:
    """What rain is told counts; its odds only where no amount is told; else nothing is known."""
    assert is_wet(mm, odds) is wet


def test_dry_jobs_go_on_dry_days_and_indoor_jobs_on_wet_ones() -> None:
    """In a wet week with one dry day the onions have that day, and the trays a wet one."""
    laid = lay_out_days(
        [job("trays", 30, Weather.INDOORS), job("onions", 50, Weather.DRY)],
        days("wet dry wet"),
    )
    assert list(laid.on["onions"]) == [(MONDAY + timedelta(days=1), 50)]
    assert list(laid.on["trays"]) == [(MONDAY, 30)]


def test_a_week_without_a_dry_day_says_so() -> None:
    """Where it rains every day, what wants a dry one has none, and is not put on a wet one."""
    laid = lay_out_days([job("hoe", 30, Weather.DRY)], days("wet wet"))
    assert laid.no_day == ("hoe",)
    assert laid.on == {}


def test_young_plants_go_out_after_rain() -> None:
    """Setting out goes on the wet day, or on the day after it; else on any."""
    told = days("dry dry wet")
    laid = lay_out_days([job("set out", 30, Weather.DAMP)], told)
    assert list(laid.on["set out"]) == [(MONDAY + timedelta(days=2), 30)]
    dry = lay_out_days([job("set out", 30, Weather.DAMP)], days("dry dry"))
    assert list(dry.on["set out"]) == [(MONDAY, 30)]


def test_the_pressing_job_has_the_better_day() -> None:
    """Of two that want the one dry day, the first in order has it; the other is told to wait."""
    laid = lay_out_days(
        [job("onions", 50, Weather.DRY), job("hoe", 50, Weather.DRY)], days("wet dry wet")
    )
    assert "onions" in laid.on
    assert laid.no_day == ("hoe",)


def test_a_long_job_is_shared_out_over_days() -> None:
    """What takes longer than any day has goes on over the next that suits, to the last minute."""
    laid = lay_out_days([job("hoe", 100, Weather.DRY)], days("dry wet dry"))
    assert list(laid.on["hoe"]) == [(MONDAY, 60), (MONDAY + timedelta(days=2), 40)]


def test_a_day_nothing_is_told_of_comes_after_those_that_are_told() -> None:
    """A job that wants a dry day goes on one known to be dry before one nobody knows of."""
    laid = lay_out_days([job("hoe", 30, Weather.DRY)], days("? dry"))
    assert list(laid.on["hoe"]) == [(MONDAY + timedelta(days=1), 30)]


def test_no_job_goes_on_a_day_after_its_last() -> None:
    """A job whose last day is Monday is not laid on Tuesday, though Tuesday is dry."""
    laid = lay_out_days([job("onions", 30, Weather.DRY, last=0)], days("wet dry"))
    assert laid.no_day == ("onions",)
