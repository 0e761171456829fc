"""The arithmetic that sized a planting, line by line, as a grower would check it by hand."""

from haulm.plan.records import Planting
from haulm.planner.question import PlanQuestion
from haulm.planner.words import amount, name, stretch

NEARLY_ALL = 0.995


def sum_lines(question: PlanQuestion, planting: Planting, given_m2: dict[str, float]) -> list[str]:
    """Write the sum from what is eaten to planting stock, dividing by what survives.

    Parameters
    ----------
    question, planting
        The question and the planting, complete but for its sum.
    given_m2
        Area each food is taken from, by food [m²].
    """
    lines = []
    for serve in planting.serves:
        when = stretch(question, serve.first_week, serve.last_week)
        food = name(question, serve.food)
        line = name(question, serve.line)
        whom = "" if line == food else f" for {line}"
        lines.append(f"brings {amount(serve.kg)} kg of {food} to table {when}{whom}")
    for expect in planting.expects:
        lines += _lifted(question, planting, expect.food, given_m2[expect.food])
    lines.append(
        f"{amount(planting.area_m2)} m² × {amount(planting.plants / planting.area_m2)} plants a m²"
        f" = {planting.plants} plants"
    )
    share = planting.plants / planting.stock if planting.stock > 0 else 1.0
    lines.append(
        f"{planting.plants} plants / {share:.2f} for each {planting.stock_unit}, losses counted"
        f" = {amount(planting.stock)} {planting.stock_unit}s"
    )
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
        lines.append(
            f"{amount(table)} kg / {sound:.2f} sound when eaten = {amount(lifted)} kg to lift"
        )
    each = grown / area_m2
    lines.append(
        f"{amount(lifted)} kg / {amount(each)} kg a m² = {amount(lifted / each)} m² of {called}"
    )
    if area_m2 > lifted / each * 1.005:
        lines.append(f"given {amount(area_m2)} m², which would give {amount(grown)} kg")
    return lines
