"""Day length and radiation at the top of the air, against FAO-56 and two sun libraries.

FAO-56: Allen, Pereira, Raes, Smith, *Crop evapotranspiration*, FAO Irrigation and Drainage
Paper 56, Rome 1998. Tolerances follow the rounding of its printed answers.
"""

from datetime import date, timedelta

import astral
import astral.sun
import numpy as np
import pytest
from pvlib import irradiance, solarposition

from haulm.site.day_length import (
    day_length_h,
    extraterrestrial_radiation_mj_m2,
    ten_hour_days,
)


@pytest.mark.parametrize("seed", range(4))
def test_day_length_against_a_sun_library(seed: int) -> None:
    """Within 58° of the equator our day is up to 30 minutes shorter and no more than 5 longer
    than from the first to the last ray seen (astral), since the air bends light, the sun has a
    width, and FAO-56's declination strays by up to a degree in autumn.
    """
    rng = np.random.default_rng(seed)
    for _ in range(10):
        latitude = float(rng.uniform(-58.0, 58.0))
        day = date(2027, 1, 1) + timedelta(days=int(rng.integers(365)))
        sun = astral.sun.sun(astral.Observer(latitude, 0.0, 0.0), day, tzinfo="UTC")
        seen_h = (sun["sunset"] - sun["sunrise"]).total_seconds() / 3600.0 % 24.0
        ours_h = day_length_h(latitude, np.array([day.timetuple().tm_yday]))[0]
        assert -5 / 60 < seen_h - ours_h < 30 / 60, (latitude, day)


@pytest.mark.parametrize(("widest_deg", "minutes"), [(30.0, 7.5), (46.0, 13.0), (58.0, 20.5)])
def test_day_length_against_another_declination(widest_deg: float, minutes: float) -> None:
    """Day length keeps within 7.5 minutes of another library's declination (pvlib, Spencer) at up
    to 30°, within 13 at 46° and within 20.5 at 58°, on any day.
    """
    rng = np.random.default_rng(5)
    days = np.arange(1, 366)
    declination = solarposition.declination_spencer71(days)
    for latitude in rng.uniform(-widest_deg, widest_deg, 12):
        cosine = -np.tan(np.radians(latitude)) * np.tan(declination)
        theirs_h = 24.0 / np.pi * np.arccos(cosine)
        assert np.abs(day_length_h(float(latitude), days) - theirs_h).max() < minutes / 60


def test_radiation_against_a_sun_library() -> None:
    """A year's radiation at the top of the air agrees within 2 % with the sum over quarter hours
    by another library's distance and declination (pvlib).
    """
    days = np.arange(1, 366)
    declination = solarposition.declination_spencer71(days)[:, None]
    hour_angle = np.linspace(-np.pi, np.pi, 96, endpoint=False)[None, :]
    normal_w_m2 = irradiance.get_extra_radiation(days)[:, None]
    for latitude_deg in (-38.0, 0.0, 46.4, 63.0):
        latitude = np.radians(latitude_deg)
        cosine = np.sin(latitude) * np.sin(declination)
        cosine = cosine + np.cos(latitude) * np.cos(declination) * np.cos(hour_angle)
        theirs_mj_m2 = float((normal_w_m2 * np.clip(cosine, 0.0, None)).sum()) * 900.0 / 1e6
        ours_mj_m2 = extraterrestrial_radiation_mj_m2(latitude_deg, days).sum()
        assert ours_mj_m2 == pytest.approx(theirs_mj_m2, rel=0.02)


def test_polar_day_and_night() -> None:
    """Beyond the polar circles the day lasts 24 hours at midsummer and none at midwinter."""
    midsummer, midwinter = np.array([172]), np.array([355])
    assert day_length_h(70.0, midsummer)[0] == 24.0
    assert day_length_h(70.0, midwinter)[0] == 0.0
    assert day_length_h(-70.0, midsummer)[0] == 0.0
    assert extraterrestrial_radiation_mj_m2(70.0, midwinter)[0] == pytest.approx(0.0, abs=1e-12)


@pytest.mark.parametrize("latitude_deg", [-60.0, -37.8, 33.0, 46.4, 50.8, 70.0])
def test_ten_hour_days_bracket_the_short_ones(latitude_deg: float) -> None:
    """The last day before winter and the first after have ten hours; those within do not."""
    found = ten_hour_days(latitude_deg, 2027)
    assert found is not None
    last, first = found
    assert last.year == 2027
    assert first.year == (2027 if latitude_deg < 0 else 2028)

    def hours(day: date) -> float:
        """Give a day's length."""
        return float(day_length_h(latitude_deg, np.array([day.timetuple().tm_yday]))[0])

    assert hours(last) >= 10.0 > hours(last + timedelta(days=1))
    assert hours(first) >= 10.0 > hours(first - timedelta(days=1))


@pytest.mark.parametrize("latitude_deg", [-25.0, 0.0, 30.0])
def test_no_short_days_near_the_equator(latitude_deg: float) -> None:
    """Within 30° of the equator no day falls under ten hours."""
    assert ten_hour_days(latitude_deg, 2027) is None
