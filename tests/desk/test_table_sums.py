"""The table's year, line by line, against the plan and the sums it is made of."""

from datetime import date
from pathlib import Path
from statistics import median

import pytest

from gardens import small_garden
from haulm.desk.at_hand import AtHand
from haulm.desk.garden.exchange import import_garden
from haulm.desk.planning.plans import plan_garden
from haulm.desk.showing.larder_drawings import hungry_gap, laid_by, unlaid
from haulm.desk.table.closing_gaps import closing
from haulm.desk.table.table_sums import TableYear, newest_plan, table_year
from haulm.larder.records import KeepRule
from haulm.measure.weeks import DAYS_A_WEEK
from haulm.planner.solve import EFFORTS
from stated import stated

DAY = date(2027, 2, 1)


@pytest.fixture(scope="module")
def garden(tmp_path_factory: pytest.TempPathFactory) -> AtHand:
    """Give the small garden with a plan."""
    folder = tmp_path_factory.mktemp("table")
    notebook, _ = import_garden(small_garden(folder), folder / "yard.haulm")
    plan_garden(notebook, DAY, EFFORTS["quick"], 1)
    return AtHand(notebook, lambda: DAY)


def year_of(garden: AtHand) -> TableYear:
    """Reckon a garden's table."""
    opened, plan = garden.opened, newest_plan(garden.path)
    return table_year(opened.garden, opened.catalogue, garden.asked, garden.needs, plan)


def test_wanted_is_fresh_and_stored_and_short(garden: AtHand) -> None:
    """What the plan brings a line and what it leaves short come to what the line wants."""
    for row in year_of(garden).rows:
        assert row.brought is not None
        assert sum(row.brought.kg) == pytest.approx(row.year_kg, abs=0.01)
        assert row.brought.as_wanted


def test_the_year_shown_is_a_year_of_eating(garden: AtHand) -> None:
    """With a plan from February the table's year starts in July, when the harvest comes in."""
    year = year_of(garden)
    assert year.weeks.weeks == 52
    assert year.weeks.first_day == date(2027, 6, 28)


def test_without_a_plan_the_year_starts_now(tmp_path: Path) -> None:
    """Before there is a plan the table shows the year from this week."""
    notebook, _ = import_garden(small_garden(tmp_path), tmp_path / "yard.haulm")
    year = year_of(AtHand(notebook, lambda: DAY))
    assert year.weeks.first_day == DAY
    assert not year.planned
    assert all(row.brought is None and row.takes is not None for row in year.rows)


def test_a_southern_year_of_eating_starts_in_january(tmp_path: Path) -> None:
    """South of the equator the season's food comes in from January."""
    toml = small_garden(tmp_path, ("latitude = 47.6", "latitude = -41.0"))
    notebook, _ = import_garden(toml, tmp_path / "south.haulm")
    plan_garden(notebook, date(2027, 8, 2), EFFORTS["quick"], 1)
    year = year_of(AtHand(notebook, lambda: date(2027, 8, 2)))
    assert year.weeks.first_day == date(2027, 12, 27)


def test_hours_are_making_tending_lifting_and_putting_by(garden: AtHand) -> None:
    """Hours follow from the catalogue's labour figures, by hand, for a line eaten fresh alone."""
    row = next(row for row in year_of(garden).rows if row.line.id == "green beans")
    assert row.takes is not None
    total = row.takes.sum
    kind = garden.catalogue.kinds[total.kind]
    stands = [
        one.ground_until_week - one.ground_from_week
        for one in garden.asked.question.sowings
        if one.kind == kind.id and one.ground_until_week <= 104
    ]
    work = kind.labour
    minutes_m2 = stated(work.start_min_m2).value
    minutes_m2 += stated(work.tend_min_m2_week).value * median(stands)
    minutes = minutes_m2 * total.area_m2 + stated(work.pick_min_kg).value * total.lifted_kg
    assert row.takes.hours is not None
    assert row.takes.hours * 60 == pytest.approx(minutes, rel=0.02)


def test_totals_add_the_rows(garden: AtHand) -> None:
    """The last row is the sum of those above it."""
    year = year_of(garden)
    areas = [row.takes.sum.area_m2 for row in year.rows if row.takes]
    assert year.total("area") == pytest.approx(sum(areas))
    assert year.total("kg") == pytest.approx(sum(row.year_kg for row in year.rows))


def test_a_way_to_close_a_gap_reaches_it(garden: AtHand) -> None:
    """Every way told lies in the gap, can still be started, and is sound enough to eat."""
    plan = newest_plan(garden.path)
    assert plan is not None
    for gap in hungry_gap(unlaid(garden.opened, plan, DAY)):
        lines = closing(gap, plan, garden.asked)
        assert [line.short_kg for line in lines] == sorted(
            (line.short_kg for line in lines), reverse=True
        )
        for way in (way for line in lines for way in line.ways):
            assert gap.first_day <= way.first_day < way.last_day <= gap.last_day
            assert DAY <= way.sow_first <= way.sow_last <= gap.last_day
            assert 1 <= way.weeks <= gap.weeks
            assert way.sound is None or 0.3 <= way.sound <= 1


def test_no_way_is_told_that_no_store_keeps_so_long(garden: AtHand) -> None:
    """A kept way's youngest food is not older in its first week than its store keeps it."""
    plan = newest_plan(garden.path)
    assert plan is not None
    rules: list[KeepRule] = list(garden.asked.question.keep_rules)
    longest = {rule.form.value: 0 for rule in rules}
    for rule in rules:
        longest[rule.form.value] = max(longest[rule.form.value], len(rule.sound))
    for gap in hungry_gap(unlaid(garden.opened, plan, DAY)):
        for way in (way for line in closing(gap, plan, garden.asked) for way in line.ways):
            if way.form:
                # From sowing to lifting takes under a year for every kind of this garden.
                assert (way.first_day - way.sow_last).days < DAYS_A_WEEK * (longest[way.form] + 52)


def test_what_is_put_by_adds_up(garden: AtHand) -> None:
    """What goes into store is eaten, kept back to plant, spoilt, or left at the plan's end."""
    plan = newest_plan(garden.path)
    assert plan is not None
    for one in laid_by(unlaid(garden.opened, plan, DAY)):
        accounted = one.eaten_kg + one.kept_back_kg + one.lost_kg + one.left_kg
        assert accounted == pytest.approx(one.put_by_kg, abs=0.05)
        assert all(first < last for first, last in one.runs)
