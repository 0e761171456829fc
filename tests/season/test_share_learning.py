"""What counts teach of a share: seed that comes up, plants that live, seed on damp paper."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.stats import beta, norm

from haulm.season.rules import season_rules
from haulm.season.share_learning import CountSeen, learn_share, tells


def test_a_share_moves_by_counts_as_the_beta_says() -> None:
    """One plant counted is one plant: the mean is that of the beta with it added."""
    learnt = learn_share(0.8, [CountSeen(0, 1, "e1")])
    assert learnt.mean == pytest.approx(beta(16, 5).mean())
    assert learnt.prior_weight == pytest.approx(20 / 21)


def test_a_hundred_plants_of_one_bed_are_not_a_hundred_beds() -> None:
    """Plants of one bed share their fate, so that a bed of a hundred counts for some seventeen."""
    bed = learn_share(0.8, [CountSeen(40, 100, "e1")])
    beds = learn_share(0.8, [CountSeen(0.4, 1, f"e{n}") for n in range(100)])
    assert 0.4 < beds.mean < bed.mean < 0.8
    assert bed.prior_weight == pytest.approx(20 / (20 + 100 / 5.95), rel=1e-3)


@given(usual=st.floats(0.05, 0.95), through=st.floats(0, 60), of=st.floats(0, 50))
def test_a_share_stays_a_share(usual: float, through: float, of: float) -> None:
    """However odd the count, what comes out lies between none and all, its bounds about it."""
    learnt = learn_share(usual, [CountSeen(through, of, "e1")])
    assert 0 <= learnt.low <= learnt.high <= 1
    assert 0 < learnt.mean < 1


def test_the_mean_is_that_of_prior_times_chance_added_up() -> None:
    """The closed form agrees with adding up prior × likelihood over every share there could be."""
    seen = [CountSeen(1, 1, "e1"), CountSeen(0, 1, "e2"), CountSeen(1, 1, "e3")]

    def weight(share: float) -> float:
        return float(beta(14, 6).pdf(share)) * share**2 * (1 - share)

    whole = quad(weight, 0, 1)[0]
    mean = quad(lambda share: share * weight(share), 0, 1)[0] / whole
    assert learn_share(0.7, seen).mean == pytest.approx(mean, abs=1e-6)


@pytest.mark.parametrize("usual", [0.6, 0.8, 0.93])
@pytest.mark.parametrize("beds", [1, 4, 12])
def test_shares_are_covered_as_told(usual: float, beds: int) -> None:
    """In simulated gardens whose share is known, and whose beds' fates are alike, it lies in the
    interval in 8 cases of 10: germination and survival alike.
    """
    draw = np.random.default_rng(beds)
    gardens, held = 1200, 0
    for _ in range(gardens):
        truth = draw.beta(20 * usual, 20 * (1 - usual))
        seen = counts(draw, truth, beds)
        learnt = learn_share(usual, seen, frozenset(one.entry for one in seen))
        held += learnt.low <= truth <= learnt.high
    # The one thing not exact is that a bed counts as fewer plants: 2 in 100 are allowed for it.
    assert held / gardens == pytest.approx(0.8, abs=3 * (0.8 * 0.2 / gardens) ** 0.5 + 0.02)


def counts(draw: np.random.Generator, truth: float, beds: int) -> list[CountSeen]:
    """Draw counts of beds whose plants have the correlation of fates that is taken as usual."""
    alike = 1 / season_rules().alike.value - 1
    found = []
    for number in range(beds):
        plants = int(draw.integers(15, 150))
        bed = draw.beta(truth * alike, (1 - truth) * alike)
        found.append(CountSeen(float(draw.binomial(plants, bed)), plants, f"e{number}"))
    return found


def test_a_share_converges_on_the_truth() -> None:
    """A bed where half lives, counted thirty times, is known to be one."""
    draw = np.random.default_rng(2)
    seen = counts(draw, 0.5, 30)
    learnt = learn_share(0.9, seen, frozenset(one.entry for one in seen))
    assert learnt.mean == pytest.approx(0.5, abs=0.06)
    assert learnt.prior_weight < 0.06


def test_true_counts_are_seldom_asked_about() -> None:
    """Of honest counts no more are asked about for nothing than three in a thousand."""
    draw = np.random.default_rng(11)
    gardens, asked = 1500, 0
    for _ in range(gardens):
        seen = counts(draw, draw.beta(16, 4), 4)
        asked += len(learn_share(0.8, seen).asked)
    told, number = 2 * float(norm.sf(season_rules().ask_beyond.value)), 4 * gardens
    assert asked / number < told + 3 * (told / number) ** 0.5


def test_a_bed_eaten_bare_is_asked_about_once_and_counts_when_right() -> None:
    """Three of a hundred, where eight in ten were usual, waits until somebody says it was so."""
    seen = [CountSeen(80, 100, "e1"), CountSeen(75, 100, "e2"), CountSeen(3, 100, "e3")]
    asked = learn_share(0.8, seen)
    assert [one.entry for one in asked.asked] == ["e3"]
    assert asked.counted == ("e1", "e2")
    right = learn_share(0.8, seen, frozenset({"e3"}))
    assert right.counted == ("e1", "e2", "e3")
    assert right.mean < asked.mean


def test_plants_apart_are_themselves_and_plants_together_fewer() -> None:
    """One plant is one plant; of a hundred of one bed the correlation leaves some seventeen."""
    assert tells(1) == 1
    assert tells(100) == pytest.approx(100 / 5.95)
