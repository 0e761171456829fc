"""What one more would bring: told by the plan's own programme, and held to re-solving with it."""

from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from haulm.plan.pins import Pin, PinRule
from haulm.plan.records import Allotment, Plan
from haulm.planner.bound import pooled_bound
from haulm.planner.elsewhere import elsewhere
from haulm.planner.held import EVERY_WEEK, HeldPlan, OtherGardenError, patches_of
from haulm.planner.left_out import left_out
from haulm.planner.make import make_plan
from haulm.planner.one_more import one_more, stretches
from haulm.planner.pieces import pieces
from haulm.planner.program import SolverFailedError
from haulm.planner.question import BedGround, PlanQuestion
from haulm.planner.records import OneMore, Scarce
from haulm.planner.rules.registry import GROUND, HOURS, NURSERY, STORE_SPACE
from haulm.planner.tables import tabulate
from planner.brute_force import Reckoning, middling, tiny
from planner.tiny_gardens import USUAL, bed, food, garden, sowing, wants

NEAR = 1e-6
HAIR = 1e-3


@cache
def scarce(seed: int) -> PlanQuestion:
    """Draw a tiny garden in which hours, tray cells and the cellar run out as well as ground."""
    draw = np.random.default_rng(seed + 500)
    question = tiny(seed)
    raised = tuple(
        replace(
            s,
            cells_m2=float(draw.uniform(5, 15)),
            tray_weeks=(max(0, s.ground_from_week - 3), s.ground_from_week),
        )
        for s in question.sowings
    )
    return replace(
        question,
        sowings=raised,
        hours_week=tuple(draw.uniform(0.1, 0.5, question.horizon.weeks)),
        tray_cells=int(draw.integers(8, 30)),
        stores=(replace(question.stores[0], capacity_l=float(draw.uniform(1.0, 6.0))),),
        beds=tuple(_smaller(b, float(draw.uniform(0.5, 1.0))) for b in question.beds),
    )


def _smaller(whole: BedGround, share: float) -> BedGround:
    return replace(whole, area_m2=whole.area_m2 * share)


@cache
def planned(seed: int) -> tuple[PlanQuestion, Plan]:
    """Plan such a garden to the proven best."""
    question = scarce(seed)
    return question, make_plan(question, USUAL)


@cache
def held_plan(seed: int) -> HeldPlan:
    """Hold its plan still."""
    question, plan = planned(seed)
    return HeldPlan(question, patches_of(plan))


def rows_of(held: HeldPlan, more: OneMore) -> list[int]:
    """List the rows that give room for one more of a thing, found by another way."""
    tables, weeks = held.tables, range(more.first_week, more.last_week + 1)
    if more.what is Scarce.GROUND:
        b = [bed.id for bed in tables.ground.beds].index(more.where)
        cliques = zip(tables.ground.clique_bed, tables.ground.clique_week, strict=True)
        here = [row for row, (at, week) in enumerate(cliques) if at == b and week in weeks]
        every = held.rows(EVERY_WEEK)
        return [held.rows(GROUND.name)[row] for row in here] + [
            every[b * tables.weeks + week] for week in weeks
        ]
    rule = {Scarce.HOURS: HOURS, Scarce.TRAYS: NURSERY, Scarce.ROOM: STORE_SPACE}[more.what]
    return [held.rows(rule.name)[week] for week in weeks]


@pytest.mark.parametrize("seed", range(8))
def test_a_plan_held_still_costs_what_the_plan_costs(seed: int) -> None:
    """Held still, with the price of its patches, a plan costs to the gram what it was told to."""
    for question in (tiny(seed), scarce(seed), middling(seed % 3)):
        plan = make_plan(question, USUAL)
        held = HeldPlan(question, patches_of(plan))
        patches = question.prices.sowing * len(patches_of(plan))
        assert held.cost + patches == pytest.approx(plan.solver.objective, abs=NEAR)


@pytest.mark.parametrize("seed", [0, 1, 2, 3, 5])
def test_what_a_rotation_allots_is_paid_for_held_still_too(seed: int) -> None:
    """With ground kept for later years, a plan held still costs what it was told to as well."""
    question = tiny(seed)
    year = question.made_on.year
    kept = tuple(
        Allotment(bed.id, year + later, family, 3.0 if later else 0.4)
        for bed in question.beds
        for family in sorted({s.family for s in question.sowings})
        for later in (0, 1, 2)
    )
    question = replace(question, allotments=kept)
    plan = make_plan(question, USUAL)
    assert "allotment" in {broken.rule for broken in plan.broken}
    held = HeldPlan(question, patches_of(plan))
    paid = question.prices.sowing * len(patches_of(plan))
    assert held.cost + paid == pytest.approx(plan.solver.objective, abs=NEAR)


