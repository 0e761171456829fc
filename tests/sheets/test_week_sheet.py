"""The week's sheet for the shed door: everything to do is on it, large, with room to write."""

from dataclasses import replace
from datetime import date, timedelta

import pytest

from haulm.catalogue.records import Basis
from haulm.season.feeding import Lost
from haulm.season.job_weather import DayOfWork, Wants, Weather
from haulm.season.waiting import Waits
from haulm.sheets.acts import JobKind
from haulm.sheets.bundle import Paper, SheetBundle
from haulm.sheets.week_due import DueJob
from haulm.sheets.week_jobs import Job
from haulm.sheets.week_list import Hours, Stands, Timed, WeekJob, WeekList
from haulm.sheets.week_sheet import week_sheets
from haulm.sheets.week_words import WeekWords, duration
from sheets.reading import texts


def texts_of(svg: str) -> list[str]:
    """Give the words of a sheet, text by text."""
    return [text.words for text in texts(svg)]


LOST = Lost(1.25, 1.25, 9.0, 400.0, (("leeks", 1.25, 0.09),))


def job(number: int, kind: JobKind, weather: Weather, stands: Stands, monday: date) -> WeekJob:
    """Make a job of a week up."""
    what = f"{kind.verb} crop {number}"
    told = Job(
        f"job {number}", kind, f"Bed {number}", what, "3 kg", 12.0, monday, monday, None, "", ()
    )
    never = LOST if stands in {Stands.DO, Stands.FALLS_OUT} else Lost()
    return WeekJob(
        DueJob(told, (True,) * 7, goes_on=False),
        stands,
        Waits((), never),
        never,
        (0.5, 1.5),
        told=True,
        free_until=None,
        wants=Wants(weather, Basis.JUDGED, "made up"),
        timed=Timed.KNOWN,
    )


def week(bundle: SheetBundle, *jobs: WeekJob) -> WeekList:
    """Make a week up of jobs."""
    monday = bundle.plan.horizon.first_day
    return WeekList(monday, "2027-W15", monday, Hours(240.0, 60.0, 0, ()), jobs)


def some(bundle: SheetBundle, count: int, stands: Stands = Stands.DO) -> list[WeekJob]:
    """Make so many jobs up, some of them to be weighed, for dry days and any."""
    monday = bundle.plan.horizon.first_day
    kinds = (JobKind.PICK, JobKind.SOW, JobKind.TEND, JobKind.LIFT)
    weathers = (Weather.DRY, Weather.ANY, Weather.INDOORS)
    return [
        job(number, kinds[number % 4], weathers[number % 3], stands, monday)
        for number in range(count)
    ]


@pytest.mark.parametrize("paper", Paper)
@pytest.mark.parametrize("count", [0, 1, 14, 24])
def test_a_usual_week_fits_one_sheet(schoolhouse: SheetBundle, paper: Paper, count: int) -> None:
    """Up to two dozen jobs stand on one sheet, each named, the tending of all beds as one."""
    jobs = some(schoolhouse, count)
    sheets = week_sheets(schoolhouse, week(schoolhouse, *jobs), paper)
    assert len(sheets) == 1
    words = " ".join(texts_of(sheets[0]))
    for one in jobs:
        named = one.due.job.place if one.due.job.kind is JobKind.TEND else one.due.job.what
        assert named in words


def test_a_week_too_long_for_a_sheet_goes_on_over_the_next(schoolhouse: SheetBundle) -> None:
    """Nothing is left off: what does not fit stands on the next sheet; each says which it is."""
    jobs = some(schoolhouse, 60)
    sheets = week_sheets(schoolhouse, week(schoolhouse, *jobs), Paper.A4)
    assert len(sheets) > 1
    words = " ".join(text for sheet in sheets for text in texts_of(sheet))
    assert f"sheet 1 of {len(sheets)}" in words
    assert all(one.due.job.what in words for one in jobs if one.due.job.kind is JobKind.SOW)


