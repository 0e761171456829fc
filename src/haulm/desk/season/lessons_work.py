"""What the clock teaches: how long this household takes for a sort of work, against the usual."""

from collections import defaultdict
from collections.abc import Iterable, Iterator
from datetime import date, timedelta
from math import exp, log

from haulm.catalogue.known import known
from haulm.catalogue.own_pace import Work
from haulm.catalogue.records import Kind
from haulm.desk.season.lesson_gathering import Gathered, Record, giving_of
from haulm.desk.season.lesson_records import OWN_PACE, Moved, Taught, Written
from haulm.growing.rules import growing_rules
from haulm.measure.chance import DECILE
from haulm.measure.weeks import DAYS_A_WEEK, monday_of
from haulm.season.learning import Prior, Seen, learn
from haulm.season.records import STARTED, Entry, EntryKind
from haulm.season.rules import season_rules

TENDING = (EntryKind.WEEDED, EntryKind.THINNED, EntryKind.FED, EntryKind.WATERED)
LEAST_MINUTES = 1.0
"""Work that should take less is no measure of anybody's pace [minutes]."""


def work_lessons(told: Gathered) -> Iterator[Moved]:
    """Give the household's pace for each sort of work of which it wrote the minutes.

    A job tells of it where all that it should take is known: starting and lifting by planting, the
    tending of a planting that is over and was always timed, putting by, and whole weeks of which
    the hours were written.
    """
    rules = season_rules()
    own, job = rules.work_own_spread.value, rules.work_job_spread.value
    prior = Prior(-(own**2 + job**2) / 2, own, job)
    seen: dict[Work, list[Seen]] = defaultdict(list)
    for record in told.records:
        for work, one in _of_planting(told, record):
            seen[work].append(one)
    seen[Work.PUTTING_BY] += _put_by(told)
    seen[Work.ALL] += _whole_weeks(told)
    for work in Work:
        if not seen[work]:
            continue
        learnt = learn(prior, seen[work], told.confirmed)
        ahead = (learnt.next_high - learnt.mean) / DECILE
        value = exp(learnt.mean + ahead**2 / 2)
        yield Moved(
            taught=Taught.MINUTES,
            of=work.value,
            figure=OWN_PACE,
            name=f"{work.words}: your minutes against the usual",
            unit="×",
            usual=1.0,
            value=value,
            low=exp(learnt.low + job**2 / 2),
            high=exp(learnt.high + job**2 / 2),
            next_low=exp(learnt.next_low),
            next_high=exp(learnt.next_high),
            prior_weight=learnt.prior_weight,
            counted=learnt.counted,
            asked=tuple(one.entry for one in learnt.asked),
            few=learnt.records < rules.few_records.value,
            writes=(Written(OWN_PACE, {"work": work.value, "times": round(value, 3)}),),
        )


def _of_planting(told: Gathered, record: Record) -> Iterator[tuple[Work, Seen]]:
    kind = told.kind(record.planting.kind)
    if kind is None:
        return
    for usual, entries in _starting(told, record, kind):
        yield from _timed(Work.STARTING, usual, entries)
    each = known(kind.labour.pick_min_kg)
    picked = [entry for entry in record.of(EntryKind.PICKED) if entry.minutes]
    kg = [told.kg(entry, record.food_of(entry)) for entry in picked]
    if each and None not in kg:
        yield from _timed(Work.PICKING, each * sum(one for one in kg if one), picked)
    tended = record.of(*TENDING)
    tending = known(kind.labour.tend_min_m2_week)
    weeks = record.planting.until_week - record.planting.from_week
    if tending and record.is_over and len(tended) >= season_rules().few_records.value:
        yield from _timed(Work.TENDING, tending * record.area_m2 * weeks, tended)


