"""What was left out, and how far from being worth it: held to re-solving with it in."""

from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from haulm.growing.records import Sowing, SowingFood
from haulm.plan.pins import Pin, PinRule
from haulm.plan.records import Plan
from haulm.planner.held import HeldPlan, patches_of
from haulm.planner.left_out import left_out, loss, prices_with
from haulm.planner.make import make_plan
from haulm.planner.question import PlanQuestion
from haulm.planner.records import Barred, LeftOut
from planner.brute_force import tiny
from planner.tiny_gardens import USUAL, bed, covered, food, garden, sowing, wants

NEAR = 1e-6


def rivals(seed: int) -> PlanQuestion:
    """Draw a tiny garden in which two more kinds could serve the table, poorly."""
    draw = np.random.default_rng(seed + 900)
    question = tiny(seed)
    more = tuple(
        replace(s, id=f"{s.id}:poor", kind=f"{s.crop}/poor", foods=(_poorer(s, draw),))
        for s in question.sowings[1:]
    )
    return replace(question, sowings=(*question.sowings, *more))


def _poorer(good: Sowing, draw: np.random.Generator) -> SowingFood:
    return scaled(good.foods[0], float(draw.uniform(0.3, 0.8)))


def scaled(given_food: SowingFood, times: float) -> SowingFood:
    """Let a food be given so many times as much."""
    return replace(
        given_food,
        yield_kg_m2=given_food.yield_kg_m2 * times,
        yield_low_kg_m2=given_food.yield_low_kg_m2 * times,
        yield_high_kg_m2=given_food.yield_high_kg_m2 * times,
    )


@cache
def planned(seed: int) -> tuple[PlanQuestion, Plan]:
    """Plan such a garden to the proven best."""
    question = rivals(seed)
    return question, make_plan(question, USUAL)


def giving(question: PlanQuestion, wanted: str, times: float) -> PlanQuestion:
    """Let one sowing give so many times as much."""
    return replace(
        question,
        sowings=tuple(
            replace(s, foods=tuple(scaled(f, times) for f in s.foods)) if s.id == wanted else s
            for s in question.sowings
        ),
    )


def put_in(question: PlanQuestion, plan: Plan) -> list[LeftOut]:
    """Give what was left out and has a place in which it was tried."""
    return [left for left in left_out(question, patches_of(plan)) if left.bed]


@given(st.integers(0, 300))
@settings(max_examples=25, deadline=None)
def test_of_the_best_plan_nothing_left_out_was_worth_its_place(seed: int) -> None:
    """Where a plan is proven best, whatever was left out would cost it something, or nothing.

    Told so wherever what gives way keeps the smallest patch worth having, or goes.
    """
    question, plan = planned(seed)
    for left in put_in(question, plan):
        patch = (left.sowing, left.bed)
        held = HeldPlan(question, patches_of(plan), [patch])
        area = held.with_patch(patch, left.area_m2).area_m2
        whole = (area < NEAR) | (area >= held.tables.ground.least_m2 - NEAR)
        if whole.all():
            assert left.cost_kg >= -1e-4


@given(st.integers(0, 300))
@settings(max_examples=15, deadline=None)
def test_so_many_times_the_yield_is_what_a_better_kind_would_cost(seed: int) -> None:
    """Tried at so many times its yield, a kind costs what one with that yield costs, re-asked."""
    question, plan = planned(seed)
    for left in put_in(question, plan):
        patch = (left.sowing, left.bed)
        held = HeldPlan(question, patches_of(plan), [patch])
        times = left.times or 3.0
        better = HeldPlan(giving(question, left.sowing, times), patches_of(plan), [patch])
        told = loss(held, patch, left.area_m2, times)
        assert told == pytest.approx(loss(better, patch, left.area_m2), abs=1e-5)


@pytest.mark.parametrize("seed", range(10))
def test_at_the_yield_told_the_plan_made_anew_is_no_worse(seed: int) -> None:
    """With the yield at which it would be worth its place, planning anew finds as good a plan."""
    question, plan = planned(seed)
    for left in left_out(question, patches_of(plan)):
        if left.times is None or left.times <= 1.0:
            continue
        anew = make_plan(giving(question, left.sowing, left.times), USUAL)
        assert anew.solver.objective <= plan.solver.objective + 1e-4


