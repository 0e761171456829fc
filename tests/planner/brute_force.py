"""Gardens drawn from a seed, and the best plan of tiny ones by trying everything: its own model."""

from dataclasses import replace
from itertools import compress, product

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import linprog

from haulm.catalogue.records import Picking
from haulm.growing.records import Sowing
from haulm.household.records import Appetite
from haulm.plan.pins import Pin, PinRule
from haulm.planner.question import BedGround, PlanQuestion
from planner.tiny_gardens import HORIZON, bed, food, garden, keeps, sowing, wants

Patch = tuple[Sowing, BedGround]


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


def cheapest(question: PlanQuestion) -> float:
    """Try every choice of patches, each with the best areas: a model written apart from haulm's."""
    patches = [
        (s, b)
        for s in question.sowings
        for b in question.beds
        if not any(kept_out(p, (s, b)) for p in question.pins)
    ]
    choices = product((False, True), repeat=len(patches))
    return min(
        Reckoning(question, held).cost() + changes(question, patches, held)
        for held in (list(compress(patches, choice)) for choice in choices)
        if not any(meet(pin, held) for pin in question.pins)
    )


def kept_out(pin: Pin, patch: Patch) -> bool:
    """Say whether a pin alone keeps a patch out."""
    elsewhere = pin.rule is PinRule.ONLY_IN and patch[1].id not in pin.beds
    return (pin.rule is PinRule.FORBID or elsewhere) and speaks_of(pin, patch)


def meet(pin: Pin, held: list[Patch]) -> bool:
    """Say whether two patches meet in a bed that a pin keeps apart, week by week."""
    if pin.rule is not PinRule.APART:
        return False
    for b in {b.id for _, b in held}:
        for week in range(HORIZON.weeks):
            there = [
                s
                for s, of in held
                if of.id == b and s.ground_from_week <= week < s.ground_until_week
            ]
            first = [s for s in there if pin.what in {s.kind, s.crop, s.family}]
            second = [s for s in there if pin.apart_from in {s.kind, s.crop, s.family}]
            if first and second and first != second:
                return True
    return False


def speaks_of(pin: Pin, patch: Patch) -> bool:
    """Say whether a pin speaks of a patch."""
    s, b = patch
    same_week = pin.sow_on is None or pin.sow_on.strftime("%G-W%V") == s.sow_on.strftime("%G-W%V")
    named = pin.what in {s.kind, s.crop, s.family}
    same_year = pin.year in {None, s.sow_on.year}
    return named and (pin.bed or b.id) == b.id and same_week and same_year


def changes(question: PlanQuestion, patches: list[Patch], held: list[Patch]) -> float:
    """Price every patch that comes or goes, where there is a plan before."""
    before = {(each.sowing, each.bed) for each in question.before}
    then = [(s.id, b.id) in before for s, b in patches]
    now = [patch in held for patch in patches]
    moved = sum(was is not is_ for was, is_ in zip(then, now, strict=True))
    return question.prices.change * moved if before else 0.0


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
        for pin in self.question.pins:
            pinned = [x for x, p in zip(areas, self.held, strict=True) if speaks_of(pin, p)]
            if pin.rule is PinRule.AT_MOST:
                self.at_most.append((dict.fromkeys(pinned, 1.0), pin.area_m2 or 0.0))
            if pin.rule is PinRule.AT_LEAST:
                self.at_most.append((dict.fromkeys(pinned, -1.0), -(pin.area_m2 or 0.0)))
            if pin.rule is PinRule.KEEP:
                if pin.area_m2 is not None:
                    exactly.append((dict.fromkeys(pinned, 1.0), pin.area_m2))
                elif not pinned:
                    return np.inf
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
