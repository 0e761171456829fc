"""The arithmetic that sized a planting, line by line, as a grower would check it by hand."""

from collections.abc import Iterator
from math import ceil

from haulm.catalogue.records import Role
from haulm.growing.records import Sowing
from haulm.plan.records import Expects, Planting
from haulm.planner.question import PlanQuestion
from haulm.planner.rules.least_patch import least_patch_m2
from haulm.planner.words import area, count, gives, name, stands, stretch, weight

NEARLY_ALL = 0.995
NOISE = 1e-6


def sum_lines(
    question: PlanQuestion, sowing: Sowing, planting: Planting, given_m2: dict[str, float]
) -> list[str]:
    """Write the sum from what is eaten to planting stock, dividing by what survives.

    Parameters
    ----------
    question, sowing, planting
        The question, and the planting of a sowing, complete but for its sum.
    given_m2
        Area each food is taken from, by food [m²].
    """
    lines = []
    for serve in planting.serves:
        when = stretch(question, serve.first_week, serve.last_week)
        food = name(question, serve.food)
        line = name(question, serve.line)
        whom = "" if line == food else f" for {line}"
        lines.append(f"brings {weight(question, serve.kg)} of {food} to table {when}{whom}")
    bed = next(bed for bed in question.beds if bed.id == planting.bed)
    least_m2 = least_patch_m2(question, sowing, bed)
    by_products = {food.food for food in sowing.foods if food.role is Role.BY_PRODUCT}
    for expect in planting.expects:
        food_m2 = given_m2[expect.food]
        lines += _lifted(question, planting, expect.food, food_m2)
        if expect.food not in by_products and not planting.standing:
            lines += _spare(question, planting, expect, food_m2, least_m2)
    if planting.standing:
        return [*lines, f"{area(question, planting.area_m2)} stands already"]
    plants = count(planting.plants, "plant")
    lines.append(
        f"{area(question, planting.area_m2)} × {stands(question, sowing.plants_m2)} = {plants}"
    )
    each = sowing.plants_m2 / sowing.stock_m2 if sowing.stock_m2 > 0 else 1.0
    units = count(ceil(planting.plants / each - NOISE), planting.stock_unit)
    lines.append(f"{plants} / {each:.3g} = {units}, losses counted")
    return lines


def _lifted(question: PlanQuestion, planting: Planting, food: str, area_m2: float) -> list[str]:
    """Divide what is eaten by what stays sound, and what is lifted by what a square metre gives."""
    table = sum(serve.kg for serve in planting.serves if serve.food == food)
    lifted = sum(pick.kg for pick in planting.picks if pick.food == food)
    grown = sum(expect.kg for expect in planting.expects if expect.food == food)
    called = name(question, food)
    if lifted <= 0:
        return [f"none of its {called} is counted on"]
    sound = min(1.0, table / lifted)
    eaten, to_lift = weight(question, table), weight(question, lifted)
    lines = []
    if sound < NEARLY_ALL:
        lines.append(f"{eaten} / {sound:.2f} sound when eaten = {to_lift} to lift")
    each = grown / area_m2
    ground = area(question, lifted / each)
    lines.append(f"{to_lift} / {gives(question, each)} = {ground} of {called}")
    return lines


def _spare(
    question: PlanQuestion, planting: Planting, expect: Expects, area_m2: float, least_m2: float
) -> list[str]:
    """Say why a food has more ground than what is lifted in the middle year takes."""
    lifted = sum(pick.kg for pick in planting.picks if pick.food == expect.food)
    if not 0 < lifted < NEARLY_ALL * expect.kg:
        return []
    smallest = planting.area_m2 <= least_m2 + NOISE
    why = ", the smallest patch worth having" if smallest else " so that no week runs short"
    given, in_all = area(question, area_m2), weight(question, expect.kg)
    return [f"given {given}{why}; it would give {in_all} in all"]


def so_far_lines(question: PlanQuestion, planting: Planting) -> Iterator[str]:
    """Say of what stands what was taken of it, what is hoped of it, and how far it is behind."""
    for food, kg in planting.taken:
        yield f"{weight(question, kg)} of {name(question, food)} were taken of it before"
    if planting.hoped != 1.0:
        yield f"it is expected to give {planting.hoped:.0%} of a full yield, as noted"
    if planting.late_days:
        yield f"it is {count(planting.late_days, 'day')} behind, as noted"
