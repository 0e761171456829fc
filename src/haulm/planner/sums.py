"""The arithmetic that sized a planting, line by line, as a grower would check it by hand."""

from math import ceil

from haulm.growing.records import Sowing
from haulm.plan.records import Planting
from haulm.planner.question import PlanQuestion
from haulm.planner.words import amount, area, count, name, stretch, weight

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
        lines.append(f"brings {weight(serve.kg)} of {food} to table {when}{whom}")
    for expect in planting.expects:
        lines += _lifted(question, planting, expect.food, given_m2[expect.food])
    if planting.standing:
        return [*lines, f"{area(planting.area_m2)} stands already"]
    plants = count(planting.plants, "plant")
    lines.append(f"{area(planting.area_m2)} × {amount(sowing.plants_m2)} plants a m² = {plants}")
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
    lines = []
    if sound < NEARLY_ALL:
        lines.append(f"{weight(table)} / {sound:.2f} sound when eaten = {weight(lifted)} to lift")
    each = grown / area_m2
    lines.append(f"{weight(lifted)} / {amount(each)} kg a m² = {area(lifted / each)} of {called}")
    if area_m2 > lifted / each * 1.005 and not planting.standing:
        smallest = planting.area_m2 <= question.least_patch_m2 + NOISE
        why = ", the smallest patch worth having" if smallest else " so that no week runs short"
        lines.append(f"given {area(area_m2)}{why}; it would give {weight(grown)} in all")
    return lines
