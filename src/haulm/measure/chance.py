"""Figures of chance that several rooms need."""

from statistics import NormalDist

import numpy as np
from scipy.special import betaln, gammaln

DECILE = NormalDist().inv_cdf(0.9)
"""The standard normal deviate that one value in ten lies above."""


def beta_binomial_tails(came: int, of: int, through: float, lost: float) -> tuple[float, float]:
    """Give the chances that at most, and that at least, so many come through of a number [1].

    Of each the chance is drawn from a beta with the parameters ``through`` and ``lost``, both above
    0. ``scipy.stats`` has it too, and takes half a second to load, which every command would pay.

    Parameters
    ----------
    came, of
        How many come through, from 0 to how many there are.
    through, lost
        The beta's parameters.
    """
    some = np.arange(of + 1)
    ways = gammaln(of + 1) - gammaln(some + 1) - gammaln(of - some + 1)
    chances = np.exp(ways + betaln(some + through, of - some + lost) - betaln(through, lost))
    return float(chances[: came + 1].sum()), float(chances[came:].sum())
