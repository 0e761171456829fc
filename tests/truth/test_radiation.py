"""Radiation, beside the page of checks."""

from haulm.site.radiation import (
    solar_radiation_from_temperature_mj_m2,
)


def test_a_coast_has_more_sun_behind_the_same_range() -> None:
    """The same range of temperature means more sun on a coast than inland (FAO-56, equation 50)."""
    inland = solar_radiation_from_temperature_mj_m2(14.8, 26.6, 40.6)
    assert solar_radiation_from_temperature_mj_m2(14.8, 26.6, 40.6, coastal=True) > inland
