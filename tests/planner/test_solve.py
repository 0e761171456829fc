"""The search: held against brute force on tiny gardens, and to what every plan must be."""

from dataclasses import replace
from itertools import compress, product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray
from scipy.optimize import linprog

from haulm.catalogue.records import Picking
from haulm.growing.records import Sowing
from haulm.household.records import Appetite
from haulm.measure.errors import InterruptedPlanError
from haulm.planner.bound import pooled_bound
from haulm.planner.make import make_plan
from haulm.planner.question import BedGround, Effort, PlanQuestion, Progress, StopPlanningError
from haulm.planner.solve import EFFORTS, solve_plan
from haulm.planner.tables import tabulate
from planner.tiny_gardens import HORIZON, USUAL, bed, food, garden, keeps, sowing, wants


def tiny(seed: int) -> PlanQuestion:
    """Draw a garden of two beds and three sowings of two crops, some of it kept in store."""
    draw = np.random.default_rng(seed)
    starts = draw.integers(0, 8, size=3)
    picking = [Picking.ONCE, Picking.SPREAD, Picking.STAND]
    families = {crop: ("roots", "leaves")[int(draw.integers(0, 2))] for crop in ("beet", "chard")}
    sowings = []
    for number, crop in enumerate(("beet", "beet", "chard")):
        start = int(starts[number]) + number
        ready = start + int(draw.integers(4, 8))
        way = picking[int(draw.integers(0, 3))]
        span = 1 if way is Picking.ONCE else 3
        given_food = food(crop, range(ready, ready + span), float(draw.uniform(1, 4)), way)
        made = sowing(crop, start, ready + span, given_food, family=families[crop])
        sowings.append(replace(made, id=f"{made.id}:{number}"))
    first = int(draw.integers(4, 10))
    asked = [
        wants("beet", range(first, first + 9), float(draw.uniform(0.2, 2)), priority=2),
        wants("chard", range(first, first + 9), float(draw.uniform(0.2, 2)), priority=4),
    ]
    past = (("roots", 2025),) if draw.random() < 0.5 else ()
    beds = [replace(bed("east", 2.0), last_year_of_family=past), bed("west", 3.0)]
    return garden(sowings, asked, beds, [keeps("beet", [1.0, 0.9, 0.8, 0.6, 0.4])])


Patch = tuple[Sowing, BedGround]


def cheapest(question: PlanQuestion) -> float:
    """Try every choice of patches, each with the best areas: a model written apart from haulm's."""
    patches = [(s, b) for s in question.sowings for b in question.beds]
    choices = product((False, True), repeat=len(patches))
    return min(Reckoning(question, list(compress(patches, choice))).cost() for choice in choices)


