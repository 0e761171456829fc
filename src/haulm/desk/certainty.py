"""Plan for a chosen certainty: so much ground to each food that its promise holds in bad years."""

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass, replace
from math import log

from haulm.catalogue.records import Catalogue
from haulm.desk.forecasting import odds_in, setting_for
from haulm.forecast.odds import Odds
from haulm.forecast.rules import forecast_rules
from haulm.forecast.safety import counted_share, recounted, settled
from haulm.growing.records import Sowing
from haulm.notebook.garden import Garden
from haulm.plan.records import Certainty, Plan, Planting
from haulm.planner.make import make_plan
from haulm.planner.question import Effort, PlanQuestion, Watcher
from haulm.planner.solve import EFFORTS

ROUNDS = 4
"""How often the shares counted on are set anew before the plan is made in earnest."""

TRIAL_SEASONS, FRESH_SEASONS = 1000, 4000
FRESH = 1_000_003
"""What is added to the seed for the seasons that the plan never saw."""

SPREAD = 1.2815515655446004
"""The standard normal deviate that one value in ten lies above."""


@dataclass(frozen=True, slots=True)
class Sure:
    """A plan made for a certainty, with the odds of seasons it never saw."""

    plan: Plan
    odds: Odds


def plan_surely(
    question: PlanQuestion,
    known: tuple[Garden, Catalogue],
    certainty: float,
    effort: Effort,
    watch: Watcher | None = None,
) -> Sure:
    """Make a plan whose promises hold in so many years.

    Each food is counted for a share of its mean yield: at first the lognormal's own, then set anew
    by living a quick plan through a thousand seasons, food by food, a few times over. The plan made
    in earnest is then lived through seasons that it never saw.

    Parameters
    ----------
    question
        What is asked.
    known
        The garden and the catalogue it is asked with.
    certainty
        Share of years in which promises are to hold [1].
    effort, watch
        As for any plan.

    Raises
    ------
    AuditFailedError, InterruptedPlanError
        As any plan.
    """
    spreads = _spreads(question)
    trial = setting_for(question, known, question.seed)
    counted = {food: counted_share(spread, certainty) for food, spread in spreads.items()}
    quick = EFFORTS["quick"]
    for number in range(ROUNDS):
        plan = _plan_counting(question, counted, certainty, quick, watch)
        odds = odds_in(trial, plan, TRIAL_SEASONS, question.seed + number)
        held = _held_by_food(plan, odds)
        if settled(held.values(), certainty, within=2 * (0.25 / TRIAL_SEASONS) ** 0.5):
            break
        counted = recounted(counted, held, certainty, spreads)
    plan = _plan_counting(question, counted, certainty, effort, watch)
    fresh = setting_for(question, known, question.seed + FRESH)
    return Sure(plan, odds_in(fresh, plan, FRESH_SEASONS, question.seed + FRESH))


def _plan_counting(
    question: PlanQuestion,
    counted: Mapping[str, float],
    certainty: float,
    effort: Effort,
    watch: Watcher | None,
) -> Plan:
    """Make a plan that counts each food for a share of its mean; what it expects stays the mean."""
    careful = replace(
        question,
        sowings=tuple(_counting(sowing, counted) for sowing in question.sowings),
        standing=tuple(
            replace(stand, sowing=_counting(stand.sowing, counted)) for stand in question.standing
        ),
    )
    plan = make_plan(careful, effort, watch)
    return replace(
        plan,
        plantings=tuple(_expecting(planting, counted) for planting in plan.plantings),
        certainty=Certainty(certainty, tuple(sorted(counted.items()))),
    )


def _counting(sowing: Sowing, counted: Mapping[str, float]) -> Sowing:
    """Count a sowing's foods for a share of their means."""
    foods = tuple(
        replace(
            food,
            yield_kg_m2=food.yield_kg_m2 * counted[food.food],
            yield_low_kg_m2=food.yield_low_kg_m2 * counted[food.food],
            yield_high_kg_m2=food.yield_high_kg_m2 * counted[food.food],
        )
        for food in sowing.foods
    )
    return replace(sowing, foods=foods)


def _expecting(planting: Planting, counted: Mapping[str, float]) -> Planting:
    """Give back what a planting gives in the mean of years; say how much of it is counted on."""
    expects = tuple(
        replace(
            told,
            kg=told.kg / counted[told.food],
            low_kg=told.low_kg / counted[told.food],
            high_kg=told.high_kg / counted[told.food],
        )
        for told in planting.expects
    )
    said = tuple(
        f"{counted[told.food]:.2f} of the mean yield is counted on, so that it holds in bad years"
        for told in planting.expects[:1]
    )
    return replace(planting, expects=expects, sum=(*planting.sum, *said))


def _spreads(question: PlanQuestion) -> dict[str, float]:
    """Give the widest spread of each food's yield over its sowings [1]."""
    spreads: dict[str, float] = defaultdict(float)
    for sowing in (*question.sowings, *(stand.sowing for stand in question.standing)):
        for food in sowing.foods:
            spread = log(food.yield_high_kg_m2 / food.yield_low_kg_m2) / (2 * SPREAD)
            spreads[food.food] = max(spreads[food.food], spread)
    return dict(spreads)


def _held_by_food(plan: Plan, odds: Odds) -> dict[str, float]:
    """Give, for each food, how often the least sure promise that rests on it held."""
    least_kg = forecast_rules().empty_kg.value
    by_line: dict[str, float] = {}
    for promise in odds.promises:
        if promise.promised_kg > least_kg:
            by_line[promise.line] = min(by_line.get(promise.line, 1.0), promise.held)
    held: dict[str, float] = {}
    for helping in plan.helpings:
        if helping.kg > 0 and helping.line in by_line:
            held[helping.food] = min(held.get(helping.food, 1.0), by_line[helping.line])
    return held
