"""Sun: nothing is given a bed that gets less sun than it needs."""

from haulm.growing.records import Sowing
from haulm.planner.question import BedGround, PlanQuestion


def sunny_enough(question: PlanQuestion, sowing: Sowing, bed: BedGround) -> bool:
    """Say whether a bed gets the sun that a sowing's kind needs."""
    return (bed.id, sowing.kind) not in question.too_dark
