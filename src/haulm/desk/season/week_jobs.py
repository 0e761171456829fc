"""A week's jobs in the order of their haste: what cannot wait, what can, what weather decides."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

import numpy as np

from haulm.desk.at_hand import SEED, AtHand
from haulm.growing.coming_up import coming_up
from haulm.growing.weather import GrowingWeather, growing_weather
from haulm.measure.weeks import DAYS_A_WEEK, monday_of
from haulm.plan.records import HoursWeek, Planting
from haulm.season.rules import season_rules
from haulm.season.waiting import ready_share
from haulm.sheets.acts import JobKind
from haulm.sheets.bundle import SheetBundle
from haulm.sheets.week_due import DueJob
from haulm.sheets.week_jobs import Job, jobs_between
from haulm.site.frost import FROST_C
from haulm.site.seasons import seasons_from

RUNS = 60
SOIL_DAYS, SEED_DAYS = 28, 28 + 400
_LABEL = re.compile(r"(\d{4})-W(\d{2})")
_IN_PLACE = frozenset({JobKind.SOW, JobKind.PLANT, JobKind.SET_OUT})
_TAKEN = frozenset({JobKind.LIFT, JobKind.PICK})
_YEARS = "years in 10"


@dataclass(frozen=True, slots=True)
class FrostWeek:
    """Odds of frost in a week: of some night of it, and of each night, Monday first [1]."""

    some_night: float
    nights: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class WeekJobs:
    """One week of the plan.

    Attributes
    ----------
    monday
        Its first day.
    label
        Its name by ISO 8601.
    cannot_wait, by_sunday, weather
        Its jobs: those whose last day lies in it, those that can follow, and those that hang on
        the weather.
    hours
        What the week asks and the household gives; None outside the plan.
    frost
        The odds of frost.
    """

    monday: date
    label: str
    cannot_wait: tuple[DueJob, ...]
    by_sunday: tuple[DueJob, ...]
    weather: tuple[DueJob, ...]
    hours: HoursWeek | None
    frost: FrostWeek

    @property
    def sunday(self) -> date:
        """Its last day."""
        return self.monday + timedelta(days=DAYS_A_WEEK - 1)

    @property
    def count(self) -> int:
        """How many jobs it has."""
        return len(self.cannot_wait) + len(self.by_sunday) + len(self.weather)

    @property
    def cautions(self) -> tuple[tuple[str, tuple[str, ...]], ...]:
        """Each caution with the jobs it is for, in the order of the jobs."""
        told: dict[str, list[str]] = {}
        for due in (*self.cannot_wait, *self.by_sunday, *self.weather):
            for caution in due.job.cautions:
                told.setdefault(caution, []).append(due.job.what)
        return tuple((caution, tuple(dict.fromkeys(jobs))) for caution, jobs in told.items())


def monday_named(label: str) -> date | None:
    """Give the Monday of a week named as in ``2027-W14``; None for anything else."""
    found = _LABEL.fullmatch(label)
    try:
        return date.fromisocalendar(int(found[1]), int(found[2]), 1) if found else None
    except ValueError:
        return None


def week_jobs(garden: AtHand, bundle: SheetBundle, monday: date) -> WeekJobs:
    """Gather a week's jobs, its hours and its odds of frost; worked out once."""
    return garden.once(f"week {monday}", garden.day, lambda: _week_jobs(garden, bundle, monday))


def due_jobs(
    garden: AtHand, bundle: SheetBundle, monday: date, *, by_bed: bool = False
) -> list[DueJob]:
    """Gather a week's jobs with the days of each; tending as one job, or bed by bed."""
    plantings = {planting.id: planting for planting in bundle.plan.plantings}
    jobs = jobs_between(bundle, monday, monday + timedelta(days=DAYS_A_WEEK - 1))
    found = [(job, ()) for job in jobs] if by_bed else _tending_together(jobs)
    due = [_due(job, parts, plantings.get(job.planting), monday) for job, parts in found]
    return [_with_showing(one, garden, bundle, plantings) for one in due]


def _week_jobs(garden: AtHand, bundle: SheetBundle, monday: date) -> WeekJobs:
    horizon = bundle.plan.horizon
    sunday = monday + timedelta(days=DAYS_A_WEEK - 1)
    due = due_jobs(garden, bundle, monday)
    waits = [one for one in due if one.hangs_on]
    final = [one for one in due if not one.hangs_on and _is_final(one, sunday)]
    rest = [one for one in due if one not in waits and one not in final]
    number = horizon.week_of(monday)
    return WeekJobs(
        monday,
        horizon.label(number),
        tuple(final),
        tuple(rest),
        tuple(waits),
        next((week for week in bundle.plan.hours if week.week == number), None),
        frost_of_week(garden, monday),
    )


