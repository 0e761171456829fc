"""Live the kept plan through many seasons: how sure it is, and when its stores run out."""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from haulm.desk.odds.living import odds_in, setting_in
from haulm.desk.planning.plans import UNLAID, Made, kept_plan
from haulm.forecast.records import PlanOdds
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding

SEASONS = 2000
LEAST_SEASONS, MOST_SEASONS = 100, 20_000


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
    refuse_seasons(seasons)
    made = kept_plan(path, UNLAID)
    return Forecasted(made, odds_for(made, seasons, seed))


def refuse_seasons(seasons: int) -> None:
    """Refuse a number of seasons that is out of bounds."""
    if not LEAST_SEASONS <= seasons <= MOST_SEASONS:
        what = f"{seasons} seasons are too {'few' if seasons < LEAST_SEASONS else 'many'}."
        remedy = f"Ask for {LEAST_SEASONS} to {MOST_SEASONS}."
        raise FaultsFoundError([Finding("seasons", what, remedy)])


def odds_for(made: Made, seasons: int, seed: int) -> PlanOdds:
    """Live a plan through many seasons of its garden's place."""
    setting = setting_in(made.garden, made.catalogue, made.plan, seed)
    return odds_in(setting, made.plan, seasons, seed)


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
