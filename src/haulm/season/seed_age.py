"""What is left in a packet of seed: by its age, and by what sprouted on damp paper.

Among seeds of one lot ages at death are nearly normal, so that the probit of the living share
falls in a straight line with age: v = K − p/σ, the seed viability equation of Ellis and Roberts
(1980, *Annals of Botany* 45, 13-30: the reference from memory, the equation as printed since). K is
that of fresh seed, and σ such that half is left at the seed life of the published tables (judged).
"""

from dataclasses import dataclass
from enum import StrEnum

from scipy.special import betaincinv, ndtr, ndtri

from haulm.season.rules import season_rules

NEVER_QUITE = 0.005
"""No share is taken nearer than this to none or all: no packet is that certain."""


class SeedVerdict(StrEnum):
    """What to do about a packet before the order goes out."""

    KEEP = "keep"
    SOW_THICKER = "sow thicker"
    TEST = "test first"
    BUY = "buy anew"


@dataclass(frozen=True, slots=True)
class SeedTested:
    """Seeds of a packet laid on damp paper: how many sprouted of how many, at what age [years]."""

    sprouted: int
    tried: int
    age_years: int


@dataclass(frozen=True, slots=True)
class SeedNow:
    """What is left of a packet.

    Attributes
    ----------
    share, low, high
        The share that lives, and what it lies between in 8 cases of 10 [1]; None where neither its
        life is known nor a test was made.
    as_good_as
        How many fresh seeds one of it is worth [1]; 0 of what is to be bought anew.
    verdict
        What to do about it.
    """

    share: float | None
    low: float | None
    high: float | None
    as_good_as: float
    verdict: SeedVerdict

    @property
    def thicker(self) -> float:
        """How many times as thick it has to be sown as fresh seed [1]; 0 where it is not sown."""
        return 1 / self.as_good_as if self.as_good_as > 0 else 0.0


def living_share(age_years: float, life_years: float) -> float:
    """Give the share of seed, kept cool and dry, that still lives at an age [1].

    Φ(K · (1 − age / life)), with Φ(K) the share of fresh seed that lives: half at the seed life.

    Parameters
    ----------
    age_years
        Years since the year it was packed for [years].
    life_years
        The published seed life [years], above 0.
    """
    fresh = float(ndtri(season_rules().seed_fresh.value))
    return float(ndtr(fresh * (1 - age_years / life_years)))


def seed_now(age_years: int, life_years: float | None, tested: SeedTested | None = None) -> SeedNow:
    """Say what is left of a packet, and what to do about it.

    Its age tells as much as some seeds tried; a test is a beta moved by its count, and goes on
    ageing as the packet does. Where nobody knows how long the seed lives a test speaks for its own
    year only.

    Parameters
    ----------
    age_years
        Years since the year it was packed for [years].
    life_years
        The published seed life [years]; None where nobody has it.
    tested
        The newest test; None where none was made.
    """
    if tested is not None and life_years is None and tested.age_years < age_years:
        tested = None
    if tested is None and life_years is None:
        return SeedNow(None, None, None, 1.0, SeedVerdict.TEST)
    at = age_years if tested is None else min(tested.age_years, age_years)
    lives, dies = _by_age(at, life_years)
    if tested is not None:
        lives, dies = lives + tested.sprouted, dies + tested.tried - tested.sprouted
    told = (lives / (lives + dies), *(float(betaincinv(lives, dies, one)) for one in (0.1, 0.9)))
    share, low, high = (_aged(one, age_years - at, life_years) for one in told)
    verdict = _verdict(share, low, high, is_tested=tested is not None)
    worth = min(1.0, share / season_rules().seed_fresh.value)
    return SeedNow(share, low, high, 0.0 if verdict is SeedVerdict.BUY else worth, verdict)


def _by_age(age_years: int, life_years: float | None) -> tuple[float, float]:
    """Give the beta that a packet's age tells of; of an unknown life any share is as likely."""
    if life_years is None:
        return 1.0, 1.0
    share = min(max(living_share(age_years, life_years), NEVER_QUITE), 1 - NEVER_QUITE)
    strength = season_rules().seed_age_strength.value
    return share * strength, (1 - share) * strength


def _aged(share: float, years: int, life_years: float | None) -> float:
    if years <= 0 or life_years is None:
        return share
    fresh = float(ndtri(season_rules().seed_fresh.value))
    within = min(max(share, NEVER_QUITE), 1 - NEVER_QUITE)
    return float(ndtr(ndtri(within) - years * fresh / life_years))


def _verdict(share: float, low: float, high: float, *, is_tested: bool) -> SeedVerdict:
    rules = season_rules()
    if is_tested:
        if share < rules.seed_discard.value:
            return SeedVerdict.BUY
        return SeedVerdict.SOW_THICKER if share < rules.seed_thicker.value else SeedVerdict.KEEP
    if high < rules.seed_discard.value:
        return SeedVerdict.BUY
    return SeedVerdict.KEEP if low >= rules.seed_thicker.value else SeedVerdict.TEST
