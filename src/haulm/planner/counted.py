"""Counting on a share of each mean yield, so that what is promised of it holds in bad years too."""

from collections.abc import Iterator, Mapping
from dataclasses import replace

from haulm.growing.records import Sowing, SowingFood
from haulm.measure.weeks import WEEKS_A_YEAR, Horizon
from haulm.plan.records import Certainty, Expects, Plan, Planting
from haulm.planner.question import PlanQuestion
from haulm.planner.words import gives, name

FoodYear = tuple[str, int]
"""A food, and the year of the plan in which it is lifted."""

Shares = Mapping[FoodYear, float]
"""The share of its mean yield that each food is counted for in each year [1]."""


def year_of(week: int, horizon: Horizon) -> int:
    """Give the year of the plan that a week lies in, the first for what lies before it."""
    return min(max(week, 0), horizon.weeks - 1) // WEEKS_A_YEAR


def food_year(food: SowingFood, horizon: Horizon) -> FoodYear:
    """Say in which of the plan's years a sowing gives a food."""
    return food.food, year_of(food.first_week, horizon)


def all_sowings(question: PlanQuestion) -> tuple[Sowing, ...]:
    """Give every sowing of a question, standing ones too."""
    return (*question.sowings, *(stand.sowing for stand in question.standing))


def sure_lines(question: PlanQuestion) -> tuple[tuple[str, float], ...]:
    """Give the lines that are to be sure, and in what share of years [1]."""
    return tuple(
        (appetite.line, appetite.certainty)
        for appetite in question.appetites
        if appetite.certainty is not None
    )


def sure_foods(question: PlanQuestion) -> dict[str, float]:
    """Give for each food of a line that is to be sure the highest certainty asked of it [1]."""
    sure: dict[str, float] = {}
    for appetite in question.appetites:
        for food in appetite.foods if appetite.certainty is not None else ():
            sure[food] = max(sure.get(food, 0.0), appetite.certainty or 0.0)
    return sure


def counting(question: PlanQuestion, shares: Shares) -> PlanQuestion:
    """Put a question anew, each food counted for its share of the mean; all of it where untold.

    No line asks for a certainty any more: what it takes is in what is counted on.
    """
    horizon = question.horizon

    def careful(sowing: Sowing) -> Sowing:
        foods = tuple(_careful(f, shares.get(food_year(f, horizon), 1.0)) for f in sowing.foods)
        return replace(sowing, foods=foods)

    return replace(
        of_means(question),
        sowings=tuple(careful(sowing) for sowing in question.sowings),
        standing=tuple(replace(stand, sowing=careful(stand.sowing)) for stand in question.standing),
    )


def of_means(question: PlanQuestion) -> PlanQuestion:
    """Put a question anew, no line asking for a certainty."""
    appetites = tuple(replace(appetite, certainty=None) for appetite in question.appetites)
    return replace(question, appetites=appetites)


def as_counted(question: PlanQuestion, certainty: Certainty | None) -> PlanQuestion:
    """Put a question anew, each food counted as a plan counts it, of means or for a certainty."""
    counted = certainty.counted if certainty else ()
    return counting(question, {(food, year): share for food, year, share in counted})


def _careful(food: SowingFood, share: float) -> SowingFood:
    return replace(
        food,
        yield_kg_m2=food.yield_kg_m2 * share,
        yield_low_kg_m2=food.yield_low_kg_m2 * share,
        yield_high_kg_m2=food.yield_high_kg_m2 * share,
    )


def telling_means(plan: Plan, question: PlanQuestion, shares: Shares) -> Plan:
    """Give back to a careful plan the means of its plantings, and say how much it counts on.

    Parameters
    ----------
    plan
        What answers the question put by :func:`counting`.
    question
        The question as it was asked, of means.
    shares
        What each food was counted for [1].
    """
    sowings = {sowing.id: sowing for sowing in all_sowings(question)}
    told = tuple((food, year, share) for (food, year), share in sorted(shares.items()))
    return replace(
        plan,
        plantings=tuple(
            _telling(planting, sowings[planting.sowing], question, shares)
            for planting in plan.plantings
        ),
        certainty=Certainty(sure_lines(question), told),
    )


def _telling(
    planting: Planting, sowing: Sowing, question: PlanQuestion, shares: Shares
) -> Planting:
    """Tell the means of one planting; its sum says how much of each is counted on."""
    counted = {f.food: shares.get(food_year(f, question.horizon), 1.0) for f in sowing.foods}
    expects = tuple(_mean(told, counted[told.food]) for told in planting.expects)
    said = _counted_on(planting, sowing, question, counted)
    return replace(planting, expects=expects, sum=(*planting.sum, *said))


def _counted_on(
    planting: Planting, sowing: Sowing, question: PlanQuestion, counted: Mapping[str, float]
) -> Iterator[str]:
    """Say of each food that a planting gives how much of its mean yield is counted on."""
    sure, means = sure_foods(question), {food.food: food.yield_kg_m2 for food in sowing.foods}
    for told in planting.expects:
        share = counted[told.food]
        if share == 1.0:
            continue
        each, mean = (gives(question, kg) for kg in (means[told.food] * share, means[told.food]))
        years = f"{10 * sure[told.food]:g} years in 10"
        yield (
            f"{each} of {name(question, told.food)} is counted on, {share:.2f} of the {mean} in "
            f"the mean of years, so that what is promised holds {years}"
        )


def _mean(told: Expects, share: float) -> Expects:
    kg, low_kg, high_kg = (each / share for each in (told.kg, told.low_kg, told.high_kg))
    return replace(told, kg=kg, low_kg=low_kg, high_kg=high_kg)
