"""Planning again: what was planned before is kept, unless leaving it is worth its price."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from haulm.plan.pins import Pin, PinRule
from haulm.plan.records import Plan
from haulm.planner.audit import audit
from haulm.planner.bound import pooled_bound
from haulm.planner.make import make_plan
from haulm.planner.question import Before, PlanQuestion, Standing
from haulm.planner.solve import EFFORTS
from haulm.planner.tables import tabulate
from planner.brute_force import cheapest, middling, tiny
from planner.tiny_gardens import USUAL

Patches = dict[tuple[str, str], float]


def patches(plan: Plan) -> Patches:
    """List the ground of every new patch, by sowing and bed [m²]."""
    return {(p.sowing, p.bed): p.area_m2 for p in plan.plantings if not p.standing}


def after(question: PlanQuestion, plan: Plan) -> PlanQuestion:
    """Ask again after a plan."""
    before = tuple(Before(sowing, bed, m2) for (sowing, bed), m2 in patches(plan).items())
    return replace(question, before=before)


def drawn_before(question: PlanQuestion, seed: int) -> tuple[Before, ...]:
    """Draw an earlier plan that nothing made good, of sowings somebody could eat of."""
    draw = np.random.default_rng(seed)
    drawn = [
        Before(sown.id, bed.id, 0.5)
        for sown in tabulate(question).ground.sowings
        for bed in question.beds
        if draw.random() < 0.4
    ]
    return tuple(drawn)


@pytest.mark.parametrize("seed", range(10))
def test_no_choice_of_patches_beats_the_plan_made_again(seed: int) -> None:
    """Each patch that comes or goes charged, the plan costs what the best choice costs."""
    question = tiny(seed)
    question = replace(question, before=drawn_before(question, seed))
    best = cheapest(question)
    plan = make_plan(question, USUAL)
    assert plan.solver.objective == pytest.approx(best, rel=1e-6, abs=1e-6)
    assert plan.solver.gap <= 1e-4
    assert pooled_bound(tabulate(question), 10) <= best + 1e-6


@pytest.mark.parametrize("seed", range(6))
def test_pins_outdo_the_plan_before(seed: int) -> None:
    """Around what is kept and forbidden by hand, changes are weighed as they are without pins."""
    question = tiny(seed)
    first, *_, last = question.sowings
    pins = (
        Pin(PinRule.KEEP, first.kind, "west", area_m2=0.75),
        Pin(PinRule.FORBID, last.kind, "east"),
    )
    question = replace(question, before=drawn_before(question, seed))
    question = replace(question, pins=pins)
    then = {(each.sowing, each.bed) for each in question.before}
    allowed = tuple(
        Before(sowing, bed, 0.5)
        for sowing, bed in sorted(then)
        if not (bed == "east" and sowing == last.id)
    )
    best = cheapest(replace(question, before=allowed))
    assert make_plan(question, USUAL).solver.objective == pytest.approx(best, rel=1e-6, abs=1e-6)
    assert pooled_bound(tabulate(question), 10) <= best + 1e-6


def test_pins_and_a_plan_before_give_one_plan() -> None:
    """Asked twice, the same question with the same pins is answered by the same plan."""
    question = middling(2)
    question = after(question, make_plan(question, USUAL))
    question = replace(question, pins=(Pin(PinRule.KEEP, "crop-2/kind", area_m2=4.0),))
    one, other = (make_plan(question, USUAL) for _ in range(2))
    assert replace(one, solver=replace(one.solver, seconds=0.0)) == replace(
        other, solver=replace(other.solver, seconds=0.0)
    )


@pytest.mark.parametrize("seed", range(4))
def test_the_bound_of_a_lone_bed_holds_after_a_plan(seed: int) -> None:
    """Where one bed must carry a family again, changes priced, no plan passes the bound."""
    question = tiny(seed)
    lone = replace(question, beds=question.beds[:1])
    lone = replace(lone, before=drawn_before(lone, seed))
    best = make_plan(lone, USUAL).solver.objective
    assert pooled_bound(tabulate(lone), 10) <= best + 1e-6


@given(st.integers(0, 10_000))
@settings(max_examples=10, deadline=None)
def test_planning_again_with_no_change_changes_nothing(seed: int) -> None:
    """Whoever plans a garden again as it is keeps its plan: each sowing in its bed, no worse."""
    question = tiny(seed)
    plan = make_plan(question, USUAL)
    again = make_plan(after(question, plan), USUAL)
    assert patches(again).keys() == patches(plan).keys()
    assert again.solver.objective == pytest.approx(plan.solver.objective, rel=1e-6, abs=1e-6)


@pytest.mark.parametrize("effort", ["quick", "usual"])
def test_a_large_garden_planned_again_is_no_worse(effort: str) -> None:
    """The plan before is where the search sets out: what it finds is at least as good."""
    question = middling(3)
    plan = make_plan(question, EFFORTS[effort])
    again = make_plan(after(question, plan), EFFORTS[effort])
    assert again.solver.objective <= plan.solver.objective + 1e-6
    assert again.solver.bound <= again.solver.objective


def test_a_small_change_moves_little() -> None:
    """With one appetite a fifth larger, far fewer patches change after a plan than without."""
    question = middling(4)
    plan = make_plan(question, USUAL)
    more = replace(question.appetites[0], kg=tuple(1.2 * kg for kg in question.appetites[0].kg))
    hungrier = replace(question, appetites=(more, *question.appetites[1:]))
    changed = [
        len(patches(make_plan(asked, USUAL)).keys() ^ patches(plan).keys())
        for asked in (hungrier, after(hungrier, plan))
    ]
    assert changed[1] <= changed[0] / 2


def test_a_patch_that_cannot_be_kept_costs_nothing_to_leave() -> None:
    """What is forbidden by now, what has gone from the offer or stands, is not left by choice."""
    question = tiny(5)
    plan = make_plan(question, USUAL)
    gone = Before("turnip/kind:direct:2026-W10", "east", 1.0)
    none = make_plan(replace(question, before=(gone,)), USUAL)
    anew = question.prices.change * len(patches(plan))
    assert none.solver.objective <= plan.solver.objective + anew + 1e-6
    pins = tuple(Pin(PinRule.FORBID, s.kind) for s in question.sowings)
    bare = make_plan(replace(after(question, plan), pins=pins), USUAL)
    without = make_plan(replace(question, pins=pins), USUAL)
    assert bare.solver.objective == pytest.approx(without.solver.objective)
    stood = replace(question.sowings[0], id="stood", ground_from_week=-1)
    standing = replace(question, standing=(Standing(stood, "east", 0.5),))
    assert make_plan(after(standing, plan), USUAL).plantings


def test_a_plan_that_hides_what_its_changes_cost_fails_its_audit() -> None:
    """An objective below the price of the patches made anew is found."""
    question = replace(tiny(2), before=(Before("none:direct:2027-W01", "east", 1.0),))
    plan = make_plan(question, USUAL)
    assert patches(plan)
    change = question.prices.change * len(patches(plan))
    cheaper = plan.solver.objective - 0.9 * change
    hidden = replace(plan, solver=replace(plan.solver, objective=cheaper, bound=cheaper, gap=0.0))
    found = audit(hidden, question)
    assert "how good the plan is" in {finding.where for finding in found}
