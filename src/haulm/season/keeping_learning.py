"""What counts in store make of how long a kind keeps: a grid of paces, lot by lot."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import log

import numpy as np
from numpy.typing import NDArray

from haulm.season.keeping_pace import NEVER_QUITE
from haulm.season.rules import season_rules

Floats = NDArray[np.float64]

WIDEST = log(6.0)
"""No lot is thought to age more than six times as fast, or as slowly, as its kind usually does."""
STEPS = 241
TOLD_SHARES = (0.1, 0.9)


@dataclass(frozen=True, slots=True)
class Stretch:
    """What became of pieces of a lot between two of its ages [weeks].

    Attributes
    ----------
    from_weeks, to_weeks
        The ages.
    sound
        Pieces that were sound at the first age and at the second: found so, or eaten then.
    lost
        Pieces that were sound at the first age and soft, sprouted or thrown by the second.
    """

    from_weeks: float
    to_weeks: float
    sound: float
    lost: float


@dataclass(frozen=True, slots=True)
class LotSeen:
    """One lot: how it usually keeps, what was found of it, and the entry of its last count.

    ``sound`` is the usual sound share at each whole week of age, carried on to where next to
    nothing is left.
    """

    sound: tuple[float, ...]
    stretches: tuple[Stretch, ...]
    entry: str


@dataclass(frozen=True, slots=True)
class PaceLearnt:
    """How fast a kind ages in this household's stores, against the usual [1].

    Attributes
    ----------
    pace, low, high
        Its middle, and what it lies between in 8 cases of 10: 1 is usual, 2 twice as fast.
    prior_weight
        The share of the answer that is the catalogue's [1].
    counted, asked
        Entries of the lots it rests on, and of those too odd to count before they are confirmed.
    """

    pace: float
    low: float
    high: float
    prior_weight: float
    counted: tuple[str, ...]
    asked: tuple[str, ...] = ()

    @property
    def records(self) -> int:
        """How many lots it rests on."""
        return len(self.counted)


def learn_pace(
    lots: Sequence[LotSeen], spread: float, confirmed: frozenset[str] = frozenset()
) -> PaceLearnt:
    """Move the usual pace of ageing by what was found of a kind's lots in one form.

    With κ the household's own log pace, κ ~ N(0, σ²h); a lot's log pace ρ ~ N(κ, σ²(1 − h)); a
    piece sound at age a is sound at age b with the chance S(e^ρ b) / S(e^ρ a), each by itself. The
    posterior of κ is summed over a grid; its weight for the catalogue is its variance against the
    prior's.

    Parameters
    ----------
    lots
        The lots, each with its stretches.
    spread
        Standard deviation σ of log pace among lots at large [1].
    confirmed
        Entries that the grower has said are right, however odd.
    """
    share = season_rules().keeping_own_share.value
    between, within = spread * share**0.5, spread * (1 - share) ** 0.5
    kernel = np.exp(-((GRID[:, None] - GRID[None, :]) ** 2) / (2 * within**2))
    usual = -(GRID**2) / (2 * between**2)
    told = [_told(one, kernel) for one in lots]
    counted, asked = [*told], []
    while (odd := _oddest(counted, usual, confirmed, within)) is not None:
        counted.remove(odd)
        asked.append(odd)
    weights = _weights(sum((one.of_household for one in counted), usual))
    mean, variance = _moments(weights)
    low, high = (float(np.interp(one, np.cumsum(weights), GRID)) for one in TOLD_SHARES)
    return PaceLearnt(
        pace=float(np.exp(mean)),
        low=float(np.exp(low)),
        high=float(np.exp(high)),
        prior_weight=min(1.0, variance / between**2),
        counted=tuple(one.entry for one in counted),
        asked=tuple(one.entry for one in asked),
    )


@dataclass(frozen=True, slots=True, eq=False)
class _Told:
    """What one lot tells: log likelihood of the household's log pace; the lot's own, its spread."""

    entry: str
    of_household: Floats
    mean: float
    variance: float


GRID: Floats = np.linspace(-WIDEST, WIDEST, STEPS)


def _chances(lot: LotSeen) -> Floats:
    """Give how likely what was found of a lot is, at each log pace of the grid."""
    paces = np.exp(GRID)
    weeks = np.arange(len(lot.sound))
    told = np.zeros(STEPS)
    for one in lot.stretches:
        if one.to_weeks <= one.from_weeks:
            continue
        before = np.interp(one.from_weeks * paces, weeks, lot.sound)
        after = np.interp(one.to_weeks * paces, weeks, lot.sound)
        share = np.clip(after / np.maximum(before, NEVER_QUITE), NEVER_QUITE, 1 - NEVER_QUITE)
        told += one.sound * np.log(share) + one.lost * np.log1p(-share)
    likely: Floats = np.exp(told - told.max())
    return likely


def _told(lot: LotSeen, kernel: Floats) -> _Told:
    likely = _chances(lot)
    of_household = np.log(np.maximum(kernel @ likely, np.finfo(np.float64).tiny))
    return _Told(lot.entry, of_household, *_moments(likely / likely.sum()))


def _weights(told: Floats) -> Floats:
    weights: Floats = np.exp(told - told.max())
    weights /= weights.sum()
    return weights


def _moments(weights: Floats) -> tuple[float, float]:
    mean = float(weights @ GRID)
    return mean, float(weights @ (GRID - mean) ** 2)


def _oddest(
    counted: Sequence[_Told], usual: Floats, confirmed: frozenset[str], within: float
) -> _Told | None:
    """Find the lot whose own pace is furthest from what the others make likely, if too far.

    A lot of few pieces, or counted too soon, tells of no pace by itself, and is never odd.
    """
    together = sum((one.of_household for one in counted), usual)
    furthest: tuple[float, _Told] | None = None
    for one in counted:
        if one.entry in confirmed:
            continue
        mean, variance = _moments(_weights(together - one.of_household))
        apart = abs(one.mean - mean) / (variance + within**2 + one.variance) ** 0.5
        if furthest is None or apart > furthest[0]:
            furthest = apart, one
    if furthest is None or furthest[0] <= season_rules().ask_beyond.value:
        return None
    return furthest[1]
