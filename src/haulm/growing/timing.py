"""Timing: a kind's phases run through every run of weather, so that each date is a spread."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

import numpy as np

from haulm.catalogue.emergence import emergence_of
from haulm.catalogue.records import (
    Figure,
    Giving,
    Hardy,
    Kind,
    Method,
    Phase,
    PhaseRule,
    Picking,
    Role,
)
from haulm.growing.days import (
    NEVER,
    Days,
    day_in_share_of_runs,
    first_reaching,
    look_up,
)
from haulm.growing.emergence import WHOLE
from haulm.growing.records import ReadyDates
from haulm.growing.rules import growing_rules
from haulm.growing.weather import GrowingWeather
from haulm.measure.weeks import DAYS_A_WEEK

EARLY, MIDDLE, LATE = 0.1, 0.5, 0.9
"""The shares of years that ready dates are shown for."""

SEED = "seed"
"""The unit of what comes up by its table of emergence."""

TUBERS = "tubers"
"""The method that sets tubers."""


@dataclass(frozen=True, slots=True, eq=False)
class Course:
    """How plantings begun on several days fare, run by run.

    Attributes
    ----------
    begins
        The day each is in its ground, shape (starts,).
    up
        The day it stands above ground, shape (runs, starts): when set out, the day it begins;
        when started in place, as `up_from` has it.
    phase_ends
        By phase id, the day the phase ends, shape (runs, starts).
    frost
        The first killing frost once it is up (and after it is known to stand), (runs, starts).
    bolts
        The day it runs to seed, shape (runs, starts).
    """

    begins: Days
    up: Days
    phase_ends: Mapping[str, Days]
    frost: Days
    bolts: Days


def span_weeks(giving: Giving) -> int:
    """Count the weeks a food can be taken; at least the one in which it is ready."""
    if giving.picking is Picking.ONCE:
        return 1
    return max(1, round(giving.span_weeks.value))


def main_giving(kind: Kind) -> Giving:
    """Give what a kind is grown for."""
    return next(giving for giving in kind.givings if giving.role is Role.MAIN)


def worth_after(kind: Kind) -> str:
    """Give the phase at whose end a kind is worth its ground: food to lift, or growth to dig in."""
    return kind.green_manure.dig_in_after if kind.green_manure else main_giving(kind).after


def module_weeks(method: Method) -> int:
    """Count the whole weeks in trays; 0 for what is started in place."""
    return 0 if method.module_weeks is None else round(method.module_weeks.value)


def head_start(kind: Kind, method: Method) -> float:
    """Give the degree-days a plant brings along when set out [°C d].

    Days in the tray × (raising warmth − the kind's base), never under 0. They count against the
    degree-day phases that growth begins with, up to the first phase of another rule: no warmth in
    the tray stands in for a winter or a long day.
    """
    warmth = growing_rules().raising_warmth_c.value - kind.warmth.base_c.value
    return DAYS_A_WEEK * module_weeks(method) * max(0.0, warmth)


def course(
    kind: Kind,
    method: Method,
    begins: Days,
    weather: GrowingWeather,
    *,
    under_cover: bool,
    alive_on: int = 0,
) -> Course:
    """Follow plantings of a kind, begun on several days, through every run of weather.

    Parameters
    ----------
    kind, method
        What is grown and how it is started.
    begins
        Day columns on which each is in its ground (modules: set out), shape (starts,).
    weather
        The runs of weather.
    under_cover
        Whether it grows under a tunnel or glass.
    alive_on
        A day column on which it is known to stand: frosts before that have not ended it.
    """
    at: Days = np.broadcast_to(begins, (weather.seasons.runs, begins.size)).astype(np.int64)
    ends: dict[str, Days] = {}
    credit = head_start(kind, method)
    now = at
    for phase in kind.phases:
        if phase.rule is PhaseRule.DEGREE_DAYS:
            amount = max(0.0, phase.amount.value - credit)
            credit = max(0.0, credit - phase.amount.value)
            now = _after_degree_days(kind, now, amount, weather, under_cover=under_cover)
        else:
            now = _after(phase, now, weather, under_cover=under_cover)
            credit = 0.0
        ends[phase.id] = now
    if kind.later_days is not None:
        ends = {id_: _later(days, at, kind.later_days) for id_, days in ends.items()}
    up = at
    if method.module_weeks is None:
        up = up_from(kind, method, at, weather, under_cover=under_cover)
    return Course(
        begins=begins,
        up=up,
        phase_ends=ends,
        frost=_killing_frost(kind, np.maximum(up, alive_on), weather, under_cover=under_cover),
        bolts=_bolting(kind, at, weather),
    )


def _later(days: Days, begins: Days, later: Figure) -> Days:
    """Move days of a kind that is later here, or earlier, than reckoned; none before it began."""
    return np.where(days == NEVER, NEVER, np.maximum(days + round(later.value), begins + 1))


def up_from(
    kind: Kind, method: Method, begins: Days, weather: GrowingWeather, *, under_cover: bool
) -> Days:
    """Find the day on which what is started in place stands above ground, shape as ``begins``.

    Seed with a published table, its own or near kin's, by the soil's days; all else by degree-days
    above the kind's base.
    """
    table = emergence_of(kind.crop) if method.unit == SEED else None
    if table is None:
        return _after_degree_days(
            kind, begins, _coming_up(method), weather, under_cover=under_cover
        )
    least = kind.warmth.germination_min_c.value
    sums = weather.emergence_sums(table, least, under_cover=under_cover)
    return first_reaching(sums, begins, WHOLE)


def _coming_up(method: Method) -> float:
    rules = growing_rules()
    if method.id == TUBERS:
        return rules.coming_up_tubers_degree_days.value
    return rules.coming_up_degree_days.value


def _after_degree_days(
    kind: Kind, begins: Days, amount: float, weather: GrowingWeather, *, under_cover: bool
) -> Days:
    sums = weather.degree_day_sums(
        kind.warmth.base_c.value, kind.warmth.upper_c.value, under_cover=under_cover
    )
    return first_reaching(sums, begins, amount)


def _after(phase: Phase, begins: Days, weather: GrowingWeather, *, under_cover: bool) -> Days:
    amount = phase.amount.value
    if phase.rule is PhaseRule.DAY_LENGTH:
        return look_up(weather.next_long_day(amount), begins)
    if phase.rule is PhaseRule.CHILL_DAYS:
        return first_reaching(weather.chill_sums(under_cover=under_cover), begins, amount)
    ends = begins + round(amount)
    return np.where(ends > weather.seasons.days, NEVER, ends)


def _killing_frost(kind: Kind, up: Days, weather: GrowingWeather, *, under_cover: bool) -> Days:
    killing = kind.warmth.killing_frost_c
    if isinstance(killing, Hardy):
        return np.full_like(up, NEVER)
    return look_up(weather.next_frost(killing.value, under_cover=under_cover), up)


def _bolting(kind: Kind, begins: Days, weather: GrowingWeather) -> Days:
    """Find the day of bolting: long lengthening days after the first midwinter in the ground."""
    hours = kind.season.bolt_day_length_h
    if hours is None:
        return np.full_like(begins, NEVER)
    return look_up(weather.next_long_day(hours.value), look_up(weather.next_midwinter(), begins))


def ready_spread(ready: Days, weather: GrowingWeather) -> ReadyDates:
    """Spread the day a food is ready, shape (runs,), into dates 1, 5 and 9 years in 10.

    A date beyond the weather on hand is given as its last day.
    """
    early, middle, late = (
        weather.day_of(int(day_in_share_of_runs(ready[:, None], share)[0]))
        for share in (EARLY, MIDDLE, LATE)
    )
    return ReadyDates(early, middle, late)


def ready_dates(
    kind: Kind, method: Method, begins_on: date, weather: GrowingWeather, *, under_cover: bool
) -> dict[str, ReadyDates]:
    """Give when each food of a planting is ready, by food, for showing.

    ``begins_on`` is the day it is in its ground: sown or set in place, or set out from the tray.
    Foods that are not ready in half the runs are left out.
    """
    begins = np.array([weather.column_of(begins_on)], dtype=np.int64)
    fared = course(kind, method, begins, weather, under_cover=under_cover)
    spreads = {}
    for giving in kind.givings:
        ready = fared.phase_ends[giving.after]
        if day_in_share_of_runs(ready, MIDDLE)[0] != NEVER:
            spreads[giving.food] = ready_spread(ready[:, 0], weather)
    return spreads
