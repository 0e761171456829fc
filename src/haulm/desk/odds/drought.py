"""What watering is worth: the kept plan lived watered when due, from its tanks, and not at all."""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from haulm.desk.odds.forecasting import SEASONS, refuse_seasons
from haulm.desk.odds.living import odds_of_comings, setting_in
from haulm.desk.odds.thirst import Drought, Thirst, WateredHow, thirsting
from haulm.desk.planning.plans import UNLAID, Made, kept_plan
from haulm.forecast.coming import comings
from haulm.forecast.records import PlanOdds

THIRSTIEST = 10
"""So many plantings that lose most are told."""

SURE = 0.8
"""A promise is counted as sure when it holds in so many years [1]."""


@dataclass(frozen=True, slots=True)
class Watered:
    """A plan watered in one way: how, and what many seasons say of it then."""

    how: WateredHow
    odds: PlanOdds

    @property
    def sure(self) -> int:
        """How many promises hold in 8 years of 10 or more."""
        return sum(promise.held >= SURE for promise in self.odds.promises)


@dataclass(frozen=True, slots=True)
class Thirsty:
    """What a planting loses in the mean of years if nobody waters it [1]."""

    planting: str
    kind: str
    bed: str
    lost: float


@dataclass(frozen=True, slots=True)
class WateringTold:
    """What watering is worth to a plan.

    Attributes
    ----------
    made
        The plan.
    ways
        Watered when due, from its tanks where it has any, and not at all; in the same seasons.
    thirsty
        The plantings that lose most where nobody waters, the first of them most.
    unknown
        Names of kinds whose water nobody knows: they are taken as watered.
    """

    made: Made
    ways: tuple[Watered, ...]
    thirsty: tuple[Thirsty, ...]
    unknown: tuple[str, ...]


def watering_worth(path: Path, seasons: int = SEASONS, seed: int = 1) -> WateringTold:
    """Live a notebook's plan through the same seasons, watered in each way.

    Raises
    ------
    FaultsFoundError
        When there is no plan, no rain is known, or the number of seasons is out of bounds.
    """
    refuse_seasons(seasons)
    return watering_worth_of(kept_plan(path, UNLAID), seasons, seed)


def watering_worth_of(made: Made, seasons: int, seed: int) -> WateringTold:
    """Live a plan through the same seasons, watered in each way.

    Raises
    ------
    FaultsFoundError
        When no rain is known.
    """
    setting = setting_in(made.garden, made.catalogue, made.plan, seed)
    come = comings(made.plan, setting.kinds, setting.weather)
    drought = Drought(made.garden, made.catalogue, made.plan, setting.weather)
    hows = [how for how in WateredHow if how is not WateredHow.TANKS or made.garden.tanks]
    ways, dry = [], Thirst({}, ())
    for how in hows:
        dry = drought.thirst(how)
        odds = odds_of_comings(setting, made.plan, thirsting(come, dry), seasons, seed)
        ways.append(Watered(how, odds))
    return WateringTold(
        made,
        tuple(ways),
        _thirstiest(made, dry),
        tuple(made.names.get(kind, kind) for kind in drought.unknown),
    )


def _thirstiest(made: Made, dry: Thirst) -> tuple[Thirsty, ...]:
    """Give the plantings that lose most."""
    plantings = {planting.id: planting for planting in made.plan.plantings}
    lost = {
        planting: 1 - float(left.mean()) for (planting, year), left in dry.left.items() if year <= 0
    }
    most = sorted(lost, key=lambda planting: (-lost[planting], planting))[:THIRSTIEST]
    return tuple(Thirsty(id_, plantings[id_].kind, plantings[id_].bed, lost[id_]) for id_ in most)


def as_data(told: WateringTold) -> Mapping[str, object]:
    """Give what watering is worth as plain data."""
    return {
        "ways": [
            {
                "watered": way.how.value,
                "eaten_kg": way.odds.eaten_kg,
                "sure_promises": way.sure,
                "promises": way.odds.promises,
            }
            for way in told.ways
        ],
        "thirsty": told.thirsty,
        "taken_as_watered": told.unknown,
    }
