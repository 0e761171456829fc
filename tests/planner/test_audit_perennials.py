"""Claims about the audit of what stays for years: whatever is told too well of it is found."""

from dataclasses import replace
from datetime import date, timedelta

import pytest

from haulm.growing.records import PickingYear, ReadyDates, SowingFood
from haulm.plan.records import Plan
from haulm.planner.audit import audit
from haulm.planner.audit_books import open_books
from haulm.planner.audit_perennials import check_lasting_food, check_lasting_ground
from haulm.planner.make import make_plan
from haulm.planner.question import LastingStand, PlanQuestion, Standing
from planner.tiny_gardens import HORIZON, USUAL, food, garden, sowing, wants

PLANTED = date(2024, 4, 1)
WEEKS = range(6, 12)
FULL_KG_M2 = 1.5


def asked(
    share: float = 0.8, age: int = 4, planted_on: date = PLANTED, until: int = HORIZON.weeks
) -> PlanQuestion:
    """Ask about a bed with four square metres of spears of 2024, picked for six weeks in 2027."""
    kg_m2 = FULL_KG_M2 * share
    given: SowingFood = food("spears", list(WEEKS), kg_m2)
    stood = sowing("spears", -150, until, given, family="lily")
    year = PickingYear(
        "spears",
        2027,
        age,
        WEEKS[0],
        WEEKS[-1] + 1,
        share,
        ReadyDates(HORIZON.monday(5), HORIZON.monday(6), HORIZON.monday(7)),
    )
    lasting = LastingStand(
        planted_on,
        southern=False,
        year_shares=((3, 0.5), (4, 0.8), (5, 1.0)),
        full_kg_m2=(("spears", FULL_KG_M2),),
    )
    roots = sowing("roots", 2, 14, food("roots", range(10, 14)))
    question = garden([roots], [wants("spears", WEEKS, 5.0), wants("roots", range(10, 14))])
    stand = Standing(replace(stood, picking_years=(year,)), "east", 3.0, lasting)
    return replace(
        question,
        standing=(stand,),
        rotation_gap_years={**question.rotation_gap_years, "lily": 3},
    )


def told(plan: Plan, question: PlanQuestion) -> list[str]:
    """Give what the two checks tell."""
    books = open_books(plan, question)
    found = [*check_lasting_ground(books), *check_lasting_food(books)]
    return [f"{finding.where}: {finding.what}" for finding in found]


def test_a_plan_around_a_stand_is_let_pass() -> None:
    """Four growing seasons after planting a stand gives its fourth share, and the audit agrees."""
    question = asked()
    plan = make_plan(question, USUAL)
    assert audit(plan, question) == ()
    spears = next(p for p in plan.plantings if p.standing)
    assert sum(pick.kg for pick in spears.picks) == pytest.approx(3.0 * 0.8 * FULL_KG_M2)


def test_a_stand_told_too_old_is_found() -> None:
    """A stand that is said to be in its fifth season, and is in its fourth, is told."""
    question = asked(share=1.0, age=5)
    plan = make_plan(asked(), USUAL)
    assert any("in its year 4" in line for line in told(plan, question))


def test_a_share_above_that_of_its_age_is_found() -> None:
    """A stand that gives more than its age lets it is told."""
    question = asked(share=1.0)
    assert any("at its age gives 0.8" in line for line in told(make_plan(asked(), USUAL), question))


def test_picking_before_its_first_year_is_found() -> None:
    """Spears picked from a stand planted this spring are told, however few."""
    young = asked(planted_on=HORIZON.first_day + timedelta(days=7))
    lines = told(make_plan(asked(), USUAL), young)
    assert any("of 0.000" in line for line in lines)


def test_more_than_the_ground_yields_is_found() -> None:
    """One pick of a planting made larger by half is told by its week."""
    question = asked()
    plan = make_plan(question, USUAL)
    swollen = tuple(
        replace(p, picks=tuple(replace(k, kg=1.5 * k.kg) for k in p.picks)) if p.standing else p
        for p in plan.plantings
    )
    lines = told(replace(plan, plantings=swollen), question)
    assert len([line for line in lines if "kg of" in line]) == len(WEEKS)


def test_ground_given_away_is_found() -> None:
    """A stand that leaves its ground before the plan ends is told."""
    question = asked()
    plan = make_plan(question, USUAL)
    short = tuple(replace(p, until_week=20) if p.standing else p for p in plan.plantings)
    assert any(
        "gives its ground away" in line for line in told(replace(plan, plantings=short), question)
    )
