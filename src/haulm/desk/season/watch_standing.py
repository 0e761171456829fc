"""What stands today, by the diary where it says so and else by the plan; and the true weather."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from math import isnan

import numpy as np

from haulm.catalogue.records import Catalogue, Kind, Method
from haulm.growing.timing import up_from
from haulm.growing.weather import GrowingWeather, growing_weather
from haulm.measure.weeks import monday_of
from haulm.notebook.garden import Garden
from haulm.plan.records import Plan, Planting
from haulm.season.ahead import DayAhead
from haulm.season.meant import Meant
from haulm.season.records import Entry, EntryKind, Measured, Severity
from haulm.season.watch_figures import watch_figures
from haulm.season.watch_records import Stands
from haulm.site.records import DailyRecord
from haulm.site.seasons import seasons_from

BEFORE_DAYS, AFTER_DAYS = 28, 120
"""The weather begins so long before the first start, for the soil, and ends so long after today."""

RUNS, SEED = 40, 1
TELLING = frozenset(
    {
        EntryKind.SOWN,
        EntryKind.SET,
        EntryKind.SET_OUT,
        EntryKind.EMERGED,
        EntryKind.TROUBLE,
        EntryKind.CLEARED,
        EntryKind.THINNED,
        EntryKind.LOOKED,
        EntryKind.PICKED,
    }
)
"""Kinds of entry that tell whether a planting stands."""

SHOWN_BY = frozenset({EntryKind.THINNED, EntryKind.LOOKED, EntryKind.PICKED})
"""What can only be done to a planting that has come up."""


@dataclass(frozen=True, slots=True)
class DayKnown:
    """What is known of one day's weather: recorded, told or written down; None where it is not."""

    day: date
    tmin_c: float | None = None
    tmax_c: float | None = None
    rain_mm: float | None = None


@dataclass(frozen=True, slots=True)
class OfPlanting:
    """What the diary tells of one planting.

    ``started`` and ``out`` are the days it was sown or set, and set out; ``up`` the day it was
    seen to have come up, with ``stations`` counted then; ``ended`` the day it was cleared or lost.
    """

    started: date | None = None
    out: date | None = None
    up: date | None = None
    stations: float | None = None
    ended: date | None = None


def told_of(plan: Plan, entries: Iterable[Entry], day: date) -> Mapping[str, OfPlanting]:
    """Gather what the diary tells of each planting up to a day, by the planting's id.

    Of which an entry speaks, :class:`haulm.season.meant.Meant` says; clearing a bed without naming
    a kind ends all that had been started there.
    """
    told = {planting.id: OfPlanting() for planting in plan.plantings}
    meant = Meant(plan)
    for entry in entries:
        if entry.day > day or entry.kind not in TELLING:
            continue
        about = entry.about
        named = about.planting is not None or about.kind is not None
        for planting in meant.of(entry):
            if named or _was_there(planting, told[planting.id], entry.day):
                told[planting.id] = _with(told[planting.id], entry)
    return told


def _was_there(planting: Planting, so_far: OfPlanting, day: date) -> bool:
    return so_far.started is not None or planting.in_ground_from <= day


def _with(so_far: OfPlanting, entry: Entry) -> OfPlanting:
    if entry.kind in {EntryKind.SOWN, EntryKind.SET}:
        return replace(so_far, started=entry.day, ended=None)
    if entry.kind is EntryKind.SET_OUT:
        return replace(so_far, out=entry.day)
    if entry.kind in SHOWN_BY:
        return replace(so_far, up=so_far.up or entry.day)
    if entry.kind is EntryKind.EMERGED:
        return _come_up(so_far, entry)
    lost = entry.kind is EntryKind.TROUBLE and entry.about.severity is Severity.LOST
    ended = entry.kind is EntryKind.CLEARED or lost
    return replace(so_far, ended=entry.day) if ended else so_far


def _come_up(so_far: OfPlanting, entry: Entry) -> OfPlanting:
    """Take in that it came up, and how many; none at all is not up."""
    counted = entry.amount if entry.amount and entry.amount.measured is Measured.PIECES else None
    if counted is not None and counted.number == 0:
        return so_far
    number = counted.number if counted else so_far.stations
    return replace(so_far, up=so_far.up or entry.day, stations=number)


def standing(
    plan: Plan,
    catalogue: Catalogue,
    told: Mapping[str, OfPlanting],
    weather: GrowingWeather | None,
    day: date,
) -> tuple[Stands, ...]:
    """Give what stands in the ground on a day, with the share of years in which it is up.

    By the diary where it tells of a planting's start or end; else as planned. Without weather what
    was started in place counts as up.
    """
    found = []
    late = timedelta(days=round(watch_figures().clears_late_days.value))
    for planting in plan.plantings:
        of = told[planting.id]
        raised = _method(catalogue, planting) is None or planting.set_on > planting.sow_on
        began = of.out if raised else of.started
        since = began or planting.in_ground_from
        gone = of.ended is not None and of.ended <= day
        past = began is None and planting.clear_by <= day
        if gone or past or since > day or planting.clear_by <= day - late:
            continue
        left = _left_kg(plan, planting, day)
        up = 1.0 if raised or of.up else up_by(planting, since, catalogue, weather, day)
        found.append(Stands(planting, since, began is not None, up, left))
    return tuple(found)


