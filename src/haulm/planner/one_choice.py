"""One choice of a plan asked anew: all else is held as it is planned.

The question that comes out is small: what the plan plants of other kinds stands, as far as the
solver knows, and of the kind looked at only the sowings that are left are on offer. So it is solved
to the proven best and audited like any other, and two of its answers differ by the choice alone.
"""

from collections.abc import Iterable, Sequence
from dataclasses import replace

from haulm.growing.records import Sowing
from haulm.plan.pins import Pin, PinRule
from haulm.plan.records import Plan, Planting
from haulm.planner.question import BedGround, PlanQuestion, Standing

TOUCHES_M2 = 1e-6
"""Areas nearer to each other than this are one [m²]."""


def open_plantings(plan: Plan, kind: str, first_week: int, until_week: int) -> tuple[Planting, ...]:
    """Give the plantings of a kind that are sown in some weeks, until not counted."""
    week_of = plan.horizon.week_of
    return tuple(
        planting
        for planting in plan.plantings
        if not planting.standing
        and planting.kind == kind
        and first_week <= week_of(planting.sow_on) < until_week
    )


def all_else_held(
    question: PlanQuestion, plan: Plan, kind: str, weeks: tuple[int, int], not_before: int
) -> PlanQuestion:
    """Ask a plan's question again for one kind's sowings of some weeks, all else held as planned.

    Parameters
    ----------
    question, plan
        The question that the plan answers, and the plan; every sowing of the plan must be in it.
    kind
        Which kind is asked anew.
    weeks
        The weeks in which its sowings are asked anew, until not counted; what it has outside of
        them is held like all else.
    not_before
        Sowings before this week are taken out.

    Notes
    -----
    A pair of sowing and bed that the plan does not use is left out where the bed has less room than
    the smallest patch, or where what the plan plants there later would then follow its own family
    too soon: the plan is held, so it may not be harmed.
    """
    asked = {planting.id for planting in open_plantings(plan, kind, *weeks)}
    sowings = {sowing.id: sowing for sowing in question.sowings}
    held = tuple(
        Standing(sowings[planting.sowing], planting.bed, planting.area_m2)
        for planting in plan.plantings
        if not planting.standing and planting.id not in asked
    )
    week_of = question.horizon.week_of
    offered = tuple(
        sowing
        for sowing in question.sowings
        if sowing.kind == kind and max(weeks[0], not_before) <= week_of(sowing.sow_on) < weeks[1]
    )
    planned = {(p.sowing, p.bed) for p in plan.plantings if p.id in asked}
    standing = (*question.standing, *held)
    shut = tuple(
        Pin(PinRule.FORBID, kind, bed.id, sowing.method, sowing.sow_on)
        for bed in question.beds
        for sowing in offered
        if (sowing.id, bed.id) not in planned and not _has_room(question, sowing, bed, standing)
    )
    kept = tuple(pin for pin in question.pins if pin.kind == kind and pin.rule is PinRule.FORBID)
    return replace(question, sowings=offered, standing=standing, pins=(*kept, *shut), before=())


def _has_room(
    question: PlanQuestion, sowing: Sowing, bed: BedGround, standing: Sequence[Standing]
) -> bool:
    """Say whether a bed has room for the smallest patch, and no family is brought on too soon."""
    here = [stand for stand in standing if stand.bed == bed.id]
    weeks = range(
        max(0, sowing.ground_from_week), min(question.horizon.weeks, sowing.ground_until_week)
    )
    fullest = max((_held_m2(here, week) for week in weeks), default=0.0)
    if bed.area_m2 - fullest < question.least_patch_m2 - TOUCHES_M2:
        return False
    gap = question.rotation_gap_years.get(sowing.family, 0)
    cleared = question.horizon.monday(sowing.ground_until_week).year
    return not any(
        stand.sowing.family == sowing.family
        and stand.sowing.ground_from_week >= sowing.ground_until_week
        and question.horizon.monday(stand.sowing.ground_until_week).year - cleared < gap
        for stand in here
    )


def _held_m2(standing: Iterable[Standing], week: int) -> float:
    return sum(
        stand.area_m2
        for stand in standing
        if stand.sowing.ground_from_week <= week < stand.sowing.ground_until_week
        or stand.lasting is not None
    )
