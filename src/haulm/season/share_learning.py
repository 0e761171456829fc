"""What counts make of a usual share: seed that comes up, plants that live, seed on damp paper."""

from collections.abc import Sequence
from dataclasses import dataclass

from scipy.special import betaincinv, ndtr

from haulm.measure.chance import beta_binomial_tails
from haulm.season.rules import season_rules


@dataclass(frozen=True, slots=True)
class CountSeen:
    """One count: how many came through of how many, and the entry it is from."""

    through: float
    of: float
    entry: str


@dataclass(frozen=True, slots=True)
class ShareLearnt:
    """A share for this household.

    Attributes
    ----------
    mean, low, high
        Its mean, and what it lies between in 8 cases of 10 [1].
    prior_weight
        The share of the answer that is the catalogue's [1].
    counted
        The entries it rests on.
    asked
        Counts so far from what was to be expected that they do not count until confirmed.
    """

    mean: float
    low: float
    high: float
    prior_weight: float
    counted: tuple[str, ...]
    asked: tuple[CountSeen, ...] = ()

    @property
    def records(self) -> int:
        """How many counts it rests on."""
        return len(self.counted)


def learn_share(
    usual: float, seen: Sequence[CountSeen], confirmed: frozenset[str] = frozenset()
) -> ShareLearnt:
    """Move a usual share (germination, survival) by counts.

    A beta of the usual mean, as strong as some counted plants; a count of n plants of one bed
    counts for n / (1 + (n − 1) ρ), since their fates are alike.

    Parameters
    ----------
    usual
        The catalogue's share, above 0 and under 1 [1].
    seen
        The counts; more through than there were counts as all, and none of none tells nothing.
    confirmed
        Entries that the grower has said are right, however odd.
    """
    counted = [one for one in seen if one.of > 0]
    asked: list[CountSeen] = []
    strength = season_rules().count_strength.value
    while (odd := _oddest(usual, counted, confirmed)) is not None:
        counted.remove(odd)
        asked.append(odd)
    through, lost = _after(usual, counted)
    return ShareLearnt(
        mean=through / (through + lost),
        low=float(betaincinv(through, lost, 0.1)),
        high=float(betaincinv(through, lost, 0.9)),
        prior_weight=strength / (through + lost),
        counted=tuple(one.entry for one in counted),
        asked=tuple(asked),
    )


def tells(of: float) -> float:
    """Give how many plants that stand apart tell as much as so many of one bed."""
    return of / (1 + max(of - 1, 0.0) * season_rules().alike.value)


def _share(one: CountSeen) -> float:
    return min(one.through, one.of) / one.of


def _after(usual: float, seen: Sequence[CountSeen]) -> tuple[float, float]:
    """Give the two parameters of the beta after some counts."""
    strength = season_rules().count_strength.value
    through = usual * strength + sum(tells(one.of) * _share(one) for one in seen)
    lost = (1 - usual) * strength + sum(tells(one.of) * (1 - _share(one)) for one in seen)
    return through, lost


def _oddest(usual: float, seen: Sequence[CountSeen], confirmed: frozenset[str]) -> CountSeen | None:
    """Find the count that the others make least likely, if it is too unlikely to be taken.

    By the beta-binomial of as many plants as the count tells of, in its two tails.
    """
    through, lost = _after(usual, seen)
    least: tuple[float, CountSeen] | None = None
    for one in seen:
        if one.entry in confirmed:
            continue
        own, share = tells(one.of), _share(one)
        others = through - own * share, lost - own * (1 - share)
        number = max(1, round(own))
        came = round(share * number)
        chance = 2 * min(beta_binomial_tails(came, number, *others))
        if least is None or chance < least[0]:
            least = chance, one
    beyond = 2 * float(ndtr(-season_rules().ask_beyond.value))
    return least[1] if least is not None and least[0] < beyond else None
