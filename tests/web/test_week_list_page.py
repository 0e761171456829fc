"""The week's page: cut to the hours told, laid out for dry days and wet ones; what is left open."""

from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from io import BytesIO
from pathlib import Path

import pytest
from pypdf import PdfReader
from starlette.testclient import TestClient

from haulm.desk.at_hand import AtHand
from haulm.desk.planning.plans import UNLAID, kept_plan
from haulm.desk.season.ahead import tell_days
from haulm.desk.season.diary import write_entry
from haulm.desk.season.diary_asked import entry_for
from haulm.desk.season.diary_typed import TypedEntry, Written
from haulm.measure.weeks import week_label
from haulm.plan.records import Plan
from haulm.season.ahead import DayAhead
from haulm.sheets.acts import JobKind
from haulm.sheets.week_jobs import jobs_between
from haulm.web.app import create_app
from haulm.web.guard import cookie_name
from haulm.web.pages import week as week_page
from haulm.web.run import hosts_of
from haulm.web.shelf import Shelf
from web.conftest import ORIGIN, PORT, TOKEN

Door = Callable[[Path], TestClient]


@pytest.fixture(scope="module")
def plan(planned_once: Path) -> Plan:
    """Give the small garden's plan."""
    return kept_plan(planned_once, UNLAID).plan


def busy(plan: Plan) -> str:
    """Name the week that asks most hours."""
    week = max(plan.hours, key=lambda one: one.asked_h).week
    return week_label(plan.horizon.monday(week))


def test_hours_told_cut_the_week_and_are_kept_for_it(visit: TestClient, plan: Plan) -> None:
    """With a quarter of an hour most falls out, with its cost; the week remembers its hours, and no
    other week takes them for its own.
    """
    of = busy(plan)
    whole = visit.get("/week", params={"of": of}).text
    assert "Falls out of your hours" not in whole
    cut = visit.get("/week", params={"of": of, "hours": "0.25"}).text
    assert "Falls out of your hours" in cut
    assert "what falls out costs" in cut
    assert "15 min</strong> left of the 15 min that you give" in cut
    assert "Falls out of your hours" in visit.get("/week", params={"of": of}).text
    assert "of the 8 h that you give" in visit.get("/week").text
    visit.get("/week", params={"of": of, "hours": ""})
    assert "Falls out of your hours" not in visit.get("/week", params={"of": of}).text


def test_hours_that_cannot_be_read_are_said_to_be_so(visit: TestClient, plan: Plan) -> None:
    """What names no hours is not guessed at: the page says so, and shows the week uncut."""
    answer = visit.get("/week", params={"of": busy(plan), "hours": "a lot <b>"})
    assert answer.status_code == 422
    assert "it names no hours" in answer.text
    assert "a lot &lt;b&gt;" in answer.text
    assert "To do, what loses most by waiting first" in answer.text


def test_every_job_says_what_waiting_costs_and_what_weather_it_wants(
    visit: TestClient, plan: Plan
) -> None:
    """Beside what is to be done stands what the table loses, and for what day it is."""
    text = visit.get("/week", params={"of": busy(plan)}).text
    assert "left until next week:" in text
    assert "portions" in text
    assert "On a dry day" in text
    assert "On a wet day, or indoors" in text


def test_the_week_prints_for_the_shed_door(visit: TestClient, plan: Plan) -> None:
    """The sheet is a PDF of one page with the week's jobs, on A4 or on Letter."""
    for paper, width in (("a4", 595), ("letter", 612)):
        answer = visit.get("/week/print", params={"of": busy(plan), "paper": paper})
        assert answer.headers["content-type"] == "application/pdf"
        pages = PdfReader(BytesIO(answer.content)).pages
        assert len(pages) == 1
        assert round(float(pages[0].mediabox.width)) == width
        assert "This week" in pages[0].extract_text()


def test_there_is_no_sheet_without_a_plan(door: Door, unplanned: Path) -> None:
    """Without a plan there is nothing to print."""
    assert door(unplanned).get("/week/print").status_code == 404
    assert door(unplanned).get("/week/print", params={"of": "soon"}).status_code == 404


def test_the_routes_of_the_week_are_its_own() -> None:
    """The list, its sheet, and the note that something will not be done."""
    assert [route.path for route in week_page.routes] == ["/week", "/week/print", "/week/not-done"]


