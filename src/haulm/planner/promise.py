"""What a square metre of a sowing promises beside a plan: a first guess, by the plan's own prices.

Each kilogram it could give is counted at the dearest want it reaches, and what it takes of ground,
hours and trays at what the plan gives for a hair more of them. It tells where to look; what is told
to anyone is solved.
"""

from collections import defaultdict

import numpy as np

from haulm.catalogue.records import Role
from haulm.planner.arrays import Floats
from haulm.planner.food_tables import Gift
from haulm.planner.held import HeldPlan
from haulm.planner.rules.hours import MINUTES_AN_HOUR
from haulm.planner.rules.registry import GROUND, HOURS, NURSERY
from haulm.planner.tables import Tables


def promise(held: HeldPlan, tables: Tables) -> Floats:
    """Give (pairs of ``tables``) what a square metre promises, what it takes counted off.

    Parameters
    ----------
    held
        The plan.
    tables
        The tables of other sowings, over the same beds, weeks and table [weighted kg/m²].
    """
    gives = _gives(held, tables)
    ground = tables.ground
    return (
        np.array(
            [
                gives[int(s)] - _takes(held, tables, int(s), int(b)) - held.question.prices.area_m2
                for s, b in zip(ground.pair_sowing, ground.pair_bed, strict=True)
            ],
            dtype=np.float64,
        )
        - held.question.prices.rotation_m2 * ground.missing
    )


def _gives(held: HeldPlan, tables: Tables) -> Floats:
    """(sowings) count what a square metre gives: beside the main food, or instead of it."""
    worth = _worth_by_pool(held, tables)
    beside: dict[int, float] = defaultdict(float)
    instead: dict[int, float] = defaultdict(float)
    for gift in tables.food.gifts:
        value = _gift(gift, worth, -held.question.prices.glut_kg)
        if gift.role is Role.INSTEAD:
            instead[gift.sowing] = max(instead[gift.sowing], value)
        else:
            beside[gift.sowing] += value
    count = range(len(tables.ground.sowings))
    return np.array([max(beside[s], instead[s]) for s in count], dtype=np.float64)


def _gift(gift: Gift, worth: dict[tuple[int, int], float], glut: float) -> float:
    by_week = [max(worth.get((gift.pool, week), glut), glut) for week in gift.weeks]
    if gift.stands:
        return gift.yield_kg_m2 * max(by_week)
    return sum(kg * each for kg, each in zip(gift.kg_m2, by_week, strict=True))


def _worth_by_pool(held: HeldPlan, tables: Tables) -> dict[tuple[int, int], float]:
    """Give the dearest use of a kilogram of each pool in each week [weighted kg/kg]."""
    food, wants = tables.food, held.price_of_want
    worth: dict[tuple[int, int], float] = {}

    def count(pool: int, week: int, value: float) -> None:
        worth[pool, week] = max(worth.get((pool, week), value), value)

    for want, pool, week in zip(food.fresh_want, food.fresh_pool, food.fresh_week, strict=True):
        count(int(pool), int(week), float(wants[want]))
    for want, number, sound in zip(food.kept_want, food.kept_lodging, food.kept_sound, strict=True):
        lodging = food.lodgings[int(number)]
        if not lodging.in_hand:
            count(lodging.pool, lodging.week, float(sound * wants[want]))
    return worth


def _takes(held: HeldPlan, tables: Tables, s: int, b: int) -> float:
    """Count what a square metre takes of the bed, the weeks' hours and the trays."""
    sowing, weeks = tables.ground.sowings[s], tables.weeks
    mine = held.tables.ground
    here = (mine.clique_bed == b) & (mine.clique_week >= sowing.ground_from_week)
    here &= mine.clique_week < sowing.ground_until_week
    taken = float(held.worth_of(GROUND.name)[here].sum())
    hours, price = held.worth_of(HOURS.name), held.question.prices.hour
    for week, minutes in sowing.work_min_m2:
        if 0 <= week < weeks:
            taken += minutes / MINUTES_AN_HOUR * (price + float(hours[week]))
    cells = held.worth_of(NURSERY.name)
    if len(cells):
        first, end = max(0, sowing.tray_weeks[0]), min(weeks, sowing.tray_weeks[1])
        taken += sowing.cells_m2 * float(cells[first:end].sum())
    return taken
