"""A plan held still: its patches stay where they are, their sizes and all that is eaten are free.

What one more of something would bring is asked of this programme: small, since only the sowings of
the plan are in it, and quick, since every question goes on from the answer before.
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

import numpy as np

from haulm.growing.records import Sowing
from haulm.measure.errors import HaulmError
from haulm.plan.pins import ASKING, Pin
from haulm.plan.records import Plan
from haulm.planner.arrays import Flags, Floats, Ints
from haulm.planner.assembler import Assembler, LinearModel
from haulm.planner.build import lay_areas
from haulm.planner.columns import Columns
from haulm.planner.pins import matches
from haulm.planner.program import AreaProgram, Foothold, Solution
from haulm.planner.question import PlanQuestion
from haulm.planner.rules.hours import MINUTES_AN_HOUR
from haulm.planner.rules.limit import limit
from haulm.planner.rules.registry import APPETITE, HARVEST
from haulm.planner.rules.rotation import years_missing
from haulm.planner.rules.spread import spread_of
from haulm.planner.stopping import Manner
from haulm.planner.tables import Tables, tabulate

EVERY_WEEK = "ground every week"
"""The rows that say of every bed and week what *ground* says of the fullest ones: they lie idle
until a bed is given more ground in some weeks only."""
FULL_M2 = 1e-6
Patch = tuple[str, str]
"""A sowing and a bed, by their ids."""


class OtherGardenError(HaulmError):
    """A plan holds a patch for which the question has no sowing, or no bed that may take it."""


@dataclass(frozen=True, slots=True)
class Eaten:
    """What comes to table when a plan is held still and something is changed about it.

    Attributes
    ----------
    cost
        The programme's objective: weighted kilograms short, and the prices of all else.
    short_kg
        (lines) what each line is short of over all weeks [kg].
    area_m2
        (pairs) the ground of every patch [m²].
    """

    cost: float
    short_kg: Floats
    area_m2: Floats


class HeldPlan:
    """The patches of a plan held still.

    Parameters
    ----------
    question
        What the plan answers.
    patches_m2
        The plan's patches, what stands left out, with their ground [m²].
    tried
        Further patches that may be asked about; none of them is planted unless it is asked for.

    Raises
    ------
    OtherGardenError
        When the question knows nothing of one of the patches.
    """

    def __init__(
        self,
        question: PlanQuestion,
        patches_m2: Mapping[Patch, float],
        tried: Iterable[Patch] = (),
    ) -> None:
        tried = tuple(tried)
        self.question = with_sowings(question, {s for s, _ in (*patches_m2, *tried)})
        self.tables = tabulate(self.question)
        self._at = {
            (self.tables.ground.sowings[s].id, self.tables.ground.beds[b].id): pair
            for pair, (s, b) in enumerate(
                zip(self.tables.ground.pair_sowing, self.tables.ground.pair_bed, strict=True)
            )
        }
        unknown = [patch for patch in (*patches_m2, *tried) if patch not in self._at]
        if unknown:
            message = f"the garden has no place any more for {' in '.join(unknown[0])}"
            raise OtherGardenError(message)
        self.used: Flags = np.zeros(len(self._at), dtype=np.bool_)
        self.used[[self._at[patch] for patch in patches_m2]] = True
        self._by_hand = self._pinned(question.pins, patches_m2)
        self.model, self.columns = lay_held(self.tables, self.used)
        self._cost = self.model.cost[self.columns.area]
        self._foothold: Foothold | None = None
        self.base = self._solve(self.model, self.used, {})
        self.area_m2: Floats = self.base.values[self.columns.area]

    @property
    def cost(self) -> float:
        """What the plan costs but for its patches' own prices."""
        return self.base.objective

    @property
    def eaten(self) -> Eaten:
        """What comes to table as it is."""
        return self._eaten(self.base)

    def pair(self, patch: Patch) -> int:
        """Give the place of a patch among the pairs."""
        return self._at[patch]

    def rows(self, rule: str) -> range:
        """Give the rows of a rule; none where it has none."""
        return range(*self.model.rules.get(rule, (0, 0)))

    def worth_of(self, rule: str) -> Floats:
        """Give what a hair more on the right of each row of a rule would bring [weighted kg]."""
        rows = self.rows(rule)
        return np.maximum(0.0, -self.base.row_dual[rows.start : rows.stop])

    def settled_by_hand(self, patch: Patch) -> bool:
        """Say whether a patch is where it is because a pin asks for it."""
        return self._at[patch] in self._by_hand

    @property
    def price_of_want(self) -> Floats:
        """(wants) what a hair more of each would cost to feed or to leave [weighted kg/kg]."""
        rows = self.rows(APPETITE.name)
        return self.base.row_dual[rows.start : rows.stop]

    @property
    def left_m2(self) -> Floats:
        """(beds, weeks) ground that nothing holds [m²]."""
        rows = self.rows(EVERY_WEEK)
        held = self.model.matrix[list(rows)] @ self.base.values
        left: Floats = self.model.row_upper[rows.start : rows.stop] - held
        return left.reshape(len(self.tables.ground.beds), self.tables.weeks)

    def with_more(self, more: Mapping[int, float]) -> Eaten:
        """Say what comes to table with more on the right of some rows, by row."""
        upper = self.model.row_upper.copy()
        for row, amount in more.items():
            upper[row] += amount
        return self._eaten(self._solve(replace(self.model, row_upper=upper), self.used, {}))

    def with_patch(
        self, patch: Patch, area_m2: float, times: float = 1.0, prices: Floats | None = None
    ) -> Eaten:
        """Say what comes to table with one more patch of so much ground [m²].

        What stands beside it in its bed may shrink, below the smallest patch worth having too.

        Parameters
        ----------
        patch, area_m2
            One of those to be tried, and its ground.
        times
            It gives so many times what its sowing gives, for the same work on the bed.
        prices
            (wants, slices) prices of what is short, instead of the question's own.
        """
        pair = self._at[patch]
        used = self.used.copy()
        used[pair] = True
        bounds = dict.fromkeys(self.beside(patch), (0.0, np.inf))
        bounds[pair] = (area_m2, area_m2)
        more_m2 = (times - 1.0) * area_m2
        model = self._giving(self._priced(prices), pair, more_m2)
        found = self._eaten(self._solve(model, used, bounds))
        return replace(found, cost=found.cost - self.work_price_m2(patch) * more_m2)

    def moved(self, patch: Patch, to: Patch) -> Eaten:
        """Say what comes to table with a patch of the plan somewhere else, as large as is best.

        What is beside it there may shrink, below the smallest patch worth having too.
        """
        used = self.used.copy()
        used[self._at[patch]], used[self._at[to]] = False, True
        bounds = {other: (0.0, np.inf) for other in self.beside(to) if other != self._at[patch]}
        return self._eaten(self._solve(self.model, used, bounds))

    def work_price_m2(self, patch: Patch) -> float:
        """Give what the work on a bed for a square metre of a patch is charged [weighted kg/m²]."""
        sowing = self.tables.ground.sowings[self.tables.ground.pair_sowing[self._at[patch]]]
        minutes = sum(m for week, m in sowing.work_min_m2 if 0 <= week < self.tables.weeks)
        return self.question.prices.hour * float(minutes) / MINUTES_AN_HOUR

    def as_priced(self, prices: Floats) -> Eaten:
        """Say what comes to table with other prices (wants, slices) on what is short."""
        return self._eaten(self._solve(self._priced(prices), self.used, {}))

    def beside(self, patch: Patch) -> list[int]:
        """List the plan's patches that share a bed and a week with one, not held by hand."""
        ground, pair = self.tables.ground, self._at[patch]
        mine = ground.sowings[ground.pair_sowing[pair]]
        return [
            int(other)
            for other in np.nonzero(self.used)[0]
            if ground.pair_bed[other] == ground.pair_bed[pair]
            and int(other) not in self._by_hand
            and _meet(mine, ground.sowings[ground.pair_sowing[other]])
        ]

    def room_m2(self, patch: Patch, leaving: Patch | None = None) -> float:
        """Give the largest patch there could be if all that is beside it gave way [m²].

        ``leaving`` is a patch of the plan that would be taken out.
        """
        ground, pair = self.tables.ground, self._at[patch]
        weeks = _weeks_of(ground.sowings[ground.pair_sowing[pair]], self.tables.weeks)
        b = int(ground.pair_bed[pair])
        room = self.left_m2[b, weeks]
        giving_way = {*self.beside(patch), *([] if leaving is None else [self._at[leaving]])}
        for other in giving_way:
            if ground.pair_bed[other] == b:
                theirs = _weeks_of(ground.sowings[ground.pair_sowing[other]], self.tables.weeks)
                room = room + self.area_m2[other] * np.isin(weeks, theirs)
        return min(float(room.min(initial=ground.beds[b].area_m2)), self._limit(pair, giving_way))

    def _limit(self, pair: int, giving_way: set[int]) -> float:
        """Give the largest patch that the limits set by hand leave [m²]."""
        limits, area = self.tables.limits, self.area_m2
        stays = np.array([other not in giving_way for other in range(len(area))])
        apart = np.concatenate([limits.other[limits.one == pair], limits.one[limits.other == pair]])
        if (self.used & stays)[apart].any():
            return 0.0
        left = [
            cap.most_m2 - float(area[cap.pairs[stays[cap.pairs]]].sum())
            for cap in limits.caps
            if pair in cap.pairs
        ]
        return min([np.inf, *left])

    def _priced(self, prices: Floats | None) -> LinearModel:
        """Give the model with other prices on what is short."""
        if prices is None:
            return self.model
        cost = self.model.cost.copy()
        cost[self.columns.short] = prices
        return replace(self.model, cost=cost)

    def _giving(self, model: LinearModel, pair: int, more_m2: float) -> LinearModel:
        """Let a sowing give as if it had more ground, at no more work, cells or stock."""
        s = int(self.tables.ground.pair_sowing[pair])
        total = int(self.columns.total[s])
        column = model.matrix[:, [total]].toarray()[:, 0] * more_m2
        harvest = self.rows(HARVEST.name)
        shift = column
        shift[harvest.start : harvest.stop] = 0.0
        # The first rows of *harvest* add each sowing's patches up to its total.
        shift[harvest.start + s] = -more_m2
        return replace(model, row_lower=model.row_lower + shift, row_upper=model.row_upper + shift)

    def _pinned(
        self, pins: tuple[Pin, ...], patches_m2: Mapping[Patch, float]
    ) -> dict[int, tuple[float, float]]:
        """Give the least and most ground of every patch that a pin asks for.

        Of a size settled by hand there is neither less nor more; of *at least* no less than now.
        """
        asking = [pin for pin in pins if pin.rule in ASKING]
        ground = self.tables.ground
        bounds: dict[int, tuple[float, float]] = {}
        for patch, area in patches_m2.items():
            pair = self._at[patch]
            sowing = ground.sowings[ground.pair_sowing[pair]]
            sized = [pin for pin in asking if matches(pin, sowing, patch[1])]
            if sized:
                least = 0.0 if all(pin.area_m2 is None for pin in sized) else area
                most = area if any(pin.exact for pin in sized) else np.inf
                bounds[pair] = (max(float(ground.least_m2[pair]), least), most)
        return bounds

    def _solve(
        self, model: LinearModel, used: Flags, bounds: Mapping[int, tuple[float, float]]
    ) -> Solution:
        """Solve on from the answer before."""
        ground, prices = self.tables.ground, self.question.prices
        lower = np.where(used, ground.least_m2, 0.0)
        upper = np.where(used, np.inf, 0.0)
        for pair, (least, most) in self._by_hand.items():
            lower[pair], upper[pair] = least, most
        for pair, (low, high) in bounds.items():
            lower[pair], upper[pair] = low, high
        more_years = years_missing(self.tables, used) - ground.missing
        program = AreaProgram(model, self.columns.area, Manner(self.question.seed), self._foothold)
        found = program.solve(self._cost + prices.rotation_m2 * more_years, lower, upper)
        if self._foothold is None:
            self._foothold = program.foothold
        return found

    def _eaten(self, solution: Solution) -> Eaten:
        short = solution.values[self.columns.short].sum(axis=1)
        lines = len(self.question.appetites)
        by_line = np.bincount(self.tables.food.want_line, weights=short, minlength=lines)
        area = solution.values[self.columns.area]
        return Eaten(solution.objective, by_line.astype(np.float64), area)


