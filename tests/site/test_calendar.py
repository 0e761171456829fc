"""Days laid out as arrays."""

from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from haulm.site.calendar import DAYS_A_YEAR, days_from


@settings(max_examples=50, deadline=None)
@given(st.dates(date(1900, 1, 1), date(2100, 1, 1)), st.integers(1, 800))
def test_days_agree_with_the_calendar(first_day: date, days: int) -> None:
    """Every day laid out has the year, month, day and day of the year of the calendar."""
    laid_out = days_from(first_day, days)
    for index in (0, days // 2, days - 1):
        day = first_day + timedelta(days=index)
        found = (laid_out.year[index], laid_out.month[index], laid_out.day[index])
        assert found == (day.year, day.month, day.day)
        assert laid_out.day_of_year[index] == day.timetuple().tm_yday


@pytest.mark.parametrize("year", [2027, 2028])
def test_slots_are_a_year_without_a_leap_day(year: int) -> None:
    """Slots run from 0 on 1 January to 364 on 31 December, 29 February in that of the 28th."""
    slots = days_from(date(year, 1, 1), 366).slot
    last = (date(year, 12, 31) - date(year, 1, 1)).days
    assert slots[0] == 0
    assert slots[last] == DAYS_A_YEAR - 1
    assert slots[58] == 58
    assert slots[59] == (58 if year == 2028 else 59)
