"""What chance deals to each season: its weather, its yields, how its stores keep, its appetite."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import gcd, log, sqrt

import numpy as np
from numpy.typing import NDArray

from haulm.catalogue.records import Picking
from haulm.forecast.blight import occasion_of
from haulm.forecast.dice import Dice
from haulm.forecast.diseases import DiseaseChance, diseases_of, left_by
from haulm.forecast.records import Coming, Floats, Luck
from haulm.forecast.rules import forecast_rules


@dataclass(frozen=True, slots=True)
class Dealt:
    """To what chance deals: the plan's comings, its lines, its stores, its weeks, and diseases."""

    comings: Sequence[Coming]
    lines: Sequence[str]
    stores: Sequence[str]
    weeks: int
    diseases: Sequence[DiseaseChance] = ()


def draw_luck(dealt: Dealt, seasons: int, seed: int, first: int = 0) -> Luck:
    """Draw the luck of many seasons.

    Parameters
    ----------
    dealt
        What chance deals to.
    seasons
        How many seasons.
    seed
        The seed: the same gives the same seasons, in however many parts they are drawn.
    first
        The first of them, counted from 0.

    Notes
    -----
    Runs of weather are dealt evenly, and far apart one after another, so that a few seasons have
    some of all of them. A yield is lognormal about a mean of 1,
    with the spread of its catalogue figure; of its variance a share is the year's, a share its
    crop's in that year, and the rest its planting's own (``data/rules.toml``). All foods of one
    planting share its luck. A planting that fails gives nothing; the others give so much more that
    the mean is kept, and likewise with every disease (``data/diseases.toml``), whose variance is
    taken out of the lognormal's.
    """
    dice = Dice(seed, first, seasons)
    runs = dealt.comings[0].first_week.size if dealt.comings else 1
    run = np.arange(first, first + seasons) * _stride(runs) % runs
    rules = forecast_rules()
    yields = _Yields(dealt, dice, run)
    return Luck(
        run=run,
        yields={(one.planting, one.food): yields.of(one) for one in dealt.comings},
        ageing={
            store: np.exp(rules.keeping_spread.value * dice.normal(f"keeping in {store}"))
            for store in dealt.stores
        },
        wants={line: _wants(line, dealt.weeks, dice) for line in dealt.lines},
        blighted=yields.blighted,
    )


def _stride(runs: int) -> int:
    """Give a step that visits every run once, near runs over the golden ratio."""
    step = max(1, round(runs * (sqrt(5) - 1) / 2))
    while gcd(step, runs) != 1:
        step += 1
    return step


class _Yields:
    """Deals yields, each stream of chance drawn once however many plantings share it."""

    def __init__(self, dealt: Dealt, dice: Dice, run: NDArray[np.int64]) -> None:
        self._diseases = dealt.diseases
        self._dice = dice
        self._run = run
        self._normal: dict[str, Floats] = {}
        self._uniform: dict[str, Floats] = {}
        self.blighted: dict[tuple[str, str], NDArray[np.int64]] = {}

    def of(self, coming: Coming) -> Floats:
        """Deal one food of one planting its yield against its mean, shape (seasons,) [1]."""
        rules = forecast_rules()
        of_year, of_crop = rules.year_share.value, rules.crop_share.value
        fails = rules.failure_share.value
        diseases = diseases_of(coming, self._diseases)
        deviate = (
            sqrt(of_year) * self._deviate(f"year {coming.year}")
            + sqrt(of_crop) * self._deviate(f"{coming.crop} in year {coming.year}")
            + sqrt(1 - of_year - of_crop) * self._deviate(f"planting {coming.planting}")
        )
        spread = spread_beside(coming, diseases)
        factor = np.exp(spread * deviate - spread**2 / 2) / (1 - fails)
        stands = self._even(f"failure of {coming.planting}") >= fails
        for disease in diseases:
            factor = factor * self._left(disease, coming)
        return np.asarray(factor * stands)

    def _left(self, disease: DiseaseChance, coming: Coming) -> Floats:
        """Give what a disease leaves each season's planting, against what it leaves on average."""
        shared = disease.shared_as(coming)
        even = self._even(f"chance of {shared}")
        mean = left_by(disease, coming)[0]
        if disease.from_weather and coming.blight is not None:
            occasion = occasion_of(even, disease.chance.value)
            self.blighted[coming.planting, coming.food] = occasion
            if coming.picking is Picking.SPREAD:
                return np.full(even.size, 1 / mean)  # what it takes is not picked: see trial.py
            return coming.blight.left[occasion, self._run] / mean
        left = 1 - disease.taken(self._deviate(f"force of {shared}"))
        return np.where(even < disease.chance.value, left, 1.0) / mean

    def _deviate(self, name: str) -> Floats:
        if name not in self._normal:
            self._normal[name] = self._dice.normal(name)
        return self._normal[name]

    def _even(self, name: str) -> Floats:
        if name not in self._uniform:
            self._uniform[name] = self._dice.uniform(name)
        return self._uniform[name]


def spread_beside(coming: Coming, diseases: Sequence[DiseaseChance]) -> float:
    """Give what is left of a yield's spread when its diseases are dealt by themselves [1].

    Independent factors of mean 1 multiply their mean squares: what they bring, ln E[d²] each, is
    taken out of the lognormal's s², of which a least share stays (``data/rules.toml``).
    """
    variance = coming.spread**2
    for disease in diseases:
        mean, square = left_by(disease, coming)
        variance -= log(square / mean**2)
    return sqrt(max(variance, forecast_rules().least_own_variance.value * coming.spread**2))


def _wants(line: str, weeks: int, dice: Dice) -> Floats:
    """Draw what one line wants against what was told, shape (seasons, weeks), about a mean of 1."""
    rules = forecast_rules()
    season, week = rules.appetite_spread.value, rules.appetite_week_spread.value
    deviate = season * dice.normal(f"appetite for {line}")
    deviate = deviate + week * dice.normal(f"weeks' appetite for {line}", weeks)
    return np.exp(deviate - (season**2 + week**2) / 2).T
