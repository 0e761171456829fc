"""Everything the model is built from, sealed: tables joined by label, no figure missing."""

from dataclasses import dataclass

import numpy as np

from haulm.catalogue.records import Role
from haulm.measure.errors import LabelsDifferError
from haulm.planner.arrays import Floats, Ints
from haulm.planner.clashes import Clash, clashes
from haulm.planner.earlier import earlier_m2, patch_prices, staying_price
from haulm.planner.food_tables import FoodTables, tabulate_food
from haulm.planner.ground_tables import GroundTables, useful_ground
from haulm.planner.limits import Limits, limits_of
from haulm.planner.question import PlanQuestion, SeedBack
from haulm.planner.settle import Kept, settle


@dataclass(frozen=True, slots=True)
class SeedNeed:
    """Planting stock of one kind needed in one week: the sowings that ask for it."""

    seed: SeedBack
    week: int
    sowings: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Tables:
    """The question, tabulated. Sowings are counted as in ``ground.sowings``.

    ``kept`` are the pins that ask for ground, as far as they can be kept, and ``limits`` those
    that limit it; ``clashes`` the pins that cannot all be kept; ``earlier_m2`` (P) is the
    area of each pair in the plan before.
    """

    question: PlanQuestion
    ground: GroundTables
    food: FoodTables
    seed_needs: tuple[SeedNeed, ...]
    kept: tuple[Kept, ...]
    limits: Limits
    clashes: tuple[Clash, ...]
    earlier_m2: Floats

    @property
    def weeks(self) -> int:
        """How many weeks the plan covers [weeks]."""
        return self.question.horizon.weeks

    @property
    def patch_prices(self) -> Floats:
        """(P) What it costs to use each pair at all."""
        return patch_prices(self.question, self.earlier_m2 > 0)

    @property
    def staying_price(self) -> float:
        """What it would cost to leave every patch of the plan before that could be kept."""
        return staying_price(self.question, self.earlier_m2 > 0)


def tabulate(question: PlanQuestion) -> Tables:
    """Tabulate a question: drop what nobody could eat, then join ground and food by sowing.

    Raises
    ------
    LabelsDifferError
        If a bed, store, family or week is named in one table and lacking in another.
    """
    _match_labels(question)
    considered = tabulate_food(question, question.sowings)
    ground = useful_ground(question, _useful_m2(question, considered))
    chosen = ground.sowings[: ground.chosen_count]
    limits = limits_of(question, ground)
    kept = settle(question, ground, limits)
    needs = []
    for seed in question.seed_back:
        asked: dict[int, list[int]] = {}
        for index, sowing in enumerate(chosen):
            if sowing.kind == seed.kind:
                asked.setdefault(question.horizon.week_of(sowing.sow_on), []).append(index)
        needs += [SeedNeed(seed, week, tuple(asked[week])) for week in sorted(asked)]
    return Tables(
        question=question,
        ground=ground,
        food=tabulate_food(question, ground.sowings),
        seed_needs=tuple(needs),
        kept=kept,
        limits=limits,
        clashes=clashes(question, kept),
        earlier_m2=earlier_m2(question, ground),
    )


def _match_labels(question: PlanQuestion) -> None:
    """Refuse a question whose tables do not name the same things: absent is not zero."""
    beds = {bed.id for bed in question.beds}
    stores = {store.id for store in question.stores}
    everything = (*question.sowings, *(stand.sowing for stand in question.standing))
    lacking = [
        *({f"bed {stand.bed}" for stand in question.standing if stand.bed not in beds}),
        *({f"store {rule.place}" for rule in question.keep_rules if rule.place not in stores}),
        *(
            f"rest of family {family}"
            for family in {sowing.family for sowing in everything}
            if family not in question.rotation_gap_years
        ),
        *(
            f"weeks of {appetite.line}"
            for appetite in question.appetites
            if len(appetite.kg) != question.horizon.weeks
        ),
    ]
    if len(question.hours_week) != question.horizon.weeks:
        lacking.append("hours of each week")
    if lacking:
        message = f"the planner's tables do not match: {', '.join(sorted(lacking))}"
        raise LabelsDifferError(message)


def _useful_m2(question: PlanQuestion, food: FoodTables) -> Floats:
    """Bound the area of each sowing beyond which nobody could eat more [m²].

    For food that comes week by week: the largest, over its weeks, of all wants that week's picking
    can reach, over what a square metre gives that week. For food that stands: all wants it can
    reach over its yield. Foods taken instead of the main one add up.
    """
    pool_of, week_of, want_of, kg_of = _reach(food)
    order = np.argsort(pool_of, kind="stable")
    pool_of, week_of, want_of, kg_of = pool_of[order], week_of[order], want_of[order], kg_of[order]
    ends = np.searchsorted(pool_of, np.arange(len(food.pools) + 1))
    beside = np.zeros(len(question.sowings))
    instead = np.zeros(len(question.sowings))
    for gift in food.gifts:
        rows = slice(int(ends[gift.pool]), int(ends[gift.pool + 1]))
        week, want, kg = week_of[rows], want_of[rows], kg_of[rows]
        if gift.stands:
            here = np.isin(week, gift.weeks)
            most = np.zeros(len(food.want_kg))
            np.maximum.at(most, want[here], kg[here])
            area = float(most.sum()) / gift.yield_kg_m2
        else:
            by_week = np.bincount(week, weights=kg, minlength=question.horizon.weeks)
            area = float(np.max(by_week[list(gift.weeks)] / np.array(gift.kg_m2)))
        if gift.role is Role.INSTEAD:
            instead[gift.sowing] += area
        else:
            beside[gift.sowing] = max(beside[gift.sowing], area)
    kept_back = {(seed.kind, seed.food) for seed in question.seed_back}
    unbounded = [
        any((sowing.kind, given.food) in kept_back for given in sowing.foods)
        for sowing in question.sowings
    ]
    return np.where(unbounded, np.inf, beside + instead)


def _reach(food: FoodTables) -> tuple[Ints, Ints, Ints, Floats]:
    """List (pool, week lifted, want, kg to lift), worst keeping counted, once each."""
    lot_pool = np.array([lodging.pool for lodging in food.lodgings], dtype=np.int64)
    lot_week = np.array([lodging.week for lodging in food.lodgings], dtype=np.int64)
    new = lot_pool[food.kept_lodging] >= 0
    lots = food.kept_lodging[new]
    pool = np.concatenate([food.fresh_pool, lot_pool[lots]])
    week = np.concatenate([food.fresh_week, lot_week[lots]])
    want = np.concatenate([food.fresh_want, food.kept_want[new]])
    lifted = np.concatenate(
        [food.want_kg[food.fresh_want], food.want_kg[food.kept_want[new]] / food.kept_sound[new]]
    )
    order = np.lexsort((-lifted, want, week, pool))
    pool, week, want, lifted = pool[order], week[order], want[order], lifted[order]
    first = np.ones(len(pool), dtype=np.bool_)
    first[1:] = (np.diff(pool) != 0) | (np.diff(week) != 0) | (np.diff(want) != 0)
    return pool[first], week[first], want[first], lifted[first]
