"""How fast a lot ages against the usual, as looking it through tells."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from functools import lru_cache
from math import log

import numpy as np
from numpy.typing import NDArray

from haulm.measure.weeks import DAYS_A_WEEK

Floats = NDArray[np.float64]
WIDEST = log(4.0)
"""No lot is thought to age more than four times as fast, or as slowly, as its kind."""
STEPS = 161
_LOGS = np.linspace(-WIDEST, WIDEST, STEPS)
_PACES = np.exp(_LOGS)
LEAST_SPREAD = 0.02
"""No lot's pace is thought to be known better than this, about one step of the grid."""
NEVER_QUITE = 1e-6


@dataclass(frozen=True, slots=True)
class Pace:
    """How fast a lot ages against its kind: lognormal.

    ``usual`` is the middle pace [1], ``spread`` the standard deviation of its logarithm [1].
    """

    usual: float
    spread: float


def age_weeks(put_by: date, day: date) -> float:
    """Give a lot's age on a day [weeks]."""
    return (day - put_by).days / DAYS_A_WEEK


def sound_at(sound: Sequence[float], age: float, pace: float = 1.0) -> float:
    """Give the share of a lot still sound at an age, at a pace of its own [1].

    Between whole weeks of the usual curve it runs straight; 0 once it is past keeping.
    """
    weeks = max(age, 0.0) * pace
    last = len(sound) - 1
    if weeks > last:
        return 0.0
    week = int(weeks)
    if week == last:
        return float(sound[last])
    return float(sound[week] + (weeks - week) * (sound[week + 1] - sound[week]))


def pace_after(
    sound: Sequence[float],
    ages: tuple[float, float],
    found: tuple[float, float],
    before: Pace,
) -> Pace:
    """Give the pace of ageing that a count makes likely.

    The pace is lognormal before; each piece found sound or lost since the last count is one draw
    with the chance S(r·age) / S(r·age before). What is given are the mean and the standard
    deviation of log r after, over a grid of paces from a quarter to four times the usual; the next
    count begins with them.

    Parameters
    ----------
    sound
        The usual sound share by whole week of age.
    ages
        The lot's age at the count before (0: none) and at this one [weeks].
    found
        Pieces found sound, and lost (soft or sprouted).
    before
        What was thought of its pace before this count.
    """
    earlier, now = ages
    whole, lost = found
    if now <= earlier or whole + lost <= 0:
        return before
    logs, paces = _LOGS, _PACES
    weeks, usual = _table(tuple(sound))
    then = np.interp(now * paces, weeks, usual, right=0.0)
    share = then / np.maximum(np.interp(earlier * paces, weeks, usual, right=0.0), NEVER_QUITE)
    share = np.clip(share, NEVER_QUITE, 1 - NEVER_QUITE)
    apart = logs - log(before.usual)
    weight = whole * np.log(share) + lost * np.log1p(-share) - apart**2 / (2 * before.spread**2)
    chance = np.exp(weight - weight.max())
    chance /= chance.sum()
    mean = float((logs * chance).sum())
    spread = float(np.sqrt(((logs - mean) ** 2 * chance).sum()))
    return Pace(float(np.exp(mean)), max(spread, LEAST_SPREAD))


@lru_cache(maxsize=1024)
def _table(sound: tuple[float, ...]) -> tuple[Floats, Floats]:
    """Give whole weeks of age, and the sound share at each, as arrays."""
    return np.arange(len(sound), dtype=np.float64), np.asarray(sound, dtype=np.float64)
