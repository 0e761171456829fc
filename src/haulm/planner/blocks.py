"""Improvement: a few crops at a time are planned anew, all choices whole, the rest held still."""

from collections.abc import Collection
from dataclasses import dataclass

import numpy as np

from haulm.planner.arrays import Flags, Floats, Ints
from haulm.planner.assembler import LinearModel
from haulm.planner.build import Chosen
from haulm.planner.dive import Draft
from haulm.planner.program import solve_whole
from haulm.planner.rules.rotation import years_missing
from haulm.planner.rules.spread import FEW_PATCHES
from haulm.planner.stopping import Manner
from haulm.planner.tables import Tables

SLACK_SHARE = 0.7
"""Below this share of its limit, a row that waits is not heeded in a block."""
NODES = 5
"""How many nodes the solver may open for a block."""


@dataclass(frozen=True, slots=True)
class Sweep:
    """How a sweep over the crops takes them.

    Attributes
    ----------
    crops
        How many crops are planned anew at a time; 0 for all crops of a family, which share beds'
        rest between them.
    most_pairs
        How many pairs not used now a block may try, the most promising first.
    """

    crops: int
    most_pairs: int


SWEEPS = (Sweep(0, 100), Sweep(1, 80), Sweep(0, 150), Sweep(2, 80))
"""The first sweeps of a search; the later ones are like the last two in turn."""


def sweep_of(number: int) -> Sweep:
    """Give the sweep of a round, counted from 0."""
    last = len(SWEEPS) - 1
    return SWEEPS[number if number <= last else last - (number - last) % 2]


def complete(tables: Tables, chosen: Chosen, draft: Draft) -> Floats:
    """Write a draft as values of every column of the whole model."""
    values = np.zeros(len(chosen.model.cost))
    plain = int(chosen.used[0]) if len(chosen.used) else len(values)
    values[:plain] = draft.solution.values[:plain]
    values[chosen.columns.area] = np.where(draft.used, draft.area_m2, 0.0)
    values[chosen.used] = draft.used
    more = years_missing(tables, draft.used) - tables.ground.missing
    values[chosen.broken] = more * values[chosen.columns.area]
    for laid in chosen.stakes:
        area = values[chosen.columns.area][laid.stake.pairs]
        many = int(draft.used[laid.stake.pairs].sum()) > FEW_PATCHES
        values[laid.many] = many
        held = np.bincount(laid.stake.beds, weights=area)[laid.beds]
        over = held - tables.question.most_in_one_bed * area.sum()
        values[laid.over] = np.maximum(0.0, over) if many else 0.0
    return values


@dataclass(frozen=True, slots=True)
class Reach:
    """Which crops each column belongs to: crop numbers of pairs, sowings, pools, lines touched."""

    crops: tuple[str, ...]
    of_sowing: Ints
    of_pool: Ints
    lines_of: tuple[Flags, ...]


def reach(tables: Tables) -> Reach:
    """Find for every crop its sowings, pools and the lines of the table it can serve."""
    ground, food = tables.ground, tables.food
    crops = tuple(sorted({s.crop for s in ground.sowings[: ground.chosen_count]}))
    at = {crop: number for number, crop in enumerate(crops)}
    of_sowing = np.array([at.get(s.crop, -1) for s in ground.sowings], dtype=np.int64)
    of_pool = np.full(len(food.pools), -1, dtype=np.int64)
    for gift in food.gifts:
        of_pool[gift.pool] = of_sowing[gift.sowing]
    foods: list[set[str]] = [set() for _ in crops]
    for pool, crop in enumerate(of_pool):
        if crop >= 0:
            foods[crop].add(food.pools[pool][1])
    lines_of = tuple(
        np.array([bool(eaten & set(a.foods)) for a in tables.question.appetites], dtype=np.bool_)
        for eaten in foods
    )
    return Reach(crops, of_sowing, of_pool, lines_of)


