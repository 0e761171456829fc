"""Why: what held each planting at its size, and why a line of the table runs short."""

from collections import defaultdict
from dataclasses import dataclass

import numpy as np

from haulm.plan.records import Bound, Shortage
from haulm.planner.arrays import Floats
from haulm.planner.build import Built
from haulm.planner.pin_words import bound_by_hand
from haulm.planner.pins import forbidden
from haulm.planner.program import Solution
from haulm.planner.rules.registry import (
    APPETITE,
    GROUND,
    HOURS,
    NURSERY,
    PATCH_SIZE,
    STORE_SPACE,
)
from haulm.planner.tables import Tables
from haulm.planner.taken import NOISE
from haulm.planner.words import month, name, one_more, stretch, weight

AT_LIMIT = 1e-6
TELLING = 1e-3
"""What would bring less than a gram of appetite for one more unit is not worth telling."""
WEIGHS = 0.01
"""A square metre charged less than this for what is scarce is not held back by it."""


@dataclass(frozen=True, slots=True)
class Worth:
    """What one more unit of each scarce thing would bring, in weighted kilograms of appetite.

    Attributes
    ----------
    ground
        (cliques) one more square metre of the bed in that week [kg/m²].
    hours, cells
        (weeks) one more hour, one more cell [kg/h, kg/cell].
    room
        (stores, weeks) one more litre [kg/l].
    ground_on_pair, hours_on_sowing
        (P), (S) what a square metre of the pair or sowing is charged for ground and for hours.
    """

    ground: Floats
    hours: Floats
    cells: Floats
    room: Floats
    ground_on_pair: Floats
    hours_on_sowing: Floats


def worth(tables: Tables, built: Built, solution: Solution) -> Worth:
    """Read the worth of every scarce thing from the duals of the final programme."""

    def duals(rule: str, count: int) -> Floats:
        if rule not in built.model.rules or count == 0:
            return np.zeros(count)
        first, end = built.model.rules[rule]
        return np.maximum(0.0, -solution.row_dual[first:end])

    ground = tables.ground
    clique = duals(GROUND.name, len(ground.clique_bed))
    hours = duals(HOURS.name, tables.weeks)
    on_pair = np.bincount(
        ground.of_pair, weights=clique[ground.in_clique], minlength=len(ground.pair_sowing)
    ).astype(np.float64)
    on_sowing = np.array(
        [
            sum(
                hours[week] * minutes / 60
                for week, minutes in s.work_min_m2
                if 0 <= week < len(hours)
            )
            for s in ground.sowings
        ],
        dtype=np.float64,
    )
    stores = len(tables.question.stores)
    return Worth(
        ground=clique,
        hours=hours,
        cells=duals(NURSERY.name, tables.weeks),
        room=duals(STORE_SPACE.name, stores * tables.weeks).reshape(stores, tables.weeks),
        ground_on_pair=on_pair,
        hours_on_sowing=on_sowing,
    )


def bounds_of(tables: Tables, scarce: Worth, pair: int, area_m2: Floats) -> tuple[Bound, ...]:
    """Say what held one planting at its size; ``area_m2`` (P) is the plan's ground."""
    question, ground = tables.question, tables.ground
    sowing = ground.sowings[ground.pair_sowing[pair]]
    bed = ground.beds[ground.pair_bed[pair]]
    found = list(bound_by_hand(tables, pair, area_m2))
    cliques = ground.in_clique[ground.of_pair == pair]
    tight = cliques[scarce.ground[cliques] > TELLING]
    if len(tight):
        weeks = ground.clique_week[tight]
        when = stretch(question, int(weeks.min()), int(weeks.max()))
        value = float(scarce.ground[tight].sum())
        piece, brings = one_more(question, value)
        found.append(
            Bound(
                GROUND.name,
                f"{name(question, bed.id)} is full {when};"
                f" one more {piece} for this planting would feed {brings}",
                "m²",
                value,
            )
        )
    worked = [
        w for w, _ in sowing.work_min_m2 if 0 <= w < tables.weeks and scarce.hours[w] > TELLING
    ]
    if worked:
        value = float(max(scarce.hours[worked]))
        when = stretch(question, min(worked), max(worked))
        found.append(Bound(HOURS.name, f"hours are all taken {when}", "h", value))
    in_trays = range(max(0, sowing.tray_weeks[0]), min(tables.weeks, sowing.tray_weeks[1]))
    full = [week for week in in_trays if scarce.cells[week] > TELLING]
    if full:
        when = stretch(question, min(full), max(full))
        value = float(max(scarce.cells[full]))
        found.append(Bound(NURSERY.name, f"the trays are full {when}", "cell", value))
    if area_m2[pair] <= ground.least_m2[pair] + AT_LIMIT:
        found.append(Bound(PATCH_SIZE.name, "it is the smallest patch worth having"))
    if not found:
        found.append(Bound(APPETITE.name, "it gives what the table will take; more would be left"))
    return tuple(found)


