"""The review at the desk: which plan counts, which days are looked back on, what it promised."""

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest

from haulm.desk.planning.plans import UNLAID, kept_plan, plan_garden
from haulm.desk.season.diary import write_entry
from haulm.desk.season.diary_typed import TypedEntry, Written
from haulm.desk.season.ledger import ledger_of
from haulm.desk.season.review import ReviewWish, review_of, told_of, year_days
from haulm.desk.season.review_odds import odds_of_review, verdict
from haulm.desk.season.review_words import largest_causes, verdict_sentence
from haulm.measure.errors import FaultsFoundError
from haulm.notebook.diary import write_entries
from haulm.notebook.file import open_notebook
from haulm.planner.question import Effort
from haulm.season.records import EntryKind, StoreCount
from haulm.season.review_records import WeekCame
from season.diary_by_hand import entry, kg
from season.year_lived import Luck, diary_of_year

QUICK = Effort("quick", rounds=0, target_gap=0.05)
NEW_YEAR = date(2027, 12, 31)


def lived(path: Path, luck: dict[str, Luck] | None = None) -> Path:
    """Write the diary of the year as planned, but for the luck of some plantings."""
    plan = kept_plan(path, UNLAID).plan
    with open_notebook(path, writing=True) as notebook:
        write_entries(notebook, diary_of_year(plan, NEW_YEAR, luck))
    return path


def test_a_year_as_planned_is_told_by_the_plans_own_books(planned: Path) -> None:
    """The small garden's year, written down as planned: every promise is held, nothing parted."""
    found = review_of(lived(planned), NEW_YEAR)
    assert found.whole
    assert found.review.parted == ()
    for line in found.review.lines:
        assert line.eaten_kg == pytest.approx(line.promised_kg, abs=0.01)
        assert line.count(WeekCame.WITHOUT) == line.planned_without
    odds = odds_of_review(found, seed=1, seasons=200)
    told = verdict(found.review, odds)
    assert told.held == told.known == told.promised
    assert "promises held" in verdict_sentence(told)


def test_a_poor_year_is_called_one(planned: Path) -> None:
    """Where everything gave a quarter, most promises fail, and hardly a season drawn is as poor."""
    plan = kept_plan(planned, UNLAID).plan
    found = review_of(lived(planned, {p.id: Luck(0.25) for p in plan.plantings}), NEW_YEAR)
    told = verdict(found.review, odds_of_review(found, seed=1, seasons=200))
    assert told.held < told.expected
    assert "an unlucky year" in verdict_sentence(told)
    causes = largest_causes(found.review.parted)
    apart = (found.review.picked_kg or 0.0) - found.review.planned_kg
    assert sum(one.kg for one in causes) == pytest.approx(apart)


def test_the_ranges_hold_what_the_plan_means_to_pick(planned: Path) -> None:
    """Of a food that is all picked, 8 seasons in 10 lie about what the plan means to pick."""
    found = review_of(planned, NEW_YEAR)
    odds = odds_of_review(found, seed=1, seasons=200)
    for one in found.review.foods:
        low, _, high = odds.foods_kg[one.food]
        assert low < high
        assert low < 1.5 * one.planned_kg
        assert high > 0.7 * one.planned_kg


def test_the_plan_that_counts_is_the_one_kept_when_the_year_began(planned: Path) -> None:
    """Made anew in June, the plan of February still is what the year is held against; the review
    says that it was made anew.
    """
    before = review_of(planned, NEW_YEAR).review.planned_kg
    plan_garden(planned, date(2027, 6, 14), QUICK, seed=1)
    found = review_of(planned, NEW_YEAR)
    assert found.plan.made_on == date(2027, 2, 1)
    assert found.replans == (date(2027, 6, 14),)
    assert found.review.planned_kg == pytest.approx(before)
    assert "14 June 2027" in told_of(found)[0].what


def test_a_year_runs_from_its_winter_s_plan_to_the_next(planned: Path) -> None:
    """Who plans in February of each year is held against that plan: the years share no day, and
    leave none out; until the next plan is made, January still is of the old year.
    """
    january, february, summer = date(2028, 1, 23), date(2028, 2, 7), date(2028, 7, 3)
    waiting = review_of(planned, january)
    assert waiting.whole
    assert waiting.review.span.last_day == january
    plan_garden(planned, date(2028, 1, 26), QUICK, seed=1)
    plan_garden(planned, february, QUICK, seed=1)
    plan_garden(planned, date(2028, 5, 2), QUICK, seed=1)
    old = review_of(planned, summer, ReviewWish(year=2027))
    new = review_of(planned, summer, ReviewWish(year=2028))
    assert (old.plan.made_on, new.plan.made_on) == (date(2027, 2, 1), february)
    assert old.review.span.last_day + timedelta(days=1) == new.review.span.first_day == february
    assert new.replans == (date(2028, 5, 2),)


def test_a_year_that_no_winter_planned_is_the_calendar_s(planned: Path) -> None:
    """Planned last in June of the year before, a year is held against that plan from January on."""
    plan_garden(planned, date(2027, 6, 14), QUICK, seed=1)
    found = review_of(planned, date(2028, 8, 1), ReviewWish(year=2028))
    assert found.plan.made_on == date(2027, 6, 14)
    assert found.review.span.first_day == date(2028, 1, 3)


