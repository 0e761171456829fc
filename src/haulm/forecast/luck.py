"""What chance deals to each season: its weather, its yields, how its stores keep, its appetite."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import sqrt

import numpy as np
from numpy.typing import NDArray

from haulm.forecast.records import Coming, Floats, Luck
from haulm.forecast.rules import forecast_rules
from haulm.measure.weeks import WEEKS_A_YEAR


@dataclass(frozen=True, slots=True)
class Dealt:
    """To what chance deals: the plan's comings, its lines, its stores and its weeks."""

    comings: Sequence[Coming]
    lines: Sequence[str]
    stores: Sequence[str]
    weeks: int


def draw_luck(dealt: Dealt, seasons: int, seed: int) -> Luck:
    """Draw the luck of many seasons.

    Parameters
    ----------
    dealt
        What chance deals to.
    seasons
        How many seasons.
    seed
        The seed: the same gives the same seasons.

    Notes
    -----
    Runs of weather are dealt evenly. A yield is lognormal about a mean of 1, with the spread of
    its catalogue figure; of its variance a share is the year's, a share its crop's in that year,
    and the rest its planting's own (``data/rules.toml``). All foods of one planting share its
    luck. A planting that fails gives nothing; the others give so much more that the mean is kept.
    """
    rng = np.random.default_rng(seed)
    runs = dealt.comings[0].first_week.size if dealt.comings else 1
    run = rng.permuted(np.arange(seasons) % runs)
    rules = forecast_rules()
    return Luck(
        run=run,
        yields=_yields(dealt.comings, run, rng),
        ageing={
            store: np.exp(rules.keeping_spread.value * rng.standard_normal(seasons))
            for store in dealt.stores
        },
        wants={line: _wants(dealt.weeks, seasons, rng) for line in dealt.lines},
    )


def _yields(
    comings: Iterable[Coming], run: NDArray[np.int64], rng: np.random.Generator
) -> dict[tuple[str, str], Floats]:
    """Draw the yield of every planting's every food against its mean."""
    rules = forecast_rules()
    of_year, of_crop = rules.year_share.value, rules.crop_share.value
    fails = rules.failure_share.value
    years: dict[int, Floats] = {}
    crops: dict[tuple[str, int], Floats] = {}
    own: dict[str, tuple[Floats, NDArray[np.bool_]]] = {}
    yields = {}
    for coming in comings:
        year = int(np.median(coming.first_week)) // WEEKS_A_YEAR
        if year not in years:
            years[year] = rng.standard_normal(run.size)
        if (coming.crop, year) not in crops:
            crops[coming.crop, year] = rng.standard_normal(run.size)
        if coming.planting not in own:
            own[coming.planting] = rng.standard_normal(run.size), rng.random(run.size) >= fails
        alone, stands = own[coming.planting]
        deviate = (
            sqrt(of_year) * years[year]
            + sqrt(of_crop) * crops[coming.crop, year]
            + sqrt(1 - of_year - of_crop) * alone
        )
        factor = np.exp(coming.spread * deviate - coming.spread**2 / 2) / (1 - fails)
        yields[coming.planting, coming.food] = factor * stands
    return yields


def _wants(weeks: int, seasons: int, rng: np.random.Generator) -> Floats:
    """Draw what one line wants against what was told, shape (seasons, weeks), about a mean of 1."""
    rules = forecast_rules()
    season, week = rules.appetite_spread.value, rules.appetite_week_spread.value
    deviate = season * rng.standard_normal((seasons, 1)) + week * rng.standard_normal(
        (seasons, weeks)
    )
    return np.asarray(np.exp(deviate - (season**2 + week**2) / 2))
