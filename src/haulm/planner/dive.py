"""First plans: a dive by slope scaling in the space of areas.

Each patch used costs a fixed charge. A linear programme cannot charge it, but it can charge the
area by charge / area of the last solution, again and again: patches too small for their charge
then die away of themselves. Kim and Pardalos (1999), "A solution approach to the fixed charge
network flow problem using a dynamic slope scaling procedure", Operations Research Letters 24.
"""

from dataclasses import dataclass

import numpy as np
from scipy import sparse

from haulm.planner.arrays import Flags, Floats
from haulm.planner.build import Built
from haulm.planner.program import AreaProgram, Solution
from haulm.planner.rules.registry import SPREAD
from haulm.planner.rules.rotation import years_missing
from haulm.planner.rules.spread import beyond_share, stakes
from haulm.planner.tables import Tables

FREE_ROUNDS = 4
FIRM_ROUNDS = 4
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

    def __init__(self, tables: Tables, built: Built, seed: int) -> None:
        self._tables = tables
        self._built = built
        self._program = AreaProgram(built.model, built.columns.area, seed)
        self._cost = built.model.cost[built.columns.area]
        self._charge = tables.question.prices.sowing
        ground = tables.ground
        self._stakes = stakes(tables)
        incidence = sparse.csc_array(
            (np.ones(len(ground.of_pair)), (ground.in_clique, ground.of_pair)),
            shape=(len(ground.clique_free_m2), len(ground.pair_sowing)),
        )
        self._cliques_of = np.split(incidence.indices, incidence.indptr[1:-1])

    def relaxed(self) -> float:
        """Bound the whole model from below by its linear relaxation."""
        ground = self._tables.ground
        cost = self._cost + self._charge / ground.most_m2
        return self._program.solve(cost, np.zeros(len(cost)), ground.most_m2).objective

    def dive(self, noise: Floats | float = 1.0) -> Draft:
        """Dive to a plan; ``noise`` (P) scales each pair's slope, to fall elsewhere."""
        ground = self._tables.ground
        small = 0.5 * ground.least_m2
        slope = self._charge / ground.most_m2 * noise
        nothing = np.zeros(len(slope))
        rotation = nothing
        area = nothing
        for _ in range(FREE_ROUNDS):
            area = self._areas(self._cost + slope + rotation, nothing, ground.most_m2)
            slope = self._charge / np.maximum(area, small) * noise
            rotation = self._rotation(area > small)
        for number in range(FIRM_ROUNDS):
            firm = self._firm(area)
            shut = (area < small) if number >= FIRM_ROUNDS // 2 else (area > CLEARED) & ~firm
            upper = np.where(shut & ~firm, 0.0, ground.most_m2)
            lower = np.where(firm, ground.least_m2, 0.0)
            area = self._areas(self._cost + slope + rotation, lower, upper)
            slope = self._charge / np.maximum(area, ground.least_m2) * noise
            rotation = self._rotation(area > small)
        return self.polish(self._firm(area))

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
        objective = solution.objective + self._charge * int(used.sum()) + self._spread(area)
        return Draft(used, area, solution, objective)

    def _areas(self, cost: Floats, lower: Floats, upper: Floats) -> Floats:
        return self._program.solve(cost, lower, upper).values[self._built.columns.area]

    def _rotation(self, used: Flags) -> Floats:
        more = years_missing(self._tables, used) - self._tables.ground.missing
        return self._tables.question.prices.rotation_m2 * more

    def _spread(self, area: Floats) -> float:
        """Price what stands beyond a bed's share, where the programme has no rows for it."""
        if SPREAD.name in self._built.model.rules:
            return 0.0
        over = [sum(beyond_share(self._tables, stake, area).values()) for stake in self._stakes]
        return self._tables.question.prices.spread_m2 * sum(over)

    def _firm(self, area: Floats) -> Flags:
        """Pick the patches to keep, largest first, as long as their least sizes fit together."""
        ground = self._tables.ground
        left = ground.clique_free_m2.copy()
        firm = np.zeros(len(area), dtype=np.bool_)
        wanted = np.nonzero(area >= 0.5 * ground.least_m2)[0]
        for pair in wanted[np.argsort(-area[wanted], kind="stable")]:
            cliques, least = self._cliques_of[pair], ground.least_m2[pair]
            if (left[cliques] >= least - CLEARED).all():
                left[cliques] -= least
                firm[pair] = True
        return firm
