"""Live the kept plan through many seasons: how sure it is, and when its stores run out."""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from haulm.desk.plans import Made, Means, kept_plan
from haulm.desk.question import kinds_for
from haulm.desk.weather import weather_around
from haulm.forecast.coming import comings
from haulm.forecast.luck import Dealt, draw_luck
from haulm.forecast.odds import Odds, odds_of
from haulm.forecast.trial import Household, live_through
from haulm.household.appetite import appetites
from haulm.larder.keeping import keep_rules
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding

SEASONS = 2000
LEAST_SEASONS, MOST_SEASONS = 100, 20_000

RUNS = 200
"""Runs of weather where the record is too short to give its own years."""


@dataclass(frozen=True, slots=True)
class Forecasted:
    """A plan, and what many seasons say of it."""

    made: Made
    odds: Odds


def forecast_of(path: Path, seasons: int = SEASONS, seed: int = 1) -> Forecasted:
    """Live a notebook's plan through many seasons.

    Raises
    ------
    FaultsFoundError
        When there is no plan to live through, or the number of seasons is out of bounds.
    """
    if not LEAST_SEASONS <= seasons <= MOST_SEASONS:
        what = f"{seasons} seasons are too {'few' if seasons < LEAST_SEASONS else 'many'}."
        remedy = f"Ask for {LEAST_SEASONS} to {MOST_SEASONS}."
        raise FaultsFoundError([Finding("seasons", what, remedy)])
    made = kept_plan(path, Means(lay=lambda *_: {}))
    return Forecasted(made, odds_for(made, seasons, seed))


def odds_for(made: Made, seasons: int, seed: int) -> Odds:
    """Live a plan through many seasons of its garden's place."""
    plan, garden, catalogue = made.plan, made.garden, made.catalogue
    weather = weather_around(garden.weather, garden.place, plan.horizon, RUNS, seed)
    come = comings(plan, catalogue.kinds, weather)
    portion_kg = {food.id: food.portion_kg.value for food in catalogue.foods.values()}
    kept = {kind.id: kind for kind in kinds_for(garden, catalogue)}
    kept |= {c.kind: catalogue.kinds[c.kind] for c in come}
    kept |= {
        lot.kind: catalogue.kinds[lot.kind] for lot in plan.lots if lot.kind in catalogue.kinds
    }
    household = Household(
        appetites(garden.household, plan.horizon, portion_kg),
        keep_rules(kept.values(), garden.stores),
        garden.stores,
    )
    dealt = Dealt(
        come,
        [appetite.line for appetite in household.appetites],
        [store.id for store in garden.stores],
        plan.horizon.weeks,
    )
    trial = live_through(plan, come, household, draw_luck(dealt, seasons, seed))
    return odds_of(plan, trial, weather.seasons.origin)


def as_data(forecasted: Forecasted) -> Mapping[str, object]:
    """Give the odds as plain data: lists for arrays."""
    odds = forecasted.odds
    return {
        "seasons": odds.seasons,
        "origin": odds.origin,
        "promises": odds.promises,
        "in_store_kg": {food: fan.round(3).tolist() for food, fan in odds.in_store_kg.items()},
        "short_kg": {line: fan.round(3).tolist() for line, fan in odds.short_kg.items()},
        "run_out": odds.run_out,
        "together": odds.together,
    }
