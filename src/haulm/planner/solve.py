"""Solving: crops weighed alone, first plans of that, rounds of improvement, the last polish."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from time import perf_counter

import numpy as np

from haulm.measure.errors import InterruptedPlanError
from haulm.plan.records import Plan, SolverReport
from haulm.planner.answer import answer
from haulm.planner.arrays import Floats
from haulm.planner.blocks import Improver, Sweep, complete, sweep_of
from haulm.planner.bound import pooled_bound, pooled_model
from haulm.planner.build import Built, Chosen, build_areas, build_choices, pins_unpriced
from haulm.planner.crop_by_crop import weigh_crops
from haulm.planner.dive import Diver, Draft
from haulm.planner.earlier import earlier_m2
from haulm.planner.first_plans import first_plans, open_beside
from haulm.planner.objective import unreachable_cost
from haulm.planner.program import solve_relaxed, solve_whole
from haulm.planner.question import (
    Before,
    Effort,
    PlanQuestion,
    Progress,
    StopPlanningError,
    Watcher,
)
from haulm.planner.stopping import Manner
from haulm.planner.tables import Tables, tabulate

EXACT_PAIRS = 60
"""Gardens with no more pairs of sowing and bed than this are solved whole, to the proven best."""
EXACT_NODES = 200_000
BOUND_NODES = 1
PATIENCE = 0.375
"""The share of an effort's rounds that are made even if they bring little."""
IDLE = 0.15
"""A sweep that closes less than this share of what is left to the bound is the last."""
CLOSE = 2e-3
"""A block is planned anew to within this share of what lies between the plan and the bound [1]."""
MENDING_PAIRS = 80
"""How many pairs not used now are tried where a plan before this one is mended."""
NOTHING = 1e-9
LOOK_UP_S = 0.25
"""How long a step goes on before whoever watches is told of it again [s]."""

EFFORTS = {
    "quick": Effort("quick", rounds=0, target_gap=0.05),
    "usual": Effort(),
    "thorough": Effort("thorough", rounds=24, target_gap=0.002, target_net_gap=0.005),
}
"""The efforts there are, by name."""


def solve_plan(
    question: PlanQuestion,
    effort: Effort,
    watch: Watcher | None = None,
    clock: Callable[[], float] = perf_counter,
    start: Sequence[Before] = (),
) -> Plan:
    """Plan a garden, as well as the effort allows.

    Parameters
    ----------
    question
        Everything the plan depends on; the same question and effort give the same plan.
    effort
        How many rounds of improvement, and the gap at which to stop early.
    watch
        Told of each step, and of a long one again and again; may raise ``StopPlanningError`` to
        keep the best plan so far.
    clock
        Gives seconds, to tell how long it took and when to tell of a step again.
    start
        The patches of a plan to begin from; none to begin with a dive.

    Returns
    -------
    Plan
        The plan. What could not be met or kept is named in it; there is always a plan.

    Raises
    ------
    InterruptedPlanError
        If it is stopped before there is any plan.
    """
    started = clock()
    search = _Search(question, effort, watch, clock)
    search.start = tuple(start)
    try:
        search.run()
    except KeyboardInterrupt as stop:
        message = "planning was stopped; nothing of it was kept"
        raise InterruptedPlanError(message) from stop
    except StopPlanningError as stop:
        if search.best is None:
            message = "planning was stopped before there was a plan"
            raise InterruptedPlanError(message) from stop
    best = search.polished()
    bound = min(search.bound, best.objective)
    apart = best.objective - bound
    reachable = best.objective - unreachable_cost(search.tables)
    report = SolverReport(
        bound=bound,
        objective=best.objective,
        gap=apart / best.objective if best.objective > NOTHING else 0.0,
        net_gap=apart / reachable if reachable > NOTHING else 0.0,
        seconds=clock() - started,
        rounds=search.rounds,
        effort=effort.name,
        seed=question.seed,
    )
    return answer(search.tables, search.final, best, report)


