"""General reference libraries reckon what we reckon, on any day at any latitude and height."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from truth.agreements import AGREEMENTS, Agreement, some_days

FIXED = settings(max_examples=40, derandomize=True, deadline=None, database=None)


@pytest.mark.parametrize(
    "agreement", AGREEMENTS, ids=lambda agreement: f"{agreement.library}: {agreement.what}"
)
@FIXED
@given(
    share=st.floats(-1.0, 1.0),
    height_m=st.floats(0.0, 2500.0),
    seed=st.integers(0, 10_000),
)
def test_a_library_reckons_the_same(
    agreement: Agreement, share: float, height_m: float, seed: int
) -> None:
    """On two dozen days of any place ours lies as near the library's as the page says."""
    days = some_days(share * agreement.widest_deg, height_m, seed)
    assert agreement.holds(days), agreement.differences(days)