class Improver:
    """Re-plans blocks of crops within one whole model."""

    def __init__(self, tables: Tables, chosen: Chosen, manner: Manner) -> None:
        self._tables = tables
        self._chosen = chosen
        self._manner = manner
        self._reach = reach(tables)
        self._by_column = chosen.model.matrix.tocsc()
        families = sorted({s.family for s in tables.ground.sowings})
        at = {family: number for number, family in enumerate(families)}
        self._family = np.array([at[s.family] for s in tables.ground.sowings], dtype=np.int64)

    @property
    def crops(self) -> int:
        """How many crops there are to choose from."""
        return len(self._reach.crops)

    def blocks(self, sweep: Sweep, draw: np.random.Generator) -> list[list[int]]:
        """Part all crops into blocks, in an order that is drawn."""
        if sweep.crops > 0:
            order = draw.permutation(self.crops).tolist()
            return [order[at : at + sweep.crops] for at in range(0, self.crops, sweep.crops)]
        kin = [
            np.unique(self._reach.of_sowing[self._family == family])
            for family in draw.permutation(np.unique(self._family))
        ]
        found = [[crop for crop in crops.tolist() if crop >= 0] for crops in kin]
        return [block for block in found if block]

    def hungriest(self, values: Floats) -> int:
        """Find the crop that could serve the lines whose shortage costs most."""
        short = self._chosen.columns.short
        cost = (self._chosen.model.cost[short] * values[short]).sum(axis=1)
        reached = np.zeros(len(cost), dtype=np.bool_)
        food = self._tables.food
        reached[food.fresh_want] = True
        reached[food.kept_want] = True
        by_line = np.bincount(
            food.want_line,
            weights=np.where(reached, cost, 0.0),
            minlength=len(self._tables.question.appetites),
        )
        return int(np.argmax([by_line[lines].sum() for lines in self._reach.lines_of]))

    def improve(
        self, values: Floats, crops: Collection[int], promise: Floats, look: tuple[int, float]
    ) -> Floats:
        """Plan some crops anew; give the better values, or the old ones if none was found.

        ``promise`` (P) is each pair's reduced cost: the lower, the sooner it is tried. ``look`` is
        how many pairs not used now are tried at most, and how close to the best to come.
        """
        most_pairs, close = look
        tried = self._tried(values, crops, promise, most_pairs)
        free = np.nonzero(self._free(crops, tried))[0]
        part, fixed_cost = self._part(values, free)
        now = float(part.cost @ values[free])
        found = solve_whole(part, self._manner, NODES, gaps=(0.0, close), start=values[free])
        if found.values is None or found.objective >= now - 1e-6 * abs(now + fixed_cost):
            return values
        better = values.copy()
        better[free] = np.where(part.whole, np.round(found.values), found.values)
        return better

    def _part(self, values: Floats, free: Ints) -> tuple[LinearModel, float]:
        """Cut out the free columns, holding the rest at their values; what holds now still may."""
        model = self._chosen.model
        columns = self._by_column[:, free]
        rows = np.unique(columns.indices)
        held = model.matrix[rows] @ values
        # A row that waits and is far from its limit is left out: the polish lays it on if need be.
        far = model.waiting[rows] & (held < SLACK_SHARE * model.row_upper[rows])
        rows = rows[~far]
        matrix = columns.tocsr()[rows]
        now = matrix @ values[free]
        rest = model.matrix[rows] @ values - now
        part = LinearModel(
            cost=model.cost[free],
            lower=model.lower[free],
            upper=model.upper[free],
            matrix=matrix,
            row_lower=np.minimum(model.row_lower[rows] - rest, now),
            row_upper=np.maximum(model.row_upper[rows] - rest, now),
            rules={},
            waiting=np.zeros(len(rows), dtype=np.bool_),
            whole=model.whole[free],
        )
        return part, float(model.cost @ values) - float(part.cost @ values[free])

    def _tried(self, values: Floats, crops: Collection[int], promise: Floats, most: int) -> Flags:
        """Pick the pairs a block may change: those used, and the most promising of the others."""
        pairs = np.isin(self._reach.of_sowing, list(crops))[self._tables.ground.pair_sowing]
        used = values[self._chosen.used] > 0.5  # noqa: PLR2004 - yes or no
        others = np.nonzero(pairs & ~used)[0]
        tried = pairs & used
        tried[others[np.argsort(promise[others], kind="stable")][:most]] = True
        return tried

    def _free(self, crops: Collection[int], pairs: Flags) -> Flags:
        """Mark the columns that may move when some crops are planned anew."""
        tables, columns, known = self._tables, self._chosen.columns, self._reach
        ground, food = tables.ground, tables.food
        chosen = list(crops)
        sowings = np.isin(known.of_sowing, chosen)
        lines = np.any([known.lines_of[crop] for crop in chosen], axis=0)
        wants = lines[food.want_line]
        fresh, kept = wants[food.fresh_want], wants[food.kept_want]
        pools = np.isin(known.of_pool, chosen)
        pools[food.fresh_pool[fresh]] = True
        lodgings = np.zeros(len(food.lodgings), dtype=np.bool_)
        lodgings[food.kept_lodging[kept]] = True
        for number in np.nonzero(lodgings)[0]:
            if food.lodgings[number].pool >= 0:
                pools[food.lodgings[number].pool] = True
        gifts = np.array([bool(pools[gift.pool]) for gift in food.gifts], dtype=np.bool_)
        needs = np.array([bool(sowings[list(n.sowings)].any()) for n in tables.seed_needs])
        families = np.isin(self._family, np.unique(self._family[sowings]))
        free = np.zeros(len(self._chosen.model.cost), dtype=np.bool_)
        free[columns.area[pairs]] = True
        free[self._chosen.used[pairs]] = True
        free[self._chosen.broken[families[ground.pair_sowing]]] = True
        free[columns.total[sowings]] = True
        free[columns.given[gifts & (columns.given >= 0)]] = True
        free[columns.taken[gifts[columns.taken_gift]]] = True
        free[columns.fresh[fresh]] = True
        free[columns.kept[kept]] = True
        free[columns.put_by[lodgings]] = True
        free[columns.short[wants].ravel()] = True
        if len(needs):
            free[columns.stock_used[needs]] = True
            free[columns.stock_bought[needs]] = True
            drawn = needs[columns.seed_need]
            free[columns.seed_kept[drawn]] = True
            free[columns.put_by[columns.seed_lodging[drawn]]] = True
        for block in (columns.overtime, columns.over_cells, columns.over_store):
            free[block] = True
        for block in (columns.pin_short, columns.pin_over, columns.over_allotment):
            free[block] = True
        for laid in self._chosen.stakes:
            if sowings[ground.pair_sowing[laid.stake.pairs[0]]]:
                free[laid.many] = True
                free[laid.over] = True
        return free