def shortages(
    tables: Tables, built: Built, solution: Solution, short_kg: Floats
) -> tuple[Shortage, ...]:
    """Group what is short into stretches of weeks, and say for each why, in garden words."""
    reasons = _Reasons(tables, built, solution)
    question, food = tables.question, tables.food
    by_line: dict[int, list[int]] = defaultdict(list)
    for want in np.nonzero(short_kg > NOISE)[0]:
        by_line[int(food.want_line[want])].append(int(want))
    found = []
    for line, wants in by_line.items():
        for run in reasons.runs(wants):
            first, last = int(food.want_week[run[0]]), int(food.want_week[run[-1]])
            kg = float(short_kg[run].sum())
            what = name(question, question.appetites[line].line)
            if what == question.appetites[line].line:
                what = question.appetites[line].name
            sentence = (
                f"short {weight(question, kg)} of {what} {stretch(question, first, last)}:"
                f" {reasons.why(run)}"
            )
            found.append(Shortage(question.appetites[line].line, first, last, kg, sentence))
    return tuple(sorted(found, key=lambda s: (s.first_week, s.line)))


class _Reasons:
    """Finds, for wants that run short, the scarce thing that weighs most on meeting them."""

    def __init__(self, tables: Tables, built: Built, solution: Solution) -> None:
        self._tables = tables
        self._scarce = worth(tables, built, solution)
        self._reduced = solution.reduced_cost[built.columns.area]
        food, ground = tables.food, tables.ground
        area = solution.values[built.columns.area]
        self._left = ground.clique_free_m2 - np.bincount(
            ground.in_clique, weights=area[ground.of_pair], minlength=len(ground.clique_free_m2)
        )
        self._fresh = _grouped(food.fresh_want)
        self._kept = _grouped(food.kept_want)
        self._givers: dict[tuple[int, int], list[int]] = defaultdict(list)
        for gift in food.gifts:
            for week in gift.weeks:
                self._givers[gift.pool, week].append(gift.sowing)
        self._pairs = _grouped(tables.ground.pair_sowing)

    def runs(self, wants: list[int]) -> list[list[int]]:
        """Split the wants of one line, in order, where weeks are left out or reach changes."""
        week_of = self._tables.food.want_week
        runs: list[list[int]] = []
        before: tuple[int, bool] | None = None
        for want in wants:
            now = (int(week_of[want]), self._in_reach(want))
            if before is not None and now == (before[0] + 1, before[1]):
                runs[-1].append(want)
            else:
                runs.append([want])
            before = now
        return runs

    def _in_reach(self, want: int) -> bool:
        """Say whether a sowing still to choose could meet a want."""
        sowings, _ = self._reaching([want])
        return any(s < self._tables.ground.chosen_count for s in sowings)

    def why(self, wants: list[int]) -> str:
        """Give the reason that a run of wants is short."""
        sowings, lodgings = self._reaching(wants)
        if not self._in_reach(wants[0]):
            return self._out_of_reach(wants, bool(sowings), bool(lodgings))
        pairs = [pair for s in sorted(sowings) for pair in self._pairs.get(s, [])]
        if not pairs:
            return self._no_bed(sowings)
        full = self._full_store(lodgings)
        if full:
            return full
        pair = min(pairs, key=lambda p: (self._reduced[p], p))
        return self._weighs_on(pair)

    def _reaching(self, wants: list[int]) -> tuple[set[int], set[int]]:
        food = self._tables.food
        sowings: set[int] = set()
        lodgings: set[int] = set()
        for want in wants:
            for way in self._fresh.get(want, []):
                sowings.update(self._givers[int(food.fresh_pool[way]), int(food.fresh_week[way])])
            for way in self._kept.get(want, []):
                number = int(food.kept_lodging[way])
                lodgings.add(number)
                lodging = food.lodgings[number]
                sowings.update(self._givers[lodging.pool, lodging.week])
        return sowings, lodgings

    def _out_of_reach(self, wants: list[int], stands: bool, lies: bool) -> str:  # noqa: FBT001
        food, question = self._tables.food, self._tables.question
        asked = question.appetites[int(food.want_line[wants[0]])]
        ready = [
            w for gift in food.gifts if food.pools[gift.pool][1] in asked.foods for w in gift.weeks
        ]
        if set(asked.foods) <= set(question.lasting_foods):
            return _no_more_planted(bool(ready), in_season=stands)
        if stands or lies:
            where = "stands and lies in store" if stands and lies else "lies in store"
            where = "stands" if stands and not lies else where
            return f"what {where} is eaten up, and no sowing can be ready by then"
        if not ready:
            return "no sowing gives any of it within these weeks"
        if min(ready) > food.want_week[wants[0]]:
            return "no sowing can be ready so soon"
        if any(rule.food in asked.foods for rule in question.keep_rules):
            return "nothing can be ready then, and nothing keeps so long"
        return "nothing can be ready then"

    def _no_bed(self, sowings: set[int]) -> str:
        question, ground = self._tables.question, self._tables.ground
        by_hand = any(
            forbidden(question, ground.sowings[s], bed.id) for s in sowings for bed in ground.beds
        )
        if by_hand:
            return "what could give it is forbidden by hand, or has no bed"
        return "no bed may hold what could give it"

    def _full_store(self, lodgings: set[int]) -> str:
        question, food = self._tables.question, self._tables.food
        for number in sorted(lodgings):
            lodging = food.lodgings[number]
            place = next(i for i, s in enumerate(question.stores) if s.id == lodging.place)
            held = self._scarce.room[place, lodging.week : lodging.week + len(lodging.sound)]
            if held.max(initial=0.0) > AT_LIMIT:
                week = lodging.week + int(held.argmax())
                return f"{name(question, lodging.place)} is full in {month(question, week)}"
        return ""

    def _weighs_on(self, pair: int) -> str:
        question, ground = self._tables.question, self._tables.ground
        s = int(ground.pair_sowing[pair])
        by_ground, by_hours = self._scarce.ground_on_pair[pair], self._scarce.hours_on_sowing[s]
        cliques = ground.in_clique[ground.of_pair == pair]
        fullest = cliques[np.lexsort((self._left[cliques], -self._scarce.ground[cliques]))[0]]
        crowded = self._left[fullest] < ground.least_m2[pair]
        if max(by_ground, by_hours) < WEIGHS and not crowded:
            return "a patch would cost more in ground and work than it would feed"
        if by_ground >= by_hours:
            return f"no ground free in {month(question, int(ground.clique_week[fullest]))}"
        weeks = [w for w, _ in ground.sowings[s].work_min_m2 if 0 <= w < self._tables.weeks]
        return (
            f"no hours left in {month(question, max(weeks, key=lambda w: self._scarce.hours[w]))}"
        )


def _no_more_planted(stands: bool, *, in_season: bool) -> str:  # noqa: FBT001
    """Say why a food that only plants kept for years give runs short."""
    more = "a plan of two seasons plants no more, for it is years till they bear"
    if not stands:
        return f"only plants that stay for years give it, and none stands that bears; {more}"
    if in_season:
        return f"what stands gives no more than this; {more}"
    return f"it is not its season, and what was put by is eaten; {more}"


def _grouped(keys: np.ndarray) -> dict[int, list[int]]:
    groups: dict[int, list[int]] = defaultdict(list)
    for position, key in enumerate(keys):
        groups[int(key)].append(position)
    return groups