def test_a_year_not_over_is_told_so_far(planned: Path) -> None:
    """In June the review of the year holds the weeks until June."""
    found = review_of(planned, date(2027, 6, 13), ReviewWish(year=2027))
    assert not found.whole
    assert found.review.span.last_day <= date(2027, 6, 13)


def test_any_days_can_be_asked_for(planned: Path) -> None:
    """A span of days is looked at by the weeks whose Thursday lies in it, as ISO 8601 numbers the
    weeks of years: so a span and the next share none.
    """
    first = ReviewWish(first=date(2027, 7, 2), last=date(2027, 8, 31))
    then = ReviewWish(first=date(2027, 9, 1), last=date(2027, 10, 31))
    span = review_of(planned, NEW_YEAR, first).review.span
    assert (span.first_day, span.last_day) == (date(2027, 7, 5), date(2027, 8, 29))
    assert review_of(planned, NEW_YEAR, then).review.span.first_day == date(2027, 8, 30)


@pytest.mark.parametrize(
    "wish",
    [
        ReviewWish(year=2020),
        ReviewWish(year=2031),
        ReviewWish(first=date(2027, 8, 1), last=date(2027, 7, 1)),
    ],
)
def test_a_span_that_nobody_planned_is_refused(planned: Path, wish: ReviewWish) -> None:
    """A year before or after every plan, or days the wrong way round, are refused in words."""
    with pytest.raises(FaultsFoundError):
        review_of(planned, NEW_YEAR, wish)


def test_the_year_that_was_looked_back_on_is_named(planned: Path) -> None:
    """The year is told by its own name, whatever day its first week begins on; any days by none."""
    assert review_of(planned, NEW_YEAR).year == 2027
    assert review_of(planned, date(2028, 3, 1), ReviewWish(year=2028)).year == 2028
    some = ReviewWish(first=date(2027, 7, 2), last=date(2027, 8, 31))
    assert review_of(planned, NEW_YEAR, some).year is None


def test_a_southern_year_runs_from_july() -> None:
    """South of the equator the year 2027 is the one that began in July 2027."""
    assert year_days(2027, southern=True) == (date(2027, 7, 1), date(2028, 6, 30))
    assert year_days(2027, southern=False) == (date(2027, 1, 1), date(2027, 12, 31))


def test_an_entry_put_right_counts_as_put_right(planned: Path) -> None:
    """A picking of 9 kg put right to 0.9 kg counts for 0.9 kg."""
    at = Written("e1", datetime(2027, 8, 1, tzinfo=UTC), "l")
    wrong = TypedEntry("picked", "2027-08-01", food="green beans", amount="9 kg")
    entry = write_entry(planned, wrong, at, NEW_YEAR)
    right = replace(entry, id="e2", replaces="e1", amount=kg(0.9))
    with open_notebook(planned, writing=True) as notebook:
        write_entries(notebook, [right])
    (beans,) = [f for f in review_of(planned, NEW_YEAR).review.foods if f.food == "green beans"]
    assert beans.picked_kg == pytest.approx(0.9)


def test_a_years_books_end_where_the_larders_books_stand(planned: Path) -> None:
    """What counts taught of a lot before the year, and what they found soft, holds within it."""
    garlic = {"food": "garlic", "kind": "garlic/hard-necked", "form": "cured", "store": "pantry"}
    entries = [
        entry(EntryKind.PUT_BY, date(2026, 8, 1), **garlic, amount=kg(10)),
        entry(
            EntryKind.COUNTED,
            date(2027, 1, 30),
            **garlic,
            amount=kg(8),
            count=StoreCount(5.0, soft=3.0),
        ),
        entry(EntryKind.THROWN, date(2027, 2, 20), **garlic, amount=kg(3)),
        entry(EntryKind.EATEN, date(2027, 3, 1), **garlic, amount=kg(1)),
    ]
    with open_notebook(planned, writing=True) as notebook:
        write_entries(notebook, entries)
    season = review_of(planned, NEW_YEAR).season
    books = ledger_of(planned, season.span.last_day).ledger
    (before,) = (lot for lot in season.opening.lots if lot.id == entries[0].id)
    assert before.pace != 1
    assert before.aside_kg == pytest.approx(3)
    assert season.closing.by_id[before.id] == books.by_id[before.id]


def test_a_plan_made_again_before_anything_was_begun_is_the_one_that_counts(planned: Path) -> None:
    """Planned anew a week later, while nothing was sown or written, the year is held against the
    newer plan; anew in June, it is not.
    """
    first = kept_plan(planned, UNLAID).plan
    again = date(2027, 2, 2)
    begun = min(one.sow_on for one in first.plantings if not one.standing)
    plan_garden(planned, again, QUICK, seed=1)
    plan_garden(planned, date(2027, 6, 14), QUICK, seed=1)
    counts = review_of(planned, NEW_YEAR).plan.made_on
    assert counts == (again if again < begun else first.made_on)
