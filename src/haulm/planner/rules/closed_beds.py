"""Closed beds: a family or crop stays off a bed until its disease clock has run out."""

from haulm.ground.closures import closed_until
from haulm.growing.records import Sowing
from haulm.planner.question import BedGround, PlanQuestion


def open_to(question: PlanQuestion, sowing: Sowing, bed: BedGround) -> bool:
    """Say whether no disease clock keeps a sowing off a bed in the year it is set."""
    until = closed_until(question.closures, bed.id, sowing.family, sowing.crop)
    return until is None or until <= sowing.set_on.year
