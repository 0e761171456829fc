"""Day columns."""

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from haulm.growing.days import (
    NEVER,
    day_in_share_of_runs,
    first_reaching,
    look_up,
    next_day_of,
    sums_from_daily,
)


def test_next_day_is_the_day_itself_when_it_holds() -> None:
    """The next frost after a frosty day's morning is that day's; after the last there is none."""
    found = next_day_of(np.array([False, True, False]))
    assert found.tolist() == [1, 1, NEVER, NEVER]


def test_what_never_began_never_happens() -> None:
    """A phase that waits for one that never ended does not end either."""
    frosts = next_day_of(np.array([[True, True]]))
    assert look_up(frosts, np.array([[NEVER]])).tolist() == [[NEVER]]
    sums = sums_from_daily(np.array([[5.0, 5.0]]))
    assert first_reaching(sums, np.array([[NEVER]]), 1.0).tolist() == [[NEVER]]


def test_degree_days_are_reached_on_the_morning_after_the_day_that_brings_them() -> None:
    """At 10 °C d a day, 25 °C d begun on day 1 are there after days 1, 2 and 3."""
    sums = sums_from_daily(np.full((1, 6), 10.0))
    assert first_reaching(sums, np.array([[1]]), 25.0).tolist() == [[4]]
    assert first_reaching(sums, np.array([[1]]), 50.0).tolist() == [[6]]
    assert first_reaching(sums, np.array([[1]]), 51.0).tolist() == [[NEVER]]
    assert first_reaching(sums, np.array([[1]]), 0.0).tolist() == [[1]]


@settings(max_examples=40, deadline=None)
@given(
    daily=st.lists(st.lists(st.integers(0, 9), min_size=8, max_size=8), min_size=1, max_size=4),
    begin=st.integers(0, 8),
    amount=st.integers(1, 40),
)
def test_one_search_over_all_runs_agrees_with_counting_each(
    daily: list[list[int]], begin: int, amount: int
) -> None:
    """Searching all runs at once finds the day that adding up day by day finds."""
    sums = sums_from_daily(np.array(daily, dtype=np.float64))
    found = first_reaching(sums, np.full((len(daily), 1), begin), float(amount))
    for run, row in enumerate(daily):
        counted = next((end for end in range(begin, 9) if sum(row[begin:end]) >= amount), NEVER)
        assert found[run, 0] == counted


def test_eight_runs_of_ten_is_the_eighth_run() -> None:
    """Of ten runs in order, the day by which 8 in 10 are ready is the eighth's."""
    days = np.arange(10)[::-1, None] * 7
    assert day_in_share_of_runs(days, 0.8).tolist() == [49]
    assert day_in_share_of_runs(days, 0.1).tolist() == [0]
    assert day_in_share_of_runs(days, 1.0).tolist() == [63]
