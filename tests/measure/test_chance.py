"""Chances held against the general library for statistics."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import betabinom

from haulm.measure.chance import beta_binomial_tails

NUMBERS = st.integers(0, 2000).flatmap(lambda of: st.tuples(st.integers(0, of), st.just(of)))
PARAMETERS = st.floats(0.05, 5000)


@given(NUMBERS, PARAMETERS, PARAMETERS)
def test_tails_are_those_of_the_library(
    number: tuple[int, int], through: float, lost: float
) -> None:
    """At most and at least so many come through as often as scipy.stats says."""
    came, of = number
    at_most, at_least = beta_binomial_tails(came, of, through, lost)
    assert at_most == pytest.approx(betabinom.cdf(came, of, through, lost), rel=1e-6, abs=1e-9)
    expected = betabinom.sf(came - 1, of, through, lost)
    assert at_least == pytest.approx(expected, rel=1e-6, abs=1e-9)
    assert at_most + at_least >= 1 - 1e-9
