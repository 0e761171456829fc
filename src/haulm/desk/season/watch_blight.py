"""Late blight: whether the weather lets it in, by which rule, and what to do in which beds."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from haulm.desk.season.watch_asked import Asking, day_words
from haulm.forecast.blight import RAIN_DAYS, favourable_days
from haulm.forecast.rules import forecast_rules
from haulm.measure.sentences import listed
from haulm.season.blight_rules import (
    BlightBy,
    DaysRule,
    HumidDay,
    SeverityRule,
    SpellRule,
    blight_rules,
    can_be_said,
    effective_hours,
    humid_days,
    severities,
    spans_met,
)
from haulm.season.troubles import trouble_named
from haulm.season.watch_figures import WatchFigures, watch_figures
from haulm.season.watch_records import Heed, LookOut, Stands
from haulm.site.records import Seasons

WARNINGS_FIRST = "A local blight warning goes before this: it knows whether blight is about."


@dataclass(frozen=True, slots=True)
class RuleSaid:
    """What one rule says in words, its basis, and whether it is met (None: cannot be said)."""

    name: str
    words: str
    basis: str
    met: bool | None = None


def blight_lines(asking: Asking) -> Iterator[LookOut]:
    """Tell of late blight where potatoes or tomatoes stand in the open."""
    stands = _at_risk(asking)
    if not stands:
        return
    said = rules_said(asking)
    met = [one for one in said if one.met]
    if met:
        yield _line(asking, stands, said, met)


def untold_blight(asking: Asking) -> Iterator[str]:
    """Say what cannot be said without humidity, and what rain and warmth say instead."""
    if not _at_risk(asking) or not _warm_nights(asking):
        return
    rules = _by_days(asking)
    first = asking.day - timedelta(days=1)
    if rules:
        rule = rules[0]
        days = humid_days(asking.ahead, asking.hours, rule.humidity)
        last = first + timedelta(days=rule.days - 1)
        lacks = not can_be_said(days, rule, first, last)
        what = "humid hours are not told of two days in a row"
    else:
        lacks = not any(hour.day in {first, asking.day} for hour in asking.hours)
        what = "temperature and humidity are not told by the hour"
    if lacks:
        yield f"Blight by humidity cannot be said: {what}. {_by_rain(asking)}"


def _by_days(asking: Asking) -> tuple[DaysRule, ...]:
    """Give the rules of days in a row that the garden goes by."""
    rules = blight_rules()
    both = ((BlightBy.HUTTON, rules.hutton), (BlightBy.SMITH, rules.smith))
    return tuple(rule for by, rule in both if asking.means.goes_by(by))


def rules_said(asking: Asking) -> tuple[RuleSaid, ...]:
    """Say of each rule that is gone by what it makes of the days around today."""
    rules = blight_rules()
    first, last = _span(asking)
    hours = [hour for hour in asking.hours if first <= hour.day <= last]
    ahead = [one for one in asking.ahead if first <= one.day <= last]
    said = [
        _days_said(rule, humid_days(ahead, hours, rule.humidity), asking.day)
        for rule in _by_days(asking)
    ]
    irish = rules.irish
    if hours and asking.means.goes_by(BlightBy.IRISH):
        spells = effective_hours(hours, irish)
        most = max((effective for _, effective in spells), default=0)
        words = f"{most} effective hours at most, {irish.warn_h} would warn"
        said.append(RuleSaid(irish.name, words, irish.basis, met=most >= irish.warn_h))
    if hours and asking.means.goes_by(BlightBy.WALLIN):
        found = severities(hours, rules.wallin)
        words = f"severity {sum(found.values())} in {len(found)} days that are told whole"
        said.append(RuleSaid(rules.wallin.name, words, rules.wallin.basis))
    return tuple(said)


def _span(asking: Asking) -> tuple[date, date]:
    back, on = _days_looked_at()
    return asking.day - timedelta(days=back), asking.day + timedelta(days=on)


def _days_looked_at() -> tuple[int, int]:
    """Give how many days back and ahead blight's weather counts."""
    figures = watch_figures()
    return round(figures.blight_back_days.value), round(figures.blight_ahead_days.value)


def _days_said(rule: DaysRule, days: Sequence[HumidDay], today: date) -> RuleSaid:
    spans = spans_met(days, rule)
    if spans:
        first, last = spans[-1]
        words = f"met {day_words(first)} to {day_words(last)}"
        return RuleSaid(rule.name, words, rule.basis, met=True)
    near = today - timedelta(days=1)
    if can_be_said(days, rule, near, near + timedelta(days=rule.days - 1)):
        return RuleSaid(rule.name, "not met", rule.basis, met=False)
    return RuleSaid(rule.name, "cannot be said", rule.basis)


def _at_risk(asking: Asking) -> list[Stands]:
    """List potatoes and tomatoes that stand in the open, and may be above ground."""
    hosts, likely = blight_rules().hosts, watch_figures().blight_likely.value
    return [
        one
        for one in asking.stands
        if one.planting.crop in hosts and not one.planting.under_cover and one.up >= likely
    ]


