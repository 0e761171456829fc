"""Figures and dates as they stand on a sheet."""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from haulm.measure.day_words import span_text
from haulm.sheets.wording import (
    area_text,
    figure,
    length_text,
    measure_figure,
    weight_text,
)


@pytest.mark.parametrize(
    ("value", "said"),
    [(0.0, "0"), (0.0255, "0.03"), (1.0, "1"), (5.55, "5.5"), (13.4, "13"), (1080.0, "1 080")],
)
def test_a_figure_is_as_exact_as_it_is_large(value: float, said: str) -> None:
    """Small figures keep two digits that count, large ones are whole, thousands stand apart."""
    expected = said.replace(" ", "\u202f")
    assert figure(value, 1 if value < 0.1 else 2) == expected


@given(st.floats(min_value=1e-6, max_value=1e6))
def test_what_is_there_is_never_written_as_nothing(value: float) -> None:
    """A weight above nothing is never printed as 0."""
    assert figure(value, 1).strip("0.") != ""


def test_pounds_follow_the_international_pound() -> None:
    """One kilogram is 2.2 lb (international avoirdupois pound, 0.45359237 kg exactly)."""
    assert weight_text(1.0, "us") == "2.2 lb"
    assert weight_text(1.0, "metric") == "1 kg"


def test_a_rounding_error_is_no_food() -> None:
    """What a solver leaves of nothing is printed as nothing; a gram is still a gram."""
    assert weight_text(9e-15, "metric") == "0 kg"
    assert weight_text(-4e-16, "us") == "0 lb"
    assert weight_text(0.001, "metric") == "0.001 kg"


def test_a_tape_in_inches_is_read_to_the_quarter() -> None:
    """In US units lengths are inches to the nearest quarter; 25.4 mm make an inch exactly."""
    assert measure_figure(0.254, "us") == "10"
    assert measure_figure(0.40, "us") == "15¾"
    assert measure_figure(0.006, "us") == "¼"
    assert length_text(1.2192, "us") == "4 ft"
    assert length_text(1.4, "us") == "4 ft 7 in"


def test_a_tape_in_centimetres_is_read_to_the_millimetre() -> None:
    """Whole centimetres stand without a point; others keep their millimetres."""
    assert measure_figure(0.4, "metric") == "40"
    assert measure_figure(0.075, "metric") == "7.5"
    assert length_text(4.8, "metric") == "480 cm"


def test_areas_keep_a_tenth_below_a_hundred() -> None:
    """17.6 m² is not rounded away to 18."""
    assert area_text(17.6, "metric") == "17.6 m²"
    assert area_text(36.0, "metric") == "36 m²"
    assert area_text(10.0, "us") == "108 sq ft"


def test_spans_say_no_more_than_they_must() -> None:
    """A month and year that both ends share are written once."""
    assert span_text(date(2027, 10, 8), date(2027, 10, 28)) == "8 to 28 Oct 2027"
    assert span_text(date(2027, 10, 15), date(2027, 11, 4), year=False) == "15 Oct to 4 Nov"
    assert span_text(date(2027, 12, 28), date(2028, 1, 4)) == "28 Dec 2027 to 4 Jan 2028"
    assert span_text(date(2027, 5, 1), date(2027, 5, 1)) == "1 May 2027"
