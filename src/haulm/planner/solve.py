"""Solving: a dive, rounds of improvement, a bound of the whole model, and the last polish."""

from collections.abc import Callable
from time import perf_counter

from haulm.plan.records import Plan, SolverReport
from haulm.planner.answer import answer
from haulm.planner.build import build_areas
from haulm.planner.dive import Diver
from haulm.planner.question import Effort, PlanQuestion, Watcher
from haulm.planner.tables import tabulate


def solve_plan(
    question: PlanQuestion,
    effort: Effort,
    watch: Watcher | None = None,
    clock: Callable[[], float] = perf_counter,
) -> Plan:
    """Plan a garden."""
    started = clock()
    tables = tabulate(question)
    built = build_areas(tables)
    diver = Diver(tables, built, question.seed)
    bound = diver.relaxed()
    best = diver.dive()
    built = build_areas(tables, best.used)
    best = Diver(tables, built, question.seed).polish(best.used)
    report = SolverReport(
        bound, best.objective, 0, 0, clock() - started, 0, effort.name, question.seed
    )
    return answer(tables, built, best, report)
