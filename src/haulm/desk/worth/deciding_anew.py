"""Every choice of a kept plan decided, and what is lost without one if all else is planned anew."""

from collections.abc import Callable
from dataclasses import replace
from datetime import date
from pathlib import Path

from haulm.desk.planning.plans import UNLAID, Made, kept_plan
from haulm.desk.worth.deciding import (
    Deciding,
    Decision,
    Delay,
    Pending,
    decide,
    deciding_for,
    lost_beside,
    pending_choices,
    short_by_line,
)
from haulm.planner.make import make_plan
from haulm.planner.question import Before, PlanQuestion
from haulm.planner.solve import EFFORTS


def left_out_anew(deciding: Deciding, decision: Decision) -> Delay:
    """Plan the whole garden again without a choice, and tell what the table then lacks.

    A quick plan is made around the one that is kept, without any sowing of the choice's season, and
    audited. It is set against the plan that is kept. A search may end worse than simply leaving
    the choice out of the plan as it is: so no more is told than that costs.

    Parameters
    ----------
    deciding, decision
        What decisions are reckoned from, and the choice with what leaving it out costs as planned.
    """
    plan = make_plan(_without(deciding, decision.pending), EFFORTS["quick"])
    never = decision.never
    lost = lost_beside(deciding, short_by_line(deciding.plan), short_by_line(plan), never.until)
    return lost if lost.kg < never.kg else never


def _without(deciding: Deciding, pending: Pending) -> PlanQuestion:
    """Ask the plan's question again without a choice, around the plan that is kept."""
    question, plan = deciding.question, deciding.plan
    first, until = pending.weeks
    left = tuple(
        sowing
        for sowing in question.sowings
        if sowing.kind != pending.kind
        or not first <= question.horizon.week_of(sowing.sow_on) < until
    )
    there = {sowing.id for sowing in left}
    before = tuple(
        Before(planting.sowing, planting.bed, planting.area_m2)
        for planting in plan.plantings
        if not planting.standing and planting.sowing in there
    )
    return replace(question, sowings=left, before=before)


def decided(
    path: Path,
    day: date,
    told: Callable[[Pending], None] | None = None,
    *,
    anew: bool = False,
) -> tuple[Made, tuple[Decision, ...]]:
    """Reckon every pending choice of the plan that a notebook keeps.

    Parameters
    ----------
    path
        The notebook.
    day
        The day that counts as today.
    told
        Told of each choice before it is reckoned.
    anew
        Whether to plan everything again without each choice that costs something, too.

    Raises
    ------
    FaultsFoundError
        When there is no plan, or it does not answer the garden of today.
    """
    made = kept_plan(path, UNLAID)
    deciding = deciding_for(made, day)
    decisions = []
    for pending in pending_choices(deciding):
        if told is not None:
            told(pending)
        decision = decide(deciding, pending)
        if anew and decision.decide_by is not None:
            decision = replace(decision, anew=left_out_anew(deciding, decision))
        decisions.append(decision)
    return made, tuple(decisions)
