"""The plan before this one: what it costs to leave a patch of it, or to make a new one.

A change is charged on the yes or no of a pair, as a separate sowing is: a new patch costs the price
more, and so does an earlier one that is left though it might be kept. What can no longer be chosen
(its week is past, it stands by now, it is forbidden) is not left by choice and costs nothing.
"""

import numpy as np

from haulm.planner.arrays import Flags, Floats
from haulm.planner.ground_tables import GroundTables
from haulm.planner.question import PlanQuestion


def earlier_m2(question: PlanQuestion, ground: GroundTables) -> Floats:
    """Give (P) the area of each pair in the plan before [m²]; 0 where it had none."""
    held: dict[tuple[str, str], float] = {}
    for patch in question.before:
        where = (patch.sowing, patch.bed)
        held[where] = held.get(where, 0.0) + patch.area_m2
    return np.array(
        [
            held.get((ground.sowings[s].id, ground.beds[b].id), 0.0)
            for s, b in zip(ground.pair_sowing, ground.pair_bed, strict=True)
        ],
        dtype=np.float64,
    )


def change_price(question: PlanQuestion) -> float:
    """Give the price of one patch left or made anew; nothing where there is no plan before.

    It is no more than that of a separate sowing: no patch may be worth planting for its own sake.
    """
    return min(question.prices.change, question.prices.sowing) if question.before else 0.0


def patch_prices(question: PlanQuestion, was: Flags) -> Floats:
    """Give (P) the price of using each pair: a sowing, and a change more or less.

    To this comes ``staying_price``, what it would cost to leave every earlier patch.
    """
    change = change_price(question)
    return question.prices.sowing + np.where(was, -change, change)


def staying_price(question: PlanQuestion, was: Flags) -> float:
    """Price the leaving of all earlier patches there still are to choose."""
    return change_price(question) * int(was.sum())