class Reckoning:
    """The cheapest areas for one choice of patches, by a second solver's front door."""

    def __init__(self, question: PlanQuestion, held: list[Patch]) -> None:
        self.question = question
        self.held = held
        self.price: list[float] = []
        self.bounds: list[tuple[float, float]] = []
        self.at_most: list[tuple[dict[int, float], float]] = []
        self.eaten: dict[tuple[str, int], dict[int, float]] = {}

    def cost(self) -> float:
        """Give the cost; infinite where the least patches do not fit."""
        areas = [self._patch(patch) for patch in self.held]
        for b, week in product(self.question.beds, range(HORIZON.weeks)):
            there = {
                x: 1.0
                for x, (s, of) in zip(areas, self.held, strict=True)
                if of is b and s.ground_from_week <= week < s.ground_until_week
            }
            self.at_most.append((there, b.area_m2))
        exactly = [row for line in self.question.appetites for row in self._wanted(line)]
        solved = linprog(
            self.price,
            *self._dense(self.at_most),
            *self._dense(exactly),
            bounds=self.bounds,
            method="highs",
        )
        fixed = self.question.prices.sowing * len(self.held)
        return float(solved.fun) + fixed if solved.status == 0 else np.inf

    def _unknown(self, price: float, low: float, high: float) -> int:
        self.price.append(price)
        self.bounds.append((low, high))
        return len(self.price) - 1

    def _patch(self, patch: Patch) -> int:
        """Add one patch and all that may be eaten of it; give its area."""
        prices, (s, b) = self.question.prices, patch
        grown = s.foods[0]
        hours = sum(minutes for _, minutes in s.work_min_m2) / 60
        each = prices.area_m2 + prices.hour * hours + prices.glut_kg * grown.yield_kg_m2
        each += prices.rotation_m2 * self._years_missing(patch)
        x = self._unknown(each, self.question.least_patch_m2, b.area_m2)
        whole: dict[int, float] = {x: -grown.yield_kg_m2}
        for week, share in grown.week_shares:
            out = self._taken(s, week)
            whole |= out
            if grown.picking is not Picking.STAND:
                self.at_most.append(({x: -share * grown.yield_kg_m2} | out, 0.0))
        if grown.picking is Picking.STAND:
            self.at_most.append((whole, 0.0))
        return x

    def _taken(self, s: Sowing, week: int) -> dict[int, float]:
        """Add the helpings of what is lifted in one week, fresh and kept: kg lifted for each kg."""
        prices, grown = self.question.prices, s.foods[0]
        asked = next(line for line in self.question.appetites if line.line == grown.food)
        lift = prices.hour * grown.pick_min_kg / 60 - prices.glut_kg
        out: dict[int, float] = {}
        for rule in (None, *self.question.keep_rules):
            if rule is not None and rule.kind != s.kind:
                continue
            sound = (1.0,) if rule is None else rule.sound
            kitchen = 0.0 if rule is None else prices.hour * rule.work_min_kg / 60
            for age in range(0 if rule is None else 1, len(sound)):
                most = asked.kg[week + age]
                helping = self._unknown((lift + kitchen) / sound[age], 0.0, most)
                out[helping] = 1.0 / sound[age]
                self.eaten.setdefault((grown.food, week + age), {})[helping] = 1.0
        return out

    def _wanted(self, line: Appetite) -> list[tuple[dict[int, float], float]]:
        """Add what may stay short: helpings and shortage make what is wanted."""
        prices = self.question.prices
        weight = prices.priority_weight[line.priority - 1]
        rows = []
        for week, kg in enumerate(line.kg):
            row = dict(self.eaten.get((line.line, week), {}))
            for share, price in prices.shortage_slices:
                row[self._unknown(weight * price, 0.0, share * kg)] = 1.0
            rows.append((row, kg))
        return rows

    def _years_missing(self, patch: Patch) -> int:
        s, b = patch
        year = HORIZON.monday(s.ground_until_week).year
        before = [lifted for family, lifted in b.last_year_of_family if family == s.family]
        before += [
            HORIZON.monday(other.ground_until_week).year
            for other, of in self.held
            if of is b
            and other.family == s.family
            and other.ground_until_week <= s.ground_from_week
        ]
        gap = self.question.rotation_gap_years[s.family]
        return max([gap - (year - lifted) for lifted in before] + [0])

    def _dense(
        self, rows: list[tuple[dict[int, float], float]]
    ) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
        table = np.zeros((len(rows), len(self.price)))
        for number, (row, _) in enumerate(rows):
            for column, value in row.items():
                table[number, column] = value
        return table, np.array([limit for _, limit in rows])


@pytest.mark.parametrize("seed", range(8))
def test_no_choice_of_patches_beats_the_plan(seed: int) -> None:
    """On a tiny garden the plan costs exactly what the best of all choices of patches costs."""
    question = tiny(seed)
    plan = make_plan(question, USUAL)
    assert plan.solver.objective == pytest.approx(cheapest(question), rel=1e-6, abs=1e-6)
    assert plan.solver.gap <= 1e-4


@given(st.integers(0, 10_000), st.floats(0.0, 4.0))
@settings(max_examples=15, deadline=None)
def test_more_land_never_feeds_less(seed: int, more_m2: float) -> None:
    """With one bed larger, the best plan is no worse."""
    question = tiny(seed)
    east, west = question.beds
    larger = replace(question, beds=(east, replace(west, area_m2=west.area_m2 + more_m2)))
    first, second = (make_plan(q, USUAL).solver.objective for q in (question, larger))
    assert second <= first + 1e-5 * (1.0 + first)


@given(st.integers(0, 10_000))
@settings(max_examples=15, deadline=None)
def test_every_planting_lies_in_its_window(seed: int) -> None:
    """Nothing is sown before its window opens or after it closes, and no patch is a sliver."""
    for planting in make_plan(tiny(seed), USUAL).plantings:
        assert planting.earliest_sowing <= planting.sow_on <= planting.latest_sowing
        assert planting.area_m2 >= 0.5 - 1e-6


def test_an_appetite_no_land_could_meet_is_named() -> None:
    """A hundred tons a week leave a shortage of all but what the beds give, and a plan."""
    question = tiny(3)
    asked = tuple(replace(a, kg=tuple(1e5 * kg for kg in a.kg)) for a in question.appetites)
    plan = make_plan(replace(question, appetites=asked), USUAL)
    short, wanted = sum(s.kg for s in plan.shortages), sum(sum(a.kg) for a in asked)
    assert short == pytest.approx(wanted, rel=1e-3)
    assert all(s.sentence.startswith("short ") for s in plan.shortages)


def test_a_garden_without_beds_still_has_a_plan() -> None:
    """With no beds nothing is planted, everything is short, and a finding says to add a bed."""
    plan = make_plan(replace(tiny(1), beds=()), USUAL)
    assert plan.plantings == ()
    assert plan.findings[0].where == "the beds"
    assert sum(s.kg for s in plan.shortages) == pytest.approx(sum(r.wanted_kg for r in plan.table))


