"""What a week asks for: to sow, set, lift, put by; how much, where and how long it takes."""

from dataclasses import asdict
from datetime import date, timedelta
from functools import partial
from urllib.parse import quote, unquote, urlencode

from babel.dates import format_date
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from haulm.desk.at_hand import AtHand
from haulm.desk.planning.noting import NoteWish, note
from haulm.desk.season.diary_asked import entry_for
from haulm.desk.season.watch import watch_of
from haulm.desk.season.week_asked import printed
from haulm.desk.season.week_hours import HoursWish, read_hours
from haulm.desk.season.week_jobs import monday_named, week_jobs
from haulm.desk.season.week_of import week_of
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.measure.weeks import DAYS_A_WEEK, monday_of, week_label
from haulm.plan.state import Became
from haulm.sheets.acts import JobKind
from haulm.sheets.bundle import SheetBundle
from haulm.sheets.glut_words import GlutWords
from haulm.sheets.rack_words import rack_words
from haulm.sheets.week_jobs import Job
from haulm.sheets.week_list import Stands, WeekJob, WeekList
from haulm.sheets.week_words import WeekWords, wants_words
from haulm.sheets.wording import food_name
from haulm.web.forms import Form, with_form
from haulm.web.paper import paper_of
from haulm.web.reader import Reader
from haulm.web.show import go, page, reader_of, shelf_of
from haulm.web.words import gettext as _
from haulm.web.words import language, ngettext

HOUR_MIN = 60
HOUR_WITH_MINUTES = 5
"""Times of an hour and more are told to five minutes."""
TEN = 10
A_WEEK_S = 7 * 24 * 3600


HOURS = "week-hours"
"""The cookie that keeps the hours told for one week: its label, then the hours."""


def show(request: Request) -> Response:
    """Show the jobs of a week: the one asked for, else the one of today."""
    return _shown(request)


def print_week(request: Request) -> Response:
    """Give a week's sheet for the shed door, as a PDF that opens in the browser."""
    garden = shelf_of(request).garden
    monday = _monday(request)
    found = week_of(garden, monday, _wish(request, monday)[0])
    bundle = garden.bundle
    if found is None or bundle is None:
        raise HTTPException(404)
    headers = {"Content-Disposition": f'inline; filename="week-{found.label}.pdf"'}
    pdf = printed(bundle, found, paper_of(request))
    return Response(pdf, media_type="application/pdf", headers=headers)


def not_done(request: Request, form: Form) -> Response:
    """Note that an open job will not be done: its planting is not sown, or has failed."""
    shelf = shelf_of(request)
    garden = shelf.garden
    planting, kind = form.text("planting"), form.text("job")
    what = Became.FAILED if kind == JobKind.SET_OUT.value else Became.NOT_SOWN
    try:
        note(garden.path, planting, NoteWish(what.value, garden.day), shelf.now())
    except FaultsFoundError as error:
        return _shown(request, error.findings)
    return go("/week", _("It is noted. Plan again to see what the ground may hold instead."))


def _shown(request: Request, faults: tuple[Finding, ...] = ()) -> Response:
    garden = shelf_of(request).garden
    monday = _monday(request)
    bundle = garden.bundle
    reader = reader_of(request)
    week = week_jobs(garden, bundle, monday) if bundle else None
    now = monday == monday_of(garden.day)
    wish, typed, unread = _wish(request, monday)
    listed = week_of(garden, monday, wish)
    response = page(
        request,
        "week.html",
        here="/week",
        status=422 if faults or unread else 200,
        garden=garden,
        week=week,
        listed=listed,
        words=_words(bundle),
        faults=(*faults, *unread),
        groups=_groups(listed),
        racks=_rack_words(listed, bundle),
        glut_words=_glut_words(bundle),
        tending=_tending,
        stands=Stands,
        wants_words=wants_words,
        hours_typed=typed,
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
        tell=lambda job: tell_address(job, garden, monday),
    )
    if "hours" in request.query_params and not unread:
        kept = f"{week_label(monday)} {typed}" if typed else ""
        response.set_cookie(HOURS, quote(kept), httponly=True, samesite="lax", max_age=A_WEEK_S)
    return response


def _monday(request: Request) -> date:
    """Give the Monday of the week asked for, else of today's."""
    of = request.query_params.get("of")
    monday = monday_of(shelf_of(request).garden.day) if of is None else monday_named(of)
    if monday is None:
        raise HTTPException(404)
    return monday


def _wish(request: Request, monday: date) -> tuple[HoursWish | None, str, tuple[Finding, ...]]:
    """Read the hours told for a week: now, or before; with what was typed, and what is wrong."""
    label, _space, kept = unquote(request.cookies.get(HOURS, "")).partition(" ")
    before = kept if label == week_label(monday) else ""
    typed = request.query_params.get("hours", before).strip()
    if not typed:
        return None, "", ()
    try:
        return read_hours(typed), typed, ()
    except FaultsFoundError as error:
        return None, typed, error.findings


def _words(bundle: SheetBundle | None) -> WeekWords | None:
    return WeekWords(bundle.lines, bundle.units) if bundle else None


def _glut_words(bundle: SheetBundle | None) -> GlutWords | None:
    return GlutWords(partial(food_name, bundle.catalogue), bundle.units) if bundle else None


def _rack_words(listed: WeekList | None, bundle: SheetBundle | None) -> tuple[str, ...]:
    """Say whether the racks hold what cures; empty where nothing does."""
    if listed is None or bundle is None or listed.racks is None:
        return ()
    return rack_words(listed.racks, partial(food_name, bundle.catalogue), bundle.units)


def _tending(jobs: list[WeekJob]) -> list[WeekJob]:
    """Give the tending among some jobs; the page tells it as one, bed by bed."""
    return [job for job in jobs if job.due.job.kind is JobKind.TEND]


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


def _groups(listed: WeekList | None) -> list[tuple[str, str, tuple[WeekJob, ...]]]:
    """Name each group of jobs; those without a job are left out."""
    if listed is None:
        return []
    named = {
        Stands.DO: _("To do, what loses most by waiting first"),
        Stands.IF_TIME: _("If there is time"),
        Stands.FALLS_OUT: _("Falls out of your hours"),
        Stands.CAN_BE_LEFT: _("Can be left this week"),
        Stands.DONE: _("Done"),
    }
    groups = [(stands, name, listed.standing(stands)) for stands, name in named.items()]
    return [(stands.value.replace(" ", "-"), name, jobs) for stands, name, jobs in groups if jobs]


def years_in_ten(share: float, reader: Reader) -> str:
    """Put odds into words: 3 years in 10, or that they are under one."""
    years = round(TEN * share)
    if years < 1:
        return _("under 1 year in 10")
    words = ngettext("%(years)s year in 10", "%(years)s years in 10", years)
    return words % {"years": reader.number(years)}


routes = [
    Route("/week", show),
    Route("/week/print", print_week),
    Route("/week/not-done", with_form(not_done), methods=["POST"]),
]
