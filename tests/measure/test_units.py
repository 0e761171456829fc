"""Quantities as growers write them."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from haulm.measure.customary import show_temperatures, units_written
from haulm.measure.errors import FaultsFoundError
from haulm.measure.units import (
    Units,
    parse_area_m2,
    parse_dimensions_m,
    parse_duration_min,
    parse_length_m,
    parse_mass_kg,
    parse_quantity,
    parse_rain_mm,
    parse_temperature_c,
    parse_volume_l,
    show_area,
    show_length,
    show_mass,
    show_rain,
    show_temperature,
    show_volume,
)


@pytest.mark.parametrize(
    ("text", "metres"),
    [
        ("1.2 m", 1.2),
        ("1,2 m", 1.2),
        ("15cm", 0.15),
        (".5 m", 0.5),
        ("0,125 m", 0.125),
        ("120 centimetres", 1.2),
        ("6 ft 3 in", 1.905),
        ("6' 3\"", 1.905),
        ("6′ 3″", 1.905),
        ("½ in", 0.0127),
        ("1/2 in.", 0.0127),
        ("3 1/2 ft", 1.0668),
        ("3½ ft", 1.0668),
        ("1 m 20 cm", 1.2),
        ("−3 m", -3.0),
        ("-3 m", -3.0),
        ("1 yd", 0.9144),
        ("4\u00a0FT", 1.2192),
    ],
)
def test_a_length_is_read_as_it_is_written(text: str, metres: float) -> None:
    """Every usual way of writing a length gives the same length in metres.

    1 yard is 0.9144 m, 1 foot 0.3048 m and 1 inch 0.0254 m exactly: International yard and pound
    agreement of 1959.
    """
    assert parse_length_m(text, "bed 1") == pytest.approx(metres, rel=1e-12)


def test_a_plain_number_is_in_the_base_unit() -> None:
    """A number without quotes is taken in the unit the field is documented in."""
    assert parse_length_m(3, "bed 1") == 3.0
    assert parse_mass_kg(2.5, "lot 1") == 2.5
    assert parse_temperature_c(-2, "place") == -2.0


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("1,200 m", "may group thousands"),
        ("1,200,000 m", "may group thousands"),
        ("1.200,5 m", "cannot be read"),
        ("1 200 m", "without a unit"),
        ("1'200 m", "not smaller than the unit before it"),
        ("6 ft 14 in", "not smaller than the unit before it"),
        ("15", "without a unit"),
        ("", "nothing is written"),
        ("nan m", "is not a length"),
        ("inf", "is not a length"),
        ("wide", "is not a length"),
        ("1/0 in", "cannot be read"),
        ("5 kg", "unit of mass"),
        ("5-8 cm", "not known"),
        ("1e3 m", "not known"),
        (math.nan, "is not a length"),
        (math.inf, "is not a length"),
        (True, "is not a length"),
    ],
)
def test_what_cannot_be_read_surely_is_refused(text: str | float, says: str) -> None:
    """No length is guessed: the grower is told where, what and how to mend it."""
    with pytest.raises(FaultsFoundError, match=says) as refused:
        parse_length_m(text, "bed 1, width")
    (finding,) = refused.value.findings
    assert finding.where == "bed 1, width"
    assert finding.remedy


def test_a_misspelt_unit_is_answered_with_near_ones() -> None:
    """A slip of the pen in a unit's name is met with the name that was likely meant."""
    with pytest.raises(FaultsFoundError, match="metres"):
        parse_length_m("5 metrs", "bed 1")


@pytest.mark.parametrize("word", ["gal", "gallons", "qt", "pints", "cups", "fl oz", "bushels"])
def test_a_measure_that_differs_between_countries_is_refused(word: str) -> None:
    """A gallon is 3.785 litres in one country and 4.546 in another: the grower must say which."""
    with pytest.raises(FaultsFoundError, match="two sizes"):
        parse_volume_l(f"16 {word}", "cellar")


