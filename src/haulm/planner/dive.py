"""First plans: a dive by slope scaling in the space of areas.

Each patch used costs a fixed charge. A linear programme cannot charge it, but it can charge the
area by charge / area of the last solution, again and again: patches too small for their charge
then die away of themselves. Kim and Pardalos (1999), "A solution approach to the fixed charge
network flow problem using a dynamic slope scaling procedure", Operations Research Letters 24.
"""

from dataclasses import dataclass, replace

import numpy as np
from scipy import sparse

from haulm.planner.arrays import Flags, Floats
from haulm.planner.build import Built
from haulm.planner.program import AreaProgram, Foothold, Solution
from haulm.planner.rules.registry import SPREAD
from haulm.planner.rules.rotation import years_missing
from haulm.planner.rules.spread import beyond_share, stakes
from haulm.planner.settle import place
from haulm.planner.stopping import Manner
from haulm.planner.tables import Tables

FLOORS = (0.5, 0.5, 0.25, 0.25, 0.25)
"""While all areas are free: below this share of the least patch, a charge grows no more."""
NEAR_FLOORS = (0.5, 0.25)
"""The same, where patches are placed already."""
STEPS = (0.25, 0.35, 0.5, 0.5)
"""Then, step by step: patches from this share of the least one are kept, smaller ones shut."""
LAST_STEPS = 2
"""In the last steps, what has no patch yet is shut as well."""
HALF = 0.5
ANY = 1e-6
"""From this share of the least patch, what is placed is kept if it fits [1]."""
THINNINGS = 10
"""How often patches held up at the least size are tried without."""
CLEARED = 1e-7


@dataclass(frozen=True, slots=True)
class Draft:
    """One feasible plan in the solver's terms: the pairs used, all values, the whole objective."""

    used: Flags
    area_m2: Floats
    solution: Solution
    objective: float