def _warm_nights(asking: Asking) -> bool:
    """Whether nights are warm enough for blight about this day in some years."""
    weather, rule = asking.weather, blight_rules().hutton
    column = weather.column_of(asking.day)
    back, on = _days_looked_at()
    tmin_c = weather.seasons.tmin_c[:, max(0, column - back) : column + on + 1]
    share = float(np.mean((tmin_c >= rule.least_c).sum(axis=1) >= rule.days))
    return share >= watch_figures().blight_likely.value


def _line(
    asking: Asking, stands: list[Stands], said: Sequence[RuleSaid], met: list[RuleSaid]
) -> LookOut:
    figures = watch_figures()
    beds = tuple(dict.fromkeys(asking.bed(one.planting.bed) for one in stands))
    names = listed([f"{one.name} {one.words}" for one in met])
    latent = figures.late_blight_latent_days
    first = asking.day + timedelta(days=round(latent.low or latent.value))
    what = f"Blight weather ({names}): look over {listed(list(beds))} {_every(figures)} from now."
    blight = trouble_named("late blight")
    span = f"{latent.low:g} to {latent.high:g}"
    do = [f"Spots show {span} days after such weather: look hardest from {day_words(first)}."]
    if blight is not None:
        do += [f"At the first spots: {blight.slight}", f"Once it spreads: {blight.bad}"]
        do += [_lift(asking, stands), blight.eat, blight.never]
    basis = blight.basis if blight else "common practice"
    return LookOut(
        Heed.BLIGHT,
        what,
        beds,
        why=tuple(f"{one.name}: {one.words} ({one.basis})." for one in said),
        do=(*(one for one in do if one), WARNINGS_FIRST),
        by=asking.day + timedelta(days=round(figures.blight_look_days.value)),
        sources=(
            *_sources(asking),
            f"What to do: {basis}.",
        ),
    )


def _every(figures: WatchFigures) -> str:
    """Say how often to look: every second day, or every so many."""
    days = round(figures.blight_look_days.value)
    return {1: "every day", 2: "every second day"}.get(days, f"every {days} days")


def _lift(asking: Asking, stands: list[Stands]) -> str:
    """Say when haulm cut today may be lifted, and where the tubers are grown already."""
    after = watch_figures().haulm_lift_after_days
    potatoes = [one for one in stands if one.planting.crop == "potato"]
    if not potatoes:
        return ""
    low, high = (
        asking.day + timedelta(days=round(n or after.value)) for n in (after.low, after.high)
    )
    said = f"Haulm cut today is lifted from {day_words(low)}, better {day_words(high)}."
    grown = [
        asking.bed(one.planting.bed)
        for one in potatoes
        if any(ready.early <= asking.day for ready in one.planting.ready)
    ]
    if grown:
        said += (
            f" In {listed(list(dict.fromkeys(grown)))} tubers are grown: cutting now loses little."
        )
    return said


def _by_rain(asking: Asking) -> str:
    """Say what rain and warmth alone tell, by Hyre's rule."""
    rules = forecast_rules()
    known = {one.day: one for one in asking.known}
    days = [asking.day - timedelta(days=back) for back in range(RAIN_DAYS - 1, -1, -1)]
    read = [known.get(day) for day in days]
    if any(one is None or one.rain_mm is None for one in read):
        return (
            "By rain and warmth (Hyre) it cannot be said either: it wants ten days' rain, from the "
            "gauge or as told."
        )
    temps = [one for one in read if one is not None]
    if any(one.tmin_c is None or one.tmax_c is None for one in temps[-5:]):
        return "By rain and warmth (Hyre) it cannot be said: five days' temperatures are not told."
    mild = float(rules.blight_least_c.value)
    seasons = Seasons(
        "told",
        days[0],
        np.array([[mild if one.tmin_c is None else one.tmin_c for one in temps]]),
        np.array([[mild if one.tmax_c is None else one.tmax_c for one in temps]]),
        np.array([[one.rain_mm for one in temps]], dtype=np.float64),
    )
    favours = favourable_days(seasons)
    wet = favours is not None and bool(favours[0, -1])
    word = "today favours it" if wet else "today does not favour it"
    return f"By rain and warmth (Hyre 1954, as UC IPM gives it) {word}."


def _sources(asking: Asking) -> tuple[str, ...]:
    rules = blight_rules()
    texts = {
        BlightBy.HUTTON: _source(rules.hutton),
        BlightBy.SMITH: _source(rules.smith),
        BlightBy.IRISH: _source(rules.irish),
        BlightBy.WALLIN: _source(rules.wallin),
    }
    return tuple(text for by, text in texts.items() if asking.means.goes_by(by))


def _source(rule: DaysRule | SpellRule | SeverityRule) -> str:
    return f"{rule.name}, {rule.basis}: {rule.source}"
