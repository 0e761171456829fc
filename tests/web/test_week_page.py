"""A week of the plan: its jobs by haste, with quantities, hours and frost odds."""

from collections.abc import Callable
from datetime import date, timedelta
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from haulm.desk.at_hand import AtHand
from haulm.desk.season.week_jobs import (
    WeekJobs,
    frost_of_week,
    monday_named,
    week_jobs,
)
from haulm.plan.records import Ready
from haulm.season.waiting import ready_share
from haulm.sheets.acts import JobKind
from haulm.web.pages.week import duration, years_in_ten
from haulm.web.reader import Reader

Door = Callable[[Path], TestClient]


@pytest.fixture(scope="module")
def weeks(planned_once: Path) -> tuple[WeekJobs, ...]:
    """Give every week of the small garden's plan."""
    garden = AtHand(planned_once, lambda: date(2027, 2, 1))
    bundle = garden.bundle
    assert bundle is not None
    horizon = bundle.plan.horizon
    return tuple(week_jobs(garden, bundle, horizon.monday(week)) for week in range(horizon.weeks))


def test_this_week_is_shown_first(visit: TestClient) -> None:
    """The page opens on the week of today, with the hours it asks and those given."""
    text = visit.get("/week").text
    assert "<h1>This week</h1>" in text
    assert "2027-W05" in text
    assert "of the 8 h that you give" in text


def test_any_week_of_the_plan_can_be_asked_for(visit: TestClient) -> None:
    """A week is asked for by its name, and leads to the one before and the one after."""
    assert visit.get("/week", params={"of": "2027-W53"}).status_code == 404
    text = visit.get("/week", params={"of": "2028-W01"}).text
    assert "of=2027-W52" in text
    assert "of=2028-W02" in text


def test_a_sowing_in_place_is_told_when_it_should_show(weeks: tuple[WeekJobs, ...]) -> None:
    """Seed sown in place shows after its sowing, and a while after that it is given up; what is
    raised in trays, set as bulbs or dug out is told no such day.
    """
    jobs = [due for week in weeks for due in (*week.cannot_wait, *week.by_sunday, *week.weather)]
    told = [due for due in jobs if due.shows is not None]
    assert told
    for due in told:
        assert due.job.kind is JobKind.SOW
        assert due.shows is not None
        assert due.job.first_day < due.shows.by < due.shows.again


def test_the_page_says_when_to_sow_again(visit: TestClient, weeks: tuple[WeekJobs, ...]) -> None:
    """Beside the sowing stands the day by which it shows and the day to sow again."""
    week = next(
        week
        for week in weeks
        if any(due.shows for due in (*week.cannot_wait, *week.by_sunday, *week.weather))
    )
    text = visit.get("/week", params={"of": week.label}).text
    assert "8 years in 10; if nothing shows by" in text


@pytest.mark.parametrize("of", ["", "soon", "2027-W00", "2027W05", "<script>", "2027-W5"])
def test_no_such_week_is_said_to_be_none(visit: TestClient, of: str) -> None:
    """What names no week of the calendar is answered so, not with another week."""
    answer = visit.get("/week", params={"of": of})
    assert answer.status_code == 404
    assert "There is no such page." in answer.text


def test_a_week_beyond_the_plan_says_so(visit: TestClient) -> None:
    """Weeks the plan does not reach are not shown as weeks without work."""
    text = visit.get("/week", params={"of": "2031-W20"}).text
    assert "The plan does not reach this week" in text
    assert "Nothing to do" not in text


def test_without_a_plan_the_week_says_what_is_needed(door: Door, unplanned: Path) -> None:
    """There are no jobs without a plan, and the page offers to make one."""
    text = door(unplanned).get("/week").text
    assert "This page is drawn from a plan." in text
    assert "Make a plan" in text


def test_every_job_of_the_plan_falls_into_one_group(weeks: tuple[WeekJobs, ...]) -> None:
    """No job is told twice in a week, and each is in one group only."""
    for week in weeks:
        ids = [due.job.id for due in (*week.cannot_wait, *week.by_sunday, *week.weather)]
        assert len(ids) == len(set(ids)) == week.count


