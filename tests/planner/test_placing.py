"""Placing: patches whose sizes are chosen find beds in which their families rest."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from haulm.planner.arrays import Floats
from haulm.planner.build import build_areas
from haulm.planner.dive import Diver
from haulm.planner.first_plans import first_plans, weighed_m2
from haulm.planner.placing import place_patches
from haulm.planner.question import PlanQuestion
from haulm.planner.stopping import Manner
from haulm.planner.tables import Tables, tabulate
from planner.brute_force import cheapest, middling, tiny
from planner.tiny_gardens import bed, food, garden, sowing, wants

FOLLOWING = [
    sowing("carrot", 1, 9, food("carrot", range(7, 9))),
    sowing("parsnip", 10, 18, food("parsnip", range(16, 18))),
]
ASKED = [wants("carrot", (7, 8), 3.0), wants("parsnip", (16, 17), 3.0)]
SEED = Manner(1)


def placed(question: PlanQuestion, wanted: list[float]) -> tuple[Tables, Floats]:
    """Place so much of each sowing, with nothing held."""
    tables = tabulate(question)
    none = np.zeros(len(tables.ground.pair_sowing))
    return tables, place_patches(tables, np.array(wanted), none, SEED)


def test_a_family_that_must_rest_is_placed_on_two_beds() -> None:
    """Parsnips do not follow carrots where another bed is free."""
    tables, area = placed(garden(FOLLOWING, ASKED, [bed("east"), bed("west")]), [2.0, 2.0])
    carrot, parsnip = (
        tables.ground.pair_bed[(area > 0) & (tables.ground.pair_sowing == s)] for s in (0, 1)
    )
    assert len(carrot) == len(parsnip) == 1
    assert carrot[0] != parsnip[0]


def test_a_bed_with_a_past_is_left_to_others() -> None:
    """Roots do not go back to the bed of last year's roots while another is free."""
    beds = [replace(bed("east"), last_year_of_family=(("roots", 2026),)), bed("west")]
    tables, area = placed(garden(FOLLOWING[:1], ASKED[:1], beds), [3.0])
    assert tables.ground.pair_bed[area > 0].tolist() == [1]


def test_what_a_bed_cannot_hold_is_cut_into_patches() -> None:
    """Ten square metres of one sowing go on three beds of four."""
    beds = [bed(name) for name in ("east", "west", "south")]
    _, area = placed(garden(FOLLOWING[:1], [wants("carrot", (7, 8), 30.0)], beds), [10.0])
    assert sorted(area[area > 0]) == pytest.approx([10 / 3] * 3)


@given(st.integers(0, 1000))
@settings(max_examples=5, deadline=None)
def test_all_that_is_wanted_is_placed_and_what_is_held_stays(seed: int) -> None:
    """The areas of a sowing's patches come to what was wanted, and a held patch is among them."""
    tables = tabulate(middling(seed))
    ground = tables.ground
    draw = np.random.default_rng(seed)
    wanted = draw.uniform(0.5, 2.0, ground.chosen_count)
    held = np.zeros(len(ground.pair_sowing))
    held[int(draw.integers(len(held)))] = 0.75
    area = place_patches(tables, wanted, held, SEED)
    beside = np.bincount(ground.pair_sowing, weights=held)
    assert np.bincount(ground.pair_sowing, weights=area) == pytest.approx(wanted + beside)
    assert (area >= held - 1e-12).all()


@pytest.mark.parametrize("seed", range(6))
def test_no_first_plan_is_better_than_the_best(seed: int) -> None:
    """Each first plan of a tiny garden can be had: it costs no less than the best of all choices,
    and one of them lies near it.
    """
    question = tiny(seed)
    tables = tabulate(question)
    diver = Diver(tables, build_areas(tables), SEED)
    costs = [draft.objective for draft in first_plans(tables, diver, None, 0.0, SEED)]
    best = cheapest(question)
    assert min(costs) >= best - 1e-6
    assert min(costs) <= 1.15 * best


def test_weighing_sows_what_would_die_away_when_spread_over_beds() -> None:
    """A patch worth its charge only as a whole is chosen, however many beds could hold it."""
    question = garden(
        [sowing("carrot", 1, 9, food("carrot", range(7, 9)))],
        [wants("carrot", (7, 8), 1.0)],
        [bed(f"bed-{number}") for number in range(20)],
    )
    assert weighed_m2(tabulate(question), None, 0.0, SEED) == pytest.approx([1.0])