def on_day(notebook: Path, day: date) -> TestClient:
    """Open the pages of a notebook as of a day."""
    app = create_app(Shelf(notebook, lambda: day), TOKEN, PORT, hosts_of("127.0.0.1", PORT))
    client = TestClient(app, base_url=ORIGIN, headers={"Origin": ORIGIN})
    client.cookies.set(cookie_name(PORT), TOKEN)
    return client


def test_a_week_whose_weather_is_told_is_laid_out_day_by_day(planned: Path, plan: Plan) -> None:
    """With a dry day and a wet one told, jobs stand under their days, and the page says which."""
    monday = plan.horizon.monday(max(plan.hours, key=lambda one: one.asked_h).week)
    at = datetime(2027, 1, 1, tzinfo=UTC)
    days = [(monday + timedelta(days=n), 8.0 if n % 2 else 0.0) for n in range(7)]
    tell_days(planned, tuple(DayAhead(day, at, rain_mm=mm) for day, mm in days))
    with on_day(planned, monday) as client:
        text = client.get("/week").text
    assert "On a dry day" not in text
    assert "there is</span>" in text
    assert ">wet" in text
    assert ">dry" in text


def test_what_is_still_open_can_be_ticked_or_said_never_to_be_done(
    planned: Path, plan: Plan
) -> None:
    """Two weeks on, with a diary that is kept, an unticked sowing stands open with what is lost;
    said not to be done it is noted, and the week no longer asks about it.
    """
    planting = min(
        (one for one in plan.plantings if one.tray_cells and one.serves and not one.standing),
        key=lambda one: (one.sow_on, one.id),
    )
    day = planting.sow_on + timedelta(weeks=2)
    written = Written("e1", datetime(2027, 1, 1, tzinfo=UTC), "laptop")
    write_entry(
        planned, TypedEntry(kind="rained", day=day.isoformat(), amount="3 mm"), written, day
    )
    with on_day(planned, day) as client:
        text = client.get("/week").text
        assert "Still open: nobody ticked it" in text
        assert f'name="planting" value="{planting.id}"' in text
        mark = text.split('name="haulm-garden" value="', 1)[1].split('"', 1)[0]
        form = {"planting": planting.id, "job": "sow in trays", "haulm-garden": mark}
        answer = client.post("/week/not-done", data=form, follow_redirects=False)
        assert answer.status_code == 303
        after = client.get("/week").text
    assert f'name="planting" value="{planting.id}"' not in after
    assert "No more asked of" in after


def test_a_note_about_nothing_is_refused(planned: Path) -> None:
    """What names no planting is refused with a word, and nothing is noted."""
    with on_day(planned, date(2027, 2, 1)) as client:
        text = client.get("/diary").text
        mark = text.split('name="haulm-garden" value="', 1)[1].split('"', 1)[0]
        form = {"planting": "moonflower-1", "job": "sow", "haulm-garden": mark}
        answer = client.post("/week/not-done", data=form)
    assert answer.status_code in {404, 422}
    assert "moonflower-1" in answer.text


def test_a_glut_stands_on_the_week_with_what_may_be_done(
    door: Door, planned: Path, plan: Plan
) -> None:
    """Far more picked than the plan takes: the page says how much, and what may be done with it."""
    pick = next(pick for one in plan.plantings for pick in one.picks if pick.kg > 0)
    monday = plan.horizon.monday(pick.week)
    typed = TypedEntry("picked", monday.isoformat(), food=pick.food, amount="90 kg")
    written = Written("e1", datetime(2027, 1, 1, tzinfo=UTC), "laptop")
    write_entry(planned, typed, written, date(2029, 1, 1))
    text = door(planned).get("/week", params={"of": week_label(monday)}).text
    assert "More than the table eats and the stores take" in text
    assert "more than is eaten, put by or given" in text
    assert "Give some away" in text
    assert "%(" not in text


def test_work_of_half_a_minute_is_written_as_a_minute(planned: Path, plan: Plan) -> None:
    """A job done is offered with the minutes it takes, and never with none: that would teach next
    year that it costs no time.
    """
    garden = AtHand(planned, lambda: plan.horizon.first_day)
    assert garden.bundle is not None
    jobs = jobs_between(garden.bundle, plan.horizon.first_day, plan.horizon.last_day)
    job = next(job for job in jobs if job.kind is JobKind.PICK)
    typed = entry_for(replace(job, minutes=0.4), plan, {}, job.first_day)
    assert typed.minutes == "1"
    assert entry_for(replace(job, minutes=None), plan, {}, job.first_day).minutes == ""