@pytest.mark.parametrize("seed", range(10))
def test_at_the_priority_told_nothing_is_lost_and_just_below_it_is(seed: int) -> None:
    """The priority told is the lowest at which the patch costs the plan nothing."""
    question, plan = planned(seed)
    own = {a.line: a.priority for a in question.appetites}
    for left in put_in(question, plan):
        patch = (left.sowing, left.bed)
        held = HeldPlan(question, patches_of(plan), [patch])
        costs = [
            loss(held, patch, left.area_m2, prices=prices_with(held, left.line, priority))
            for priority in range(own[left.line], 6)
        ]
        enough = [p for p, cost in enumerate(costs, own[left.line]) if cost <= 0]
        assert left.priority == (enough[0] if enough else None)
        assert costs[0] == pytest.approx(left.cost_kg, abs=NEAR)


def crowded() -> tuple[PlanQuestion, Plan]:
    """Plan one bed that is full of leeks, wanted more than the beans that would take their place.

    A square metre gives 3 kg of leeks or 1.5 kg of beans, and neither is ever enough.
    """
    leeks = sowing("leek", 2, 12, food("leek", range(9, 12), 3.0), family="leaves")
    beans = sowing("bean", 2, 12, food("bean", range(9, 12), 1.5), family="leaves")
    asked = [wants("leek", range(9, 12), 12.0), wants("bean", range(9, 12), 12.0)]
    question = garden([leeks, beans], asked, [bed("east", 3.0)])
    return question, make_plan(question, USUAL)


def test_a_square_metre_told_by_hand() -> None:
    """A square metre of beans feeds 1.5 kg and takes ground that feeds 3 kg of leeks."""
    question, plan = crowded()
    (left,) = left_out(question, patches_of(plan))
    assert (left.kind, left.line, left.bed, left.area_m2) == ("bean/kind", "bean", "east", 1.0)
    assert dict(left.fed) == {"bean": pytest.approx(1.5), "leek": pytest.approx(-3.0)}
    # A kilogram of either counts double while under a third of what is wanted is met.
    assert left.cost_kg == pytest.approx(2.0 * (3.0 - 1.5) + 0.15, abs=0.05)
    # 3 kg of leeks and a separate sowing against 1.5 kg of beans.
    assert left.times == pytest.approx((3.0 + 0.15 / 2.0) / 1.5, rel=0.02)
    # Priority 4 counts a kilogram 1.6 times, 5 counts it 2.5 times; twice would do.
    assert left.priority == 5


def test_beans_wanted_more_come_in() -> None:
    """Planned anew at the yield told, the beans are planted."""
    question, plan = crowded()
    (left,) = left_out(question, patches_of(plan))
    assert left.times is not None
    anew = make_plan(giving(question, left.sowing, 1.1 * left.times), USUAL)
    assert "bean" in {p.crop for p in anew.plantings}


def test_what_no_bed_may_hold_is_told_apart() -> None:
    """A kind that asks for a tunnel where there is none is left out for want of a bed."""
    leeks = sowing("leek", 2, 12, food("leek", range(9, 12), 3.0), family="leaves")
    melons = covered(sowing("melon", 2, 12, food("melon", range(9, 12), 3.0), family="leaves"))
    asked = [wants("leek", range(9, 12)), wants("melon", range(9, 12))]
    question = garden([leeks, melons], asked)
    (left,) = left_out(question, patches_of(make_plan(question, USUAL)))
    assert (left.kind, left.bed, left.sowing) == ("melon/kind", "", "")
    assert left.barred is Barred.NO_BED
    assert left.cost_kg == np.inf
    assert (left.times, left.priority) == (None, None)


def test_what_is_forbidden_is_not_put_in() -> None:
    """What the grower forbade by hand has no bed that may hold it."""
    question, _ = crowded()
    pinned = replace(question, pins=(Pin(PinRule.FORBID, "bean/kind"),))
    (left,) = left_out(pinned, patches_of(make_plan(pinned, USUAL)))
    assert left.barred is Barred.NO_BED


def test_what_comes_when_nobody_wants_it_is_told_apart() -> None:
    """A kind that is ready only in weeks in which it is not wanted would not be eaten."""
    leeks = sowing("leek", 2, 12, food("leek", range(9, 12), 3.0), family="leaves")
    beans = sowing("bean", 2, 12, food("bean", range(9, 12), 1.5), family="leaves")
    asked = [wants("leek", range(9, 12)), wants("bean", range(20, 22))]
    question = garden([leeks, beans], asked)
    (left,) = left_out(question, patches_of(make_plan(question, USUAL)))
    assert left.barred is Barred.NOT_EATEN


def test_what_is_planted_is_not_left_out() -> None:
    """Every kind on offer is planted, or told to be left out; none is both."""
    for seed in range(10):
        question, plan = planned(seed)
        planted = {p.kind for p in plan.plantings}
        told = {left.kind for left in left_out(question, patches_of(plan))}
        assert planted | told == {s.kind for s in question.sowings}
        assert planted & told == set()