def test_a_garden_where_nothing_is_wanted_is_left_bare() -> None:
    """Nobody sows what nobody eats."""
    plan = make_plan(replace(tiny(1), appetites=()), USUAL)
    assert plan.plantings == ()
    assert plan.solver.objective == pytest.approx(0.0)


def middling(seed: int) -> PlanQuestion:
    """Draw a garden too large to be solved whole: six crops in four sowings on three beds."""
    draw = np.random.default_rng(seed)
    sowings = [
        sowing(
            f"crop-{c}",
            w,
            w + 8,
            food(f"crop-{c}", range(w + 6, w + 8), 2.0 + c / 4),
            family="leaves",
        )
        for c in range(6)
        for w in range(int(draw.integers(0, 3)), 16, 4)
    ]
    asked = [wants(f"crop-{c}", range(6, 26), float(draw.uniform(0.2, 0.8))) for c in range(6)]
    return garden(sowings, asked, [bed(f"bed-{n}", 3.0) for n in range(3)])


def test_the_same_seed_gives_the_same_plan() -> None:
    """Asked twice, the same question is answered by the same plan."""
    one, other = (make_plan(middling(1), USUAL) for _ in range(2))
    assert replace(one, solver=replace(one.solver, seconds=0.0)) == replace(
        other, solver=replace(other.solver, seconds=0.0)
    )


def test_more_effort_is_never_worse() -> None:
    """The first plan is not better than the one improved, and neither beats the bound."""
    quick, usual = (make_plan(middling(2), EFFORTS[name]).solver for name in ("quick", "usual"))
    assert usual.bound - 1e-6 <= usual.objective <= quick.objective + 1e-6
    assert usual.bound >= quick.bound - 1e-6


@pytest.mark.parametrize("seed", range(6))
def test_the_bound_of_a_large_garden_holds_for_a_small_one(seed: int) -> None:
    """The bound from pooled beds never lies above the cost of the proven best plan."""
    question = tiny(seed)
    best = make_plan(question, USUAL).solver.objective
    assert pooled_bound(tabulate(question), 10) <= best + 1e-6


@pytest.mark.parametrize("seed", range(6))
def test_the_bound_of_a_lone_bed_holds(seed: int) -> None:
    """Where one bed must carry a family again and again, the bound never passes the best plan."""
    question = tiny(seed)
    lone = replace(question, beds=question.beds[:1])
    best = make_plan(lone, USUAL).solver.objective
    assert pooled_bound(tabulate(lone), 10) <= best + 1e-6


def test_a_tunnel_nothing_is_sown_in_does_not_hinder_the_bound() -> None:
    """A covered bed for which no sowing is made leaves the bound as it was."""
    question = middling(1)
    beds = (*question.beds, bed("tunnel", 3.0, under_cover=True))
    without, beside = (
        pooled_bound(tabulate(replace(question, beds=b)), 1) for b in (question.beds, beds)
    )
    assert beside == pytest.approx(without)


def test_the_bound_sees_that_a_lone_bed_cannot_be_rotated() -> None:
    """Two crops of one family must follow in the only bed: the bound charges what that breaks."""
    sowings = [
        sowing("carrot", 1, 9, food("carrot", range(7, 9))),
        sowing("parsnip", 10, 18, food("parsnip", range(16, 18))),
    ]
    asked = [wants("carrot", (7, 8), 3.0), wants("parsnip", (16, 17), 3.0)]
    question = garden(sowings, asked)
    rested = replace(question, rotation_gap_years={"roots": 0})
    best, easy = (make_plan(q, USUAL).solver.objective for q in (question, rested))
    bound = pooled_bound(tabulate(question), 10)
    assert easy + 1.0 < bound <= best + 1e-6


def test_a_watcher_may_stop_and_keep_the_best() -> None:
    """Stopped once there is a plan, that plan is given; stopped before, there is none."""

    def stop_late(progress: Progress) -> None:
        if progress.objective is not None:
            raise StopPlanningError

    def stop_at_once(_: Progress) -> None:
        raise StopPlanningError

    assert solve_plan(middling(1), USUAL, stop_late).plantings
    with pytest.raises(InterruptedPlanError):
        solve_plan(middling(1), USUAL, stop_at_once)


def test_breaking_off_from_the_keyboard_keeps_nothing() -> None:
    """Whoever breaks planning off gets no plan, even where there was one already."""

    def break_off(progress: Progress) -> None:
        if progress.objective is not None:
            raise KeyboardInterrupt

    with pytest.raises(InterruptedPlanError):
        solve_plan(middling(1), USUAL, break_off)


def test_effort_is_counted() -> None:
    """No more rounds are made than the effort names."""
    plan = make_plan(middling(1), Effort("short", rounds=1, target_gap=0.0))
    assert plan.solver.rounds <= 1
