"""How much of its mean yield a food may be counted for, against the closed forms."""

from math import exp, sqrt

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import norm

from haulm.forecast.safety import LEAST_COUNTED, counted_share, recounted

SPREADS = st.floats(0.05, 0.8)
CERTAINTIES = st.floats(0.5, 0.95)


@given(spread=SPREADS, certainty=CERTAINTIES, need=st.floats(0.1, 100.0), mean=st.floats(0.1, 10.0))
def test_the_ground_for_one_promise_is_the_newsvendors(
    spread: float, certainty: float, need: float, mean: float
) -> None:
    """Ground of need / (mean × share) gives what is needed in exactly so many years: with the
    median yield m, it is need / exp(ln m − s Φ⁻¹(c)).
    """
    area = need / (mean * counted_share(spread, certainty))
    median = mean * exp(-(spread**2) / 2)
    assert area == pytest.approx(need / (median * exp(-spread * norm.ppf(certainty))))


@given(spread=SPREADS, certainty=st.floats(0.75, 0.95), plantings=st.integers(2, 20))
def test_several_plantings_may_be_counted_for_more_than_one(
    spread: float, certainty: float, plantings: int
) -> None:
    """To split a crop over plantings that do not fail together lets each be counted for more."""
    assert counted_share(spread, certainty, plantings, 0.3) > counted_share(spread, certainty)
    assert counted_share(spread, certainty, plantings, 1.0) == pytest.approx(
        counted_share(spread, certainty)
    )


def test_the_sum_of_several_plantings_reaches_its_share_in_so_many_years() -> None:
    """Ten plantings drawn together reach the share counted on about as often as they should."""
    spread, alike, plantings, seasons = 0.3, 0.4, 10, 200_000
    rng = np.random.default_rng(1)
    deviate = sqrt(alike) * rng.standard_normal((seasons, 1))
    deviate = deviate + sqrt(1 - alike) * rng.standard_normal((seasons, plantings))
    total = np.exp(spread * deviate - spread**2 / 2).mean(axis=1)
    share = counted_share(spread, 0.8, plantings, alike)
    assert np.mean(total >= share) == pytest.approx(0.8, abs=0.01)


def test_what_held_too_seldom_is_counted_for_less_and_what_held_too_often_for_more() -> None:
    """Shares move towards the certainty, and what no promise rests on stays as it is."""
    counted = {"leek": 0.8, "kale": 0.8, "onion": 0.8}
    moved = recounted(counted, {"leek": 0.5, "kale": 0.95}, 0.8, dict.fromkeys(counted, 0.3))
    assert moved["leek"] < 0.8 < moved["kale"]
    assert moved["onion"] == 0.8


def test_what_cannot_be_promised_is_counted_no_further_down() -> None:
    """A food that frost takes in nine years of ten does not swallow the whole garden."""
    moved = recounted({"sweet corn": 0.31}, {"sweet corn": 0.0}, 0.9, {"sweet corn": 0.5})
    assert moved["sweet corn"] == LEAST_COUNTED