@pytest.mark.parametrize("seed", range(10))
def test_what_is_settled_by_hand_holds_whatever_is_asked(seed: int) -> None:
    """With at least, at most and only in: it costs the same held still; no answer breaks one."""
    pins = (
        Pin(PinRule.AT_LEAST, "beet/kind", area_m2=0.8),
        Pin(PinRule.AT_MOST, "chard/kind", area_m2=0.9),
        Pin(PinRule.ONLY_IN, "chard/kind", beds=("west",)),
    )
    question = replace(tiny(seed), pins=pins)
    plan = make_plan(question, USUAL)
    patches = patches_of(plan)
    held = HeldPlan(question, patches)
    paid = question.prices.sowing * len(patches)
    assert held.cost + paid == pytest.approx(plan.solver.objective, abs=NEAR)
    piece = dict.fromkeys([*held.rows(GROUND.name), *held.rows(EVERY_WEEK)], 1.0)
    area = held.with_more(piece).area_m2
    kinds = [held.tables.ground.sowings[s].kind for s in held.tables.ground.pair_sowing]
    by_kind = {
        kind: sum(m2 for k, m2 in zip(kinds, area, strict=True) if k == kind) for kind in kinds
    }
    assert by_kind.get("chard/kind", 0.0) <= 0.9 + NEAR
    assert by_kind.get("beet/kind", 0.0) >= 0.8 - NEAR
    for left in left_out(question, patches):
        assert (left.kind, left.bed) in {("chard/kind", "west"), (left.kind, "")}
    for patch in patches:
        for others in elsewhere(question, patches, patch):
            assert all(o.bed == "west" for o in others if o.sowing.startswith("chard"))


@given(st.integers(0, 400))
@settings(max_examples=40, deadline=None)
def test_the_rate_is_that_of_solving_with_a_hair_more(seed: int) -> None:
    """What the first hair would bring lies between what a hair less costs and a hair more brings.

    Where both agree, which is nearly everywhere, the rate is that very figure.
    """
    held = held_plan(seed)
    for more in one_more(held):
        rows = rows_of(held, more)
        rate = more.at_first_kg / more.amount
        gain = (held.cost - held.with_more(dict.fromkeys(rows, HAIR)).cost) / HAIR
        loss = _lost_by_a_hair_less(held, rows) / HAIR
        slack = NEAR / HAIR
        assert gain - slack <= rate <= loss + slack
        if gain == pytest.approx(loss, rel=1e-3):
            assert rate == pytest.approx(gain, rel=2e-3, abs=slack)


def _lost_by_a_hair_less(held: HeldPlan, rows: list[int]) -> float:
    """Say what a hair less of a thing costs; without end where the patches no longer fit."""
    try:
        return held.with_more(dict.fromkeys(rows, -HAIR)).cost - held.cost
    except SolverFailedError:
        return np.inf


def test_rates_are_not_idle() -> None:
    """Over many gardens every thing is scarce in some, and the rate mostly equals a hair's gain."""
    agree, seen = 0, []
    for seed in range(30):
        held = held_plan(seed)
        for more in one_more(held):
            gain = held.cost - held.with_more(dict.fromkeys(rows_of(held, more), HAIR)).cost
            agree += gain / HAIR == pytest.approx(more.at_first_kg / more.amount, rel=2e-3)
            seen.append(more.what)
    assert set(seen) == set(Scarce)
    assert agree >= 0.7 * len(seen)


@given(st.integers(0, 400))
@settings(max_examples=25, deadline=None)
def test_more_of_a_piece_never_brings_more_than_its_first_hair(seed: int) -> None:
    """The more there is of a thing, the less the next of it brings; never less than nothing."""
    held = held_plan(seed)
    for more in one_more(held):
        rows = rows_of(held, more)
        gains = [
            held.cost - held.with_more(dict.fromkeys(rows, part * more.amount)).cost
            for part in (0.25, 0.5, 1.0, 2.0)
        ]
        assert -NEAR <= gains[0] <= gains[1] + NEAR
        assert gains[2] == pytest.approx(more.worth_kg, abs=NEAR)
        assert gains[2] <= 2 * gains[1] + NEAR
        assert gains[3] <= 2 * gains[2] + NEAR
        assert more.worth_kg <= more.at_first_kg + NEAR


@pytest.mark.parametrize("seed", range(12))
def test_more_ground_brings_what_another_model_finds(seed: int) -> None:
    """A model written apart, with the bed one square metre larger, comes to the same sum."""
    question = tiny(seed)
    plan = make_plan(question, USUAL)
    held = HeldPlan(question, patches_of(plan))
    piece = pieces().ground_m2.value
    told = {
        m.where: m.worth_kg
        for m in one_more(held)
        if m.what is Scarce.GROUND and m.last_week - m.first_week == question.horizon.weeks - 1
    }
    sowings = {s.id: s for s in question.sowings}
    for larger in question.beds:
        costs = []
        for m2 in (0.0, piece):
            beds = {b.id: replace(b, area_m2=b.area_m2 + m2 * (b is larger)) for b in question.beds}
            patches = [(sowings[s], beds[b]) for s, b in patches_of(plan)]
            costs.append(Reckoning(_with_beds(question, beds), patches).cost())
        assert costs[0] - costs[1] == pytest.approx(told.get(larger.id, 0.0), abs=2e-3)


