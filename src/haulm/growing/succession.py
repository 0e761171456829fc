"""Succession: sowing days found backwards from the days a kind is wanted, so that picking is even.

Warmth decides how far apart sowings have to lie: days that are even in harvest are far apart in a
cold spring, where all wait for the same warmth, and close up towards summer.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import groupby, pairwise

import numpy as np
from numpy.typing import NDArray

from haulm.catalogue.records import Kind, Method, Picking
from haulm.growing.days import NEVER, Days, day_in_share_of_runs
from haulm.growing.records import ReadyDates, Window
from haulm.growing.rules import growing_rules
from haulm.growing.timing import (
    EARLY,
    LATE,
    MIDDLE,
    course,
    main_giving,
    module_weeks,
    ready_spread,
    span_weeks,
)
from haulm.growing.weather import GrowingWeather
from haulm.growing.windows import windows, within
from haulm.measure.weeks import DAYS_A_WEEK, Horizon

NEAR_ENOUGH = 0.25
"""A sowing serves a wanted day if it is ready within this share of an interval of it [1]."""

ON_TIME_DAYS = 1
"""Harvests whose distance is off by no more are told as even [d]."""


@dataclass(frozen=True, slots=True)
class SuccessionWish:
    """When a kind is wanted ready: from a day to a day, so many days apart, sown from when on."""

    first_day: date
    last_day: date
    interval_days: int
    not_before: date

    @property
    def wanted_days(self) -> tuple[date, ...]:
        """The days on which one sowing after another is wanted ready."""
        count = (self.last_day - self.first_day).days // self.interval_days + 1
        return tuple(self.first_day + timedelta(self.interval_days * n) for n in range(count))


@dataclass(frozen=True, slots=True)
class SuccessionSowing:
    """One sowing of a succession.

    Attributes
    ----------
    wanted_on
        The day it is wanted ready.
    sow_on, set_on
        The day it is sown, in the tray for modules, and set out; the same when started in place.
    ready
        When it is ready: 1, 5 and 9 years in 10.
    picked_until
        The day its picking ends in the middle of years, by its span, frost or bolting.
    """

    wanted_on: date
    sow_on: date
    set_on: date
    ready: ReadyDates
    picked_until: date


@dataclass(frozen=True, slots=True)
class Between:
    """How two sowings that follow each other meet, over all runs of weather.

    Attributes
    ----------
    low_days, middle_days, high_days
        Days from the one being ready to the next, 1, 5 and 9 years in 10 [d].
    bare
        Share of years in which the picking of the one ends before the next is ready [1].
    bare_days
        Days with nothing to pick, as many or more in 1 year of 10 [d].
    overlap_days
        Days on which both can be picked, in the middle of years [d].
    """

    low_days: int
    middle_days: int
    high_days: int
    bare: float
    bare_days: int
    overlap_days: int


@dataclass(frozen=True, slots=True)
class NoneReady:
    """Wanted days, from the first to the last, about which no sowing can be ready, and why."""

    first_day: date
    last_day: date
    why: str


@dataclass(frozen=True, slots=True)
class Succession:
    """A succession of sowings of one kind, by one method, in the open or under cover.

    Attributes
    ----------
    kind, method, under_cover, wish
        What was asked.
    sowings
        In order.
    between
        How each sowing but the last meets the one after it.
    none_ready
        Wanted days that no sowing serves.
    """

    kind: str
    method: str
    under_cover: bool
    wish: SuccessionWish
    sowings: tuple[SuccessionSowing, ...]
    between: tuple[Between, ...]
    none_ready: tuple[NoneReady, ...]

    @property
    def spaced(self) -> tuple[tuple[int, date], ...]:
        """Days between sowings that are ready one interval apart, with the day of the later."""
        step = timedelta(self.wish.interval_days)
        return tuple(
            ((later.sow_on - one.sow_on).days, later.sow_on)
            for one, later in pairwise(self.sowings)
            if abs(later.ready.middle - one.ready.middle - step) <= timedelta(ON_TIME_DAYS)
        )


@dataclass(frozen=True, slots=True, eq=False)
class _Tried:
    """Every day a kind might be sown: its column, whether it may be, and what comes of it."""

    sown: Days
    allowed: NDArray[np.bool_]
    ready: Days
    ends: Days
    middle: Days


def succession(
    kind: Kind,
    method: Method,
    wish: SuccessionWish,
    weather: GrowingWeather,
    horizon: Horizon,
    *,
    under_cover: bool,
) -> Succession:
    """Find the sowing days from which a kind comes ready at even intervals.

    For each wanted day, of all days on which the kind may be started here, the one is taken that is
    ready nearest to it in the middle of years; of equals, the latest. A wanted day has no sowing
    where the nearest is off by more than a quarter of an interval.

    Parameters
    ----------
    kind, method, under_cover
        What is sown, how and where; neither what stays for years nor a green manure.
    wish
        When it is wanted.
    weather, horizon
        Many runs of weather, and the weeks within which windows are sought; the wanted days lie
        in them.
    """
    tried = _tried(kind, method, wish, weather, horizon, under_cover=under_cover)
    found = _windows_from(kind, method, wish, weather, horizon, under_cover=under_cover)
    chosen: list[tuple[date, int]] = []
    missing: list[tuple[date, str]] = []
    for wanted in wish.wanted_days:
        place = _nearest(tried, weather.column_of(wanted), wish.interval_days * NEAR_ENOUGH)
        if place is not None and (not chosen or place > chosen[-1][1]):
            chosen.append((wanted, place))
        else:
            missing.append((wanted, _why_none(tried, weather.column_of(wanted), found, weather)))
    weeks = timedelta(weeks=module_weeks(method))
    return Succession(
        kind=kind.id,
        method=method.id,
        under_cover=under_cover,
        wish=wish,
        sowings=tuple(_sowing(tried, place, wanted, weeks, weather) for wanted, place in chosen),
        between=tuple(_between(tried, one, after) for (_, one), (_, after) in pairwise(chosen)),
        none_ready=_stretches(missing),
    )


def usual_interval_days(kind: Kind) -> int:
    """Give the days between harvests where nobody says: as long as a picking lasts, in bounds.

    Two to three weeks, which is common practice.
    """
    rules = growing_rules()
    least, most = rules.sowing_spacing_least_weeks.value, rules.succession_most_weeks.value
    return round(DAYS_A_WEEK * float(np.clip(span_weeks(main_giving(kind)), least, most)))


def _tried(
    kind: Kind,
    method: Method,
    wish: SuccessionWish,
    weather: GrowingWeather,
    horizon: Horizon,
    *,
    under_cover: bool,
) -> _Tried:
    first = max(0, weather.column_of(wish.not_before))
    sown = np.arange(first, max(first, weather.column_of(wish.last_day)) + 1, dtype=np.int64)
    begins = sown + DAYS_A_WEEK * module_weeks(method)
    fared = course(kind, method, begins, weather, under_cover=under_cover)
    giving = main_giving(kind)
    ready = fared.phase_ends[giving.after]
    ends = ready + DAYS_A_WEEK * span_weeks(giving)
    if giving.picking is not Picking.ONCE:
        ends = np.minimum(ends, np.maximum(ready, np.minimum(fared.frost, fared.bolts)))
    found = _windows_from(kind, method, wish, weather, horizon, under_cover=under_cover)
    allowed = within(found, sown, weather)
    return _Tried(sown, allowed, ready, ends, day_in_share_of_runs(ready, MIDDLE))


def _windows_from(
    kind: Kind,
    method: Method,
    wish: SuccessionWish,
    weather: GrowingWeather,
    horizon: Horizon,
    *,
    under_cover: bool,
) -> tuple[Window, ...]:
    every = windows(kind, method, under_cover, weather, horizon)
    return tuple(window for window in every if window.last_day >= wish.not_before)


def _nearest(tried: _Tried, wanted: int, slack_days: float) -> int | None:
    """Find the place of the day that is ready nearest to a wanted day; of equals, the latest."""
    off = np.where(tried.allowed, np.abs(tried.middle - wanted), NEVER)
    if not off.size or off.min() > slack_days:
        return None
    return int(np.flatnonzero(off == off.min())[-1])


def _why_none(tried: _Tried, wanted: int, found: Sequence[Window], weather: GrowingWeather) -> str:
    """Say why no sowing is ready about a wanted day: by the day that would be, were it allowed."""
    in_time = np.flatnonzero(tried.middle <= wanted)
    if not in_time.size:
        return "what is sown from now on is not ready so soon"
    day = weather.day_of(int(tried.sown[in_time[-1]]))
    if not found:
        return "no week of the year will do for sowing it here"
    before = [window for window in found if window.last_day <= day]
    after = [window for window in found if window.first_day > day]
    if before and not (after and (after[0].first_day - day) < (day - before[-1].last_day)):
        return f"sown after {_day(before[-1].last_day)}: {_bare(before[-1].last_rule)}"
    if after:
        return f"sown before {_day(after[0].first_day)}: not until {_bare(after[0].first_rule)}"
    return "sowings in its season are ready before or after"


def _bare(rule: str) -> str:
    return rule.removeprefix("later, ")


def _day(day: date) -> str:
    return f"{day.day} {day:%b %Y}"


def _sowing(
    tried: _Tried, place: int, wanted: date, in_trays: timedelta, weather: GrowingWeather
) -> SuccessionSowing:
    sow_on = weather.day_of(int(tried.sown[place]))
    until = day_in_share_of_runs(tried.ends[:, [place]], MIDDLE)
    return SuccessionSowing(
        wanted_on=wanted,
        sow_on=sow_on,
        set_on=sow_on + in_trays,
        ready=ready_spread(tried.ready[:, place], weather),
        picked_until=weather.day_of(int(until[0])),
    )


def _between(tried: _Tried, one: int, after: int) -> Between:
    """Tell how two sowings meet, in the runs in which both come ready."""
    both = (tried.ready[:, one] < NEVER) & (tried.ready[:, after] < NEVER)
    first, then = tried.ready[both, one], tried.ready[both, after]
    ends = tried.ends[both, one]
    low, middle, high = (_quantile(then - first, share) for share in (EARLY, MIDDLE, LATE))
    return Between(
        low_days=low,
        middle_days=middle,
        high_days=high,
        bare=float(np.mean(ends < then)),
        bare_days=_quantile(np.maximum(0, then - ends), LATE),
        overlap_days=_quantile(np.maximum(0, ends - then), MIDDLE),
    )


def _quantile(days: Days, share: float) -> int:
    return int(day_in_share_of_runs(days[:, None], share)[0])


def _stretches(missing: Sequence[tuple[date, str]]) -> tuple[NoneReady, ...]:
    """Gather wanted days without a sowing that have one reason."""
    stretches = []
    for why, days in groupby(missing, key=lambda one: one[1]):
        wanted = [day for day, _ in days]
        stretches.append(NoneReady(wanted[0], wanted[-1], why))
    return tuple(stretches)
