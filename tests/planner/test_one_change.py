"""One thing done otherwise: found by prices, it is what trying every single change finds."""

from dataclasses import replace

import pytest

from haulm.growing.records import Sowing
from haulm.plan.pins import Pin, PinRule
from haulm.plan.records import Plan
from haulm.planner.audit import audit
from haulm.planner.change_records import Wish
from haulm.planner.make import make_plan
from haulm.planner.one_change import one_change, spared_kg
from haulm.planner.question import BedGround, PlanQuestion
from haulm.planner.true_year import (
    FoodCame,
    KindCame,
    Stood,
    TrueYear,
    as_it_came,
    as_stood,
    stood_sowings,
)
from planner.brute_force import tiny
from planner.tiny_gardens import HORIZON, USUAL, bed, food, garden, keeps, sowing, wants

EVERYTHING = Wish(most=1, least_kg=1e-6, budget=10_000)


def planned(seed: int) -> tuple[PlanQuestion, Plan]:
    """Plan a tiny garden without years to rest, to its proven best."""
    question = replace(tiny(seed), rotation_gap_years={"roots": 0, "leaves": 0})
    return question, make_plan(question, USUAL)


def as_planned(plan: Plan) -> TrueYear:
    """Give the year that came just as planned."""
    stood = tuple(
        Stood(
            p.sowing,
            p.bed,
            p.area_m2,
            p.area_m2,
            foods=tuple(
                FoodCame(e.food, tuple((k.week, k.kg) for k in p.picks if k.food == e.food))
                for e in p.expects
            ),
        )
        for p in plan.plantings
    )
    return TrueYear(0, HORIZON.weeks, stood)


def poorer(plan: Plan, share: float) -> TrueYear:
    """Give the year in which the first planting gave but a share, and was known to be its own."""
    year = as_planned(plan)
    first, *others = year.stood
    gave = tuple(
        FoodCame(one.food, tuple((week, share * kg) for week, kg in one.by_week))
        for one in first.foods
    )
    return replace(year, stood=(replace(first, foods=gave), *others))


def best_of_all(question: PlanQuestion, year: TrueYear) -> float:
    """Try every single change, each as an audited plan, and give what the best would save [kg]."""
    base = make_plan(as_stood(question, year), USUAL).solver.objective
    came = as_it_came(question, year)
    stood = stood_sowings(question, year)
    best = 0.0
    for gone in ("", *stood):
        held = as_stood(question, year, frozenset({gone} if gone else ()))
        comes: list[tuple[Sowing | None, BedGround | None]] = [(None, None)]
        comes += [(s, b) for s in came.sowings for b in question.beds]
        if gone:
            mine, one = stood[gone]
            comes += [(mine, b) for b in question.beds if b.id == one.bed]
        for s, b in comes:
            if s is None or b is None:
                asked = held
            elif gone and (stood[gone][1].bed != b.id or stood[gone][1].sowing == s.id):
                continue
            else:
                others = tuple(each for each in question.beds if each.id != b.id)
                shut = tuple(Pin(PinRule.FORBID, s.kind, each.id) for each in others)
                asked = replace(held, sowings=(s,), pins=shut)
            plan = make_plan(asked, USUAL)
            assert audit(plan, asked) == ()
            spared = spared_kg(question, stood[gone][1]) if gone else 0.0
            best = max(best, base - plan.solver.objective + spared)
    return best


@pytest.mark.parametrize("seed", range(4))
def test_a_year_as_planned_leaves_nothing_to_regret(seed: int) -> None:
    """Where the year came just as planned, what stood feeds the table as the plan had said, and no
    single change would have been worth more than the plan is proven to be from the best.
    """
    question, plan = planned(seed)
    year = as_planned(plan)
    base = make_plan(as_stood(question, year), USUAL)
    short = sum(row.short_kg for row in base.table)
    assert short == pytest.approx(sum(row.short_kg for row in plan.table), abs=1e-3)
    found = one_change(question, year, EVERYTHING)
    gap = plan.solver.objective - plan.solver.bound
    assert all(one.gain_kg <= gap + 1e-3 for one in found.changes)


