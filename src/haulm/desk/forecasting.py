"""Live the kept plan through many seasons: how sure it is, and when its stores run out."""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from haulm.catalogue.records import Catalogue, Kind
from haulm.desk.opening import Opened
from haulm.desk.plans import UNLAID, Made, kept_plan
from haulm.desk.question import kinds_for, portions_kg
from haulm.desk.weather import weather_around
from haulm.forecast.coming import comings
from haulm.forecast.luck import Dealt, draw_luck
from haulm.forecast.odds import odds_of
from haulm.forecast.records import PlanOdds
from haulm.forecast.trial import Household, live_through
from haulm.growing.weather import GrowingWeather
from haulm.household.appetite import appetites
from haulm.larder.keeping import keep_rules
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.notebook.garden import Garden
from haulm.plan.records import Plan
from haulm.planner.question import PlanQuestion

SEASONS = 2000
LEAST_SEASONS, MOST_SEASONS = 100, 20_000

RUNS = 200
"""Runs of weather where the record is too short to give its own years."""


@dataclass(frozen=True, slots=True)
class Forecasted:
    """A plan, and what many seasons say of it."""

    made: Made
    odds: PlanOdds


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
    made = kept_plan(path, UNLAID)
    return Forecasted(made, odds_for(made, seasons, seed))


@dataclass(frozen=True, slots=True)
class Setting:
    """In what a plan is lived through: the weather, the kinds, and the household."""

    weather: GrowingWeather
    kinds: Mapping[str, Kind]
    household: Household


def odds_for(made: Made, seasons: int, seed: int) -> PlanOdds:
    """Live a plan through many seasons of its garden's place."""
    setting = setting_in(made.garden, made.catalogue, made.plan, seed)
    return odds_in(setting, made.plan, seasons, seed)


def setting_in(garden: Garden, catalogue: Catalogue, plan: Plan, seed: int) -> Setting:
    """Set a garden's plan in the weather of its place and its own household."""
    kept = {kind.id: kind for kind in kinds_for(garden, catalogue)}
    known = {p.kind for p in plan.plantings} | {lot.kind for lot in plan.lots}
    kept |= {kind: catalogue.kinds[kind] for kind in known if kind in catalogue.kinds}
    return Setting(
        weather_around(garden.weather, garden.place, plan.horizon, RUNS, seed),
        catalogue.kinds,
        Household(
            appetites(garden.household, plan.horizon, portions_kg(catalogue)),
            keep_rules(kept.values(), garden.stores),
            garden.stores,
        ),
    )


def setting_for(question: PlanQuestion, opened: Opened, seed: int) -> Setting:
    """Set whatever plan answers a question in the weather of its place and its own household."""
    garden, catalogue = opened.garden, opened.catalogue
    return Setting(
        weather_around(garden.weather, garden.place, question.horizon, RUNS, seed),
        catalogue.kinds,
        Household(question.appetites, question.keep_rules, question.stores),
    )


def odds_in(setting: Setting, plan: Plan, seasons: int, seed: int) -> PlanOdds:
    """Live a plan through many seasons in a setting."""
    come = comings(plan, setting.kinds, setting.weather)
    household = setting.household
    dealt = Dealt(
        come,
        [appetite.line for appetite in household.appetites],
        [store.id for store in household.stores],
        plan.horizon.weeks,
    )
    trial = live_through(plan, come, household, draw_luck(dealt, seasons, seed))
    return odds_of(plan, trial, setting.weather.seasons.origin)


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
