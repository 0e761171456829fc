"""Rest on undivided ground: what a family may hold, and what two can hold side by side."""

from dataclasses import replace
from math import inf

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import linprog

from haulm.catalogue.records import Picking
from haulm.plan.records import Plan
from haulm.planner.audit import audit
from haulm.planner.make import make_plan
from haulm.planner.question import PlanQuestion, Prices
from planner.tiny_gardens import USUAL, bed, covered, food, garden, sowing, wants

BEET = sowing("beet", 2, 14, food("beet", [13], 4.0, Picking.ONCE))
LATE_BEET = sowing("beet", 14, 26, food("beet", [25], 4.0, Picking.ONCE))
CHARD = sowing("chard", 2, 16, food("chard", range(8, 16)), family="leaves")
QUARTER, ANY = {"roots": 0.25}, {"roots": inf}


def undivided(question: PlanQuestion, shares: dict[str, float]) -> PlanQuestion:
    """Ask a garden's question of ground without beds, on which families keep to their shares."""
    forgotten = dict.fromkeys(question.rotation_gap_years, 0)
    return replace(question, rotation_gap_years=forgotten, most_of_family=shares)


def ground_of(made: Plan, family: str) -> float:
    """Add up what a family takes in the year [m²]."""
    return sum(p.area_m2 for p in made.plantings if p.family == family)


def test_a_family_that_rests_three_years_holds_a_quarter_of_the_ground() -> None:
    """However much beet is wanted, of 8 m² it gets 2; without rest it gets all."""
    question = garden([BEET], [wants("beet", [13], 100.0)], [bed("east", 8.0)])
    assert ground_of(make_plan(undivided(question, QUARTER), USUAL), "roots") == pytest.approx(2.0)
    assert ground_of(make_plan(undivided(question, ANY), USUAL), "roots") == pytest.approx(8.0)


def test_what_follows_its_own_family_takes_ground_of_its_own() -> None:
    """Two beets one after the other share the family's quarter of the year between them."""
    asked = [wants("beet", [13, 25], 100.0)]
    question = garden([BEET, LATE_BEET], asked, [bed("east", 8.0)])
    made = make_plan(undivided(question, QUARTER), USUAL)
    assert ground_of(made, "roots") == pytest.approx(2.0)


def test_open_ground_and_ground_under_cover_are_shared_out_each_by_itself() -> None:
    """A family's quarter of the tunnel does not count for the open, nor the other way round."""
    beds = [bed("east", 8.0), bed("tunnel", 4.0, under_cover=True)]
    question = garden([BEET, covered(BEET)], [wants("beet", [13], 100.0)], beds)
    made = make_plan(undivided(question, QUARTER), USUAL)
    by_cover = {p.under_cover: p.area_m2 for p in made.plantings}
    assert by_cover == pytest.approx({False: 2.0, True: 1.0})


def test_a_plan_that_takes_more_than_its_share_is_not_let_pass() -> None:
    """The audit re-adds each family's ground, and tells what goes beyond its share untold."""
    question = garden([BEET], [wants("beet", [13], 100.0)], [bed("east", 8.0)])
    made = make_plan(undivided(question, ANY), USUAL)
    told = [finding.what for finding in audit(made, undivided(question, QUARTER))]
    assert any("6.00 m² more than its 25% of the ground" in what for what in told)


def test_what_rest_forbids_costs_so_much_that_it_is_a_last_resort() -> None:
    """Where breaking it is made cheap it is broken, and told: how much, by whom, in which year."""
    question = garden([BEET], [wants("beet", [13], 100.0)], [bed("east", 8.0)])
    cheap = replace(undivided(question, QUARTER), prices=Prices(rest_m2=0.1))
    (broken,) = make_plan(cheap, USUAL).broken
    assert broken.rule == "rest"
    assert broken.amount == pytest.approx(6.0)
    assert "2027" in broken.sentence
    assert "years of rest in the open" in broken.sentence


@settings(max_examples=12, deadline=None)
@given(
    area=st.floats(4.0, 20.0),
    beet_kg=st.floats(1.0, 60.0),
    chard_kg=st.floats(0.2, 4.0),
    shares=st.tuples(st.sampled_from([0.2, 0.25, 0.5]), st.sampled_from([0.25, 0.5, 1.0])),
)
def test_it_agrees_with_the_same_garden_reckoned_by_hand(
    area: float, beet_kg: float, chard_kg: float, shares: tuple[float, float]
) -> None:
    """Two crops that stand side by side: the ground of each is what an independent linear
    programme of four lines gives, where no fixed charge or least patch stands between.
    """
    question = garden(
        [BEET, CHARD],
        [wants("beet", [13], beet_kg), wants("chard", range(8, 16), chard_kg)],
        [bed("east", area)],
    )
    prices = Prices(sowing=0.0, hour=0.0, area_m2=0.0, glut_kg=0.0, shortage_slices=((1.0, 1.0),))
    asked = undivided(question, {"roots": shares[0], "leaves": shares[1]})
    made = make_plan(replace(asked, prices=prices, least_patch_m2=0.0), USUAL)
    # What one more square metre feeds: 4 kg of beet, 2 kg of chard; never more than is wanted.
    most = [min(beet_kg / 4, shares[0] * area), min(8 * chard_kg / 2, shares[1] * area)]
    best = linprog(
        c=np.array([-4.0, -2.0]),
        A_ub=np.array([[1.0, 1.0]]),
        b_ub=[area],
        bounds=[(0, each) for each in most],
    )
    short = beet_kg + 8 * chard_kg + best.fun
    assert made.solver.objective == pytest.approx(short, abs=1e-4)
