"""Windows: the weeks in which a kind may be started at a site, and the rule that set each end."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from math import ceil

import numpy as np
from numpy.typing import NDArray

from haulm.catalogue.records import Hardy, Kind, Method, Picking
from haulm.growing.days import Days
from haulm.growing.records import Window
from haulm.growing.rules import GrowingRules, growing_rules
from haulm.growing.timing import (
    Course,
    course,
    main_giving,
    module_weeks,
    span_weeks,
    worth_after,
)
from haulm.growing.weather import GrowingWeather
from haulm.measure.weeks import DAYS_A_WEEK, WEEKS_A_YEAR, Horizon

Passes = NDArray[np.bool_]
"""Whether each Monday passes, shape (mondays,)."""

WEEKS_LOOKED_BACK = 60
"""Windows are sought so long before the horizon, for what stands already [weeks]."""

ROUNDING = 1e-9

BULB_METHODS = frozenset({"sets", "cloves"})
"""Methods that set living bulbs, which may lie all winter before they come up."""

OPENS_WITH_WEEKS = "the weeks looked at begin here"
CLOSES_WITH_WEEKS = "the horizon ends"


@dataclass(frozen=True, slots=True, eq=False)
class StartRule:
    """One rule on starting: which Mondays pass it, and how an end that it sets is told."""

    passes: Passes
    opens: str
    closes: str


@dataclass(frozen=True, slots=True, eq=False)
class Starts:
    """The Mondays looked at for starting a kind by a method, and how each would fare.

    Attributes
    ----------
    kind, method, under_cover, weather
        What is started, how and where.
    weeks
        Weeks of the horizon of each Monday on which it is sown or set, shape (mondays,).
    sown
        Its day columns, shape (mondays,).
    fared
        The course from the day it is in its ground.
    """

    kind: Kind
    method: Method
    under_cover: bool
    weather: GrowingWeather
    weeks: NDArray[np.int64]
    sown: Days
    fared: Course


def starts(
    kind: Kind, method: Method, *, under_cover: bool, weather: GrowingWeather, horizon: Horizon
) -> Starts:
    """Follow a start on every Monday of a horizon and of the 60 weeks before it."""
    weeks = np.arange(-WEEKS_LOOKED_BACK, horizon.weeks)
    sown = weather.column_of(horizon.first_day) + DAYS_A_WEEK * weeks
    on_hand = (sown >= 0) & (sown < weather.seasons.days)
    weeks, sown = weeks[on_hand], sown[on_hand]
    begins = sown + DAYS_A_WEEK * module_weeks(method)
    fared = course(kind, method, begins, weather, under_cover=under_cover)
    return Starts(kind, method, under_cover, weather, weeks, sown, fared)


def windows(
    kind: Kind,
    method: Method,
    under_cover: bool,  # noqa: FBT001 - the caller gives the facts in this order
    weather: GrowingWeather,
    horizon: Horizon,
) -> tuple[Window, ...]:
    """Find every run of weeks in which a kind may be started.

    Parameters
    ----------
    kind, method, under_cover
        What is started and how.
    weather
        Many runs of weather, from before the horizon to as far past its end as is waited for.
    horizon
        The weeks planned; the 60 weeks before it are looked at as well.

    Returns
    -------
    tuple of Window
        In order of time; empty where no week of the year will do.

    Notes
    -----
    A Monday passes if the light, the soil, the frosts, the wait and the time left for picking all
    allow it, in as large a share of years as ``data/rules.toml`` asks. An end is told by the first
    rule, in that order, which the week just outside fails. Planting what stays for years hangs on
    the light and the soil alone.
    """
    return windows_among(
        starts(kind, method, under_cover=under_cover, weather=weather, horizon=horizon), horizon
    )


def windows_among(looked_at: Starts, horizon: Horizon) -> tuple[Window, ...]:
    """Find the windows among starts already followed."""
    rules = list(_start_rules(looked_at))
    passes = np.logical_and.reduce([rule.passes for rule in rules])
    return tuple(
        Window(
            kind=looked_at.kind.id,
            method=looked_at.method.id,
            under_cover=looked_at.under_cover,
            first_day=horizon.monday(int(looked_at.weeks[first])),
            last_day=horizon.monday(int(looked_at.weeks[last])),
            first_rule=_told(rules, first - 1, opens=True),
            last_rule=_told(rules, last + 1, opens=False),
        )
        for first, last in _stretches(passes)
    )


def within(found: Iterable[Window], columns: Days, weather: GrowingWeather) -> Passes:
    """Say of each day column whether it lies within one of some windows."""
    inside = np.zeros(columns.shape, dtype=np.bool_)
    for window in found:
        opens, closes = (weather.column_of(day) for day in (window.first_day, window.last_day))
        inside |= (columns >= opens) & (columns <= closes)
    return inside


def why_no_window(
    kind: Kind,
    method: Method,
    under_cover: bool,  # noqa: FBT001 - the caller gives the facts in this order
    weather: GrowingWeather,
    horizon: Horizon,
) -> str:
    """Tell what stands in the way where a kind has no window; empty where it has one.

    Of the horizon's weeks those are nearest that fail the fewest rules. Where two such weeks fail
    different rules, the two closest together are told: they leave no room between them.
    """
    looked_at = starts(kind, method, under_cover=under_cover, weather=weather, horizon=horizon)
    rules = list(_start_rules(looked_at))
    fails = np.array([~rule.passes for rule in rules])
    failed = np.where(looked_at.weeks < 0, len(rules) + 1, fails.sum(axis=0))
    if not failed.size or not failed.min():
        return ""
    nearest = np.flatnonzero(failed == failed.min())
    differ = (fails[:, nearest[:-1]] != fails[:, nearest[1:]]).any(axis=0)
    chosen = nearest[:1]
    if differ.any():
        closest = int(np.argmin(np.where(differ, np.diff(nearest), horizon.weeks)))
        chosen = nearest[closest : closest + 2]
    return "; but ".join(
        f"in the week of {_day(horizon.monday(int(looked_at.weeks[place])))}"
        f" {_reasons(rules, fails[:, place])}"
        for place in chosen
    )


def _reasons(rules: Sequence[StartRule], fails: Passes) -> str:
    failed = (rule.closes for rule, fail in zip(rules, fails, strict=True) if fail)
    return " and ".join(reason.removeprefix("later, ") for reason in failed)


def _day(day: date) -> str:
    return f"{day.day} {day:%b}"


def _stretches(passes: Passes) -> list[tuple[int, int]]:
    """Give the first and last place of every unbroken stretch that passes."""
    steps = np.diff(np.concatenate([[0], passes.astype(np.int64), [0]]))
    firsts, ends = np.flatnonzero(steps == 1), np.flatnonzero(steps == -1)
    return [(int(first), int(end) - 1) for first, end in zip(firsts, ends, strict=True)]


def _told(rules: Sequence[StartRule], outside: int, *, opens: bool) -> str:
    """Tell why the week just outside a window will not do."""
    if not 0 <= outside < rules[0].passes.size:
        return OPENS_WITH_WEEKS if opens else CLOSES_WITH_WEEKS
    failed = next(rule for rule in rules if not rule.passes[outside])
    return failed.opens if opens else failed.closes


def _start_rules(looked_at: Starts) -> Iterator[StartRule]:
    rules = growing_rules()
    yield from _light_rules(looked_at)
    yield from _soil_rules(looked_at, rules)
    if looked_at.kind.perennial is not None:
        return
    yield _coming_up_rule(looked_at, rules)
    yield from _frost_rules(looked_at, rules)
    yield _ready_rule(looked_at, rules)
    yield from _time_left_rules(looked_at, rules)


def _light_rules(looked_at: Starts) -> Iterator[StartRule]:
    season, weather = looked_at.kind.season, looked_at.weather
    hours = weather.day_length_h[looked_at.sown]
    lengthening = weather.lengthening[looked_at.sown]
    midwinter, midsummer = ("21 Jun", "21 Dec") if weather.place.southern else ("21 Dec", "21 Jun")
    if season.earliest_day_length_h is not None:
        least = season.earliest_day_length_h.value
        yield StartRule(
            hours >= least,
            f"days have reached {_figure(least)} h",
            f"later, days are shorter than {_figure(least)} h",
        )
    if season.latest_day_length_h is not None:
        most = season.latest_day_length_h.value
        yield StartRule(
            hours <= most,
            f"days are no longer than {_figure(most)} h",
            f"later, days are longer than {_figure(most)} h",
        )
    if season.lengthening is True:
        yield StartRule(
            lengthening,
            f"days lengthen after {midwinter}",
            f"days no longer lengthen after {midsummer}",
        )
    elif season.lengthening is False:
        yield StartRule(
            ~lengthening,
            f"days shorten after {midsummer}",
            f"days no longer shorten after {midwinter}",
        )


def _soil_rules(looked_at: Starts, rules: GrowingRules) -> Iterator[StartRule]:
    kind, share = looked_at.kind, rules.certainty_warmth.value
    if kind.season.soil_at_most_c is not None:
        share = rules.certainty_cooled.value
    soil = looked_at.weather.around(under_cover=looked_at.under_cover).soil_c
    soil_then = soil[:, np.minimum(looked_at.fared.begins, soil.shape[1] - 1)]
    least, when = kind.warmth.germination_min_c.value, "by then"
    if looked_at.method.module_weeks is not None:
        least = max(
            kind.warmth.base_c.value + rules.setting_out_over_base_c.value,
            least - rules.setting_out_under_germination_c.value,
        )
        when = "when it is set out"
    yield StartRule(
        _sure(soil_then >= least, share),
        f"soil at 5 cm reaches {_figure(least)} °C {when}, {_years(share)}",
        f"later, soil at 5 cm falls short of {_figure(least)} °C {_oftener(share)}",
    )
    if kind.season.soil_at_most_c is not None:
        most = kind.season.soil_at_most_c.value
        yield StartRule(
            _sure(soil_then <= most, share),
            f"soil at 5 cm has cooled to {_figure(most)} °C, {_years(share)}",
            f"later, soil at 5 cm is over {_figure(most)} °C {_oftener(share)}",
        )


def _coming_up_rule(looked_at: Starts, rules: GrowingRules) -> StartRule:
    """Keep seed and tubers out of ground where they would lie till spring; bulbs may lie."""
    weeks, share = round(rules.longest_up_weeks.value), rules.certainty_warmth.value
    fared = looked_at.fared
    lies = looked_at.method.id in BULB_METHODS
    return StartRule(
        _sure(lies | (fared.up - fared.begins <= DAYS_A_WEEK * weeks), share),
        f"it comes up within {weeks} weeks, {_years(share)}",
        f"later, it does not come up within {weeks} weeks {_oftener(share)}",
    )


def _frost_rules(looked_at: Starts, rules: GrowingRules) -> Iterator[StartRule]:
    killing = looked_at.kind.warmth.killing_frost_c
    if isinstance(killing, Hardy):
        return
    fared, share = looked_at.fared, rules.certainty_frost.value
    ready = fared.phase_ends[worth_after(looked_at.kind)]
    young_until = np.minimum(fared.up + DAYS_A_WEEK * round(rules.young_weeks.value), ready)
    frost = f"killing frost ({_figure(killing.value)} °C)"
    where = " under cover" if looked_at.under_cover else ""
    yield StartRule(
        _sure(fared.frost >= young_until, share),
        f"the last {frost}{where} is past when it stands above ground, {_years(share)}",
        f"later, a {frost}{where} comes while it is young {_oftener(share)}",
    )


def _ready_rule(looked_at: Starts, rules: GrowingRules) -> StartRule:
    weeks, share = round(rules.longest_weeks.value), rules.certainty_ready.value
    ready = looked_at.fared.phase_ends[worth_after(looked_at.kind)]
    return StartRule(
        _sure(ready - looked_at.sown <= DAYS_A_WEEK * weeks, share),
        f"it is ready within {weeks} weeks, {_years(share)}",
        f"later, it is not ready within {weeks} weeks {_oftener(share)}",
    )


def _time_left_rules(looked_at: Starts, rules: GrowingRules) -> Iterator[StartRule]:
    fared, share = looked_at.fared, rules.certainty_ready.value
    weeks = _weeks_needed(looked_at.kind, rules)
    needed = fared.phase_ends[worth_after(looked_at.kind)] + DAYS_A_WEEK * weeks
    picking = "a week of picking" if weeks == 1 else f"{weeks} weeks of picking"
    if looked_at.kind.green_manure is not None:
        picking = "growth enough to dig in"
    if looked_at.kind.season.bolt_day_length_h is not None:
        yield StartRule(
            _sure(fared.bolts >= needed, share),
            f"it gives {picking} before it runs to seed, {_years(share)}",
            f"later, it runs to seed before {picking} {_oftener(share)}",
        )
    killing = looked_at.kind.warmth.killing_frost_c
    if not isinstance(killing, Hardy):
        frost = f"a killing frost ({_figure(killing.value)} °C)"
        yield StartRule(
            _sure(np.minimum(fared.frost, fared.bolts) >= needed, share),
            f"it gives {picking} before {frost}, {_years(share)}",
            f"later, {frost} comes before {picking} {_oftener(share)}",
        )


def _weeks_needed(kind: Kind, rules: GrowingRules) -> int:
    """Count the weeks that must be left once a kind is ready; digging in asks for none."""
    if kind.green_manure is not None:
        return 0
    giving = main_giving(kind)
    if giving.picking is Picking.SPREAD:
        return ceil(rules.least_spread_share.value * span_weeks(giving))
    return 1


def _sure(holds: NDArray[np.bool_], share: float) -> Passes:
    """Say for each Monday whether something holds in a share of years, shape (runs, mondays).

    A few dozen runs tell the odds of one week poorly. Since the weather's odds are the same in
    every year, those of a week are taken over all years looked at, and over the weeks on either
    side at half weight: so that windows are the same each year and not torn by chance.
    """
    slots = np.arange(holds.shape[1]) % WEEKS_A_YEAR
    held, counted = np.zeros(WEEKS_A_YEAR), np.zeros(WEEKS_A_YEAR)
    np.add.at(held, slots, holds.mean(axis=0))
    np.add.at(counted, slots, 1.0)
    odds = _with_neighbours(held)[slots] / _with_neighbours(counted)[slots]
    sure: Passes = odds >= share - ROUNDING
    return sure


def _with_neighbours(by_week: NDArray[np.float64]) -> NDArray[np.float64]:
    return by_week + (np.roll(by_week, 1) + np.roll(by_week, -1)) / 2


def _years(share: float) -> str:
    count = round(10 * share)
    return f"{count} year{'s' if count != 1 else ''} in 10"


def _oftener(share: float) -> str:
    return f"more often than {_years(1 - share)}"


def _figure(value: float) -> str:
    return f"{value:g}".replace("-", "−")