def patches_of(plan: Plan) -> dict[Patch, float]:
    """List the patches of a plan with their ground, what stands left out [m²]."""
    return {(p.sowing, p.bed): p.area_m2 for p in plan.plantings if not p.standing}


def with_sowings(question: PlanQuestion, wanted: set[str]) -> PlanQuestion:
    """Ask with some of the sowings alone; of the pins only those stay that set a limit.

    Of a crop grown both in the open and under cover all sowings stay: whether it can be spread over
    several beds hangs on both.
    """
    covers: dict[str, set[bool]] = defaultdict(set)
    for sowing in question.sowings:
        covers[sowing.crop].add(sowing.under_cover)
    crops = {sowing.crop for sowing in question.sowings if sowing.id in wanted}
    both = {crop for crop in crops if len(covers[crop]) > 1}
    return replace(
        question,
        sowings=tuple(s for s in question.sowings if s.id in wanted or s.crop in both),
        pins=tuple(pin for pin in question.pins if pin.rule not in ASKING),
        before=(),
    )


def lay_held(tables: Tables, used: Flags) -> tuple[LinearModel, Columns]:
    """Build the model in areas, with the rows of every bed and week laid by."""
    model, columns = lay_areas(tables)
    limit(model, tables, columns)
    spread_of(model, tables, columns, used)
    _ground_every_week(model, tables, columns)
    return model.seal(), columns


