"""How fast and how good plans are, against the plain model given to the same solver.

Random gardens are planned until a net gap is proven, or the search gives up; the plain model, with
a yes or no for every sowing in every bed, is then handed over whole to the same solver for as long
as haulm took, at least a second. Both run on one thread. Seconds are of the processor, children
included: other work on the machine moves them less than the clock. Then the large garden is planned
again after a change. Memory is haulm's alone: it runs first. Run from the root of the repository:
``python -m benchmarks.plan [seed ...]``.
"""

import resource
import sys
from collections.abc import Iterator
from dataclasses import dataclass, replace
from time import perf_counter, process_time

import numpy as np
from benchmarks.gardens import LARGE, MARKET, MEDIUM, Size, reference_garden

from haulm.plan.records import Plan
from haulm.planner.build import build_choices
from haulm.planner.objective import unreachable_cost
from haulm.planner.program import highs_model, quiet_solver
from haulm.planner.question import Before, Effort, PlanQuestion
from haulm.planner.solve import EFFORTS, solve_plan
from haulm.planner.tables import tabulate

SEEDS = (101, 102, 103, 104, 105)
KIB_A_GIB = 1024 * 1024
ROUNDS = 8
LEAST_PLAIN_S = 1.0
MORE = 1.2


@dataclass(frozen=True)
class Case:
    """A garden of a size with so many times the land, and the net gap to reach."""

    size: Size
    land: float
    net_gap: float

    def question(self, seed: int) -> PlanQuestion:
        """Draw the garden."""
        drawn = reference_garden(self.size, seed)
        beds = tuple(replace(b, area_m2=round(b.area_m2 * self.land, 1)) for b in drawn.beds)
        return replace(drawn, beds=beds)


CASES = (
    Case(MEDIUM, 1, 0.01),
    Case(MEDIUM, 3, 0.01),
    Case(LARGE, 1, 0.025),
    Case(LARGE, 3, 0.01),
)
MARKETS = (Case(MARKET, 1, 0.05),)
MARKET_ROUNDS = 2


def by_haulm(question: PlanQuestion, net_gap: float, rounds: int) -> tuple[Plan, float, float]:
    """Plan until a net gap is proven; give the plan, processor seconds and wall seconds."""
    ticks, clock = process_time(), perf_counter()
    plan = solve_plan(question, Effort("bench", rounds, 1.0, net_gap))
    return plan, process_time() - ticks, perf_counter() - clock


def by_plain_model(question: PlanQuestion, limit_s: float) -> tuple[float, float]:
    """Hand the whole model to the solver for so long; give its gap and net gap."""
    tables = tabulate(question)
    chosen = build_choices(tables)
    highs = quiet_solver(question.seed)
    highs.setOptionValue("primal_feasibility_tolerance", 1e-7)
    highs.setOptionValue("time_limit", limit_s)
    highs.passModel(highs_model(chosen.model, np.arange(len(chosen.model.row_lower))))
    highs.run()
    info = highs.getInfo()
    best, bound = info.objective_function_value, info.mip_dual_bound
    if not np.isfinite(best) or best <= 0 or not np.isfinite(bound):
        return np.inf, np.inf
    apart = best - max(bound, 0.0)
    return apart / best, apart / (best - unreachable_cost(tables))


def changed(question: PlanQuestion, plan: Plan) -> Iterator[tuple[str, PlanQuestion]]:
    """Ask again after a change: an appetite up by a fifth, and the largest patch failed."""
    before = tuple(Before(p.sowing, p.bed, p.area_m2) for p in plan.plantings)
    first, *others = question.appetites
    more = replace(first, kg=tuple(MORE * kg for kg in first.kg))
    yield "an appetite up by a fifth", replace(question, before=before, appetites=(more, *others))
    lost = max(plan.plantings, key=lambda planting: planting.area_m2)
    left = tuple(b for b in before if (b.sowing, b.bed) != (lost.sowing, lost.bed))
    sowings = tuple(s for s in question.sowings if s.id != lost.sowing)
    yield "the largest patch failed", replace(question, before=left, sowings=sowings)


def planned_again(question: PlanQuestion, plan: Plan) -> Iterator[str]:
    """Plan again by the quick effort, and from nothing by the same search; a line for each."""
    for change, asked in changed(question, plan):
        ticks = process_time()
        again = solve_plan(asked, EFFORTS["quick"])
        seconds = process_time() - ticks
        anew = solve_plan(replace(asked, before=()), Effort("bench", ROUNDS, 1.0, 0.025))
        then = {(b.sowing, b.bed) for b in asked.before}
        now = {(p.sowing, p.bed) for p in again.plantings}
        cost = again.solver.objective - unreachable_cost(tabulate(asked))
        best = anew.solver.objective - unreachable_cost(tabulate(asked))
        yield (
            f"{change}: {seconds:.2f} s, {len(then & now) / len(then):.1%} of {len(then)} patches"
            f" kept, {len(now - then)} new, costs {cost / best:.3f} of a plan from nothing"
        )


def main() -> None:
    """Run every case on every seed and print one line each."""
    seeds = tuple(int(seed) for seed in sys.argv[1:]) or SEEDS
    runs = [(case, seed, ROUNDS) for case in CASES for seed in seeds]
    runs += [(case, seed, MARKET_ROUNDS) for case in MARKETS for seed in seeds[:2]]
    plain = []
    print(
        "garden  land  aim   seed   processor s  wall s    gap  net gap  rounds   GiB", flush=True
    )
    for case, seed, rounds in runs:
        question = case.question(seed)
        plan, ticks, wall = by_haulm(question, case.net_gap, rounds)
        peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / KIB_A_GIB
        label = f"{case.size.name:7} x{case.land:<3g} {case.net_gap:5.1%} {seed:4}"
        told = plan.solver
        print(
            f"{label} {ticks:12.2f} {wall:7.2f} {told.gap:7.2%} {told.net_gap:7.2%}"
            f" {told.rounds:6} {peak:6.2f}",
            flush=True,
        )
        plain.append((label, question, max(LEAST_PLAIN_S, ticks)))
        if case.size is LARGE and case.land == 1:
            for line in planned_again(question, plan):
                print(f"    {line}", flush=True)
    for label, question, limit_s in plain:
        gap, net = by_plain_model(question, limit_s)
        print(f"{label} plain model in {limit_s:.1f} s: {gap:.1%}, net {net:.1%}", flush=True)


if __name__ == "__main__":
    main()
