"""Jobs of earlier weeks that nobody ticked: told once, with what is lost by now."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import date, timedelta

from haulm.catalogue.records import Picking
from haulm.desk.season.diary_asked import ENTRY_OF, done_jobs
from haulm.desk.season.week_waiting import Asked, food_of, has_figure, waits_of
from haulm.measure.weeks import DAYS_A_WEEK
from haulm.season.records import Entry, EntryKind, key_of
from haulm.season.waiting_rules import waiting_figure
from haulm.sheets.acts import JobKind
from haulm.sheets.bundle import SheetBundle
from haulm.sheets.week_due import DueJob
from haulm.sheets.week_jobs import STARTS, Job, jobs_between
from haulm.sheets.week_list import OpenJob

ORDER = (
    EntryKind.SOWN,
    EntryKind.SET,
    EntryKind.EMERGED,
    EntryKind.THINNED,
    EntryKind.SET_OUT,
    EntryKind.PICKED,
    EntryKind.CURED,
    EntryKind.CLEARED,
)
"""What is done to a planting, in order: what comes later says that the earlier was done."""


def open_jobs(
    bundle: SheetBundle, asked: Asked, entries: Sequence[Entry], monday: date, day: date
) -> tuple[OpenJob, ...]:
    """Give the jobs of the weeks before one that the diary does not say were done.

    Only of the week that holds today. Starting, lifting at once, clearing for what follows and
    putting by stay open; what was to be picked or tended in a week that is over is over too.

    Parameters
    ----------
    bundle
        The plan as it truly stands.
    asked
        What its jobs are weighed with.
    entries
        What the diary says.
    monday, day
        The week, and the day that counts as today.
    """
    if not monday <= day < monday + timedelta(days=DAYS_A_WEEK):
        return ()
    back = timedelta(weeks=round(waiting_figure("open weeks").value))
    first = max(bundle.plan.made_on, monday - back)
    before = monday - timedelta(days=1)
    if first > before:
        return ()
    jobs = [
        job
        for job in jobs_between(bundle, first, before)
        if job.last_day < monday and _stays_open(asked, job)
    ]
    done = done_jobs(jobs, entries, bundle.plan)
    reached = _reached(entries)
    left = [job for job in jobs if job.id not in done and not _said_later(asked, job, reached)]
    found = [_open(asked, job, monday, day) for job in _first_of_each(left)]
    return tuple(sorted(found, key=_order))


def _first_of_each(jobs: Iterable[Job]) -> Iterator[Job]:
    """Give the first open job of each planting: until it is done the others cannot be."""
    seen = set()
    for job in sorted(jobs, key=lambda one: (one.first_day, one.last_day, one.id)):
        if not job.planting or job.planting not in seen:
            seen.add(job.planting)
            yield job


def _stays_open(asked: Asked, job: Job) -> bool:
    planting = asked.plantings.get(job.planting)
    if job.kind is JobKind.LIFT and planting is not None:
        return asked.feeding.how.get((planting.kind, food_of(job, planting))) is Picking.ONCE
    if job.kind is JobKind.PUT_BY:
        return True
    return job.kind in {*STARTS, JobKind.CLEAR, JobKind.DIG_IN} and has_figure(job, planting)


def _reached(entries: Iterable[Entry]) -> Mapping[str, int]:
    """Say how far each planting has come by the diary, as a place in the order of its work."""
    reached: dict[str, int] = {}
    for entry in entries:
        if entry.about.planting and entry.kind in ORDER:
            place = ORDER.index(entry.kind)
            reached[entry.about.planting] = max(place, reached.get(entry.about.planting, 0))
    return reached


def _said_later(asked: Asked, job: Job, reached: Mapping[str, int]) -> bool:
    """Whether something later was done to a planting, so that this must have been done."""
    planting = asked.plantings.get(job.planting)
    if planting is None or ENTRY_OF[job.kind] not in ORDER:
        return False
    return reached.get(key_of(planting), -1) > ORDER.index(ENTRY_OF[job.kind])


def _open(asked: Asked, job: Job, monday: date, day: date) -> OpenJob:
    waits = waits_of(asked, job)
    lost = waits.lost_on(day) if waits.steps else waits.never
    after = waits.lost_on(monday + timedelta(days=DAYS_A_WEEK)) if waits.steps else waits.never
    ago = (monday - job.last_day).days // DAYS_A_WEEK + 1
    return OpenJob(
        DueJob(job, tuple(_days(job, monday)), goes_on=True),
        ago,
        waits,
        lost,
        after,
        may_note=job.kind in STARTS,
    )


def _days(job: Job, monday: date) -> Iterator[bool]:
    last = job.latest_day or date.max
    return (monday + timedelta(days=n) <= last for n in range(DAYS_A_WEEK))


def _order(job: OpenJob) -> tuple[object, ...]:
    """Put what loses most by waiting another week first, and what is lost already last."""
    more = job.next_week.weighed_kg - job.lost.weighed_kg
    return job.too_late, -more, -job.waits.never.weighed_kg, job.due.job.last_day, job.due.job.id
