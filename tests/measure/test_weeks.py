"""Weeks and horizons."""

from datetime import date, timedelta

from hypothesis import given, settings
from hypothesis import strategies as st

from haulm.measure.weeks import horizon_from, monday_of

DAYS = st.dates(date(1990, 1, 1), date(2090, 12, 31))


@settings(max_examples=60, deadline=None)
@given(day=DAYS, ahead=st.integers(-1000, 1000))
def test_every_day_lies_in_the_week_it_is_counted_to(day: date, ahead: int) -> None:
    """A day is counted to the week whose Monday is at most six days before it."""
    horizon = horizon_from(day)
    other = day + timedelta(days=ahead)
    monday = horizon.monday(horizon.week_of(other))
    assert monday.weekday() == 0
    assert 0 <= (other - monday).days <= 6
    assert monday == monday_of(other)


def test_weeks_are_named_by_the_international_calendar() -> None:
    """1 January 2027 lies in week 53 of 2026 (ISO 8601: a year's first week holds 4 January)."""
    horizon = horizon_from(date(2027, 1, 1), weeks=52)
    assert horizon.label(0) == "2026-W53"
    assert horizon.label(1) == "2027-W01"
    assert horizon.last_day == date(2026, 12, 28) + timedelta(days=52 * 7 - 1)
