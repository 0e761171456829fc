"""One choice asked anew, all else held: the plan is kept, and nothing else moves."""

from dataclasses import replace

import pytest

from haulm.plan.records import Plan
from haulm.planner.audit import audit
from haulm.planner.make import make_plan
from haulm.planner.one_choice import all_else_held, open_plantings
from haulm.planner.question import PlanQuestion
from planner.brute_force import tiny
from planner.tiny_gardens import USUAL, bed, food, garden, sowing, wants

WEEKS = (0, 30)


def planned(seed: int) -> tuple[PlanQuestion, Plan]:
    """Plan a tiny garden to its proven best."""
    question = tiny(seed)
    return question, make_plan(question, USUAL)


def short_kg(plan: Plan) -> float:
    """Add up what a plan leaves short."""
    return sum(week.short_kg for week in plan.table)


@pytest.mark.parametrize("seed", range(8))
@pytest.mark.parametrize("kind", ["beet/kind", "chard/kind"])
def test_asked_with_all_still_open_the_plan_stays_as_good(seed: int, kind: str) -> None:
    """With every sowing of a kind open and all else held, the best plan feeds as well as before."""
    question, plan = planned(seed)
    again = make_plan(all_else_held(question, plan, kind, WEEKS, 0), USUAL)
    assert short_kg(again) == pytest.approx(short_kg(plan), abs=1e-4)


@pytest.mark.parametrize("seed", range(6))
def test_what_is_held_stands_as_it_was(seed: int) -> None:
    """Everything of other kinds is in the new plan, in its bed and on its ground; it is audited."""
    question, plan = planned(seed)
    held = all_else_held(question, plan, "beet/kind", WEEKS, 0)
    again = make_plan(held, USUAL)
    assert audit(again, held) == ()
    others = sorted(
        (p.sowing, p.bed, round(p.area_m2, 6)) for p in plan.plantings if p.kind != "beet/kind"
    )
    standing = [(p.sowing, p.bed, round(p.area_m2, 6)) for p in again.plantings if p.standing]
    assert sorted(standing) == others
    assert open_plantings(plan, "beet/kind", *WEEKS) == tuple(
        p for p in plan.plantings if p.kind == "beet/kind"
    )


def test_early_sowings_are_taken_out() -> None:
    """Asked with nothing before week 5, only the sowings from week 5 on are on offer."""
    question, plan = planned(3)
    held = all_else_held(question, plan, "beet/kind", WEEKS, 5)
    weeks = [question.horizon.week_of(one.sow_on) for one in held.sowings]
    assert all(week >= 5 for week in weeks)


def test_a_family_is_not_brought_on_before_what_is_held() -> None:
    """Where chard of one family is held in a bed from week 15, beet may not be put before it there,
    as the family would not have had its rest.
    """
    early = sowing("beet", 0, 8, food("beet", range(6, 8)))
    late = sowing("chard", 15, 24, food("chard", range(20, 24)))
    asked = [wants("chard", range(20, 24), 2.0)]
    question = replace(
        garden([early, late], asked, [bed("east", 3.0)]), rotation_gap_years={"roots": 3}
    )
    plan = make_plan(question, USUAL)
    assert [p.kind for p in plan.plantings] == ["chard/kind"]
    held = all_else_held(question, plan, "beet/kind", WEEKS, 0)
    assert len(held.pins) == 1
