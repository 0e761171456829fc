"""The bound: no plan costs less, whatever the garden; and the crops weighed alone come near."""

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from haulm.planner.bound import pooled_bound, pooled_model
from haulm.planner.crop_by_crop import weigh_crops
from haulm.planner.make import make_plan
from haulm.planner.objective import unreachable_cost
from haulm.planner.question import PlanQuestion
from haulm.planner.solve import EXACT_PAIRS
from haulm.planner.stopping import Manner
from haulm.planner.tables import tabulate
from planner.brute_force import cheapest, middling, tiny
from planner.tiny_gardens import USUAL, bed, food, garden, sowing, wants
from planner.various_gardens import various

SEED = Manner(1)


def bound_of(question: PlanQuestion) -> float:
    """Bound a garden crop by crop."""
    tables = tabulate(question)
    return weigh_crops(pooled_model(tables).model, unreachable_cost(tables), SEED).bound


@given(st.integers(0, 100_000))
@settings(max_examples=10, deadline=None)
def test_no_choice_of_patches_costs_less_than_the_bound(seed: int) -> None:
    """On a tiny garden every choice of patches, tried one by one by a model of its own, costs at
    least what is proven.
    """
    question = tiny(seed)
    assert bound_of(question) <= cheapest(question) + 1e-6


@example(2)  # a lot in hand that nobody takes from fills its store until it rots
@given(st.integers(0, 100_000))
@settings(max_examples=20, deadline=None)
def test_no_rule_that_is_left_out_makes_the_bound_too_high(seed: int) -> None:
    """Stand-in foods, stores, hours, trays, standing plants, lots, pins, allotments, a plan before:
    with any of them, the proven best plan survives its audit and costs no less than either bound.
    """
    question = various(seed)
    tables = tabulate(question)
    assert len(tables.ground.pair_sowing) <= EXACT_PAIRS
    best = make_plan(question, USUAL).solver
    assert bound_of(question) <= best.objective + 1e-5
    assert pooled_bound(tables, 10) <= best.objective + 1e-5


@pytest.mark.parametrize("seed", range(4))
def test_in_ample_land_the_bound_is_the_best_plan(seed: int) -> None:
    """Where no crop is in another's way, crops weighed alone are the whole garden."""
    question = middling(seed)
    tables = tabulate(question)
    plan = make_plan(question, USUAL).solver
    weighed = weigh_crops(pooled_model(tables).model, unreachable_cost(tables), SEED)
    assert weighed.values is not None
    assert weighed.bound <= plan.objective + 1e-6
    assert plan.objective <= 1.02 * weighed.bound


def test_a_shared_bed_is_charged_to_whoever_takes_it() -> None:
    """Two crops that want one bed in the same weeks: what the bed cannot hold is in the bound."""
    sowings = [
        sowing("beet", 1, 9, food("beet", range(7, 9)), family="leaves"),
        sowing("chard", 1, 9, food("chard", range(7, 9)), family="leaves"),
    ]
    asked = [wants("beet", (7, 8), 4.0), wants("chard", (7, 8), 4.0)]
    tight, ample = (bound_of(garden(sowings, asked, [bed("east", m2)])) for m2 in (4.0, 8.0))
    best = make_plan(garden(sowings, asked, [bed("east", 4.0)]), USUAL).solver.objective
    assert ample + 4.0 < tight
    assert tight == pytest.approx(best, rel=0.02)
