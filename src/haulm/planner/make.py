"""Making a plan: solve, write the answer, and have it re-added before anyone sees it."""

from collections.abc import Sequence

from haulm.plan.records import Plan
from haulm.planner.audit import insist
from haulm.planner.counted import Shares, counting, of_means, telling_means
from haulm.planner.question import Before, Effort, PlanQuestion, Watcher
from haulm.planner.solve import solve_plan


def make_plan(question: PlanQuestion, effort: Effort, watch: Watcher | None = None) -> Plan:
    """Make a plan of means that has survived its audit.

    Parameters
    ----------
    question
        Everything the plan depends on; what its lines ask of certainty is left to
        :func:`make_counted`.
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
    asked = of_means(question)
    return insist(solve_plan(asked, effort, watch), asked)


def make_counted(
    question: PlanQuestion,
    shares: Shares,
    effort: Effort,
    watch: Watcher | None = None,
    start: Sequence[Before] = (),
) -> Plan:
    """Make a plan that counts each food for a share of its mean yield, and survives its audit.

    Parameters
    ----------
    question
        Everything the plan depends on, of means.
    shares
        What each food is counted for in each year [1]; all of its mean where untold.
    effort, watch
        As for any plan.
    start
        The patches of a plan to begin from, instead of a first plan of its own.

    Raises
    ------
    AuditFailedError, InterruptedPlanError
        As for any plan.
    """
    plan = solve_plan(counting(question, shares), effort, watch, start=start)
    return insist(telling_means(plan, question, shares), question)
