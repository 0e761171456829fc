"""Live any plan through many seasons in the weather of its place, by its own household."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from haulm.catalogue.records import Catalogue, Kind
from haulm.desk.beds.weather import weather_around
from haulm.desk.garden.opening import Opened
from haulm.desk.planning.question import kinds_for, portions_kg
from haulm.forecast.coming import comings
from haulm.forecast.diseases import disease_chances
from haulm.forecast.luck import Dealt, draw_luck
from haulm.forecast.odds import Tally
from haulm.forecast.records import Coming, PlanOdds, Trial
from haulm.forecast.trial import Household, live_through
from haulm.growing.weather import GrowingWeather
from haulm.household.appetite import appetites
from haulm.larder.keeping import keep_rules
from haulm.notebook.garden import Garden
from haulm.plan.records import Plan
from haulm.planner.question import PlanQuestion

BLOCK = 2000
"""Seasons that are lived at once: few enough to stay near the processor."""

Heed = Callable[[Trial], None]
"""Who is shown each block of seasons that is lived through."""

RUNS = 200
"""Runs of weather where the record is too short to give its own years."""


@dataclass(frozen=True, slots=True)
class Setting:
    """In what a plan is lived through: the weather, the kinds, and the household."""

    weather: GrowingWeather
    kinds: Mapping[str, Kind]
    household: Household


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


def setting_for(question: PlanQuestion, opened: Opened, seed: int, runs: int = RUNS) -> Setting:
    """Set whatever plan answers a question in the weather of its place and its own household."""
    garden, catalogue = opened.garden, opened.catalogue
    return Setting(
        weather_around(garden.weather, garden.place, question.horizon, runs, seed),
        catalogue.kinds,
        Household(question.appetites, question.keep_rules, question.stores),
    )


def odds_in(
    setting: Setting, plan: Plan, seasons: int, seed: int, heed: Heed | None = None
) -> PlanOdds:
    """Live a plan through many seasons in a setting."""
    come = comings(plan, setting.kinds, setting.weather)
    return odds_of_comings(setting, plan, come, seasons, seed, heed)


def odds_of_comings(
    setting: Setting,
    plan: Plan,
    come: Sequence[Coming],
    seasons: int,
    seed: int,
    heed: Heed | None = None,
) -> PlanOdds:
    """Live a plan whose foods come as told, block by block of seasons, so that memory is bounded.

    The same seed gives the same seasons, however they are cut into blocks; ``heed`` is shown each.
    """
    dealt = dealt_in(setting, plan, come)
    tally = Tally(plan)
    for first in range(0, seasons, BLOCK):
        luck = draw_luck(dealt, min(BLOCK, seasons - first), seed, first)
        trial = live_through(plan, come, setting.household, luck)
        tally.add(trial)
        if heed is not None:
            heed(trial)
    return tally.odds(setting.weather.seasons.origin)


def dealt_in(setting: Setting, plan: Plan, come: Sequence[Coming]) -> Dealt:
    """Say to what chance deals in a setting."""
    return Dealt(
        come,
        [appetite.line for appetite in setting.household.appetites],
        [store.id for store in setting.household.stores],
        plan.horizon.weeks,
        disease_chances(),
    )
