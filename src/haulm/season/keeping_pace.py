"""How fast a lot ages against the usual, as looking it through tells."""

from collections.abc import Sequence
from datetime import date
from math import log

import numpy as np

from haulm.measure.weeks import DAYS_A_WEEK

WIDEST = log(4.0)
"""No lot is thought to age more than four times as fast, or as slowly, as its kind."""
STEPS = 161
NEVER_QUITE = 1e-6


def age_weeks(put_by: date, day: date) -> float:
    """Give a lot's age on a day [weeks]."""
    return (day - put_by).days / DAYS_A_WEEK


def sound_at(sound: Sequence[float], age: float, pace: float = 1.0) -> float:
    """Give the share of a lot still sound at an age, at a pace of its own [1].

    Between whole weeks of the usual curve it runs straight; 0 once it is past keeping.
    """
    weeks = max(age, 0.0) * pace
    return float(np.interp(weeks, np.arange(len(sound)), sound, right=0.0))


def pace_after(
    sound: Sequence[float],
    ages: tuple[float, float],
    found: tuple[float, float],
    spread: float,
) -> float:
    """Give the pace of ageing that a count makes likely [1].

    The pace is lognormal about 1 before; each piece found sound or lost since the last count is
    one draw with the chance S(r·age) / S(r·age before). What is given is the mean of log r after,
    over a grid of paces from a quarter to four times the usual.

    Parameters
    ----------
    sound
        The usual sound share by whole week of age.
    ages
        The lot's age at the count before (0: none) and at this one [weeks].
    found
        Pieces found sound, and lost (soft or sprouted).
    spread
        Standard deviation of log pace before anything was counted [1].
    """
    before, now = ages
    whole, lost = found
    if now <= before or whole + lost <= 0:
        return 1.0
    paces = np.exp(np.linspace(-WIDEST, WIDEST, STEPS))
    share = np.array(
        [sound_at(sound, now, r) / max(sound_at(sound, before, r), NEVER_QUITE) for r in paces]
    )
    share = np.clip(share, NEVER_QUITE, 1 - NEVER_QUITE)
    weight = whole * np.log(share) + lost * np.log1p(-share) - np.log(paces) ** 2 / (2 * spread**2)
    chance = np.exp(weight - weight.max())
    return float(np.exp((np.log(paces) * chance).sum() / chance.sum()))