def _with_beds(question: PlanQuestion, beds: dict[str, BedGround]) -> PlanQuestion:
    return replace(question, beds=tuple(beds.values()))


@pytest.mark.parametrize("seed", range(12))
def test_planned_anew_one_more_brings_at_least_as_much(seed: int) -> None:
    """The best plan there is with one more gains no less than the plan with its patches held.

    It may keep its patches, so it cannot do worse; it may also choose others, and then it can gain
    more than the first hair's rate: so the rate bounds the plan held still, and not the plan made
    anew. What bounds that is the proven bound of the garden with one more.
    """
    question, plan = planned(seed)
    for more in one_more(held_plan(seed))[:3]:
        if (more.first_week, more.last_week) != (0, question.horizon.weeks - 1):
            continue
        larger = _with_one_more(question, more)
        anew = make_plan(larger, USUAL)
        gain = plan.solver.objective - anew.solver.objective
        assert more.worth_kg - 1e-4 <= gain
        assert gain <= plan.solver.objective - pooled_bound(tabulate(larger), 10) + 1e-4


def _with_one_more(question: PlanQuestion, more: OneMore) -> PlanQuestion:
    if more.what is Scarce.ROOM:
        (cellar,) = question.stores
        larger = replace(cellar, capacity_l=(cellar.capacity_l or 0.0) + more.amount)
        return replace(question, stores=(larger,))
    if more.what is Scarce.TRAYS:
        return replace(question, tray_cells=(question.tray_cells or 0) + int(more.amount))
    beds = {b.id: b for b in question.beds}
    grown = replace(beds[more.where], area_m2=beds[more.where].area_m2 + more.amount)
    return _with_beds(question, beds | {more.where: grown})


def test_what_a_new_patch_would_bring_is_no_hair() -> None:
    """A bed too small for anything is worth nothing by the hair, and much once a patch fits."""
    beets = sowing("beet", 2, 12, food("beet", range(9, 12), 3.0))
    asked = [wants("beet", range(9, 12), 1.0)]
    small = garden([beets], asked, [bed("nook", 0.3)])
    plan = make_plan(small, USUAL)
    assert one_more(HeldPlan(small, patches_of(plan))) == ()
    larger = replace(small, beds=(bed("nook", 1.3),))
    assert plan.solver.objective - make_plan(larger, USUAL).solver.objective > 2.0


def test_who_is_fed_is_told_by_line() -> None:
    """In a bed with room for one crop, one more square metre feeds that crop, to the gram."""
    beets = sowing("beet", 2, 12, food("beet", range(9, 12), 3.0))
    question = garden([beets], [wants("beet", range(9, 12), 5.0)], [bed("east", 2.0)])
    held = HeldPlan(question, patches_of(make_plan(question, USUAL)))
    found = one_more(held)
    whole = next(m for m in found if m.first_week == 0)
    full = next(m for m in found if m.first_week > 0)
    assert dict(whole.fed) == {"beet": pytest.approx(3.0)}
    assert (full.first_week, full.last_week) == (2, 11)
    assert full.worth_kg == pytest.approx(whole.worth_kg)


def test_ground_in_the_wrong_weeks_is_worth_nothing() -> None:
    """More ground while a bed is not full is never told of."""
    for seed in range(20):
        held = held_plan(seed)
        for more in one_more(held):
            weeks = slice(more.first_week, more.last_week + 1)
            if more.what is Scarce.GROUND and more.first_week > 0:
                b = [one.id for one in held.question.beds].index(more.where)
                assert held.left_m2[b, weeks].max() < NEAR


def test_a_pinned_size_stays() -> None:
    """What the grower fixed by hand takes none of one more square metre."""
    beets = sowing("beet", 2, 12, food("beet", range(9, 12), 3.0))
    pins = (Pin(PinRule.KEEP, "beet/kind", "east", area_m2=1.5),)
    question = garden([beets], [wants("beet", range(9, 12), 5.0)], [bed("east", 1.5)])
    plan = make_plan(replace(question, pins=pins), USUAL)
    assert one_more(HeldPlan(replace(question, pins=pins), patches_of(plan))) == ()


def test_a_patch_of_another_garden_is_refused() -> None:
    """A plan that the garden has no place for any more is not reckoned with."""
    question, plan = planned(0)
    gone = replace(question, beds=question.beds[:1])
    patches = {(next(iter(patches_of(plan)))[0], "west"): 1.0}
    with pytest.raises(OtherGardenError):
        HeldPlan(gone, patches)


@given(st.lists(st.booleans(), max_size=20))
def test_stretches_are_the_runs(flags: list[bool]) -> None:
    """Every week told of lies in just one stretch, and none other does."""
    weeks = [
        w for first, last in stretches(np.array(flags, dtype=bool)) for w in range(first, last + 1)
    ]
    assert weeks == [w for w, told in enumerate(flags) if told]
