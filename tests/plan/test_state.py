"""The state of a day: what a plan had done by then, and what the grower noted otherwise."""

from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from haulm.catalogue.records import Picking
from haulm.plan.records import Lot, Plan, Planting
from haulm.plan.state import Became, Noted, PlanState, state_on
from haulm.planner.make import make_plan
from planner.brute_force import tiny
from planner.tiny_gardens import (
    FIRST_DAY,
    HORIZON,
    USUAL,
    bed,
    food,
    garden,
    keeps,
    sowing,
    wants,
)

BEET = sowing("beet", 2, 12, food("beet", range(10, 11), 3.0, Picking.ONCE))
CHARD = sowing("chard", 2, 16, food("chard", range(8, 16)), family="leaves")
QUESTION = garden(
    [BEET, CHARD],
    [wants("beet", range(10, 20), 0.5), wants("chard", range(8, 16), 0.5)],
    [bed("east", 6.0)],
    [keeps("beet", [1.0, 0.98, 0.96, 0.94, 0.92, 0.9, 0.88, 0.86, 0.84, 0.82])],
)


@pytest.fixture(scope="module")
def plan() -> Plan:
    """Give a plan of a bed of beet, put by, and chard, eaten as it is picked."""
    return make_plan(QUESTION, USUAL)


def on(week: int) -> date:
    """Give the Wednesday of a week."""
    return HORIZON.monday(week) + timedelta(days=2)


def note(what: Became, week: int, crop: str = "beet", **more: object) -> Noted:
    """Note something of a crop in the bed."""
    return Noted(what, on(week), f"{crop}/kind", "east", **more)  # type: ignore[arg-type]


def kg(state: PlanState) -> float:
    """Add up what lies in store [kg]."""
    return sum(lot.kg for lot in state.lots)


def of(plan: Plan, crop: str) -> Planting:
    """Give the planting of a crop."""
    return next(planting for planting in plan.plantings if planting.crop == crop)


def test_nothing_is_done_in_the_week_in_which_a_plan_is_made(plan: Plan) -> None:
    """Whoever plans again within the week has everything still to do."""
    state = state_on(plan, FIRST_DAY + timedelta(days=6))
    assert (state.growing, state.cleared, state.gone, state.lots) == ((), (), (), ())
    assert state.eaten_kg == 0.0


def test_what_was_sown_before_this_week_stands(plan: Plan) -> None:
    """Sown in week 2: not yet in week 2, and standing from week 3 until its ground is free."""
    assert state_on(plan, on(2)).growing == ()
    assert {one.planting.crop for one in state_on(plan, on(3)).growing} == {"beet", "chard"}
    late = state_on(plan, on(13))
    assert [one.planting.crop for one in late.growing] == ["chard"]
    assert [planting.crop for planting in late.cleared] == ["beet"]
    assert ("east", "beet", 2027) in late.past


def test_what_was_taken_is_what_the_plan_picked_before_this_week(plan: Plan) -> None:
    """Of the chard, picked from week 8 on, four weeks are taken by week 12, and no more."""
    (chard,) = (one for one in state_on(plan, on(12)).growing if one.planting.crop == "chard")
    picked = sum(pick.kg for pick in of(plan, "chard").picks if pick.week < 12)
    assert dict(chard.taken) == pytest.approx({"chard": picked})


def test_a_lot_is_what_went_in_less_what_was_eaten_and_what_rots(plan: Plan) -> None:
    """Four weeks after lifting: each kilogram eaten took 1 / its sound share out of the lot."""
    (lot,) = plan.lots
    raw = lot.kg_in - sum(kg / lot.sound[week - 10] for week, kg in lot.eaten if week < 14)
    assert kg(state_on(plan, on(14))) == pytest.approx(raw * 0.92)
    assert state_on(plan, on(14)).lots[0].put_by == HORIZON.monday(10)


@given(st.integers(0, 300), st.integers(1, 28))
@settings(max_examples=25, deadline=None)
def test_what_lies_in_store_is_enough_for_what_the_plan_still_eats_of_it(
    seed: int, week: int
) -> None:
    """On any day the lots hold all that the plan takes out of them later, rot counted."""
    made = make_plan(tiny(seed), USUAL)
    state = state_on(made, on(week))
    for lot in made.lots:
        if lot.put_by_week < week:
            wanted = sum(
                eaten * lot.sound[week - lot.put_by_week] / lot.sound[then - lot.put_by_week]
                for then, eaten in lot.eaten
                if then >= week
            )
            there = sum(
                left.kg
                for left in state.lots
                if left.put_by == HORIZON.monday(lot.put_by_week)
                and (left.food, left.kind) == (lot.food, lot.kind)
            )
            assert there >= wanted - 0.006