def test_other_quantities_come_to_their_base_units() -> None:
    """Published conversions hold.

    1 lb = 0.45359237 kg (International yard and pound agreement, 1959); US gallon 231 cubic
    inches = 3.785411784 l and acre 4046.8726 m² (NIST Special Publication 811, Appendix B, where
    the acre is that of the US survey foot); imperial gallon 4.54609 l (UK Weights and Measures
    Act 1985).
    """
    assert parse_mass_kg("1 lb", "lot") == pytest.approx(0.45359237, rel=1e-11)
    assert parse_mass_kg("2 lb 8 oz", "lot") == pytest.approx(2.5 * 0.45359237, rel=1e-11)
    assert parse_volume_l("1 US gal", "tank") == pytest.approx(3.785411784, rel=1e-11)
    assert parse_volume_l("1 imp gal", "tank") == pytest.approx(4.54609, rel=1e-11)
    assert parse_area_m2("1 acre", "plot") == pytest.approx(4046.87, abs=0.01)
    assert parse_area_m2("100 sq. ft.", "plot") == pytest.approx(9.290304, rel=1e-11)
    assert parse_area_m2("5 m2", "plot") == parse_area_m2("5 m^2", "plot") == 5.0
    assert parse_rain_mm("0.5 in", "rain") == pytest.approx(12.7)
    assert parse_rain_mm("5 l/m²", "rain") == 5.0
    assert parse_duration_min("1 h 30 min", "task") == 90.0
    assert parse_temperature_c("28 °F", "frost") == pytest.approx(-2.2222, abs=1e-4)
    assert parse_temperature_c("-2,2 °C", "frost") == -2.2
    assert parse_temperature_c("0 K", "frost") == pytest.approx(-273.15)


def test_less_than_nothing_is_refused() -> None:
    """No weight, area, volume, rain or time is under nothing."""
    for parse, text in (
        (parse_mass_kg, "-1 kg"),
        (parse_area_m2, "-1 m²"),
        (parse_volume_l, "-1 l"),
        (parse_rain_mm, "-1 mm"),
        (parse_duration_min, "-1 min"),
    ):
        with pytest.raises(FaultsFoundError, match="less than nothing"):
            parse(text, "somewhere")


def test_a_temperature_has_one_part() -> None:
    """Two temperatures in one field are refused, not added."""
    with pytest.raises(FaultsFoundError, match="not one temperature"):
        parse_temperature_c("3 °C 4 °C", "place")


@pytest.mark.parametrize(
    ("text", "sides"),
    [
        ("1.2 x 4.8 m", (1.2, 4.8)),
        ("1,2 x 4,8 m", (1.2, 4.8)),
        ("120 × 480 cm", (1.2, 4.8)),
        ("120 cm by 4.8 m", (1.2, 4.8)),
        ("1.2m*4.8m", (1.2, 4.8)),
        ("4 x 16 ft", (1.2192, 4.8768)),
        ("4' x 16'", (1.2192, 4.8768)),
        ("4 ft 6 in x 16 ft", (1.3716, 4.8768)),
    ],
)
def test_two_sides_are_read_with_a_shared_or_their_own_unit(
    text: str, sides: tuple[float, float]
) -> None:
    """In 4 x 16 ft both sides are feet, as it is spoken."""
    assert parse_dimensions_m(text, "bed 1") == pytest.approx(sides, rel=1e-12)


@pytest.mark.parametrize("text", ["4 m", "4 x 5", "4 m x 5", "4 x 5 ft 3 in", "1 x 2 x 3 m"])
def test_sides_without_a_sure_unit_are_refused(text: str) -> None:
    """A side whose unit would have to be guessed is refused."""
    with pytest.raises(FaultsFoundError):
        parse_dimensions_m(text, "bed 1")


def test_both_sides_faults_come_together() -> None:
    """Where both sides are wrong, both are told at once."""
    with pytest.raises(FaultsFoundError) as refused:
        parse_dimensions_m("4 kg x 5 kg", "bed 1")
    assert len(refused.value.findings) == 2