def _with_showing(
    due: DueJob, garden: AtHand, bundle: SheetBundle, plantings: Mapping[str, Planting]
) -> DueJob:
    """Tell with a sowing in place when it should show."""
    planting = plantings.get(due.job.planting)
    method = bundle.method_of(planting) if planting else None
    if planting is None or method is None or due.job.kind is not JobKind.SOW:
        return due
    kind, sown, cover = bundle.kind_of(planting), planting.sow_on, planting.under_cover
    weather = seed_weather(garden, sown)
    return replace(due, shows=coming_up(kind, method, sown, weather, under_cover=cover))


def seed_weather(garden: AtHand, sown_on: date) -> GrowingWeather:
    """Draw or replay the weather around a sowing, worked out once for the week.

    It begins a month before, so that the soil has its warmth, and lasts more than a year.
    """
    opened = garden.opened.garden
    first = monday_of(sown_on) - timedelta(days=SOIL_DAYS)

    def make() -> GrowingWeather:
        runs = seasons_from(opened.weather, opened.place, first, SEED_DAYS, RUNS, SEED)
        return growing_weather(runs, opened.place)

    return garden.once("seed weather", first, make)


def frost_of_week(garden: AtHand, monday: date) -> FrostWeek:
    """Work out in what share of years frost comes in a week, and in each of its nights.

    A night's odds are taken over the seven nights around it, so that one year's cold snap does not
    make one night colder than the next.
    """
    opened = garden.opened.garden
    first = monday - timedelta(days=3)
    runs = seasons_from(opened.weather, opened.place, first, DAYS_A_WEEK + 6, RUNS, SEED)
    frost = runs.tmin_c <= FROST_C
    nights = tuple(
        float(np.mean(frost[:, night : night + DAYS_A_WEEK])) for night in range(DAYS_A_WEEK)
    )
    return FrostWeek(float(np.mean(frost[:, 3 : 3 + DAYS_A_WEEK].any(axis=1))), nights)


def _tending_together(jobs: Sequence[Job]) -> list[tuple[Job, tuple[tuple[str, float], ...]]]:
    """Put the tending of all beds into one job, the longest first; other jobs stay as they are."""
    tending = sorted(
        (job for job in jobs if job.kind is JobKind.TEND), key=lambda job: -(job.minutes or 0.0)
    )
    found: list[tuple[Job, tuple[tuple[str, float], ...]]] = [
        (job, ()) for job in jobs if job.kind is not JobKind.TEND
    ]
    if tending:
        minutes = sum(job.minutes or 0.0 for job in tending)
        whole = replace(tending[0], place="", what=JobKind.TEND.verb, minutes=minutes)
        found.append((whole, tuple((job.place, job.minutes or 0.0) for job in tending)))
    return found


def _due(
    job: Job, parts: tuple[tuple[str, float], ...], planting: Planting | None, monday: date
) -> DueJob:
    days = [monday + timedelta(days=day) for day in range(DAYS_A_WEEK)]
    last = job.latest_day or job.last_day
    return DueJob(
        job,
        tuple(job.first_day <= day <= last for day in days),
        last > days[-1],
        _hangs_on(job, planting, days[-1]),
        parts,
    )


def _is_final(due: DueJob, sunday: date) -> bool:
    """Whether it cannot be left for next week, or not even until Sunday."""
    latest = due.job.latest_day
    return due.job.last_day < sunday if latest is None else latest <= sunday


def _hangs_on(job: Job, planting: Planting | None, sunday: date) -> str:
    """Say what in the weather a job waits for: warm soil, frost past, or a crop that is ready."""
    if planting is None:
        return ""
    if job.kind in _IN_PLACE and _YEARS in planting.earliest_rule:
        first_week = monday_of(planting.earliest_sowing) == monday_of(planting.sow_on)
        return planting.earliest_rule if first_week else ""
    if job.kind in _TAKEN:
        surely = season_rules().ready_surely.value
        for ready in planting.ready:
            share = ready_share(ready, sunday)
            if f"-{job.kind.value}-{ready.food}-" in job.id and share < surely:
                return f"ready by Sunday in {round(10 * share)} {_YEARS}"
    return ""