def test_a_planting_that_failed_leaves_nothing_and_frees_its_ground(plan: Plan) -> None:
    """Failed in week 9, the beet stands no more, none of it was put by, and its stock is gone."""
    state = state_on(plan, on(14), [note(Became.FAILED, 9)])
    assert [planting.crop for planting, _ in state.gone] == ["beet"]
    assert all(one.planting.crop != "beet" for one in state.growing)
    assert state.lots == ()
    assert state.stock_used["beet/kind"] == pytest.approx(of(plan, "beet").stock)
    assert ("east", "beet", 2027) in state.past


def test_what_failed_after_it_was_lifted_was_lifted_all_the_same(plan: Plan) -> None:
    """Whatever befalls its ground in week 11, the beet lifted in week 10 lies in store."""
    state = state_on(plan, on(14), [note(Became.CLEARED, 11)])
    assert kg(state) == pytest.approx(kg(state_on(plan, on(14))))


def test_what_was_not_sown_used_no_stock_and_left_no_past(plan: Plan) -> None:
    """A planting never sown is as if it had not been planned."""
    state = state_on(plan, on(14), [note(Became.NOT_SOWN, 3)])
    assert "beet/kind" not in state.stock_used
    assert all(crop != "beet" for _, crop, _ in state.past)
    assert state.lots == ()


def test_half_of_what_was_hoped_fills_half_the_lot(plan: Plan) -> None:
    """Half the beet is put by; what was eaten since is taken from that half, or from nothing."""
    (lot,) = plan.lots
    half = state_on(plan, on(11), [note(Became.GIVES, 9, share=0.5)])
    eaten = sum(kg for week, kg in lot.eaten if week == 10)
    assert kg(half) == pytest.approx(max(0.0, lot.kg_in / 2 - eaten) * 0.98)
    more = state_on(plan, on(11), [note(Became.GIVES, 9, share=1.2)])
    assert kg(more) == pytest.approx((lot.kg_in * 1.2 - eaten) * 0.98)


def test_what_is_late_stands_longer_and_has_given_less(plan: Plan) -> None:
    """Two weeks late, the beet still stands in week 13, and has not been lifted in week 11."""
    late = note(Became.LATE, 9, days=14)
    assert {one.planting.crop for one in state_on(plan, on(13), [late]).growing} == {
        "beet",
        "chard",
    }
    assert state_on(plan, on(11), [late]).lots == ()
    (beet,) = (o for o in state_on(plan, on(11), [late]).growing if o.planting.crop == "beet")
    assert (beet.late_days, beet.taken) == (14, ())


def test_what_is_noted_of_another_day_bed_or_week_does_not_count(plan: Plan) -> None:
    """A note from after the day, of another bed, or of another sowing, changes nothing."""
    for other in (
        note(Became.FAILED, 20),
        replace(note(Became.FAILED, 9), bed="west"),
        note(Became.FAILED, 9, sown=HORIZON.monday(5)),
    ):
        state = state_on(plan, on(11), [other])
        assert state.gone == ()
        assert state.matched == frozenset()


def test_food_that_was_eaten_up_lies_in_store_no_more(plan: Plan) -> None:
    """A note that the beet in the cellar is eaten up empties its lot."""
    ended = Noted(Became.EATEN_UP, on(12), food="beet", place="cellar")
    assert state_on(plan, on(14), [ended]).lots == ()
    elsewhere = replace(ended, place="shed")
    assert kg(state_on(plan, on(14), [elsewhere])) > 0


def test_a_share_is_of_what_was_hoped_at_first_however_often_it_is_planned(plan: Plan) -> None:
    """A plan that knows of the half already does not halve again what it hopes for."""
    knows = replace(
        plan,
        plantings=tuple(
            replace(p, standing=True, hoped=0.5) if p.crop == "beet" else p for p in plan.plantings
        ),
    )
    (beet,) = (
        one
        for one in state_on(knows, on(9), [note(Became.GIVES, 8, share=0.5)]).growing
        if one.planting.crop == "beet"
    )
    assert beet.hoped == 0.5
    (lot,) = plan.lots
    state = state_on(knows, on(11), [note(Became.GIVES, 8, share=0.5)])
    assert kg(state) == pytest.approx(_after_one_week(lot))


def _after_one_week(lot: Lot) -> float:
    """Give what is sound of a lot once it has lain a week [kg]."""
    return (lot.kg_in - sum(kg for week, kg in lot.eaten if week == 10)) * lot.sound[1]
