"""Evaporation from soil against the worked examples of FAO-56 (Rome, 1998)."""

import pytest

from haulm.water.evaporation import highest_coefficient, soil_coefficient, top_water_mm


def test_sandy_loam_of_example_35() -> None:
    """The top 0.1 m can lose 18 mm, and soil and crop at most 1.21 (FAO-56, example 35)."""
    assert top_water_mm(0.23, 0.10, 0.1) == pytest.approx(18.0)
    assert highest_coefficient(1.6, 35, 0.3, 0.30) == pytest.approx(1.21, abs=0.005)


def test_drip_field_of_example_34() -> None:
    """A drip-watered field with 0.19 of it bare and wet has 0.25 (FAO-56, example 34)."""
    assert soil_coefficient(1.30, 0.90, 1.0, 0.19) == pytest.approx(0.25, abs=0.005)