def _ground_every_week(model: Assembler, tables: Tables, columns: Columns) -> None:
    """For each bed and week: Σ area ≤ area not yet standing [m²]."""
    ground, weeks = tables.ground, tables.weeks
    free = np.repeat([bed.area_m2 for bed in ground.beds], weeks)
    rows: list[Ints] = []
    columns_held: list[Ints] = []
    for pair, (s, b) in enumerate(zip(ground.pair_sowing, ground.pair_bed, strict=True)):
        held = _weeks_of(ground.sowings[s], weeks)
        rows.append(int(b) * weeks + held)
        columns_held.append(np.full(len(held), columns.area[pair]))
    for s in range(ground.chosen_count, len(ground.sowings)):
        free[int(ground.fixed_bed[s]) * weeks + _weeks_of(ground.sowings[s], weeks)] -= (
            ground.fixed_m2[s]
        )
    row = np.concatenate([np.zeros(0, np.int64), *rows])
    column = np.concatenate([np.zeros(0, np.int64), *columns_held])
    model.rows(
        EVERY_WEEK,
        (np.full(len(free), -np.inf), np.maximum(0.0, free)),
        [(row, column, np.ones(len(row)))],
        waiting=True,
    )


def _weeks_of(sowing: Sowing, weeks: int) -> Ints:
    return np.arange(max(0, sowing.ground_from_week), min(weeks, sowing.ground_until_week))


def _meet(one: Sowing, other: Sowing) -> bool:
    return (
        one.ground_from_week < other.ground_until_week
        and other.ground_from_week < one.ground_until_week
    )
