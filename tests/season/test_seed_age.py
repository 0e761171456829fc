"""What is left in a packet: by age, by a test, and what to do about it."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.stats import beta, norm

from haulm.season.seed_age import SeedTested, SeedVerdict, living_share, seed_now


def test_fresh_seed_is_fresh_and_half_lives_at_its_life() -> None:
    """The curve goes through its two figures, whatever the seed's life."""
    for life in (1, 3, 6):
        assert living_share(0, life) == pytest.approx(0.9)
        assert living_share(life, life) == pytest.approx(0.5)


def test_the_probit_of_what_lives_falls_in_a_straight_line() -> None:
    """Ellis and Roberts (1980), v = K - p/sigma: equal years cost equal probits."""
    probits = [float(norm.ppf(living_share(age, 4))) for age in range(8)]
    steps = [was - now for was, now in pairwise(probits)]
    assert steps == pytest.approx([steps[0]] * 7)


@pytest.mark.parametrize("life", [1, 2, 4, 6])
def test_seed_is_kept_then_tested_then_bought_anew(life: int) -> None:
    """A packet is kept at first, is to be tested at its published life at the latest, and is bought
    anew once it is far past it; it never comes back.
    """
    verdicts = [seed_now(age, life).verdict for age in range(3 * life + 2)]
    order = [SeedVerdict.KEEP, SeedVerdict.TEST, SeedVerdict.BUY]
    ranks = [order.index(one) for one in verdicts]
    assert ranks == sorted(ranks)
    assert (verdicts[0], verdicts[life], verdicts[-1]) == tuple(order)


@pytest.mark.parametrize(
    ("sprouted", "verdict"),
    [(40, SeedVerdict.KEEP), (22, SeedVerdict.SOW_THICKER), (10, SeedVerdict.BUY)],
)
def test_a_test_decides(sprouted: int, verdict: SeedVerdict) -> None:
    """Under 40 % it is not sown, from 40 to 50 % thicker (common practice), above it is kept."""
    assert seed_now(1, 1, SeedTested(sprouted, 50, 1)).verdict is verdict


def test_a_test_moves_the_age_s_word_as_the_beta_says() -> None:
    """The share after a test is prior times chance added up over every share there could be."""

    def weight(share: float) -> float:
        return float(beta(5, 5).pdf(share)) * share**8 * (1 - share) ** 2

    whole = quad(weight, 0, 1)[0]
    mean = quad(lambda share: share * weight(share), 0, 1)[0] / whole
    assert seed_now(1, 1, SeedTested(8, 10, 1)).share == pytest.approx(mean, abs=1e-6)


def test_a_test_goes_on_ageing() -> None:
    """Seed that was good at its test is worse a year later, by what a year costs its kind."""
    fresh, later = (seed_now(age, 3, SeedTested(18, 20, 1)).share for age in (1, 2))
    assert fresh is not None
    assert later is not None
    assert norm.ppf(fresh) - norm.ppf(later) == pytest.approx(norm.ppf(0.9) / 3)


def test_of_an_unknown_life_only_this_year_s_test_speaks() -> None:
    """Where nobody knows how long seed lives nothing is made up: it is to be tested."""
    assert seed_now(2, None).share is None
    assert seed_now(2, None).verdict is SeedVerdict.TEST
    assert seed_now(2, None, SeedTested(18, 20, 2)).verdict is SeedVerdict.KEEP
    assert seed_now(3, None, SeedTested(18, 20, 2)).verdict is SeedVerdict.TEST


@given(
    age=st.integers(0, 30),
    life=st.integers(1, 8),
    tried=st.integers(1, 200),
    share=st.floats(0, 1),
    earlier=st.integers(0, 10),
)
def test_whatever_was_tried_the_share_is_one_and_its_bounds_hold(
    age: int, life: int, tried: int, share: float, earlier: int
) -> None:
    """No packet lives to more than all or less than none, nor is old seed worth more than new."""
    now = seed_now(age, life, SeedTested(round(share * tried), tried, max(0, age - earlier)))
    assert now.low is not None
    assert now.share is not None
    assert now.high is not None
    assert 0 <= now.low <= now.high <= 1
    assert 0 <= now.share <= 1
    assert 0 <= now.as_good_as <= 1
