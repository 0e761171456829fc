"""What is told of the coming days: nothing is made up, and what was told last counts."""

from datetime import UTC, date, datetime, timedelta
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from haulm.season.ahead import DayAhead, check_ahead, told_figures, told_last

DAY = date(2027, 5, 3)
AT = datetime(2027, 5, 2, 16, tzinfo=UTC)


def test_what_is_told_again_leaves_the_rest() -> None:
    """A minimum told in the evening takes the place of the morning's; the rain stays as told."""
    morning = DayAhead(DAY, AT, tmin_c=2.0, rain_mm=3.0, origin="a.csv")
    evening = DayAhead(DAY, AT + timedelta(hours=5), tmin_c=-1.0, origin="typed")
    (told,) = told_last([evening, morning])
    assert (told.tmin_c, told.rain_mm, told.tmax_c) == (-1.0, 3.0, None)
    assert told.told_at == evening.told_at
    assert told.origin == "typed; a.csv"


def test_no_rain_told_is_another_thing_than_rain_not_told() -> None:
    """A dry day is told as such; a day without a word of rain is not dry."""
    dry = DayAhead(DAY, AT, rain_mm=0.0)
    assert told_figures(dry) == ("rain_mm",)
    assert told_figures(DayAhead(DAY, AT, tmin_c=1.0)) == ("tmin_c",)


@pytest.mark.parametrize(
    ("figures", "words"),
    [
        ({}, "nothing is told"),
        ({"tmin_c": 12.0, "tmax_c": 3.0}, "above the highest"),
        ({"rain_mm": -1.0}, "the rain cannot be -1"),
        ({"humid_hours": 25.0}, "the humid hours cannot be 25"),
        ({"rain_odds": 1.2}, "the odds of rain cannot be 120 %"),
        ({"tmin_c": float("nan")}, "the lowest temperature cannot be nan"),
    ],
)
def test_what_cannot_be_is_refused(figures: dict[str, Any], words: str) -> None:
    """No day has 25 humid hours, rain under nothing, or a night warmer than its day."""
    assert any(words in one.what for one in check_ahead(DayAhead(DAY, AT, **figures)))


@given(
    st.lists(
        st.builds(
            DayAhead,
            st.dates(DAY, DAY + timedelta(days=3)),
            st.integers(0, 99).map(lambda minutes: AT + timedelta(minutes=minutes)),
            tmin_c=st.none() | st.floats(-20, 20),
            rain_mm=st.none() | st.floats(0, 50),
        ),
        unique_by=lambda one: (one.day, one.told_at),
    ),
    st.randoms(use_true_random=False),
)
def test_the_order_in_which_it_is_put_together_says_nothing(
    days: list[DayAhead], chance: object
) -> None:
    """Of each figure what was told last counts, however the tellings are shuffled."""
    shuffled = sorted(days, key=lambda _: chance.random())  # type: ignore[attr-defined]
    together = told_last(shuffled)
    assert together == told_last(days)
    for one in together:
        rains = [told for told in days if told.day == one.day and told.rain_mm is not None]
        last = max(rains, key=lambda told: told.told_at, default=None)
        assert one.rain_mm == (None if last is None else last.rain_mm)
