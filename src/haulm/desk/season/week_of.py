"""A week of jobs in the order of what is lost if they wait, cut to the hours there are."""

from bisect import bisect_left
from collections.abc import Hashable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

import numpy as np

from haulm.desk.at_hand import SEED, AtHand
from haulm.desk.garden.editing import stamp
from haulm.desk.planning.plans import Made
from haulm.desk.season.diary_asked import done_jobs
from haulm.desk.season.larder_care import hung_in, lifted_to_cure, racks_told_m2
from haulm.desk.season.other_uses import UsesAsked
from haulm.desk.season.week_gluts import GlutsAsked, gluts_of
from haulm.desk.season.week_hours import HoursWish, hours_of
from haulm.desk.season.week_jobs import RUNS, due_jobs
from haulm.desk.season.week_open import open_jobs
from haulm.desk.season.week_waiting import (
    TAKES,
    Asked,
    asked_of,
    feeding_for,
    food_of,
    has_figure,
    lots_of,
    over_kg,
    spread_of,
    timed_of,
    waits_of,
)
from haulm.desk.showing.sheets import bundle_of
from haulm.measure.weeks import DAYS_A_WEEK
from haulm.season.as_it_stands import PlanToday, as_it_stands
from haulm.season.feeding import Lost
from haulm.season.hours_cut import Task, cut_to
from haulm.season.job_weather import ToLay, lay_out_days, wants_of
from haulm.season.notes import notes_of
from haulm.season.racks import RackWeek, racks_in
from haulm.season.records import Entry
from haulm.season.waiting import Waits, weeds_grow
from haulm.season.waiting_rules import waiting_figure
from haulm.sheets.acts import JobKind
from haulm.sheets.bundle import SheetBundle
from haulm.sheets.week_due import DueJob
from haulm.sheets.week_list import Hours, Stands, WeekJob, WeekList
from haulm.site.seasons import seasons_from

BEFORE = timedelta(weeks=8)
"""Entries from so long before a plan was made may speak of what it knew to stand or be in trays."""
A_WEEK = timedelta(days=DAYS_A_WEEK)


def week_of(garden: AtHand, monday: date, wish: HoursWish | None = None) -> WeekList | None:
    """Give a week's jobs, weighed against one another and cut to the hours there are.

    What the diary says is worked in: jobs done are marked so, hours worked come off, and what is
    late, early or lost moves or goes. None without a plan. Worked out once, until the notebook
    changes.

    Parameters
    ----------
    garden
        The notebook at hand.
    monday
        The week's first day.
    wish
        The hours there are, where they differ from what the household gives.
    """
    made = garden.unlaid
    if made is None:
        return None
    bundle = jobs_bundle(garden, made)
    key = (garden.day, stamp(garden.path), wish, garden.ahead)
    return garden.once(
        f"week list {monday}", key, lambda: _week_of(garden, made, bundle, monday, wish)
    )


def jobs_bundle(garden: AtHand, made: Made) -> SheetBundle:
    """Gather what the jobs of a plan are told from; they need no bed laid out, which is slow."""
    return garden.once("jobs bundle", garden.day, lambda: bundle_of(made, garden.day))


@dataclass(frozen=True, slots=True)
class _Truth:
    """A plan as it truly stands, with what is needed to weigh its jobs."""

    made: Made
    bundle: SheetBundle
    asked: Asked
    standing: PlanToday
    entries: tuple[Entry, ...]

    @property
    def moves(self) -> Hashable:
        """What differs from the plan as it was made."""
        moved = tuple((key, one.weeks) for key, one in self.standing.moved.items())
        return moved, tuple(self.standing.gone)


def _truth(garden: AtHand, made: Made, bundle: SheetBundle) -> _Truth:
    plan = made.plan
    entries = since(garden.diary.entries, plan.made_on - BEFORE)
    notes = (*made.garden.noted, *notes_of(entries, plan))
    standing = as_it_stands(plan, [one for one in notes if one.on <= garden.day], entries)
    feeding = garden.once("feeding", (), lambda: feeding_for(made))
    asked = asked_of(made, feeding, standing.moved)
    return _Truth(made, replace(bundle, plan=standing.plan), asked, standing, entries)


def since(entries: Sequence[Entry], first: date) -> tuple[Entry, ...]:
    """Give the entries from a day on; they are in order of their days."""
    return tuple(entries[bisect_left(entries, first, key=lambda entry: entry.day) :])


