"""A plan made again follows the diary: what is lost is lost, and stores are as the books say."""

from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest

from haulm.desk.at_hand import AtHand
from haulm.desk.planning.plans import kept_plan, plan_garden
from haulm.desk.season.diary import write_entry
from haulm.desk.season.diary_typed import TypedEntry, Written
from haulm.measure.findings import Finding
from haulm.plan.records import Plan
from haulm.planner.question import Effort
from haulm.season.records import key_of

QUICK = Effort("quick", rounds=0, target_gap=0.05)
JUNE = date(2027, 6, 21)
AT = datetime(2027, 6, 21, 12, tzinfo=UTC)


def write(path: Path, number: int, kind: str, day: date, **said: str) -> None:
    """Write an entry into a notebook."""
    typed = TypedEntry(kind, day.isoformat(), **said)
    write_entry(path, typed, Written(f"e{number}", AT + timedelta(minutes=number), "l"), JUNE)


def warnings_of(garden: AtHand) -> tuple[Finding, ...]:
    """Give what a page says has changed since the kept plan was made."""
    made = garden.unlaid
    assert made is not None
    return made.since


def lots_of(plan: Plan, food: str) -> list[float]:
    """Give what lay in store of a food when a plan was made."""
    return [lot.kg_in for lot in plan.lots if lot.in_hand and lot.food == food]


def test_what_is_lost_in_the_diary_is_out_of_the_plan(planned: Path) -> None:
    """A planting that rust took no longer stands, and a warning asks to plan again."""
    plan = kept_plan(planned).plan
    lost = next(
        one
        for one in plan.plantings
        if not one.standing and one.sow_on < JUNE < one.clear_by - timedelta(weeks=3)
    )
    garden = AtHand(planned, lambda: JUNE)
    assert warnings_of(garden) == ()
    day = JUNE - timedelta(days=2)
    write(planned, 1, "trouble seen", day, planting=lost.id, trouble="rust", severity="lost")
    assert warnings_of(garden)
    again = plan_garden(planned, JUNE, QUICK, seed=1)
    stands = {key_of(one) for one in again.plan.plantings if one.standing}
    assert key_of(lost) not in stands
    assert stands


def test_the_books_say_what_lies_in_store(planned: Path) -> None:
    """Six kilograms put by and one eaten are what the next plan begins with, and not more."""
    store = {"food": "garlic", "store": "pantry", "form": "cured"}
    day = JUNE - timedelta(weeks=2)
    write(planned, 1, "put by", day, crop_kind="garlic/soft-necked", amount="6 kg", **store)
    write(planned, 2, "eaten", day + timedelta(days=7), amount="1 kg", **store)
    again = plan_garden(planned, JUNE, QUICK, seed=1)
    assert sum(lots_of(again.plan, "garlic")) == pytest.approx(5, abs=0.05)


def test_what_is_kept_to_plant_is_no_food_of_the_plan(planned: Path) -> None:
    """Seed garlic in the pantry is not put on the table."""
    store = {"food": "garlic", "store": "pantry", "form": "cured"}
    day = JUNE - timedelta(weeks=2)
    write(planned, 1, "put by", day, amount="2 kg", purpose="plant", **store)
    again = plan_garden(planned, JUNE, QUICK, seed=1)
    assert lots_of(again.plan, "garlic") == []


def test_whoever_keeps_books_is_not_given_what_was_never_put_by(planned: Path) -> None:
    """Once one food was put by in the diary, food that the plan meant to put by and nobody wrote
    down is not counted on; and the plan says which.
    """
    plan = kept_plan(planned).plan
    november = date(2027, 11, 1)
    meant = {
        lot.food
        for lot in plan.lots
        if not lot.in_hand and lot.put_by_week < plan.horizon.week_of(november)
    }
    store = {"food": "garlic", "store": "pantry", "form": "cured"}
    typed = TypedEntry("put by", "2027-08-02", amount="3 kg", **store)
    write_entry(planned, typed, Written("e1", AT, "l"), november)
    again = plan_garden(planned, november, QUICK, seed=1).plan
    assert {lot.food for lot in again.lots if lot.in_hand} == {"garlic"}
    assert meant - {"garlic"}
    said = next(one.what for one in again.findings if one.where == "in store")
    assert "None of it is counted on" in said


def test_whoever_keeps_no_books_is_taken_at_the_plan_s_word(planned: Path) -> None:
    """Where nothing was put by or counted in the diary, what the plan meant lies there."""
    november = date(2027, 11, 1)
    again = plan_garden(planned, november, QUICK, seed=1).plan
    assert {lot.food for lot in again.lots if lot.in_hand} - {"garlic"}
    assert not any(one.where == "in store" for one in again.findings)
