"""Frost odds by the day, north and south."""

from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from haulm.sheets.frost import day_for_odds, frost_has_come, frost_still_to_come
from sheets.schoolhouse import FROST

DAYS = st.dates(date(2027, 1, 1), date(2027, 12, 31))


def test_the_stated_days_have_the_stated_odds() -> None:
    """On the day stated for 5 years in 10 the odds are 0.5; between two days they lie between."""
    # Day 118 counted from 0 on 1 January is 29 April, day 286 is 14 October.
    assert frost_still_to_come(FROST, date(2027, 4, 29), southern=False) == pytest.approx(0.5)
    assert frost_has_come(FROST, date(2027, 10, 14), southern=False) == pytest.approx(0.5)
    between = frost_still_to_come(FROST, date(2027, 5, 2), southern=False)
    assert between is not None
    assert 0.3 < between < 0.5


def test_the_south_has_its_spring_half_a_year_later() -> None:
    """South of the equator the season is counted from 1 July: day 118 is 27 October."""
    assert frost_still_to_come(FROST, date(2027, 10, 27), southern=True) == pytest.approx(0.5)
    # Day 286 from 1 July 2027 is 12 April 2028, a leap year.
    assert frost_has_come(FROST, date(2028, 4, 12), southern=True) == pytest.approx(0.5)


@given(DAYS, DAYS)
def test_spring_frost_grows_ever_less_likely(one: date, other: date) -> None:
    """The later the day, the fewer years still have a spring frost to come; odds stay odds."""
    early, late = sorted((one, other))
    before = frost_still_to_come(FROST, early, southern=False)
    after = frost_still_to_come(FROST, late, southern=False)
    assert before is not None
    assert after is not None
    assert 0 <= after <= before <= 1


def test_where_it_never_freezes_nothing_is_said() -> None:
    """A place without frost has no odds, rather than odds of nothing."""
    mild = replace(FROST, last_spring=(None,) * 5, first_autumn=(None,) * 5)
    assert frost_still_to_come(mild, date(2027, 4, 1), southern=False) is None
    assert frost_has_come(mild, date(2027, 11, 1), southern=False) is None
    assert day_for_odds(mild.last_spring, mild.odds, 0.5) is None