def _week_of(
    garden: AtHand, made: Made, bundle: SheetBundle, monday: date, wish: HoursWish | None
) -> WeekList:
    truth = _truth(garden, made, bundle)
    horizon = made.plan.horizon
    due = garden.once(
        f"due {monday}",
        (garden.day, truth.moves),
        lambda: due_jobs(garden, truth.bundle, monday, by_bed=True),
    )
    done = done_jobs([one.job for one in due], truth.entries, truth.bundle.plan)
    hours = hours_of(garden, made, monday, wish, truth.entries)
    growth = garden.once(f"weeds {monday}", (), lambda: _growth(garden, monday))
    scale = _Scale(monday + A_WEEK, growth)
    weighed = [_weighed(truth, one, done.get(one.job.id), scale) for one in due]
    jobs = _laid_out(_stood(truth.asked, weighed, hours), hours)
    left = [job.next_week for job in _falling_out(truth.asked, jobs)]
    return WeekList(
        monday,
        horizon.label(horizon.week_of(monday)),
        garden.day,
        hours,
        tuple(jobs),
        open_jobs(truth.bundle, truth.asked, truth.entries, monday, garden.day),
        tuple(truth.standing.gone.items()),
        any(entry.day >= made.plan.made_on for entry in truth.entries),
        horizon.first_day <= monday <= horizon.last_day,
        added(left),
        _racks(garden, truth, monday),
        gluts_of(_gluts_asked(garden, truth), jobs, monday),
    )


def _gluts_asked(garden: AtHand, truth: _Truth) -> GlutsAsked:
    plan, entries = truth.standing.plan, garden.diary.entries
    uses = UsesAsked(garden.opened, plan, entries, garden.day)
    return GlutsAsked(truth.asked, entries, uses)


def _racks(garden: AtHand, truth: _Truth, monday: date) -> RackWeek | None:
    """Say what a week's racks hold, and what the plan as it truly stands has lifted onto them."""
    catalogue = truth.made.catalogue
    return racks_in(
        (monday, monday + A_WEEK - timedelta(days=1)),
        garden.day,
        racks_told_m2(garden.opened.garden.stores),
        hung_in(garden.diary.entries, catalogue),
        lifted_to_cure(truth.standing.plan, catalogue),
    )


def added(losses: Sequence[Lost]) -> Lost:
    """Add up what several jobs lose."""
    lines: dict[str, tuple[float, float]] = {}
    for lost in losses:
        for line, kg, share in lost.lines:
            had, of = lines.get(line, (0.0, 0.0))
            lines[line] = (had + kg, of + share)
    known = all(lost.kcal is not None for lost in losses)
    told = sorted(lines.items(), key=lambda one: (-one[1][0], one[0]))
    return Lost(
        sum(lost.kg for lost in losses),
        sum(lost.weighed_kg for lost in losses),
        sum(lost.portions for lost in losses),
        sum(lost.kcal or 0.0 for lost in losses) if known else None,
        tuple((line, kg, share) for line, (kg, share) in told),
    )


def _growth(garden: AtHand, monday: date) -> float:
    """Give how fast weeds usually grow in a week, against the height of summer [1]."""
    opened = garden.opened.garden
    runs = seasons_from(opened.weather, opened.place, monday, DAYS_A_WEEK, RUNS, SEED)
    return weeds_grow(float(np.mean(runs.tmin_c + runs.tmax_c)) / 2)


@dataclass(frozen=True, slots=True)
class _Scale:
    """Against what a week's jobs are weighed: the Monday after it, and how fast weeds grow [1]."""

    next_monday: date
    growth: float


def _weighed(truth: _Truth, due: DueJob, done: Entry | None, scale: _Scale) -> WeekJob:
    """Weigh one job; where it stands is not known yet."""
    job, asked = due.job, truth.asked
    waits = waits_of(asked, job, scale.growth)
    planting = asked.plantings.get(job.planting)
    names = (food_of(job, planting), planting.crop) if planting else ()
    cover = planting.under_cover if planting else _covered(asked, job.place)
    return WeekJob(
        due,
        Stands.DONE if done else Stands.CAN_BE_LEFT,
        waits,
        waits.lost_on(scale.next_monday) if waits.steps else Lost(),
        spread_of(asked, job),
        has_figure(job, planting),
        waits.free_until(waiting_figure("noticed").value),
        wants_of(job.kind.value, *names, under_cover=cover),
        timed_of(job, truth.made.catalogue, asked),
        bed=planting.bed if planting else asked.bed_ids.get(job.place, ""),
        moved=asked.moved.get(job.planting),
        done=done,
        over_kg=over_kg(asked, job),
    )


def _covered(asked: Asked, place: str) -> bool:
    return any(bed.under_cover for bed in asked.plan.beds if bed.name == place)