@pytest.mark.parametrize("seed", range(5))
def test_the_regret_is_the_best_of_every_single_change(seed: int) -> None:
    """In a year in which a planting gave but a fifth, what is found is what trying each change
    finds: one sowing more, one left out, one instead of another.
    """
    question, plan = planned(seed)
    if not plan.plantings:
        pytest.skip("nothing is planted")
    year = poorer(plan, 0.2)
    found = one_change(question, year, EVERYTHING)
    best = best_of_all(question, year)
    gain = found.changes[0].gain_kg if found.changes else 0.0
    assert found.all_known
    assert gain == pytest.approx(best, abs=5e-3)


def test_one_more_sowing_fills_the_gap_it_could_have() -> None:
    """Beet was wanted for ten weeks, and all there was of it was eaten in five. One more sowing in
    free ground is what is found, as large as makes up the other five, and no larger.
    """
    early = sowing("beet", 0, 12, food("beet", (10, 11), 2.5))
    late = sowing("beet", 12, 25, food("beet", (15, 16), 2.5))
    asked = [wants("beet", range(10, 20), 0.5)]
    kept = [keeps("beet", [1.0] * 6)]
    question = garden([early, late], asked, [bed("east", 1.0)], kept)
    gave = FoodCame("beet", ((10, 1.25), (11, 1.25)))
    year = TrueYear(0, 30, (Stood(early.id, "east", 1.0, 1.0, foods=(gave,)),))
    (one,) = one_change(question, year, Wish(0.1, budget=100)).changes
    assert (one.out, one.sowing, one.bed) == ("", late.id, "east")
    assert one.area_m2 == pytest.approx(1.0, abs=0.01)


def test_a_loss_is_luck_and_its_patch_is_left_alone() -> None:
    """What slugs took is nothing that one would have done otherwise: no change replaces it."""
    only = sowing("beet", 0, 12, food("beet", (10, 11), 3.0))
    question = garden([only], [wants("beet", range(10, 20), 0.5)], [bed("east", 2.0)])
    lost = Stood(only.id, "east", 2.0, 2.0, foods=(FoodCame("beet", ()),), lost=True)
    assert one_change(question, TrueYear(0, 30, (lost,)), Wish(0.1, budget=100)).changes == ()


def test_other_sowings_give_what_their_kind_gave() -> None:
    """Where beet gave half that year, another sowing of beet would have given half, a week late."""
    early = sowing("beet", 0, 12, food("beet", (10, 11), 3.0))
    question = garden([early], [wants("beet", range(10, 20), 0.5)])
    year = TrueYear(0, 30, (), (KindCame("beet/kind", "beet", 0.5, 1),))
    (given,) = as_it_came(question, year).sowings[0].foods
    assert given.yield_kg_m2 == pytest.approx(1.5)
    assert given.week_shares == ((11, 0.5), (12, 0.5))


def test_the_weather_on_record_says_when_other_sowings_were_ready() -> None:
    """Where the record had beet ready three weeks sooner, so it is taken, and not when the diary's
    beet was; it still gives what the diary's did, and holds its ground no longer for it.
    """
    early = sowing("beet", 0, 12, food("beet", (10, 11), 3.0))
    question = garden([early], [wants("beet", range(6, 20), 0.5)])
    by_record = {early.id: {"beet": food("beet", (7, 8), 3.0)}}
    year = TrueYear(0, 30, (), (KindCame("beet/kind", "beet", 0.5, 1),), grown=by_record)
    (came,) = as_it_came(question, year).sowings
    assert came.foods[0].yield_kg_m2 == pytest.approx(1.5)
    assert came.foods[0].week_shares == ((7, 0.5), (8, 0.5))
    assert came.ground_until_week == 12