class _Search:
    """One search for a plan: what is best so far, and what is known of how good it could be."""

    def __init__(
        self,
        question: PlanQuestion,
        effort: Effort,
        watch: Watcher | None,
        clock: Callable[[], float],
    ) -> None:
        self._effort = effort
        self._watch = watch
        self._clock = clock
        self._told: tuple[str, float, float] = ("", 0.0, clock())
        self._seed = question.seed
        self._manner = Manner(question.seed, None if watch is None else self._look_up)
        self.tables: Tables = tabulate(question)
        self.final = build_areas(self.tables)
        self._diver = Diver(self.tables, self.final, self._manner)
        self._unreachable = unreachable_cost(self.tables)
        self.best: Draft | None = None
        self.bound = 0.0
        self.rounds = 0
        self.start: tuple[Before, ...] = ()

    def run(self) -> None:
        """Search until the effort is spent or the target gaps are reached."""
        self._tell("reading the garden", 0.0)
        pool = pooled_model(self.tables)
        if self.tables.question.before:
            self._plan_near(self.tables.earlier_m2)
        if self.start:
            asked = replace(self.tables.question, before=self.start)
            self._keep(self._diver.again(earlier_m2(asked, self.tables.ground)))
        if self.best is not None and self._effort.rounds == 0:
            self.bound = solve_relaxed(pool.model, self._manner).objective
        else:
            self._plan_anew(pool)
        self._tell("a first plan", 0.2)
        if len(self.tables.ground.pair_sowing) <= EXACT_PAIRS:
            self._solve_exactly()
        elif self._effort.rounds > 0 and not self._good_enough():
            self._improve()
        self._tell("writing the plan", 0.95)

    def _plan_near(self, earlier: Floats) -> None:
        """Plant another plan again, as it is and as a dive from it would have it."""
        self._tell("a first plan", 0.05)
        self._keep(self._diver.again(earlier))
        self._mend()
        self._keep(self._diver.dive_near(earlier, open_beside(self.tables, earlier)))

    def _mend(self) -> None:
        """Plan the crop anew whose lines are short of most."""
        if self.best is None or len(self.best.used) == 0:
            return
        chosen = build_choices(self.tables)
        improver = Improver(self.tables, chosen, self._manner)
        values = complete(self.tables, chosen, self.best)
        block = [improver.hungriest(values)]
        look = (MENDING_PAIRS, CLOSE * (self.best.objective - self._unreachable))
        promise = self.best.solution.reduced_cost[chosen.columns.area]
        self._keep(self._polish(chosen, improver.improve(values, block, promise, look)))

    def _plan_anew(self, pool: Built) -> None:
        """Weigh each crop by itself, and make plans of that, unless there is one already."""
        self._tell("how good it could be", 0.1)
        weighed = weigh_crops(pool.model, self._unreachable, self._manner)
        self.bound = weighed.bound
        if self.start or self._good_enough():
            return
        self._tell("a first plan", 0.15)
        sown = None if weighed.values is None else weighed.values[pool.columns.area]
        for draft in first_plans(self.tables, self._diver, sown, self.bound, self._manner):
            self._keep(draft)
            if self._good_enough():
                break

    def polished(self) -> Draft:
        """Solve the best plan's areas once more, with every rule that depends on its patches."""
        if self.best is None:
            message = "there is no plan to polish"
            raise InterruptedPlanError(message)
        self.final = build_areas(self.tables, self.best.used)
        diver = Diver(self.tables, self.final, Manner(self._seed), self._diver.foothold)
        best = diver.polish(self.best.used)
        if not self.tables.kept:
            return best
        unpriced = pins_unpriced(self.final)
        return Diver(self.tables, unpriced, Manner(self._seed), diver.foothold).told(best)

    def _solve_exactly(self) -> None:
        chosen = build_choices(self.tables)
        if self.best is None or len(chosen.used) == 0:
            return
        start = complete(self.tables, chosen, self.best)
        found = solve_whole(chosen.model, self._manner, EXACT_NODES, start=start)
        self.bound = max(self.bound, found.bound)
        if found.values is not None:
            self._keep(self._polish(chosen, found.values))

    def _improve(self) -> None:
        """Sweep over the crops, by families at first, until good enough."""
        chosen = build_choices(self.tables)
        improver = Improver(self.tables, chosen, self._manner)
        draw = np.random.default_rng(self._seed)
        while self.rounds < self._effort.rounds and not self._good_enough():
            before = self._objective()
            sweep = sweep_of(self.rounds)
            self._sweep(chosen, improver, improver.blocks(sweep, draw), sweep)
            self.rounds += 1
            if self.rounds == 1 and not self._good_enough():
                self._tell("how good it could be", 0.5)
                self.bound = max(self.bound, pooled_bound(self.tables, BOUND_NODES, self._manner))
            gained = before - self._objective()
            patient = self.rounds < PATIENCE * self._effort.rounds
            if not patient and gained < IDLE * (self._objective() - self.bound):
                break

    def _sweep(
        self, chosen: Chosen, improver: Improver, blocks: list[list[int]], sweep: Sweep
    ) -> None:
        if self.best is None:
            return
        values = complete(self.tables, chosen, self.best)
        promise = self.best.solution.reduced_cost[chosen.columns.area]
        close = CLOSE * (self.best.objective - self.bound)
        for number, block in enumerate(blocks):
            values = improver.improve(values, block, promise, (sweep.most_pairs, close))
            share = (self.rounds + number / len(blocks)) / self._effort.rounds
            self._tell("improving", 0.4 + 0.55 * share)
            if self._reaches(float(chosen.model.cost @ values)):
                break
        self._keep(self._polish(chosen, values))

    def _polish(self, chosen: Chosen, values: Floats) -> Draft:
        return self._diver.polish(values[chosen.used] > 0.5)  # noqa: PLR2004 - yes or no

    def _keep(self, draft: Draft) -> None:
        if self.best is None or draft.objective < self.best.objective:
            self.best = draft

    def _objective(self) -> float:
        return np.inf if self.best is None else self.best.objective

    def _good_enough(self) -> bool:
        return self.best is not None and self._reaches(self.best.objective)

    def _reaches(self, objective: float) -> bool:
        """Say whether a plan of this cost is within both gaps that are aimed at."""
        apart, effort = objective - self.bound, self._effort
        net = effort.target_net_gap * (objective - self._unreachable)
        return apart <= effort.target_gap * objective and apart <= net

    def _tell(self, step: str, done: float) -> None:
        if self._watch is not None:
            objective = None if self.best is None else self.best.objective
            self._watch(Progress(step, objective, self.bound or None, done))
            self._told = (step, done, self._clock())

    def _look_up(self) -> None:
        """Tell the last step again once in a while, so that whoever watches may stop within it."""
        step, done, at = self._told
        if self._clock() - at >= LOOK_UP_S:
            self._tell(step, done)
