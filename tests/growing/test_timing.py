"""Timing."""

from datetime import date

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from growing.kinds_by_hand import (
    BEAN,
    DAYS,
    HORIZON,
    KINDS,
    degree_days,
    figure,
    giving,
    kind,
    method,
    place,
    warmth,
    wave_weather,
    yearly_wave,
)
from haulm.catalogue.records import Kind, Phase, PhaseRule, Picking, SowingSeason
from haulm.growing.days import NEVER
from haulm.growing.timing import course, head_start, ready_dates
from haulm.growing.weather import GrowingWeather, growing_weather
from haulm.site.records import Seasons


def steady(mean_c: float, latitude_deg: float = 47.0) -> GrowingWeather:
    """Make weather without change: every day's minimum and maximum 2 °C off the mean."""
    first = yearly_wave(9, 9, runs=1).first_day
    mean = np.full((2, DAYS), mean_c)
    seasons = Seasons("steady", first, mean - 2, mean + 2, np.zeros((2, DAYS)))
    return growing_weather(seasons, place(latitude_deg))


def one_phase(phase: Phase, killing_frost_c: float | None = None) -> Kind:
    """Make a kind of a single phase."""
    return kind(
        "made/up",
        warmth(5, 5, killing_frost_c),
        (phase,),
        (giving("food", phase.id, Picking.ONCE, 1),),
    )


def ends_on(phase: Phase, begins_on: date, weather: GrowingWeather) -> date:
    """Give the day a single phase ends in the first run."""
    begins = np.array([weather.column_of(begins_on)])
    grown = one_phase(phase)
    fared = course(grown, grown.methods[0], begins, weather, under_cover=False)
    return weather.day_of(int(fared.phase_ends[phase.id][0, 0]))


def test_degree_days_by_hand() -> None:
    """At a steady 15 °C over a base of 5 °C, 200 °C d take 20 days."""
    ended = ends_on(degree_days("ready", 200), date(2026, 5, 1), steady(15))
    assert ended == date(2026, 5, 21)


def test_days_are_days() -> None:
    """A phase of 30 days from 1 May ends on the 31st."""
    ended = ends_on(Phase("ready", PhaseRule.DAYS, figure(30)), date(2026, 5, 1), steady(15))
    assert ended == date(2026, 5, 31)


@pytest.mark.parametrize(("mean_c", "days"), [(-1, 0), (0, 40), (10, 40), (11, 0)])
def test_chill_counts_days_from_0_to_10_degrees(mean_c: float, days: int) -> None:
    """Cold that satisfies is from 0 to 10 °C; a colder or warmer day adds nothing."""
    weather = steady(mean_c)
    ended = ends_on(Phase("ready", PhaseRule.CHILL_DAYS, figure(40)), date(2026, 1, 1), weather)
    assert (ended == date(2026, 2, 10)) is (days == 40)


def test_a_day_length_phase_waits_for_lengthening_days() -> None:
    """What needs 14 h and begins in August waits for next spring, long as August's days are."""
    weather = steady(15)
    phase = Phase("ready", PhaseRule.DAY_LENGTH, figure(14, "h"))
    ended = ends_on(phase, date(2026, 8, 1), weather)
    assert date(2027, 4, 15) < ended < date(2027, 5, 10)
    column = weather.column_of(ended)
    assert weather.day_length_h[column] >= 14 > weather.day_length_h[column - 1]


def test_near_the_equator_a_long_day_never_comes() -> None:
    """At 5° of latitude days never reach 14 h, so what needs them is never ready."""
    grown = one_phase(Phase("ready", PhaseRule.DAY_LENGTH, figure(14, "h")))
    fared = course(grown, method(), np.array([300]), steady(25, 5.0), under_cover=False)
    assert (fared.phase_ends["ready"] == NEVER).all()


def test_raising_in_modules_brings_a_head_start() -> None:
    """Three weeks in trays at 17 °C over a base of 8 °C bring 3 × 7 × 9 = 189 °C d."""
    assert head_start(BEAN, method("modules", 3)) == pytest.approx(189)
    assert head_start(BEAN, method()) == 0


