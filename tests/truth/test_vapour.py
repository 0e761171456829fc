"""Water vapour, against the worked examples and tables of FAO-56 (Rome 1998)."""

import pytest

from haulm.site.vapour import (
    atmospheric_pressure_kpa,
    mean_saturation_vapour_pressure_kpa,
    psychrometric_constant_kpa_c,
    saturation_slope_kpa_c,
    saturation_vapour_pressure_kpa,
    vapour_pressure_from_extreme_humidities_kpa,
    vapour_pressure_from_mean_humidity_kpa,
    vapour_pressure_from_minimum_kpa,
    vapour_pressure_from_wet_bulb_kpa,
)


@pytest.mark.parametrize(
    ("temperature_c", "printed_kpa"),
    [
        (24.5, 3.075),  # example 3
        (5, 0.872),  # table 2.3 from here on
        (10, 1.228),
        (15, 1.705),
        (20, 2.338),
        (25, 3.168),  # example 5, where table 2.3 was not read
        (30, 4.243),
        (35, 5.623),
        (40, 7.376),
    ],
)
def test_saturation_vapour_pressure(temperature_c: float, printed_kpa: float) -> None:
    """Saturated air holds the vapour that FAO-56 prints (example 3, table 2.3)."""
    assert saturation_vapour_pressure_kpa(temperature_c) == pytest.approx(printed_kpa, abs=1e-3)


def test_mean_saturation_is_not_saturation_at_the_mean() -> None:
    """From 15 to 24.5 °C the mean saturation pressure is 2.39 kPa, not the 2.30 of the mean
    temperature (FAO-56, example 3).
    """
    assert mean_saturation_vapour_pressure_kpa(15.0, 24.5) == pytest.approx(2.39, abs=0.005)
    assert saturation_vapour_pressure_kpa(19.75) == pytest.approx(2.30, abs=0.005)


def test_vapour_from_a_wet_bulb() -> None:
    """At 1200 m a dry bulb of 25.6 and a wet one of 19.5 °C mean 1.91 kPa (FAO-56, example 4)."""
    value = vapour_pressure_from_wet_bulb_kpa(25.6, 19.5, 0.000662, 1200.0)
    assert value == pytest.approx(1.91, abs=0.005)


def test_vapour_from_humidity() -> None:
    """With 54 to 82 % from 18 to 25 °C the vapour pressure is 1.70 kPa, 1.78 from the mean
    humidity alone, and 0.91 kPa is lacking (FAO-56, examples 5 and 6).
    """
    vapour = vapour_pressure_from_extreme_humidities_kpa(18.0, 25.0, 0.54, 0.82)
    assert vapour == pytest.approx(1.70, abs=0.005)
    mean = vapour_pressure_from_mean_humidity_kpa(18.0, 25.0, 0.68)
    assert mean == pytest.approx(1.78, abs=0.005)
    lacking = mean_saturation_vapour_pressure_kpa(18.0, 25.0) - vapour
    assert lacking == pytest.approx(0.91, abs=0.005)


def test_vapour_from_the_minimum() -> None:
    """Where only the minimum is known the air is taken as saturated at it (FAO-56, equation 48)."""
    assert vapour_pressure_from_minimum_kpa(15.0) == pytest.approx(1.705, abs=1e-3)


@pytest.mark.parametrize(
    ("temperature_c", "printed"),
    [(5, 0.061), (10, 0.082), (15, 0.110), (20, 0.145), (25, 0.189), (30, 0.243)],
)
def test_slope_of_saturation(temperature_c: float, printed: float) -> None:
    """The saturation curve is as steep as FAO-56 prints (table 2.4)."""
    assert saturation_slope_kpa_c(temperature_c) == pytest.approx(printed, abs=1e-3)


def test_pressure_at_a_height() -> None:
    """At 1800 m the air weighs 81.8 kPa and the psychrometric constant is 0.054 kPa/°C, at
    1200 m it weighs 87.9 kPa (FAO-56, example 4, and example 2 as others quote it).
    """
    assert atmospheric_pressure_kpa(1800.0) == pytest.approx(81.8, abs=0.05)
    assert psychrometric_constant_kpa_c(1800.0) == pytest.approx(0.054, abs=5e-4)
    assert atmospheric_pressure_kpa(1200.0) == pytest.approx(87.9, abs=0.05)
