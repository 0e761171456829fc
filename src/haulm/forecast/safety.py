"""How much of its mean yield a planting may be counted for, so that a promise holds."""

from collections.abc import Hashable, Mapping
from math import exp, log, sqrt
from statistics import NormalDist
from typing import TypeVar

from haulm.measure.chance import DECILE

Food = TypeVar("Food", bound=Hashable)
"""Whatever names a food, or a food of one year."""

LEAST_COUNTED = 0.3
"""No food is counted for less of its mean than this [1]: what is so unsure cannot be promised."""

SURE = 0.995
"""Odds nearer to never or always than this are not told apart by a few thousand seasons."""

_deviate = NormalDist().inv_cdf


def yield_spread(low: float, high: float) -> float:
    """Give the spread of a lognormal yield that lies between two bounds in 8 years of 10 [1].

    The standard deviation of its logarithm, ln(high / low) / (2 Φ⁻¹(0.9)); both in one unit.
    """
    return log(high / low) / (2 * DECILE)


def counted_share(
    spread: float, certainty: float, plantings: float = 1.0, alike: float = 1.0
) -> float:
    """Give the share of its mean that several plantings together reach in so many years [1].

    The quantile of a lognormal yield of mean 1, exp(s Φ⁻¹(1 − c) − s² / 2). For one planting the
    ground for a promise is then need / (mean × share), the newsvendor's closed form. Several
    plantings of which pairs are ``alike`` spread the risk:
    s² = ln(1 + (eˢ² − 1)(ρ + (1 − ρ) / n)), after Fenton (1960, from memory), whose sum of
    lognormals keeps mean and variance.

    Parameters
    ----------
    spread
        Standard deviation of the logarithm of one planting's yield [1].
    certainty
        Share of years in which the promise is to hold [1].
    plantings
        How many plantings share the promise.
    alike
        Correlation of their yields [1].
    """
    variance = (exp(spread**2) - 1) * (alike + (1 - alike) / plantings)
    together = sqrt(log(1 + variance))
    return float(exp(together * _deviate(1 - certainty) - together**2 / 2))


def recounted(
    counted: Mapping[Food, float],
    held: Mapping[Food, float],
    certainty: float,
    spread: Mapping[Food, float],
) -> dict[Food, float]:
    """Count each food for more or less, by how often its promises held in a trial.

    A food is moved along its own lognormal: by as many standard deviations as its promises lie
    from the certainty wanted.

    Parameters
    ----------
    counted
        By food: the share of its mean it was counted for [1].
    held
        By food: in what share of seasons the least sure of its promises held [1]; foods that no
        promise rests on are left as they are.
    certainty
        Share of years in which promises are to hold [1].
    spread
        By food: standard deviation of the logarithm of what is lifted of it in a year [1].
    """
    moved = dict(counted)
    for food, share in held.items():
        if food in counted:
            bounded = min(max(share, 1 - SURE), SURE)
            off = float(_deviate(certainty) - _deviate(bounded))
            moved[food] = min(max(counted[food] * exp(-spread[food] * off), LEAST_COUNTED), 1.2)
    return moved