def test_after_the_year_the_record_changes_nothing() -> None:
    """What was to be ready after the year, and was, keeps the plan's weeks."""
    later = sowing("beet", 20, 34, food("beet", (31, 32), 3.0))
    question = garden([later], [wants("beet", range(6, 40), 0.5)])
    year = TrueYear(0, 30, (), grown={later.id: {"beet": food("beet", (33, 34), 3.0)}})
    assert as_it_came(question, year).sowings == question.sowings


def test_a_patch_nobody_weighed_gave_when_the_weather_made_it_ready() -> None:
    """A late patch that nobody wrote of is dated by the record from its true beginning."""
    one = sowing("beet", 0, 14, food("beet", (10, 11), 3.0))
    question = garden([one], [wants("beet", range(6, 20), 0.5)])
    stood = Stood(one.id, "east", 2.0, 2.0, late_weeks=2)
    year = TrueYear(0, 30, (stood,), grown={stood.id: {"beet": food("beet", (9, 10), 3.0)}})
    ((sown, _),) = stood_sowings(question, year).values()
    assert [week for week, _ in sown.foods[0].week_shares] == [9, 10]


def test_food_that_aged_twice_as_fast_is_so_in_the_true_year() -> None:
    """A pace of two halves the weeks a food keeps."""
    question = garden(
        [sowing("beet", 0, 12, food("beet", (10, 11)))],
        [wants("beet", range(10, 20))],
        keep_rules=[keeps("beet", [1.0, 0.9, 0.8, 0.6, 0.4])],
    )
    year = TrueYear(0, 30, (), paces={("beet", "cellared", "cellar"): 2.0})
    assert as_it_came(question, year).keep_rules[0].sound == pytest.approx((1.0, 0.8, 0.4))


def test_nobody_wanted_less_than_was_eaten() -> None:
    """A line of which more was eaten than it was to want is taken to have wanted that."""
    question = garden(
        [sowing("beet", 0, 12, food("beet", (10, 11)))], [wants("beet", range(10, 12), 0.5)]
    )
    year = TrueYear(0, 30, (), eaten_kg={("beet", 10): 0.8, ("beet", 11): 0.2})
    assert as_it_came(question, year).appetites[0].kg[10:12] == (0.8, 0.5)


def test_a_late_sowing_gives_later_and_still_makes_room() -> None:
    """Begun three weeks late, a patch takes its ground and gives three weeks later; it leaves when
    it was to, for what follows was planted there.
    """
    one = sowing("beet", 0, 12, food("beet", (10, 11), 3.0))
    question = garden([one], [wants("beet", range(10, 20), 0.5)])
    year = TrueYear(0, 30, (Stood(one.id, "east", 2.0, 2.0, late_weeks=3),))
    ((late, _),) = stood_sowings(question, year).values()
    assert (late.ground_from_week, late.ground_until_week) == (3, 12)
    assert [week for week, _ in late.foods[0].week_shares] == [13, 14]
    plan = make_plan(as_stood(question, year), USUAL)
    assert sum(row.fresh_kg for row in plan.table if row.week < 13) == 0


def test_more_ground_than_the_bed_has_is_not_believed() -> None:
    """Where five square metres were written in a bed of four, the patch has what it was to have,
    and what it gave in all stays what was weighed.
    """
    one = sowing("beet", 0, 12, food("beet", (10, 11), 3.0))
    question = garden([one], [wants("beet", range(10, 20), 0.5)], [bed("east", 4.0)])
    gave = FoodCame("beet", ((10, 3.0), (11, 3.0)))
    year = TrueYear(0, 30, (Stood(one.id, "east", 5.0, 3.0, foods=(gave,)),))
    ((sown, stood),) = stood_sowings(question, year).values()
    assert stood.area_m2 == 3.0
    assert sown.foods[0].yield_kg_m2 * stood.area_m2 == pytest.approx(6.0)
    assert make_plan(as_stood(question, year), USUAL).plantings
