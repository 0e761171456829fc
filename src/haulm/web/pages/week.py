"""What a week asks for: to sow, set, lift, put by; how much, where and how long it takes."""

from collections.abc import Mapping
from dataclasses import asdict
from datetime import date, timedelta
from urllib.parse import urlencode

from babel.dates import format_date
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from haulm.desk.at_hand import AtHand
from haulm.desk.season.diary_asked import done_jobs, entry_for
from haulm.desk.season.watch import watch_of
from haulm.desk.season.week_jobs import WeekJobs, monday_named, week_jobs
from haulm.measure.weeks import DAYS_A_WEEK, monday_of, week_label
from haulm.season.records import Entry
from haulm.sheets.week_jobs import Job
from haulm.web.reader import Reader
from haulm.web.show import page, reader_of, shelf_of
from haulm.web.words import gettext as _
from haulm.web.words import language, ngettext

HOUR_MIN = 60
HOUR_WITH_MINUTES = 5
"""Times of an hour and more are told to five minutes."""
TEN = 10


def show(request: Request) -> Response:
    """Show the jobs of a week: the one asked for, else the one of today."""
    garden = shelf_of(request).garden
    of = request.query_params.get("of")
    monday = monday_of(garden.day) if of is None else monday_named(of)
    if monday is None:
        raise HTTPException(404)
    bundle = garden.bundle
    reader = reader_of(request)
    week = week_jobs(garden, bundle, monday) if bundle else None
    now = monday == monday_of(garden.day)
    return page(
        request,
        "week.html",
        garden=garden,
        week=week,
        groups=_groups(week),
        horizon=bundle.plan.horizon if bundle else None,
        now=now,
        watch=watch_of(garden, garden.day) if now and bundle else None,
        before=week_label(monday - timedelta(days=DAYS_A_WEEK)),
        after=week_label(monday + timedelta(days=DAYS_A_WEEK)),
        days=[monday + timedelta(days=day) for day in range(DAYS_A_WEEK)],
        weekday=lambda day: format_date(day, "EEE", locale=language()),
        duration=duration,
        years_in_ten=lambda share: years_in_ten(share, reader),
        since=garden.made.since if garden.made else (),
        done=_done(garden, week),
        tell=lambda job: tell_address(job, garden, monday),
    )


def _done(garden: AtHand, week: WeekJobs | None) -> Mapping[str, Entry]:
    """Find which of a week's jobs the diary says were done."""
    made = garden.unlaid
    if week is None or made is None:
        return {}
    due = (*week.cannot_wait, *week.by_sunday, *week.weather)
    return done_jobs([one.job for one in due], garden.diary.entries, made.plan)


def tell_address(job: Job, garden: AtHand, monday: date) -> str:
    """Give the address at which a job is written down as done, filled in as far as it can be."""
    made = garden.unlaid
    if made is None:
        return "/diary"
    day = min(garden.day, monday + timedelta(days=DAYS_A_WEEK - 1))
    typed = entry_for(job, made.plan, made.names, day)
    said = {key: value for key, value in asdict(typed).items() if value}
    return f"/diary?{urlencode(said | {'back': f'/week?of={week_label(monday)}'})}"


def duration(minutes: float) -> str:
    """Write a length of work: 15 min, 1 h 35."""
    if minutes < HOUR_MIN:
        return _("%(minutes)s min") % {"minutes": max(1, round(minutes))}
    whole = HOUR_WITH_MINUTES * round(minutes / HOUR_WITH_MINUTES)
    hours, rest = divmod(whole, HOUR_MIN)
    if rest:
        return _("%(hours)s h %(minutes)s") % {"hours": hours, "minutes": f"{rest:02d}"}
    return _("%(hours)s h") % {"hours": hours}


def _groups(week: WeekJobs | None) -> list[tuple[str, str, object]]:
    """Name each group of jobs; those without a job are left out."""
    if week is None:
        return []
    named = [
        ("first", _("First"), week.cannot_wait),
        ("by-sunday", _("By Sunday"), week.by_sunday),
        ("weather", _("If the weather lets you"), week.weather),
    ]
    return [(key, name, jobs) for key, name, jobs in named if jobs]


def years_in_ten(share: float, reader: Reader) -> str:
    """Put odds into words: 3 years in 10, or that they are under one."""
    years = round(TEN * share)
    if years < 1:
        return _("under 1 year in 10")
    words = ngettext("%(years)s year in 10", "%(years)s years in 10", years)
    return words % {"years": reader.number(years)}


routes = [Route("/week", show)]
