"""Figures and dates as a reader likes them."""

import math
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from haulm.web.reader import Dates, Numbers, Reader, cookie_of, reader_from

DAY = date(2027, 7, 12)


def test_numbers_carry_the_readers_marks() -> None:
    """Twelve hundred and a half is written with the reader's own marks."""
    written = {marks: Reader(numbers=marks).number(1200.5, 1) for marks in Numbers}
    assert written[Numbers.POINT] == "1,200.5"
    assert written[Numbers.COMMA] == "1.200,5"
    assert written[Numbers.SPACE].replace("\u202f", " ") == "1 200,5"


def test_dates_stand_in_the_readers_order() -> None:
    """The twelfth of July is never mistaken for the seventh of December."""
    assert Reader(dates=Dates.DAY_FIRST).day(DAY) == "12 Jul 2027"
    assert Reader(dates=Dates.MONTH_FIRST).day(DAY) == "Jul 12, 2027"
    assert Reader(dates=Dates.YEAR_FIRST).day(DAY) == "2027-07-12"


def test_days_in_a_findings_place_stand_in_the_readers_order() -> None:
    """A day is written as the reader writes days; what is no day stays as it is."""
    words = "the diary of 2027-07-12, counted garlic"
    assert Reader().with_days(words) == "the diary of 12 Jul 2027, counted garlic"
    month_first = Reader(dates=Dates.MONTH_FIRST)
    assert month_first.with_days(words) == "the diary of Jul 12, 2027, counted garlic"
    assert (
        Reader().with_days("record 2027-02-30 to 2027-13-01") == "record 2027-02-30 to 2027-13-01"
    )


@pytest.mark.parametrize("value", [None, math.nan])
def test_a_missing_figure_is_said_to_be_missing(value: float | None) -> None:
    """What is not known is never written as nought."""
    assert Reader().number(value) == "not known"


def test_less_than_nothing_has_a_true_minus() -> None:
    """Four degrees of frost are written −4, with a minus and no hyphen."""
    assert Reader().number(-4) == "−4"


def test_a_sentence_takes_the_readers_decimal_mark() -> None:
    """Figures inside a sentence of the plan are marked as the reader likes, dates left alone."""
    reader = Reader(numbers=Numbers.COMMA)
    assert reader.said("3.4 kg from 1.2 m² by 12 Jul.") == "3,4 kg from 1,2 m² by 12 Jul."


def test_a_drawing_takes_the_readers_decimal_mark_and_keeps_its_shape() -> None:
    """A weight written in a chart is marked like the one beside it; where things stand is not."""
    html = '<p>2.5</p><svg viewBox="0 0 1.5 2.5"><text x="1.5">3.4 kg</text></svg>'
    marked = '<p>2.5</p><svg viewBox="0 0 1.5 2.5"><text x="1.5">3,4 kg</text></svg>'
    assert Reader(numbers=Numbers.COMMA).drawn(html) == marked
    assert Reader().drawn(html) == html


def test_us_units_are_shown_in_a_us_garden() -> None:
    """A garden in US units is told in pounds and square feet."""
    assert Reader("us").mass(1) == "2.2 lb"
    assert Reader("us").area(1) == "10.8 sq ft"


@given(st.text(max_size=40))
def test_any_cookie_gives_a_reader(cookie: str) -> None:
    """Whatever a browser sends, figures are written in some known way."""
    reader = reader_from(cookie, "metric")
    assert reader_from(cookie_of(reader.numbers, reader.dates), "metric") == reader
