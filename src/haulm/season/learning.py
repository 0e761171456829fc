"""What a household's own records make of a usual figure: closed forms, with the weight shown.

Every figure is taken as usual for gardens at large, spread between them, and to vary anew each year
within one. The household's records say where among gardens its own lies. What is given back is the
mean for this garden, how sure that is, what next year may bring, and how much of the answer is
still the catalogue's. Normal with known variances, and beta with counts: Gelman et al., *Bayesian
Data Analysis*, conjugate families (from memory; the tests hold them to adding up every mean).
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import sqrt

import numpy as np
from scipy.stats import beta

from haulm.measure.chance import DECILE
from haulm.season.rules import season_rules


@dataclass(frozen=True, slots=True)
class Prior:
    """A figure as it is usual among gardens, on the scale on which it is normal.

    Attributes
    ----------
    mean
        The usual figure.
    between
        Standard deviation between gardens.
    within
        Standard deviation from planting to planting within one garden.
    year_share
        Of the variance within, the share that all plantings of a year have in common [1].
    """

    mean: float
    between: float
    within: float
    year_share: float = 0.0


@dataclass(frozen=True, slots=True)
class Seen:
    """One record: its value on the prior's scale, its year, and the entry it is from."""

    value: float
    year: int
    entry: str


@dataclass(frozen=True, slots=True)
class Learnt:
    """What a figure is for this household.

    Attributes
    ----------
    mean
        Its mean here.
    low, high
        What the mean lies between in 8 cases of 10.
    next_low, next_high
        What one planting of next year lies between in 8 years of 10.
    prior_weight
        The share of the answer that is the catalogue's [1].
    records
        How many records it rests on.
    asked
        Records so far from what was to be expected that they do not count until they are confirmed.
    """

    mean: float
    low: float
    high: float
    next_low: float
    next_high: float
    prior_weight: float
    records: int
    asked: tuple[Seen, ...] = ()


def learn(prior: Prior, seen: Sequence[Seen], confirmed: frozenset[str] = frozenset()) -> Learnt:
    """Move a usual figure by a household's records.

    With μ the garden's own mean, μ ~ N(m, τ²); records y = μ + year + planting, of variance
    σ²·share for the year and σ²·(1 − share) for the planting. So y has the covariance
    Σ = σ²((1 − share) I + share · [same year]), and μ after is normal with precision
    1/τ² + 1ᵀΣ⁻¹1 and mean (m/τ² + 1ᵀΣ⁻¹y) / (1/τ² + 1ᵀΣ⁻¹1).

    Parameters
    ----------
    prior
        The usual figure.
    seen
        The records.
    confirmed
        Entries that the grower has said are right, however odd.
    """
    counted = list(seen)
    asked: list[Seen] = []
    while counted:
        odd = _oddest(prior, counted, confirmed)
        if odd is None:
            break
        counted.remove(odd)
        asked.append(odd)
    mean, deviation, weight = _after(prior, counted)
    ahead = sqrt(deviation**2 + prior.within**2)
    return Learnt(
        mean=mean,
        low=mean - DECILE * deviation,
        high=mean + DECILE * deviation,
        next_low=mean - DECILE * ahead,
        next_high=mean + DECILE * ahead,
        prior_weight=weight,
        records=len(counted),
        asked=tuple(asked),
    )


def _after(prior: Prior, seen: Sequence[Seen]) -> tuple[float, float, float]:
    """Give mean and standard deviation of the garden's own mean, and the prior's weight in it."""
    before = 1 / prior.between**2
    if not seen:
        return prior.mean, prior.between, 1.0
    years = np.array([one.year for one in seen])
    values = np.array([one.value for one in seen])
    same = (years[:, None] == years[None, :]).astype(np.float64)
    sigma = prior.within**2 * ((1 - prior.year_share) * np.eye(len(seen)) + prior.year_share * same)
    tells = np.linalg.solve(sigma, np.ones(len(seen)))
    precision = before + float(tells.sum())
    mean = (before * prior.mean + float(tells @ values)) / precision
    return mean, sqrt(1 / precision), before / precision


def _oddest(prior: Prior, seen: Sequence[Seen], confirmed: frozenset[str]) -> Seen | None:
    """Find the record furthest from what the others make likely, if it is too far to be taken."""
    found: tuple[float, Seen] | None = None
    for one in seen:
        if one.entry in confirmed:
            continue
        others = [other for other in seen if other is not one]
        mean, deviation, _ = _after(prior, others)
        apart = abs(one.value - mean) / sqrt(deviation**2 + prior.within**2)
        if apart > season_rules().ask_beyond.value and (found is None or apart > found[0]):
            found = apart, one
    return None if found is None else found[1]


@dataclass(frozen=True, slots=True)
class CountSeen:
    """One count: how many came through of how many, and the entry it is from."""

    through: float
    of: float
    entry: str


@dataclass(frozen=True, slots=True)
class ShareLearnt:
    """A share for this household: its mean, what it lies between in 8 cases of 10, the weight."""

    mean: float
    low: float
    high: float
    prior_weight: float
    records: int


def learn_share(usual: float, seen: Sequence[CountSeen]) -> ShareLearnt:
    """Move a usual share (germination, survival) by counts.

    A beta of the usual mean, as strong as some counted plants; a count of n plants of one bed
    counts for n / (1 + (n − 1) ρ), since their fates are alike.

    Parameters
    ----------
    usual
        The catalogue's share, above 0 and under 1 [1].
    seen
        The counts; more through than there were counts as all.
    """
    rules = season_rules()
    strength, alike = rules.count_strength.value, rules.alike.value
    through, lost = usual * strength, (1 - usual) * strength
    for one in seen:
        if one.of <= 0:
            continue
        tells = 1 / (1 + max(one.of - 1, 0.0) * alike)
        came = min(one.through, one.of)
        through += came * tells
        lost += (one.of - came) * tells
    whole = through + lost
    return ShareLearnt(
        mean=through / whole,
        low=float(beta.ppf(0.1, through, lost)),
        high=float(beta.ppf(0.9, through, lost)),
        prior_weight=strength / whole,
        records=len(seen),
    )
