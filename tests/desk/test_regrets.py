"""The regret ledger and next year's plan, on the small garden's year."""

from dataclasses import replace
from datetime import UTC, date, datetime
from pathlib import Path

import pytest

from haulm.desk.garden.editing import parts_of
from haulm.desk.planning.plans import UNLAID, kept_plan, proposed_plan
from haulm.desk.season.next_year import NextWish, begin_next_year, plan_next_year
from haulm.desk.season.regret_words import paid_sentence, regret_sentence, whole_sentence
from haulm.desk.season.regrets import Regrets, Turn, regrets_of
from haulm.desk.season.review import Reviewed, review_of
from haulm.desk.season.review_plan import made_then
from haulm.desk.season.true_year import true_question
from haulm.notebook.diary import write_entries
from haulm.notebook.file import open_notebook
from haulm.planner.change_records import Wish
from haulm.planner.make import make_plan
from haulm.planner.question import Effort
from haulm.planner.true_year import as_stood
from haulm.season.records import EntryKind, Severity
from season.diary_by_hand import entry
from season.year_lived import Luck, diary_of_year

QUICK = Effort("quick", rounds=0, target_gap=0.05)
NEW_YEAR = date(2027, 12, 31)
AT = datetime(2027, 12, 31, 12, tzinfo=UTC)
FEW = Wish(0.1, most=3, budget=40)


def lived(path: Path, luck: dict[str, Luck] | None = None) -> Reviewed:
    """Write a year's diary, and look back on it."""
    plan = kept_plan(path, UNLAID).plan
    with open_notebook(path, writing=True) as notebook:
        write_entries(notebook, diary_of_year(plan, NEW_YEAR, luck))
    return review_of(path, NEW_YEAR)


def poor(path: Path) -> dict[str, Luck]:
    """Let every bean and leek give a third."""
    plan = kept_plan(path, UNLAID).plan
    return {p.id: Luck(0.33) for p in plan.plantings if p.crop in {"french bean", "leek"}}


def told(found: Regrets) -> str:
    """Tell a regret ledger in words."""
    lines = [f"{regret_sentence(one, found)}; {paid_sentence(one)}" for one in found.regrets]
    return "\n".join([*lines, whole_sentence(found)])


def test_a_year_as_planned_is_the_plans_own_question(planned: Path) -> None:
    """What stood in a year that came as planned feeds the table to the gram as the plan had said,
    and there is nothing to regret beyond what the plan is known to lack of the best.
    """
    found = lived(planned)
    asked = true_question(found, made_then(found))
    base = make_plan(as_stood(asked.question, asked.year), QUICK)
    short = sum(row.short_kg for row in base.table)
    assert short == pytest.approx(sum(row.short_kg for row in found.plan.table), abs=0.01)
    ledger = regrets_of(found, FEW)
    gap = found.plan.solver.objective - found.plan.solver.bound
    assert all(one.gain_kg <= gap + 0.01 for one in ledger.regrets)


def test_a_poor_year_has_something_to_regret(planned: Path) -> None:
    """Where beans and leeks gave a third, some change would have fed more; each is told with its
    price, in how many years it would have paid, and none beats what hindsight proves possible.
    """
    ledger = regrets_of(lived(planned, poor(planned)), FEW)
    assert ledger.regrets
    gains = [one.gain_kg for one in ledger.regrets]
    assert gains == sorted(gains, reverse=True)
    assert gains[0] <= ledger.bound_kg + 1e-6
    assert ledger.best_short_kg <= ledger.short_kg
    for one in ledger.regrets:
        assert one.paid is None or 0 <= one.paid.share <= 1
    assert "would have" in told(ledger)


def test_next_year_starts_from_what_the_year_taught(planned: Path) -> None:
    """What grew goes into the beds' past, clubroot that was seen closes its bed, a regret becomes a
    pin, figures are learnt; and a plan is proposed while the old one goes on holding.
    """
    plan = kept_plan(planned, UNLAID).plan
    with open_notebook(planned, writing=True) as notebook:
        seen = entry(
            EntryKind.TROUBLE,
            date(2027, 7, 1),
            bed="north",
            trouble="clubroot",
            severity=Severity.BAD,
        )
        write_entries(notebook, [seen])
    found = lived(planned, poor(planned))
    ledger = regrets_of(found, replace(FEW, most=1))
    more = tuple(one for one in ledger.regrets if one.turn is Turn.MORE)
    wish = NextWish(date(2028, 1, 3), adopted=more)
    notes = begin_next_year(found, wish, AT)
    beds = {bed["id"]: bed for bed in parts_of(planned)["bed"]}
    assert {"disease": "clubroot", "year": 2027} in [dict(one) for one in beds["north"]["found"]]
    grew = {p.crop for p in plan.plantings if p.bed == "north" and p.sow_on < NEW_YEAR}
    assert grew & {str(one["crop"]) for one in beds["north"].get("past", ())}
    assert len(parts_of(planned)["pin"]) == len(more)
    assert any(note.where == "figures learnt" for note in notes)
    made = plan_next_year(found, wish, QUICK, 1)
    assert made.plan.horizon.first_day == date(2028, 1, 3)
    assert kept_plan(planned, UNLAID).plan.made_on == plan.made_on
    assert proposed_plan(planned) is not None


def test_pressed_twice_nothing_is_written_twice(planned: Path) -> None:
    """The second press finds the beds as they are to be."""
    found = lived(planned)
    wish = NextWish(date(2028, 1, 3), lessons=False)
    begin_next_year(found, wish, AT)
    before = parts_of(planned)
    assert begin_next_year(found, wish, AT) == ()
    assert parts_of(planned) == before