def in_trays(
    plan: Plan, told: Mapping[str, OfPlanting], day: date, harden_days: float
) -> tuple[Planting, ...]:
    """Give what is raised in trays and is to be set out so soon that it stands outdoors by day."""
    found = []
    wait = timedelta(days=round(watch_figures().trays_late_days.value))
    for planting in plan.plantings:
        of = told[planting.id]
        raised = planting.tray_weeks[0] < planting.tray_weeks[1]
        started = of.started is not None or planting.sow_on <= day
        soon = planting.set_on - timedelta(days=round(harden_days)) <= day
        waits = day <= planting.set_on + wait
        if raised and started and soon and waits and of.out is None and of.ended is None:
            # Without a diary of it, it is out on the day it was planned to be.
            if of.started is None and planting.in_ground_from <= day:
                continue
            found.append(planting)
    return tuple(found)


def up_by(
    planting: Planting,
    since: date,
    catalogue: Catalogue,
    weather: GrowingWeather | None,
    day: date,
) -> float:
    """Give the share of years in which what was started in place on a day is up by another [1]."""
    kind, method = catalogue.kinds.get(planting.kind), _method(catalogue, planting)
    if kind is None or method is None or weather is None or weather.column_of(since) < 0:
        return 1.0
    begins = np.full((weather.seasons.runs, 1), weather.column_of(since), dtype=np.int64)
    up = up_from(kind, method, begins, weather, under_cover=planting.under_cover)
    return float(np.mean(up[:, 0] <= weather.column_of(day)))


def known_weather(
    garden: Garden, told: Sequence[DayAhead], entries: Iterable[Entry]
) -> tuple[DayKnown, ...]:
    """Put together what is known of single days: the record, what was told, and the rain gauge.

    The gauge goes before what was told, and what was told before the record's last word.
    """
    days: dict[date, DayKnown] = {}
    weather = garden.weather
    if isinstance(weather, DailyRecord):
        columns = zip(weather.tmin_c, weather.tmax_c, weather.rain_mm, strict=True)
        for number, (low, high, rain) in enumerate(columns):
            day = weather.first_day + timedelta(days=number)
            days[day] = DayKnown(day, _read(low), _read(high), _read(rain))
    for one in told:
        before = days.get(one.day, DayKnown(one.day))
        days[one.day] = DayKnown(
            one.day,
            before.tmin_c if one.tmin_c is None else one.tmin_c,
            before.tmax_c if one.tmax_c is None else one.tmax_c,
            before.rain_mm if one.rain_mm is None else one.rain_mm,
        )
    gauge: dict[date, float] = {}
    for entry in entries:
        if entry.kind is EntryKind.RAINED and entry.amount is not None:
            gauge[entry.day] = gauge.get(entry.day, 0.0) + entry.amount.number
    for day, rain_mm in gauge.items():
        days[day] = replace(days.get(day, DayKnown(day)), rain_mm=rain_mm)
    return tuple(days[day] for day in sorted(days))


def weather_lived(
    garden: Garden, known: Sequence[DayKnown], first: date, day: date
) -> GrowingWeather:
    """Draw or replay the weather of a season, with the days that are known put in as they were.

    It begins some weeks before the first start, for the soil's warmth.
    """
    start = monday_of(first) - timedelta(days=BEFORE_DAYS)
    days = (day - start).days + AFTER_DAYS
    runs = seasons_from(garden.weather, garden.place, start, days, RUNS, SEED)
    tmin_c, tmax_c, rain_mm = runs.tmin_c.copy(), runs.tmax_c.copy(), runs.rain_mm.copy()
    for one in known:
        column = (one.day - start).days
        if not 0 <= column < days:
            continue
        if one.tmin_c is not None and one.tmax_c is not None:
            tmin_c[:, column], tmax_c[:, column] = one.tmin_c, one.tmax_c
        if one.rain_mm is not None:
            rain_mm[:, column] = one.rain_mm
    return growing_weather(
        replace(runs, tmin_c=tmin_c, tmax_c=tmax_c, rain_mm=rain_mm), garden.place
    )


def _left_kg(plan: Plan, planting: Planting, day: date) -> float:
    """Give what a planting is still to give by the plan [kg]: this week's picking and later."""
    week = plan.horizon.week_of(day)
    return sum(pick.kg for pick in planting.picks if pick.week >= week)


def kind_of(catalogue: Catalogue, planting: Planting) -> Kind | None:
    """Find a planting's kind; None where the catalogue has it no more."""
    return catalogue.kinds.get(planting.kind)


def _method(catalogue: Catalogue, planting: Planting) -> Method | None:
    kind = catalogue.kinds.get(planting.kind)
    methods = kind.methods if kind else ()
    return next((method for method in methods if method.id == planting.method), None)


def _read(value: float) -> float | None:
    return None if isnan(value) else float(value)
