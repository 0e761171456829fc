"""Days of the year as a grower types them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from haulm.desk.garden.usual_days import month_day_from, written_day
from haulm.measure.errors import FaultsFoundError

AT = ("place", "last_frost")


@pytest.mark.parametrize(
    "typed", ["10 May", "May 10", "05-10", "5-10", "10. May", " 10 may ", "10 MAY", "May. 10"]
)
def test_a_day_may_be_typed_in_several_ways(typed: str) -> None:
    """The tenth of May is read however it is usually written."""
    assert month_day_from(typed, "the last frost", AT) == "05-10"


def test_nothing_typed_is_no_day() -> None:
    """A field left empty says that the day is not known."""
    assert month_day_from("  ", "the last frost", AT) is None


@pytest.mark.parametrize("typed", ["May", "31 April", "10/5", "10.5.", "soon", "13-01", "0 May"])
def test_what_is_no_day_is_refused(typed: str) -> None:
    """A day that does not exist, or that means another day to others, is refused at its field."""
    with pytest.raises(FaultsFoundError, match="no day of the year") as caught:
        month_day_from(typed, "the last frost", AT)
    assert caught.value.findings[0].place == AT


@given(st.dates())
def test_what_is_written_is_read_again(day: object) -> None:
    """A day shown in words and sent back is the same day."""
    month_day = f"{day:%m-%d}"
    assert month_day_from(written_day(month_day), "the last frost", AT) == month_day
