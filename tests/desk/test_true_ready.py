"""Ready days of the true year: by the record where it holds the year, the diary, or the odds."""

from dataclasses import replace
from datetime import date
from pathlib import Path

from haulm.desk.planning.plans import UNLAID, Made, kept_plan
from haulm.desk.season.review import review_of
from haulm.desk.season.review_plan import made_then
from haulm.desk.season.true_ready import ReadyBy, ReadyInYear, ready_foods, ready_in
from haulm.desk.season.true_year import TrueQuestion, true_question
from haulm.notebook.diary import write_entries
from haulm.notebook.file import open_notebook
from haulm.planner.true_year import as_it_came
from haulm.site.records import DailyRecord
from haulm.site.seasons import seasons_from
from season.year_lived import diary_of_year

NEW_YEAR = date(2027, 12, 31)
FIRST = date(2025, 1, 1)


def asked(path: Path, *, lived: bool) -> tuple[TrueQuestion, Made]:
    """Ask the small garden's true year, its diary written or not."""
    if lived:
        plan = kept_plan(path, UNLAID).plan
        with open_notebook(path, writing=True) as notebook:
            write_entries(notebook, diary_of_year(plan, NEW_YEAR))
    found = review_of(path, NEW_YEAR)
    made = made_then(found)
    return true_question(found, made), made


def recorded(made: Made, warmer_c: float, until: date) -> Made:
    """Let the garden have a record of days, so much warmer than usual, up to a day."""
    garden = made.begun_from
    days = (until - FIRST).days
    one = seasons_from(garden.weather, garden.place, FIRST, days, 1, 1)
    record = DailyRecord(
        "made", FIRST, one.tmin_c[0] + warmer_c, one.tmax_c[0] + warmer_c, one.rain_mm[0]
    )
    return replace(made, garden=replace(garden, weather=record), now=None)


def ready(told: TrueQuestion, made: Made) -> ReadyInYear:
    """Give the ready days of a year with the weather of a garden."""
    plain = replace(told.year, grown={})
    return ready_in(told.question, plain, made, 1)


def first_weeks(told: TrueQuestion, found: ReadyInYear) -> dict[tuple[str, str], int]:
    """Give the first week of every food of every sowing in the year as it came."""
    came = as_it_came(told.question, found.year)
    return {(s.id, f.food): f.first_week for s in came.sowings for f in s.foods}


def test_a_warm_year_on_record_was_ready_sooner_than_a_cold_one(planned: Path) -> None:
    """By a record 3 °C warmer than usual no food of it is later than by one 1 °C colder, and beans
    are sooner; where nobody wrote anything, the record tells the days all the same.
    """
    told, made = asked(planned, lived=False)
    warm, cold = (ready(told, recorded(made, c, date(2028, 6, 1))) for c in (3.0, -1.0))
    by = {key for key, one in warm.by.items() if one is ReadyBy.RECORD} & cold.by.keys()
    assert by
    soon, late = first_weeks(told, warm), first_weeks(told, cold)
    beans = [key for key in by & soon.keys() if key[1] == "green beans"]
    beans = [key for key in beans if cold.by[key] is ReadyBy.RECORD]
    assert beans
    assert all(soon[key] <= late[key] for key in beans)
    assert any(soon[key] < late[key] for key in beans)


def test_a_year_without_a_record_is_dated_by_the_diary_else_by_the_odds(planned: Path) -> None:
    """Monthly means tell no day: kinds that were picked have the diary's days, others the plan's
    own.
    """
    silent, _ = asked(planned, lived=False)
    assert set(silent.ready_by.values()) == {ReadyBy.ODDS}
    told, _ = asked(planned, lived=True)
    assert set(told.ready_by.values()) == {ReadyBy.DIARY, ReadyBy.ODDS}


def test_a_record_that_ended_before_the_year_tells_nothing_of_it(planned: Path) -> None:
    """A record up to the end of 2026 dates nothing of 2027."""
    told, made = asked(planned, lived=True)
    old = ready(told, recorded(made, 3.0, date(2027, 1, 1)))
    assert ReadyBy.RECORD not in old.by.values()
    assert first_weeks(told, old) == first_weeks(told, ready(told, made))


def test_each_food_says_by_what_it_is_dated(planned: Path) -> None:
    """Every food of a sowing in the year is told, with how many sowings by each."""
    told, _ = asked(planned, lived=True)
    foods = {one.food: dict(one.by) for one in ready_foods(told.ready_by)}
    assert sum(sum(by.values()) for by in foods.values()) == len(told.ready_by)
