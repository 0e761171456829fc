"""A plan lived through many seasons at once, week by week, as a sensible household would."""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from haulm.catalogue.records import Picking
from haulm.forecast.pantry import Pantry, Shelf
from haulm.forecast.records import Coming, Floats, Luck, Trial, Weeks
from haulm.forecast.store_plan import store_plan
from haulm.household.records import Appetite, Wanted
from haulm.larder.records import KeepRule, StorePlace
from haulm.plan.records import Plan

Pool = tuple[str, str]
"""A kind's food: (food, kind)."""


@dataclass(frozen=True, slots=True, eq=False)
class Household:
    """Who lives through the seasons: what the table wants, and where and how food keeps."""

    appetites: Sequence[Appetite]
    keep_rules: Sequence[KeepRule]
    stores: Sequence[StorePlace]


@dataclass(slots=True, eq=False)
class Standing:
    """One coming in all seasons: what it gives, when, and what of it still waits in the ground.

    ``given``, ``left`` [kg], ``first`` and ``until`` [weeks] have shape (seasons,);
    ``earliest`` and ``latest`` bound the weeks in which it can be taken in any season.
    """

    coming: Coming
    given: Floats
    first: Weeks
    until: Weeks
    left: Floats
    earliest: int
    latest: int


def live_through(plan: Plan, comings: Sequence[Coming], household: Household, luck: Luck) -> Trial:
    """Live a plan through many seasons.

    Parameters
    ----------
    plan
        The plan: its weeks, its lots (what it means to put by, and seed), what lies in hand.
    comings
        How its foods come, run by run of weather.
    household
        The table, and how food keeps.
    luck
        What chance deals to each season.

    Notes
    -----
    Each week what is ripe is picked. The lines of the table are served in order of priority, the
    one with fewest foods first among equals: fresh first, then from the ground, then from store,
    what keeps least before what keeps longest. What the plan meant to store of what stands is
    lifted in its week, in proportion to how well it grew; what is picked and not eaten is put by
    wherever the plan puts by any of it, as far as there is room; the rest is glut. From store a
    line takes what the plan gives it that week, and a share of whatever lies there beyond the
    plan, so spread that it lasts until the food is put by again.
    """
    week = _Week(plan, comings, household, luck)
    for number in range(plan.horizon.weeks):
        week.live(number)
    return week.told()


class _Week:
    """What a household has on hand, in all seasons at once, as week follows week."""

    def __init__(
        self, plan: Plan, comings: Sequence[Coming], household: Household, luck: Luck
    ) -> None:
        self._luck = luck
        self._lines = sorted(household.appetites, key=lambda a: (-a.priority, len(a.foods)))
        self._pantry = Pantry(household.keep_rules, household.stores, luck.ageing, luck.seasons)
        self._pantry.lay_in(plan.lots)
        self._kept = _kept_as(plan, self._pantry)
        self._store_plan = store_plan(plan)
        self._to_lift = _to_lift(plan)
        self._comings = [_standing(coming, luck) for coming in comings]
        self._foods = tuple(
            dict.fromkeys([c.food for c in comings] + [lot.food for lot in plan.lots])
        )
        shape = (luck.seasons, plan.horizon.weeks)
        lines = [appetite.line for appetite in household.appetites]
        self._wanted = {
            appetite.line: np.asarray(appetite.kg) * luck.wants[appetite.line]
            for appetite in household.appetites
        }
        self._fresh = {line: _weekly(shape) for line in lines}
        self._stored = {line: _weekly(shape) for line in lines}
        self._in_store = {food: _weekly(shape) for food in self._foods}
        self._lifted = {food: _weekly(shape) for food in self._foods}
        self._glut = {food: _weekly(shape) for food in self._foods}

    def told(self) -> Trial:
        """Tell what came of it."""
        return Trial(
            self._wanted, self._fresh, self._stored, self._in_store, self._lifted, self._glut
        )

    def live(self, week: int) -> None:
        """Live through one week."""
        picked = self._pick(week)
        self._serve(week, picked)
        self._lift_to_store(week)
        for pool, kg in picked.items():
            self._put_by_or_leave(week, pool, kg)
        self._pantry.clear_rotten(week)
        for food in self._foods:
            self._in_store[food][:, week] = self._pantry.sound_kg(food, week)

    def _pick(self, week: int) -> dict[Pool, Floats]:
        """Pick what is ripe this week; what waits in the ground is ready from now on."""
        picked: dict[Pool, Floats] = defaultdict(lambda: np.zeros(self._luck.seasons))
        for standing in self._comings:
            coming = standing.coming
            if not standing.earliest <= week <= standing.latest:
                continue
            if coming.picking is Picking.STAND:
                ripe = standing.first <= 0 if week == 0 else standing.first == week
                standing.left = np.where(ripe, standing.given, standing.left)
                over = standing.until <= week
                self._glut[coming.food][:, week] += np.where(over, standing.left, 0.0)
                standing.left = np.where(over, 0.0, standing.left)
                continue
            now = (standing.first <= week) & (week < standing.until)
            if now.any():
                weeks = coming.span_weeks if coming.picking is Picking.SPREAD else 1
                kg = np.where(now, standing.given / weeks, 0.0)
                picked[coming.food, coming.kind] += kg
                self._lifted[coming.food][:, week] += kg
        return picked

    def _serve(self, week: int, picked: dict[Pool, Floats]) -> None:
        """Serve every line of the table."""
        for appetite in self._lines:
            need = self._wanted[appetite.line][:, week].copy()
            if not need.any():
                continue
            if appetite.wanted is not Wanted.KEPT:
                fresh = self._eat_fresh(week, appetite, need, picked)
                self._fresh[appetite.line][:, week] = fresh
                need -= fresh
            if appetite.wanted is not Wanted.FRESH:
                for food in appetite.foods:
                    eaten = self._pantry.eat(
                        food, week, self._from_store(week, appetite, food, need)
                    )
                    self._stored[appetite.line][:, week] += eaten
                    need -= eaten

    def _from_store(self, week: int, appetite: Appetite, food: str, need: Floats) -> Floats:
        """Say how much of a food in store a line may take this week, shape (seasons,) [kg]."""
        meant = self._store_plan.taken_kg.get((appetite.line, food, week), 0.0)
        wants = self._luck.wants[appetite.line][:, week]
        beyond = self._pantry.sound_kg(food, week) - self._store_plan.there_kg(food, week)
        share = np.maximum(beyond, 0.0) / self._store_plan.weeks_to_last(food, week)
        return np.minimum(need, meant * wants + share)

    def _eat_fresh(
        self, week: int, appetite: Appetite, need: Floats, picked: dict[Pool, Floats]
    ) -> Floats:
        """Eat what was picked, then what waits in the ground, the soonest gone first."""
        left = need.copy()
        for pool, kg in list(picked.items()):
            if pool[0] in appetite.foods:
                taken = np.minimum(left, kg)
                picked[pool] = kg - taken
                left -= taken
        waiting = [
            standing
            for standing in self._comings
            if standing.coming.picking is Picking.STAND
            and standing.coming.food in appetite.foods
            and standing.left.any()
        ]
        for standing in sorted(waiting, key=lambda s: float(np.median(s.until))):
            taken = np.minimum(left, standing.left)
            standing.left -= taken
            self._lifted[standing.coming.food][:, week] += taken
            left -= taken
        return need - left

    def _lift_to_store(self, week: int) -> None:
        """Lift from the ground what the plan stores this week, and the last of what it stores."""
        for standing in self._comings:
            coming = standing.coming
            pool = coming.food, coming.kind
            if coming.picking is not Picking.STAND or pool not in self._kept:
                continue
            share = self._to_lift.get((coming.planting, coming.food, week), 0.0)
            last = standing.until == week + 1
            kg = np.where(last, standing.left, np.minimum(standing.left, share * standing.given))
            if kg.any():
                stored = self._put_by(week, pool, kg)
                standing.left = standing.left - stored
                self._lifted[coming.food][:, week] += stored

    def _put_by_or_leave(self, week: int, pool: Pool, kg: Floats) -> None:
        """Put by what was picked and not eaten; what cannot be is glut."""
        stored = self._put_by(week, pool, kg) if pool in self._kept else 0.0
        self._glut[pool[0]][:, week] += kg - stored

    def _put_by(self, week: int, pool: Pool, kg: Floats) -> Floats:
        """Put food by in the plan's own proportions, then wherever else of these has room."""
        left = kg.copy()
        for shelf, share in self._kept[pool]:
            left -= self._pantry.put_by(shelf, week, np.minimum(left, share * kg))
        for shelf, _ in self._kept[pool]:
            left -= self._pantry.put_by(shelf, week, left)
        return kg - left


