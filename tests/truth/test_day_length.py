"""Day length: what a grower can see of it, beside the page of checks."""

from datetime import date, timedelta

import numpy as np
import pytest

from haulm.site.day_length import (
    day_length_h,
    extraterrestrial_radiation_mj_m2,
    ten_hour_days,
)


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