def test_the_minutes_shown_add_up_to_the_hours_asked(weeks: tuple[WeekJobs, ...]) -> None:
    """The times beside a week's jobs add up to what the week is said to ask."""
    for week in weeks:
        jobs = (*week.cannot_wait, *week.by_sunday, *week.weather)
        minutes = sum(due.job.minutes or 0.0 for due in jobs)
        assert week.hours is not None
        assert minutes / 60 == pytest.approx(week.hours.asked_h, abs=0.02)


def test_what_stands_first_cannot_be_left_for_later(weeks: tuple[WeekJobs, ...]) -> None:
    """First come the jobs whose last day lies in the week, and no job with a later one."""
    assert any(week.cannot_wait for week in weeks)
    for week in weeks:
        for due in week.cannot_wait:
            assert due.last_day <= week.sunday
        for due in week.by_sunday:
            if due.job.latest_day is not None:
                assert due.job.latest_day > week.sunday


def test_tending_is_one_job_that_names_each_bed(weeks: tuple[WeekJobs, ...]) -> None:
    """Weeding and watering stand together, with the minutes of each bed."""
    for week in weeks:
        tending = [due for due in week.by_sunday if due.job.kind is JobKind.TEND]
        assert len(tending) <= 1
        for due in tending:
            assert due.job.minutes == pytest.approx(sum(minutes for _, minutes in due.parts))


def test_cautions_are_told_once_with_their_jobs(weeks: tuple[WeekJobs, ...]) -> None:
    """A caution stands once a week, with every job that it is for."""
    for week in weeks:
        texts = [text for text, _jobs in week.cautions]
        assert len(texts) == len(set(texts))
        assert all(jobs for _text, jobs in week.cautions)


def test_frost_is_likelier_in_winter_than_in_summer(planned_once: Path) -> None:
    """Some night of January freezes more often than some night of July, nights less than weeks."""
    garden = AtHand(planned_once, lambda: date(2027, 2, 1))
    winter = frost_of_week(garden, date(2028, 1, 10))
    summer = frost_of_week(garden, date(2027, 7, 12))
    assert winter.some_night > 0.5
    assert summer.some_night == 0.0
    for week in (winter, summer):
        assert len(week.nights) == 7
        assert max(week.nights) <= week.some_night + 0.35
        assert all(0.0 <= odds <= 1.0 for odds in week.nights)


def test_readiness_lies_between_the_days_told() -> None:
    """On the day of 5 years in 10 half are ready; before that of 1 in 10 none is promised."""
    ready = Ready("leek", date(2027, 9, 1), date(2027, 9, 11), date(2027, 9, 21))
    assert ready_share(ready, date(2027, 8, 31)) == 0.0
    assert ready_share(ready, date(2027, 9, 1)) == pytest.approx(0.1)
    assert ready_share(ready, date(2027, 9, 11)) == pytest.approx(0.5)
    assert ready_share(ready, date(2027, 9, 16)) == pytest.approx(0.7)
    assert ready_share(ready, date(2027, 12, 1)) == pytest.approx(0.9)


def test_weeks_are_named_by_the_iso_calendar() -> None:
    """ISO 8601: the week with the year's first Thursday is its first, and begins on Monday."""
    assert monday_named("2027-W01") == date(2027, 1, 4)
    assert monday_named("2026-W53") == date(2026, 12, 28)
    assert monday_named("2027-W53") is None
    monday = monday_named("2027-W14")
    assert monday == date(2027, 4, 5)
    assert monday is not None
    assert (monday + timedelta(days=6)).weekday() == 6


@pytest.mark.parametrize(
    ("minutes", "told"),
    [
        (0.2, "1 min"),
        (15, "15 min"),
        (59.2, "59 min"),
        (60, "1 h"),
        (94, "1 h 35"),
        (261, "4 h 20"),
    ],
)
def test_time_is_told_as_a_clock_would(minutes: float, told: str) -> None:
    """Minutes under an hour, then hours and minutes to five."""
    assert duration(minutes) == told


@pytest.mark.parametrize(
    ("share", "words"),
    [(0.0, "under 1 year in 10"), (0.11, "1 year in 10"), (0.84, "8 years in 10")],
)
def test_odds_are_told_in_years(share: float, words: str) -> None:
    """Odds are counted in years, and small ones are not told as none."""
    assert years_in_ten(share, Reader()) == words