def _weekly(shape: tuple[int, int]) -> Floats:
    """Make an empty account of shape (seasons, weeks) whose weeks lie together in memory."""
    return np.zeros(shape, order="F")


def _standing(coming: Coming, luck: Luck) -> Standing:
    """Deal each season's luck to one coming."""
    first, until = coming.first_week[luck.run], coming.until_week[luck.run]
    occasion = luck.blighted.get((coming.planting, coming.food))
    if occasion is not None and coming.blight is not None and coming.picking is Picking.SPREAD:
        until = np.minimum(until, coming.blight.week[occasion, luck.run])
    left = coming.whole[luck.run] * np.broadcast_to(coming.watered, coming.whole.shape)[luck.run]
    return Standing(
        coming,
        coming.kg * luck.yields[coming.planting, coming.food] * left,
        first,
        until,
        np.zeros(luck.seasons),
        max(0, int(first.min())),
        int(until.max()),
    )


def _kept_as(plan: Plan, pantry: Pantry) -> dict[Pool, list[tuple[Shelf, float]]]:
    """Give the shelves on which the plan keeps each kind's food, each with its share."""
    kg: dict[Pool, dict[tuple[str, str, str, str], float]] = defaultdict(lambda: defaultdict(float))
    for lot in plan.lots:
        if not lot.in_hand:
            kg[lot.food, lot.kind][lot.food, lot.kind, lot.form, lot.place] += lot.kg_in
    return {
        pool: [
            (pantry.shelves[key], amount / sum(by_shelf.values()))
            for key, amount in by_shelf.items()
        ]
        for pool, by_shelf in kg.items()
    }


def _to_lift(plan: Plan) -> dict[tuple[str, str, int], float]:
    """Give, by planting, food and week, the share of all it gives that the plan lifts to store."""
    stored: dict[tuple[str, str, int], float] = defaultdict(float)
    picked: dict[tuple[str, str, int], float] = defaultdict(float)
    for lot in plan.lots:
        if not lot.in_hand:
            stored[lot.food, lot.kind, lot.put_by_week] += lot.kg_in
    for planting in plan.plantings:
        for pick in planting.picks:
            picked[pick.food, planting.kind, pick.week] += pick.kg
    return {
        (planting.id, pick.food, pick.week): stored[pick.food, planting.kind, pick.week]
        * pick.kg
        / picked[pick.food, planting.kind, pick.week]
        / given[pick.food]
        for planting in plan.plantings
        if (given := {expects.food: expects.kg for expects in planting.expects})
        for pick in planting.picks
        if (pick.food, planting.kind, pick.week) in stored and pick.kg > 0
    }