def _noticed(job: WeekJob) -> bool:
    """Whether a table would notice what is lost if a job is left until next week."""
    return job.next_week.portions >= waiting_figure("noticed").value


def _order(job: WeekJob) -> tuple[object, ...]:
    """Put jobs in order: by what is lost next week, then by how soon and how much later."""
    return (
        job.done is not None,
        -job.next_week.weighed_kg if _noticed(job) else 0.0,
        job.free_until or date.max,
        -job.waits.never.weighed_kg,
        job.due.job.last_day,
        job.id,
    )


def _stood(asked: Asked, jobs: Sequence[WeekJob], hours: Hours) -> list[WeekJob]:
    """Say where each job stands once the week is cut to its hours."""
    ordered = sorted(jobs, key=_order)
    open_ones = [job for job in ordered if job.done is None]
    pressing = [job for job in open_ones if _noticed(job)]
    left = hours.left
    if left is None:
        chosen = {job.id for job in open_ones}
    else:
        chosen = set(cut_to(_tasks(asked, pressing), left))
        chosen |= {job.id for job in pressing if job.minutes <= 0}
        left -= sum(job.minutes for job in pressing if job.id in chosen)
        for job in open_ones:
            if job.id not in chosen and not _noticed(job) and job.minutes <= left + 1e-9:
                chosen.add(job.id)
                left -= job.minutes
    return [replace(job, stands=_stands(job, job.id in chosen)) for job in ordered]


def _stands(job: WeekJob, chosen: bool) -> Stands:  # noqa: FBT001
    if job.done is not None:
        return Stands.DONE
    if _noticed(job):
        return Stands.DO if chosen else Stands.FALLS_OUT
    return Stands.IF_TIME if chosen else Stands.CAN_BE_LEFT


def _tasks(asked: Asked, jobs: Sequence[WeekJob]) -> list[Task]:
    """Make tasks of jobs; what is put by is lost too where it is not picked, and counts once."""
    picked: dict[tuple[str, str], list[WeekJob]] = {}
    for job in jobs:
        planting = asked.plantings.get(job.due.job.planting)
        if planting is not None and job.due.job.kind in TAKES:
            picked.setdefault((planting.kind, food_of(job.due.job, planting)), []).append(job)
    worth = {job.id: job.next_week.weighed_kg for job in jobs}
    after: dict[str, tuple[tuple[str, float], ...]] = {}
    for job in jobs:
        lots = lots_of(asked, job.due.job) if job.due.job.kind is JobKind.PUT_BY else ()
        givers = picked.get((lots[0].kind, lots[0].food), []) if lots else []
        if givers:
            each = worth[job.id] / len(givers)
            after[job.id] = tuple((giver.id, each) for giver in givers)
            for giver in givers:
                worth[giver.id] = max(0.0, worth[giver.id] - each)
            worth[job.id] = 0.0
    return [Task(job.id, job.minutes, worth[job.id], after.get(job.id, ())) for job in jobs]


def _falling_out(asked: Asked, jobs: Sequence[WeekJob]) -> list[WeekJob]:
    """Give the jobs that fall out, but for putting by what is not picked either: it counts once."""
    out = [job for job in jobs if job.stands is Stands.FALLS_OUT]
    unpicked = set()
    for job in out:
        planting = asked.plantings.get(job.due.job.planting)
        if planting is not None and job.due.job.kind in TAKES:
            unpicked.add((planting.kind, food_of(job.due.job, planting)))
    counted = []
    for job in out:
        lots = lots_of(asked, job.due.job) if job.due.job.kind is JobKind.PUT_BY else ()
        if not lots or (lots[0].kind, lots[0].food) not in unpicked:
            counted.append(job)
    return counted


def _laid_out(jobs: Sequence[WeekJob], hours: Hours) -> list[WeekJob]:
    """Lay the jobs to do out on the days, where weather is told for any of them."""
    if not any(day.wet is not None for day in hours.days):
        return list(jobs)
    chosen = [job for job in jobs if job.stands in {Stands.DO, Stands.IF_TIME}]
    laid = lay_out_days(
        [
            ToLay(job.id, job.minutes, job.wants.wants, job.due.job.first_day, _last_day(job.waits))
            for job in chosen
        ],
        hours.days,
    )
    ids = {job.id for job in chosen}
    return [
        replace(job, on=laid.on.get(job.id, ()), no_day=job.id in laid.no_day)
        if job.id in ids
        else job
        for job in jobs
    ]


def _last_day(waits: Waits) -> date:
    return waits.last_day or date.max


def by_id(week: WeekList) -> Mapping[str, WeekJob]:
    """Give a week's jobs by id."""
    return {job.id: job for job in week.jobs}