def test_a_head_start_runs_on_into_the_next_phase() -> None:
    """189 °C d brought along cover the 70 of coming up and 119 of the 350 after."""
    weather = steady(17)
    begins = np.array([400])
    set_out = course(BEAN, BEAN.methods[1], begins, weather, under_cover=False)
    assert (set_out.phase_ends["up"] == 400).all()
    assert (set_out.phase_ends["picking"] == 400 + 26).all(), "231 °C d at 9 a day"


def test_a_head_start_stands_in_for_no_winter() -> None:
    """What must first live through 40 cold days has no use for warmth in the tray."""
    waits = kind(
        "made/up",
        warmth(5, 5, None),
        (Phase("cold", PhaseRule.CHILL_DAYS, figure(40)), degree_days("ready", 100)),
        (giving("food", "ready", Picking.ONCE, 1),),
    )
    begins, weather = np.array([400]), steady(9)
    fared = course(waits, method("modules", 6), begins, weather, under_cover=False)
    assert (fared.phase_ends["ready"] == 400 + 40 + 25).all()


def test_tubers_come_up_later_than_seed() -> None:
    """At 10 °C d a day seed stands above ground after 8 days, tubers after 16, plants at once."""
    grown = one_phase(degree_days("ready", 500))
    begins, weather = np.array([400]), steady(15)
    up = {
        way.id: int(course(grown, way, begins, weather, under_cover=False).up[0, 0])
        for way in (method(), method("tubers"), method("modules", 4))
    }
    assert up == {"direct": 408, "tubers": 416, "modules": 400}


def test_bolting_needs_a_winter_in_the_ground() -> None:
    """What is sown in spring does not run to seed that summer, but in the spring after."""
    grown = kind(
        "made/up",
        warmth(5, 5, None),
        (degree_days("ready", 500),),
        (giving("food", "ready", Picking.STAND, 60),),
        season=SowingSeason(bolt_day_length_h=figure(14, "h")),
    )
    weather = steady(15)
    begins = np.array([weather.column_of(date(2026, 4, 1)), weather.column_of(date(2026, 9, 1))])
    bolts = course(grown, method(), begins, weather, under_cover=False).bolts
    assert {weather.day_of(int(day)).year for day in bolts.ravel()} == {2027}


@settings(max_examples=15, deadline=None)
@given(
    grown=st.sampled_from(KINDS),
    column=st.integers(0, DAYS - 400),
    warmer_c=st.floats(0, 6),
)
def test_a_warmer_run_is_never_later(grown: Kind, column: int, warmer_c: float) -> None:
    """With every day warmer by as much, nothing that grows by warmth is ready later."""
    begins = np.array([column])
    seasons = yearly_wave(9, 9, runs=3)
    raised = Seasons(
        seasons.origin,
        seasons.first_day,
        seasons.tmin_c + warmer_c,
        seasons.tmax_c + warmer_c,
        seasons.rain_mm,
    )
    cool, warm = (
        course(
            grown, grown.methods[0], begins, growing_weather(runs, place()), under_cover=False
        ).phase_ends
        for runs in (seasons, raised)
    )
    for phase, ends in cool.items():
        assert (warm[phase] <= ends).all()


@settings(max_examples=15, deadline=None)
@given(grown=st.sampled_from(KINDS), week=st.integers(-40, 80))
def test_ready_dates_are_in_order(grown: Kind, week: int) -> None:
    """The early date is not after the middle one, nor the middle one after the late one."""
    weather = wave_weather()
    for spread in ready_dates(
        grown, grown.methods[0], HORIZON.monday(week), weather, under_cover=False
    ).values():
        assert spread.early <= spread.middle <= spread.late


def test_what_is_not_ready_in_half_the_years_is_not_shown() -> None:
    """A bean where the air never rises over its base has no ready date."""
    weather = steady(5)
    assert ready_dates(BEAN, method(), HORIZON.first_day, weather, under_cover=False) == {}
