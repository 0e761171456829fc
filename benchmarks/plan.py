"""How fast and how good plans are, against the plain model given to the same solver.

The plain model has a yes or no for every sowing in every bed and is handed over whole, on one
thread, under a limit of time. Memory is haulm's alone: it runs first. Run from the root of the
repository: ``python -m benchmarks.plan [seed]``.
"""

import resource
import sys
from dataclasses import dataclass
from time import perf_counter

import numpy as np
from benchmarks.gardens import LARGE, MEDIUM, SMALL, Size, reference_garden

from haulm.planner.build import build_choices
from haulm.planner.program import highs_model, quiet_solver
from haulm.planner.question import Effort, PlanQuestion
from haulm.planner.solve import solve_plan
from haulm.planner.tables import tabulate

ROUNDS = 8
KIB_A_GIB = 1024 * 1024


@dataclass(frozen=True)
class Aim:
    """A gap to reach on a garden, and how long the plain model may try for it [s]."""

    size: Size
    gap: float
    plain_limit_s: float


AIMS = (
    Aim(SMALL, 0.01, 10.0),
    Aim(MEDIUM, 0.02, 20.0),
    Aim(MEDIUM, 0.01, 40.0),
    Aim(LARGE, 0.03, 10.0),
    Aim(LARGE, 0.015, 40.0),
)


@dataclass(frozen=True)
class Reached:
    """What was reached: time [s], proven gap and net gap."""

    seconds: float
    gap: float
    net_gap: float


def by_haulm(question: PlanQuestion, gap: float) -> Reached:
    """Plan until a gap is proven."""
    started = perf_counter()
    solver = solve_plan(question, Effort("bench", ROUNDS, gap)).solver
    return Reached(perf_counter() - started, solver.gap, solver.net_gap)


def by_plain_model(question: PlanQuestion, gap: float, limit_s: float) -> Reached:
    """Hand the whole model to the solver until the same gap or the limit."""
    started = perf_counter()
    chosen = build_choices(tabulate(question))
    highs = quiet_solver(question.seed)
    highs.setOptionValue("primal_feasibility_tolerance", 1e-7)
    highs.setOptionValue("time_limit", limit_s)
    highs.setOptionValue("mip_rel_gap", gap)
    highs.passModel(highs_model(chosen.model, np.arange(len(chosen.model.row_lower))))
    highs.run()
    info = highs.getInfo()
    best, bound = info.objective_function_value, info.mip_dual_bound
    reached = (best - bound) / best if np.isfinite(best) and best > 0 else np.inf
    return Reached(perf_counter() - started, reached, np.nan)


def main() -> None:
    """Run every aim and print one line each."""
    seed = int(sys.argv[1]) if len(sys.argv) > 1 else 1
    questions = {aim.size: reference_garden(aim.size, seed) for aim in AIMS}
    ours = [by_haulm(questions[aim.size], aim.gap) for aim in AIMS]
    peak_gib = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / KIB_A_GIB
    print("garden   aim     haulm: s    gap  net gap   plain: s    gap   times as long")
    for aim, mine in zip(AIMS, ours, strict=True):
        plain = by_plain_model(questions[aim.size], aim.gap, aim.plain_limit_s)
        times = plain.seconds / mine.seconds
        reached = "" if plain.gap <= aim.gap else " or more"
        print(
            f"{aim.size.name:8} {aim.gap:5.1%} {mine.seconds:11.2f} {mine.gap:6.2%}"
            f" {mine.net_gap:8.1%} {plain.seconds:10.2f} {plain.gap:6.1%} {times:8.1f}{reached}"
        )
    print(f"peak memory of haulm: {peak_gib:.2f} GiB")


if __name__ == "__main__":
    main()
