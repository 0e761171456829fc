"""What a planting still gives once some of it was taken, and it does better or worse than hoped."""

from collections.abc import Mapping
from dataclasses import replace

from haulm.catalogue.records import Picking, Role
from haulm.growing.records import Sowing, SowingFood

NOTHING = 1e-3
"""A smaller share of a yield is nothing left [1]."""


def still_to_come(
    sowing: Sowing, area_m2: float, taken_kg: Mapping[str, float], hoped: float
) -> Sowing:
    """Give a sowing that stands with what it still gives.

    Parameters
    ----------
    sowing
        As it was started, its foods whole but for weeks gone by.
    area_m2
        Its ground [m²].
    taken_kg
        What was taken of each food since it was planted [kg].
    hoped
        The share of a full yield it is expected to give in all [1].

    Returns
    -------
    Sowing
        Every yield is times ``hoped``. Of a main food that stands, and of one taken instead, what
        was taken of either has used up ground, share by share; a food lifted once of which some was
        lifted is gone; of a by-product its own takings are taken off. Food picked over weeks
        already lacks the weeks gone by. What has nothing left is left out.
    """
    used = sum(
        _used(food, area_m2, taken_kg, hoped)
        for food in sowing.foods
        if food.role is not Role.BY_PRODUCT and food.picking is not Picking.SPREAD
    )
    foods = []
    for food in sowing.foods:
        share = 1.0
        if food.picking is Picking.ONCE and taken_kg.get(food.food, 0.0) > 0:
            share = 0.0
        elif food.picking is not Picking.SPREAD:
            own = food.role is Role.BY_PRODUCT
            share -= _used(food, area_m2, taken_kg, hoped) if own else used
        if hoped * share > NOTHING:
            foods.append(_scaled(food, hoped * share))
    return replace(sowing, foods=tuple(foods))


def _used(food: SowingFood, area_m2: float, taken_kg: Mapping[str, float], hoped: float) -> float:
    """Give the share of the ground that what was taken of a food has used up [1]."""
    whole = food.yield_kg_m2 * area_m2 * hoped
    return taken_kg.get(food.food, 0.0) / whole if whole > 0 else 1.0


def _scaled(food: SowingFood, share: float) -> SowingFood:
    return replace(
        food,
        yield_kg_m2=food.yield_kg_m2 * share,
        yield_low_kg_m2=food.yield_low_kg_m2 * share,
        yield_high_kg_m2=food.yield_high_kg_m2 * share,
    )
