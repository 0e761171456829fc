"""Closed beds: a family or crop stays off a bed until its disease clock has run out."""

from haulm.growing.records import Sowing
from haulm.planner.question import BedGround, PlanQuestion


def open_to(question: PlanQuestion, sowing: Sowing, bed: BedGround) -> bool:
    """Say whether no disease clock keeps a sowing off a bed in the year it is set."""
    return not any(
        closure.keeps_off(bed.id, sowing.family, sowing.crop)
        and closure.until_year > sowing.set_on.year
        for closure in question.closures
    )
