"""Making a plan: solve, write the answer, and have it re-added before anyone sees it."""

from haulm.plan.records import Plan
from haulm.planner.audit import insist
from haulm.planner.question import Effort, PlanQuestion, Watcher
from haulm.planner.solve import solve_plan


def make_plan(question: PlanQuestion, effort: Effort, watch: Watcher | None = None) -> Plan:
    """Make a plan that has survived its audit.

    Parameters
    ----------
    question
        Everything the plan depends on.
    effort
        How hard to look; see ``solve.EFFORTS``.
    watch
        Told of each step; may raise ``StopPlanningError`` to keep the best plan so far.

    Raises
    ------
    AuditFailedError
        If re-adding the plan by independent code finds a fault: it is then not shown.
    InterruptedPlanError
        If it is stopped before there is any plan.
    """
    return insist(solve_plan(question, effort, watch), question)