def _starting(
    told: Gathered, record: Record, kind: Kind
) -> Iterator[tuple[float, tuple[Entry, ...]]]:
    """Give what starting a planting should take [minutes], in its trays and in its ground."""
    each = known(kind.labour.start_min_m2)
    method = told.method(record)
    if not each or method is None:
        return
    whole = each * record.area_m2
    if method.module_weeks is None:
        yield whole, record.of(EntryKind.SOWN, EntryKind.SET)
        return
    in_tray = growing_rules().tray_share_of_start_work.value
    yield whole * in_tray, record.of(EntryKind.SOWN)
    yield whole * (1 - in_tray), record.of(EntryKind.SET_OUT)


def _timed(work: Work, usual: float, entries: Iterable[Entry]) -> Iterator[tuple[Work, Seen]]:
    """Hold what work took against the usual minutes, if all of it was timed."""
    entries = tuple(entries)
    minutes = [entry.minutes for entry in entries if entry.minutes]
    if entries and len(minutes) == len(entries) and usual >= LEAST_MINUTES:
        last = entries[-1]
        yield work, Seen(log(sum(minutes) / usual), last.day.year, last.id)


def _put_by(told: Gathered) -> Iterator[Seen]:
    for entry in told.entries:
        about = entry.about
        if entry.kind is not EntryKind.PUT_BY or not entry.minutes or about.kind is None:
            continue
        food = about.food or ""
        giving = giving_of(told.kind(about.kind), food)
        ways = [one for one in giving.keeping if one.form.value == about.form] if giving else []
        each, kg = (known(ways[0].work_min_kg) if ways else None), told.kg(entry, food)
        if each and kg and each * kg >= LEAST_MINUTES:
            yield Seen(log(entry.minutes / (each * kg)), entry.day.year, entry.id)


def _whole_weeks(told: Gathered) -> Iterator[Seen]:
    """Hold whole weeks' hours against what should have been done in them, by the diary.

    Only entries of hours that name no bed and no planting speak of all the work of a week.
    """
    worked: dict[date, list[Entry]] = defaultdict(list)
    for entry in told.entries:
        if entry.kind is EntryKind.WORKED and not (entry.about.planting or entry.about.bed):
            worked[monday_of(entry.day)].append(entry)
    if not worked:
        return
    usual = _usual_weeks(told)
    for monday, entries in worked.items():
        over = monday + timedelta(days=DAYS_A_WEEK) <= told.day
        if over and usual[monday] >= LEAST_MINUTES:
            minutes = sum(entry.minutes or 0.0 for entry in entries)
            if minutes > 0:
                yield Seen(log(minutes / usual[monday]), monday.year, entries[-1].id)


def _usual_weeks(told: Gathered) -> dict[date, float]:
    """Add up by Monday what was begun, tended and picked of each planting should take [minutes]."""
    usual: dict[date, float] = defaultdict(float)
    for record in told.records:
        kind = told.kind(record.planting.kind)
        if kind is None:
            continue
        for minutes, entries in _starting(told, record, kind):
            for entry in entries:
                usual[monday_of(entry.day)] += minutes / len(entries)
        each = known(kind.labour.pick_min_kg) or 0.0
        for entry in record.of(EntryKind.PICKED):
            kg = told.kg(entry, record.food_of(entry)) or 0.0
            usual[monday_of(entry.day)] += each * kg
        tending = (known(kind.labour.tend_min_m2_week) or 0.0) * record.area_m2
        for monday in _weeks_held(record):
            usual[monday] += tending
    return usual


def _weeks_held(record: Record) -> Iterator[date]:
    """Give the Mondays of the weeks in which a planting held its ground, as far as was written."""
    begun = record.of(*STARTED)
    cleared = record.of(EntryKind.CLEARED)
    monday = monday_of(max(begun[-1].day if begun else date.min, record.planting.in_ground_from))
    until = cleared[-1].day if cleared else record.planting.clear_by
    while monday < until:
        yield monday
        monday += timedelta(days=DAYS_A_WEEK)
