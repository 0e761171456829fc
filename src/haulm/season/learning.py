"""What a household's own records make of a usual figure: closed forms, with the weight shown.

Every figure is taken as usual for gardens at large, spread between them, and to vary anew each year
within one. The household's records say where among gardens its own lies. What is given back is the
mean for this garden, how sure that is, what next year may bring, and how much of the answer is
still the catalogue's. Normal with known variances: Gelman et al., *Bayesian Data Analysis*,
conjugate families (from memory; the tests hold them to adding up every mean). Shares and keeping
have rooms of their own: `share_learning`, `keeping_learning`.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import sqrt

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
    counted
        The entries it rests on.
    asked
        Records so far from what was to be expected that they do not count until they are confirmed.
    """

    mean: float
    low: float
    high: float
    next_low: float
    next_high: float
    prior_weight: float
    counted: tuple[str, ...]
    asked: tuple[Seen, ...] = ()

    @property
    def records(self) -> int:
        """How many records it rests on."""
        return len(self.counted)


def learn(prior: Prior, seen: Sequence[Seen], confirmed: frozenset[str] = frozenset()) -> Learnt:
    """Move a usual figure by a household's records.

    With μ the garden's own mean, μ ~ N(m, τ²); records y = μ + year + planting, of variance
    σ²·s for the year and σ²·(1 − s) for the planting. The n records of one year, of mean ȳ, tell
    of μ with the precision w = n / (σ²(1 − s + s·n)), so that μ after is normal with the precision
    1/τ² + Σw and the mean (m/τ² + Σw·ȳ) / (1/τ² + Σw).

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
    tally = _Tally(prior, counted)
    while (odd := _oddest(tally, counted, confirmed)) is not None:
        counted.remove(odd)
        asked.append(odd)
        tally.leave_out(odd)
    mean, variance = tally.after()
    ahead = sqrt(variance + prior.within**2)
    return Learnt(
        mean=mean,
        low=mean - DECILE * sqrt(variance),
        high=mean + DECILE * sqrt(variance),
        next_low=mean - DECILE * ahead,
        next_high=mean + DECILE * ahead,
        prior_weight=variance / prior.between**2,
        counted=tuple(one.entry for one in counted),
        asked=tuple(asked),
    )


class _Tally:
    """Records summed up by year: all that the closed form needs of them."""

    def __init__(self, prior: Prior, seen: Iterable[Seen]) -> None:
        self._prior = prior
        self._years: dict[int, tuple[int, float]] = {}
        self._precision, self._pull = 1 / prior.between**2, prior.mean / prior.between**2
        for one in seen:
            self._change(one, 1)

    def leave_out(self, one: Seen) -> None:
        """Take a record out."""
        self._change(one, -1)

    def after(self) -> tuple[float, float]:
        """Give mean and variance of the garden's own mean."""
        return self._pull / self._precision, 1 / self._precision

    def apart(self, one: Seen) -> float:
        """Give how far a record lies from what the others make likely [standard deviations].

        Given the others, with n of mean ȳ in its own year, y = (1 − k)μ + k·ȳ + rest, where
        k = s·n / (1 − s + s·n) and the rest has the variance σ²(1 − s·k).
        """
        self.leave_out(one)
        mean, variance = self.after()
        number, total = self._years.get(one.year, (0, 0.0))
        self._change(one, 1)
        share, within = self._prior.year_share, self._prior.within
        alike = share * number / (1 - share + share * number) if number else 0.0
        likely = (1 - alike) * mean + (alike * total / number if number else 0.0)
        deviation = sqrt((1 - alike) ** 2 * variance + within**2 * (1 - share * alike))
        return abs(one.value - likely) / deviation

    def _change(self, one: Seen, by: int) -> None:
        number, total = self._years.get(one.year, (0, 0.0))
        self._weigh(number, total, -1)
        number, total = number + by, total + by * one.value
        self._weigh(number, total, 1)
        self._years[one.year] = number, total

    def _weigh(self, number: int, total: float, sign: int) -> None:
        if number == 0:
            return
        share, within = self._prior.year_share, self._prior.within
        each = 1 / (within**2 * (1 - share + share * number))
        self._precision += sign * number * each
        self._pull += sign * total * each


def _oddest(tally: _Tally, seen: Sequence[Seen], confirmed: frozenset[str]) -> Seen | None:
    """Find the record furthest from what the others make likely, if it is too far to be taken."""
    apart = [(tally.apart(one), one) for one in seen if one.entry not in confirmed]
    furthest = max(apart, key=lambda found: found[0], default=None)
    if furthest is None or furthest[0] <= season_rules().ask_beyond.value:
        return None
    return furthest[1]