@pytest.mark.parametrize(
    ("shown", "text"),
    [
        (show_mass(0.35, "metric"), "350 g"),
        (show_mass(12.34, "metric"), "12.3 kg"),
        (show_mass(1234.0, "metric"), "1234 kg"),
        (show_mass(12.34, "us"), "27.2 lb"),
        (show_mass(0.35, "us"), "12.3 oz"),
        (show_length(0.075, "metric"), "7.5 cm"),
        (show_length(4.8, "metric"), "4.8 m"),
        (show_length(-3.0, "metric"), "−3 m"),
        (show_length(0.15, "us"), "5 7/8 in"),
        (show_length(1.905, "us"), "6 ft 3 in"),
        (show_length(0.3048, "us"), "1 ft"),
        (show_length(0.0, "us"), "0 in"),
        (show_area(5.76, "metric"), "5.76 m²"),
        (show_area(5.76, "us"), "62 sq ft"),
        (show_volume(60.0, "metric"), "60 l"),
        (show_volume(60.0, "us"), "15.9 US gal"),
        (show_rain(60.4, "metric"), "60 mm"),
        (show_rain(66.04, "us"), "2.6 in"),
        (show_temperature(-2.2, "metric"), "−2.2 °C"),
        (show_temperature(-2.2, "us"), "28 °F"),
        (show_temperature(-0.01, "metric"), "0 °C"),
        (show_mass(math.nan, "us"), "not known"),
        (show_length(math.nan, "us"), "not known"),
    ],
)
def test_quantities_are_shown_as_a_grower_writes_them(shown: str, text: str) -> None:
    """Shown to the fineness of a kitchen scale or tape, with a true minus, and never 0 for none."""
    assert shown == text


@settings(max_examples=60, deadline=None)
@given(metres=st.floats(-50, 50), units=st.sampled_from(["metric", "us"]))
def test_a_shown_length_reads_back_as_itself(metres: float, units: Units) -> None:
    """What is shown can be written back: at most the tape's last mark is lost."""
    back = parse_length_m(show_length(metres, units), "bed 1")
    assert back == pytest.approx(metres, abs=0.0051)


@settings(max_examples=60, deadline=None)
@given(litres=st.floats(0, 5000), units=st.sampled_from(["metric", "us"]))
def test_a_shown_volume_reads_back_as_itself(litres: float, units: Units) -> None:
    """What is shown can be written back, to three figures."""
    back = parse_volume_l(show_volume(litres, units), "tank")
    assert back == pytest.approx(litres, rel=0.0051, abs=0.02)


@pytest.mark.parametrize(
    ("written", "units"),
    [("1.2 x 4.8 m", "metric"), ("4 x 16 ft", "us"), ("6' 3\"", "us"), ("90 cm round", "metric")],
)
def test_a_length_is_answered_in_the_units_it_was_asked_in(written: str, units: str) -> None:
    """Whoever asks in feet is answered in feet."""
    assert units_written(written) == units


@pytest.mark.parametrize("quantity", ["length", "area", "mass", "volume", "rain", "duration"])
def test_nothing_is_the_same_in_every_unit(quantity: str) -> None:
    """A bare 0 is read where nothing is nothing in every unit; a bare 1 is asked about."""
    assert parse_quantity("0", quantity, "here") == 0.0
    with pytest.raises(FaultsFoundError):
        parse_quantity("1", quantity, "here")


def test_a_bare_0_is_no_temperature() -> None:
    """0 degrees are frost in one unit and deep frost in another, so the unit is asked for."""
    with pytest.raises(FaultsFoundError):
        parse_quantity("0", "temperature", "here")


@pytest.mark.parametrize(
    ("sentence", "told"),
    [
        ("the last killing frost (−3 °C) is past", "the last killing frost (27 °F) is past"),
        ("soil at 5 cm reaches 7 °C 5 years in 10", "soil at 5 cm reaches 45 °F 5 years in 10"),
        ("1400 °C d of warmth", "1400 °C d of warmth"),
        ("nights +1.7 °C", "nights +1.7 °C"),
    ],
)
def test_degrees_in_a_sentence_are_the_garden_s(sentence: str, told: str) -> None:
    """A garden in US units reads Fahrenheit in sentences too; differences and sums stay."""
    assert show_temperatures(sentence, "us") == told
    assert show_temperatures(sentence, "metric") == sentence


def test_what_would_be_sixteen_ounces_is_a_pound() -> None:
    """Nobody writes 16 oz: a hair under a pound is shown as a pound."""
    assert show_mass(0.4535, "us") == "1 lb"
    assert show_mass(0.44, "us") == "15.5 oz"
