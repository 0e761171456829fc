"""A year with asparagus that has stood for years, and a row of strawberries."""

from datetime import date
from pathlib import Path

import pytest

from haulm.desk.planning.plans import Made, plan_garden
from haulm.desk.showing.sheets import bundle_of
from haulm.planner.question import Effort
from haulm.sheets.acts import JobKind
from haulm.sheets.bed_strips import draw_bed_strips
from haulm.sheets.bundle import SheetBundle
from haulm.sheets.calendar import calendar_ics
from haulm.sheets.page.fold_out import fold_out_rows
from haulm.sheets.page.patch import patch_label
from haulm.sheets.week_jobs import jobs_between
from lasting_gardens import hedge_end

DAY = date(2026, 11, 26)
QUICK = Effort("quick", rounds=0, target_gap=0.05)


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Made:
    """Plan the garden at Hedge End once."""
    path: Path = hedge_end(tmp_path_factory.mktemp("hedge"))
    return plan_garden(path, DAY, QUICK, seed=1)


@pytest.fixture(scope="module")
def bundle(made: Made) -> SheetBundle:
    """Give what its sheets show."""
    return bundle_of(made, DAY)


def test_what_stays_holds_its_ground_all_the_while(made: Made) -> None:
    """In no week of the plan does anything else stand on the asparagus' ground or the
    strawberries'.
    """
    plan = made.plan
    for bed in plan.beds:
        for week in range(plan.horizon.weeks):
            there = [
                p for p in plan.plantings if p.bed == bed.id and p.from_week <= week < p.until_week
            ]
            assert sum(p.area_m2 for p in there) <= bed.area_m2 + 1e-6
            assert any(p.standing for p in there)


def test_spears_and_berries_come_to_table_in_both_seasons(made: Made) -> None:
    """Spears are eaten from April to June, fresh; berries in June, and from the freezer after."""
    plan = made.plan
    months: dict[str, set[tuple[int, int]]] = {}
    for helping in plan.helpings:
        if helping.kg > 0:
            monday = plan.horizon.monday(helping.week)
            months.setdefault(helping.food, set()).add((monday.year, monday.month))
    assert {(2027, 5), (2028, 5)} <= months["asparagus"]
    assert months["asparagus"] <= {(year, month) for year in (2027, 2028) for month in (4, 5, 6)}
    assert {(2027, 6), (2027, 9), (2028, 6)} <= months["strawberry"]


def test_older_strawberries_give_less(made: Made) -> None:
    """In their third summer strawberries give three quarters of their second (judged)."""
    plan = made.plan
    berries = next(p for p in plan.plantings if p.kind == "strawberry/summer")
    by_year: dict[int, float] = {}
    for pick in berries.picks:
        year = plan.horizon.monday(pick.week).year
        by_year[year] = by_year.get(year, 0.0) + pick.kg
    assert by_year[2028] == pytest.approx(0.75 * by_year[2027], rel=0.02)


def test_a_line_without_a_stand_is_told_what_it_would_take(made: Made) -> None:
    """Rhubarb that nobody has planted is short all year, and ground, crowns, the weeks for
    planting and the years to wait are told.
    """
    short = [one.sentence for one in made.plan.shortages if one.line == "rhubarb"]
    assert short
    assert all("only plants that stay for years give it" in sentence for sentence in short)
    told = next(one for one in made.plan.findings if one.where == "table, rhubarb")
    for words in ("m²", "crowns", "planted", "first picked in year 2", "from year 3"):
        assert words in told.what
    assert "standing" in told.remedy


def test_a_stand_that_gives_too_little_is_said_to(made: Made) -> None:
    """Where berries run out the reason is the stand, not hours or ground."""
    short = [one.sentence for one in made.plan.shortages if one.line == "strawberry"]
    assert short
    assert not any("no ground free" in sentence or "hours" in sentence for sentence in short)


def test_picking_mulching_and_cutting_down_are_jobs_of_their_weeks(bundle: SheetBundle) -> None:
    """Spears are picked in May, crowns mulched in late winter, fern cut down in late autumn; and
    nothing that stays is ever cleared.
    """
    jobs = jobs_between(bundle, DAY, date(2027, 11, 30))
    of_spears = [job for job in jobs if job.planting.startswith("asparagus")]
    kinds = {job.kind for job in of_spears}
    assert kinds == {JobKind.PICK, JobKind.MULCH, JobKind.CUT_DOWN}
    when = {job.kind: job.first_day.month for job in of_spears if job.kind != JobKind.PICK}
    assert when == {JobKind.MULCH: 3, JobKind.CUT_DOWN: 11}
    assert "late winter" in next(j.amount for j in of_spears if j.kind == JobKind.MULCH)


def test_the_sheets_say_that_it_stays(bundle: SheetBundle) -> None:
    """Strips, fold-out and calendar tell no day on which its ground falls free."""
    spears = next(p for p in bundle.plan.plantings if p.kind == "asparagus/green")
    assert "stays for years" in patch_label(bundle, spears)
    free = {row[0]: row[1] for row in fold_out_rows(bundle, spears.id).rows}
    assert "stays for years" in free["Ground free again"]
    assert b"Lift by today: Green asparagus" not in calendar_ics(bundle)
    assert "asparagus" in draw_bed_strips(bundle).casefold()


def test_the_same_garden_in_the_south_picks_half_a_year_later(tmp_path: Path) -> None:
    """South of the equator spears come from September on, and the day of planting is reckoned from
    July.
    """
    south = hedge_end(
        tmp_path,
        ("latitude = 47.6", "latitude = -47.6"),
        (
            "tmin = [2, 2, 4, 5, 8, 11, 13, 13, 11, 8, 4, 2]",
            "tmin = [13, 13, 11, 8, 4, 2, 2, 2, 4, 5, 8, 11]",
        ),
        (
            "tmax = [8, 10, 12, 15, 19, 21, 25, 25, 22, 16, 11, 8]",
            "tmax = [25, 25, 22, 16, 11, 8, 8, 10, 12, 15, 19, 21]",
        ),
        ('from = "04-01"\nto = "07-01"', 'from = "09-01"\nto = "12-31"'),
    )
    plan = plan_garden(south, DAY, QUICK, seed=1).plan
    spears = next(p for p in plan.plantings if p.kind == "asparagus/green")
    months = {plan.horizon.monday(pick.week).month for pick in spears.picks}
    assert months
    assert months <= {9, 10, 11, 12}


def test_a_plan_plants_nothing_that_stays_for_years(made: Made) -> None:
    """What stays for years is never among what a plan chooses."""
    chosen = [p for p in made.plan.plantings if not p.standing]
    assert chosen
    assert {p.crop for p in chosen} == {"carrot"}
