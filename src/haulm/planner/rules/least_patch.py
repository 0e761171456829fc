"""The smallest patch worth having: what the grower named, and a row of plants at least."""

from math import sqrt

from haulm.growing.records import Sowing
from haulm.planner.question import BedGround, PlanQuestion


def least_patch_m2(question: PlanQuestion, sowing: Sowing, bed: BedGround) -> float:
    """Give the smallest patch of a sowing worth having in a bed [m²].

    It is what the grower named, and no less than one row of its plants across the bed: a strip
    thinner than a plant is wide would only crowd its neighbours.
    """
    plant_m2 = 1.0 / sowing.plants_m2
    return max(question.least_patch_m2, plant_m2, bed.row_m * sqrt(plant_m2))