def test_what_is_picked_has_a_place_to_write_its_weight(schoolhouse: SheetBundle) -> None:
    """Beside picking and lifting stands the unit after a line to write on; beside sowing none."""
    monday = schoolhouse.plan.horizon.first_day
    for kind, lines in ((JobKind.PICK, 1), (JobKind.SOW, 0)):
        one = job(1, kind, Weather.ANY, Stands.DO, monday)
        (sheet,) = week_sheets(schoolhouse, week(schoolhouse, one), Paper.A4)
        assert texts_of(sheet).count("kg") == lines
        (sheet,) = week_sheets(
            replace(schoolhouse, units="us"), week(schoolhouse, one), Paper.LETTER
        )
        assert texts_of(sheet).count("lb") == lines


def test_what_falls_out_and_what_can_be_left_is_told(schoolhouse: SheetBundle) -> None:
    """In small type stands what is not to be done this week, and what that costs."""
    out, left = some(schoolhouse, 2, Stands.FALLS_OUT), some(schoolhouse, 2, Stands.CAN_BE_LEFT)
    told = replace(week(schoolhouse, *out, *left), cut_lost=LOST)
    (sheet,) = week_sheets(schoolhouse, told, Paper.A4)
    words = " ".join(texts_of(sheet))
    assert "Falls out of the hours (what falls out costs" in words
    assert "Can be left:" in words


def test_a_week_of_told_weather_stands_day_by_day(schoolhouse: SheetBundle) -> None:
    """Where days are told, each stands with its weather and its jobs; what no day suits apart."""
    monday = schoolhouse.plan.horizon.first_day
    days = tuple(DayOfWork(monday + timedelta(days=n), 60.0, n > 0) for n in range(2))
    sown = job(1, JobKind.SOW, Weather.DRY, Stands.DO, monday)
    set_out = job(2, JobKind.SET_OUT, Weather.DRY, Stands.DO, monday)
    jobs = (replace(sown, on=((monday, 12.0),)), replace(set_out, no_day=True))
    told = replace(week(schoolhouse, *jobs), hours=Hours(120.0, 0.0, 0, days))
    (sheet,) = week_sheets(schoolhouse, told, Paper.A4)
    words = " ".join(texts_of(sheet))
    assert ", dry" in words
    assert "No day suits" in words
    assert words.index("Sow crop 1") < words.index("No day suits") < words.index("Set out crop 2")


def test_a_loss_is_told_with_its_spread_and_its_share() -> None:
    """Kilograms with what 8 years in 10 lie between, portions, and the share of the line."""
    words = WeekWords({"leeks": "leeks"}, "metric")
    assert words.lost(LOST, (0.5, 1.5)) == (
        "1.2 kg (8 years in 10 from 0.6 to 1.9 kg), 9 portions: leeks (9% of it)"
    )
    assert "lb" in WeekWords({}, "us").lost(LOST)
    assert words.lost(Lost()) == "nothing"


def test_a_job_without_a_figure_says_so(schoolhouse: SheetBundle) -> None:
    """Where nobody has a figure for waiting, it is not told as nothing."""
    one = some(schoolhouse, 1)[0]
    words = WeekWords({}, "metric")
    assert "nobody has put a figure" in words.why(replace(one, told=False))
    assert "minutes: nobody has put" in " ".join(
        words.beside(replace(one, timed=Timed.NOBODY_KNOWS))
    )


def test_a_day_of_another_year_is_told_with_its_year(schoolhouse: SheetBundle) -> None:
    """What can be left until April of next year is not told as if April were to come this year."""
    one = some(schoolhouse, 1, Stands.CAN_BE_LEFT)[0]
    monday = one.due.job.first_day
    one = replace(one, waits=Waits((), LOST))
    words = WeekWords({}, "metric")
    this_year = words.why(replace(one, free_until=monday))
    assert str(monday.year) not in this_year
    next_year = words.why(replace(one, free_until=date(monday.year + 1, 4, 28)))
    assert f"can be left until 28 Apr {monday.year + 1}" in next_year


@pytest.mark.parametrize(
    ("minutes", "told"),
    [(0, "0 min"), (0.3, "1 min"), (59.4, "59 min"), (60, "1 h"), (95, "1 h 35")],
)
def test_a_length_of_work_is_told_in_hours_and_minutes(minutes: float, told: str) -> None:
    """Under a minute counts as one; an hour and more has its hours."""
    assert duration(minutes) == told