class Diver:
    """Dives and polishes over one built model, warm from one solving to the next."""

    def __init__(
        self, tables: Tables, built: Built, manner: Manner, foothold: Foothold | None = None
    ) -> None:
        """Open a diver, on the foothold of another whose model this one only adds to."""
        self._tables = tables
        self._built = built
        self._program = AreaProgram(built.model, built.columns.area, manner, foothold)
        self._cost = built.model.cost[built.columns.area]
        self._charge = tables.patch_prices
        ground = tables.ground
        self._stakes = stakes(tables)
        self._barred = np.zeros(len(ground.pair_sowing), dtype=np.bool_)
        self._pinned = self._barred.copy()
        for kept in tables.kept:
            self._pinned[kept.pairs] = True
            self._barred[kept.pairs] |= kept.exact
        names = np.array([ground.sowings[s].crop for s in ground.pair_sowing])
        self._crop = np.unique(names, return_inverse=True)[1]
        incidence = sparse.csc_array(
            (np.ones(len(ground.of_pair)), (ground.in_clique, ground.of_pair)),
            shape=(len(ground.clique_free_m2), len(ground.pair_sowing)),
        )
        self._cliques_of = np.split(incidence.indices, incidence.indptr[1:-1])

    @property
    def foothold(self) -> Foothold:
        """Where its programme stands now."""
        return self._program.foothold

    def dive(self) -> Draft:
        """Dive to a plan, and thin it out."""
        ground = self._tables.ground
        slope = self._charge / ground.most_m2
        return self._dive(ground.most_m2, slope, np.zeros(len(slope)), FLOORS)

    def dive_near(self, start_m2: Floats, open_: Flags) -> Draft:
        """Dive from patches that are placed already, among the pairs that are open.

        ``start_m2`` (P) are their areas; beds may be fuller than they can be [m²].
        """
        ground = self._tables.ground
        slope = self._charge / np.maximum(start_m2, NEAR_FLOORS[0] * ground.least_m2)
        most = np.where(open_, ground.most_m2, 0.0)
        return self._dive(most, slope, self._rotation(start_m2 > 0), NEAR_FLOORS)

    def fit(self, start_m2: Floats) -> Draft:
        """Find the best areas of patches that are placed, as far as they fit, and thin them out."""
        pinned = place(self._tables.ground, self._tables.kept, start_m2, self._tables.limits)
        return self._thinned(self.polish(self._firm(start_m2, ANY, pinned)))

    def _dive(
        self, most: Floats, slope: Floats, rotation: Floats, floors: tuple[float, ...]
    ) -> Draft:
        """Spread charges over areas that are free, then hold and shut patches step by step."""
        ground = self._tables.ground
        area = nothing = np.zeros(len(most))
        for number, floor in enumerate(floors):
            cost = self._cost + slope + rotation
            area = self._areas(cost, nothing, most, priced=number > 0)
            slope = self._charge / np.maximum(area, floor * ground.least_m2)
            rotation = self._rotation(area > HALF * ground.least_m2)
        pinned = place(ground, self._tables.kept, area, self._tables.limits)
        for number, step in enumerate(STEPS):
            firm = self._firm(area, step, pinned)
            unsown = 0.0 if number >= len(STEPS) - LAST_STEPS else CLEARED
            shut = ~firm & (area >= unsown) & (area < step * ground.least_m2)
            shut |= self._barred & ~firm
            upper = np.where(shut, 0.0, most)
            lower = np.where(firm, ground.least_m2, 0.0)
            area = self._areas(self._cost + slope + rotation, lower, upper)
            slope = self._charge / np.maximum(area, FLOORS[-1] * ground.least_m2)
            rotation = self._rotation(area > HALF * ground.least_m2)
        return self._thinned(self.polish(self._firm(area, HALF, pinned)))

    def again(self, area: Floats) -> Draft:
        """Plant the patches of another plan again, as far as they can be, and thin them out.

        ``area`` gives (P) the ground each pair had there [m²], 0 where it had none.
        """
        pinned = place(self._tables.ground, self._tables.kept, area, self._tables.limits)
        return self._thinned(self.polish(self._firm(area, HALF, pinned)))

    def _thinned(self, draft: Draft) -> Draft:
        """Drop patches that only their least size holds up, where the plan is better without.

        One of each crop is tried at a time, those that cost most for being so large first; half as
        many after each trial that fails.
        """
        ground = self._tables.ground
        most = len(draft.used)
        tried_alone = np.zeros(most, dtype=np.bool_)
        for _ in range(THINNINGS):
            held_up = draft.solution.reduced_cost[self._built.columns.area] * ground.least_m2
            small = draft.used & (draft.area_m2 <= ground.least_m2 + CLEARED) & (held_up > 0.0)
            small &= ~self._needed(draft.used)
            small_pairs = np.nonzero(small & ~tried_alone)[0]
            ranked = small_pairs[np.argsort(-held_up[small_pairs], kind="stable")]
            _, first = np.unique(self._crop[ranked], return_index=True)
            tried = ranked[np.sort(first)][:most]
            if len(tried) == 0:
                break
            used = draft.used.copy()
            used[tried] = False
            trial = self.polish(used)
            if trial.objective < draft.objective:
                draft = trial
            else:
                most = max(1, len(tried) // 2)
                tried_alone[tried] = len(tried) == 1
        return draft

    def _needed(self, used: Flags) -> Flags:
        """Mark the pairs that a pin cannot do without."""
        needed = self._barred.copy()
        for kept in self._tables.kept:
            needed[kept.pairs] |= int(used[kept.pairs].sum()) == 1
        return needed

    def polish(self, used: Flags) -> Draft:
        """Find the best areas for a support, and what the whole plan then costs.

        Only the ground bounds a patch from above here, so that its worth shows in the ground's
        dual and nowhere else.
        """
        ground = self._tables.ground
        solution = self._program.solve(
            self._cost + self._rotation(used),
            np.where(used, ground.least_m2, 0.0),
            np.where(used, np.inf, 0.0),
        )
        area = solution.values[self._built.columns.area]
        objective = solution.objective + float(self._charge[used].sum()) + self._spread(area)
        return Draft(used, area, solution, objective)

    def told(self, draft: Draft) -> Draft:
        """Give a draft the worth that things have while all that is pinned is held still."""
        ground = self._tables.ground
        small = draft.area_m2 <= ground.least_m2 + CLEARED
        still = draft.used & (self._barred | (self._pinned & small))
        for kept in self._tables.kept:
            if draft.area_m2[kept.pairs].sum() <= kept.settled_m2 + CLEARED:
                still[kept.pairs] = draft.used[kept.pairs]
        solution = self._program.solve(
            self._cost + self._rotation(draft.used),
            np.where(still, draft.area_m2, np.where(draft.used, ground.least_m2, 0.0)),
            np.where(still, draft.area_m2, np.where(draft.used, np.inf, 0.0)),
        )
        return replace(draft, solution=solution)

    def _areas(self, cost: Floats, lower: Floats, upper: Floats, *, priced: bool = False) -> Floats:
        solution = self._program.solve(cost, lower, upper, priced=priced)
        return solution.values[self._built.columns.area]

    def _rotation(self, used: Flags) -> Floats:
        more = years_missing(self._tables, used) - self._tables.ground.missing
        return self._tables.question.prices.rotation_m2 * more

    def _spread(self, area: Floats) -> float:
        """Price what stands beyond a bed's share, where the programme has no rows for it."""
        if SPREAD.name in self._built.model.rules:
            return 0.0
        over = [sum(beyond_share(self._tables, stake, area).values()) for stake in self._stakes]
        return self._tables.question.prices.spread_m2 * sum(over)

    def _firm(self, area: Floats, share: float, pinned: Floats) -> Flags:
        """Pick the patches to keep, largest first, as long as their least sizes fit together.

        ``share`` is the share of the least size from which a patch may be kept [1]; what is
        ``pinned`` has its ground before all others [m²].
        """
        ground = self._tables.ground
        left = ground.clique_free_m2.copy()
        held = pinned > 0
        firm = held.copy()
        for pair in np.nonzero(firm)[0]:
            left[self._cliques_of[pair]] -= pinned[pair]
        wanted = np.nonzero((area >= share * ground.least_m2) & ~firm & ~self._barred)[0]
        for pair in wanted[np.argsort(-area[wanted], kind="stable")]:
            cliques, least = self._cliques_of[pair], ground.least_m2[pair]
            if (left[cliques] >= least - CLEARED).all():
                left[cliques] -= least
                firm[pair] = True
        return self._tables.limits.within(firm, ground.least_m2, area, held)
