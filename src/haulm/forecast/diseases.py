"""Diseases by name: whom they strike, how often, and what they take."""

import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum
from functools import cache, cached_property
from importlib.resources import files
from statistics import NormalDist
from typing import Any

import numpy as np

from haulm.catalogue.figures import Basis, Figure
from haulm.forecast.blight import occasion_odds
from haulm.forecast.records import Coming, Floats
from haulm.measure.chance import DECILE

_GRID = 2001


class LivesIn(StrEnum):
    """Where a disease waits: it comes by air, or it is in a bed's soil."""

    AIR = "air"
    SOIL = "soil"


@dataclass(frozen=True)
class DiseaseChance:
    """How a disease strikes.

    Attributes
    ----------
    id, name
        Which; the id is the catalogue's where that has it.
    families, crops
        Whose plantings it strikes.
    lives_in
        By air it strikes all its hosts of a year together; from soil all that stand in one bed.
    chance
        Of a year, or of a bed; with ``from_weather`` of each occasion that the weather gives [1].
    takes
        The share of the yield that it takes, with the bounds of eight years in ten [1].
    from_weather
        Whether the weather says when it may come (late blight).
    open_air_only
        Whether it spares what grows under a tunnel or glass.
    """

    id: str
    name: str
    families: tuple[str, ...]
    crops: tuple[str, ...]
    lives_in: LivesIn
    chance: Figure
    takes: Figure
    from_weather: bool = False
    open_air_only: bool = False

    @property
    def in_soil(self) -> bool:
        """Whether all that stands in a bed shares it."""
        return self.lives_in is LivesIn.SOIL

    def strikes(self, coming: Coming) -> bool:
        """Say whether a planting is of its hosts."""
        host = coming.family in self.families or coming.crop in self.crops
        return host and not (self.open_air_only and coming.under_cover)

    def shared_as(self, coming: Coming) -> str:
        """Name the luck that a planting shares with others: the year's, or its bed's."""
        if self.in_soil:
            return f"{self.id} in {coming.bed or coming.planting}"
        return f"{self.id} in year {coming.year}"

    def taken(self, deviate: Floats) -> Floats:
        """Give the share taken, for a standard normal deviate of how hard it strikes [1]."""
        middle = self.takes.value
        low = middle if self.takes.low is None else self.takes.low
        high = middle if self.takes.high is None else self.takes.high
        side = np.where(deviate < 0, middle - low, high - middle)
        return np.clip(middle + side * deviate / DECILE, 0.0, 1.0)

    @cached_property
    def left_moments(self) -> tuple[float, float]:
        """Give mean and mean square of the share that it leaves where it strikes [1]."""
        even = (np.arange(_GRID) + 0.5) / _GRID
        left = 1 - self.taken(np.array([NormalDist().inv_cdf(share) for share in even]))
        return float(left.mean()), float((left**2).mean())


@cache
def disease_chances() -> tuple[DiseaseChance, ...]:
    """Read the diseases that the forecast knows."""
    text = files("haulm.forecast").joinpath("data", "diseases.toml").read_text(encoding="utf-8")
    return tuple(_read(id_, entry) for id_, entry in tomllib.loads(text).items())


def _read(id_: str, entry: Mapping[str, Any]) -> DiseaseChance:
    """Make one disease of its entry."""
    figures = {
        name: Figure(**entry[name] | {"basis": Basis(entry[name]["basis"])})
        for name in ("chance", "takes")
    }
    told = {
        "families": tuple(entry["families"]),
        "crops": tuple(entry["crops"]),
        "lives_in": LivesIn(entry["lives_in"]),
    }
    return DiseaseChance(id=id_, **{**entry, **figures, **told})


def diseases_of(coming: Coming, known: Iterable[DiseaseChance]) -> tuple[DiseaseChance, ...]:
    """Give the diseases that may strike a planting."""
    return tuple(disease for disease in known if disease.strikes(coming))


def left_by(disease: DiseaseChance, coming: Coming) -> tuple[float, float]:
    """Give mean and mean square of what a disease leaves a planting, struck or not [1]."""
    chance = disease.chance.value
    if disease.from_weather and coming.blight is not None:
        left, odds = coming.blight.left, occasion_odds(chance)
        return float(odds @ left.mean(axis=1)), float(odds @ (left**2).mean(axis=1))
    mean, square = disease.left_moments
    return 1 - chance * (1 - mean), 1 - chance * (1 - square)
