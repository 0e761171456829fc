"""Day length: what a grower can see of it, beside the page of checks."""

from datetime import date, timedelta

import numpy as np
import pytest
from astral import Observer
from astral.sun import sun

from haulm.site.day_length import (
    day_length_h,
    daylight_h,
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


@pytest.mark.parametrize("latitude_deg", [-60.0, -37.8, 35.0, 46.4, 50.8, 70.0])
def test_ten_hour_days_bracket_the_short_ones(latitude_deg: float) -> None:
    """The last day before winter and the first after have ten hours; those within do not."""
    found = ten_hour_days(latitude_deg, 2027)
    assert found is not None
    last, first = found
    assert last.year == 2027
    assert first.year == (2027 if latitude_deg < 0 else 2028)

    def hours(day: date) -> float:
        """Give a day's length."""
        return float(daylight_h(latitude_deg, np.array([day.toordinal()]))[0])

    assert hours(last) >= 10.0 > hours(last + timedelta(days=1))
    assert hours(first) >= 10.0 > hours(first - timedelta(days=1))


@pytest.mark.parametrize("latitude_deg", [-25.0, 0.0, 30.0])
def test_no_short_days_near_the_equator(latitude_deg: float) -> None:
    """Within 30° of the equator no day falls under ten hours."""
    assert ten_hour_days(latitude_deg, 2027) is None


def almanac_h(latitude_deg: float, day: date) -> float:
    """Give the hours from sunrise to sunset by the astral library, an independent reckoning."""
    told = sun(Observer(latitude_deg, 0.0), day)
    return float((told["sunset"] - told["sunrise"]).total_seconds()) / 3600


@pytest.mark.parametrize("latitude_deg", [-47.0, -41.2, 0.0, 33.0, 46.4, 51.5, 57.0])
def test_daylight_is_the_almanac_s(latitude_deg: float) -> None:
    """On every fifth day of the year sunrise to sunset lies within two minutes of astral's."""
    for number in range(0, 365, 5):
        day = date(2027, 1, 1) + timedelta(number)
        ours = float(daylight_h(latitude_deg, np.array([day.toordinal()]))[0])
        assert ours == pytest.approx(almanac_h(latitude_deg, day), abs=2 / 60)


@pytest.mark.parametrize("latitude_deg", [-47.0, -41.2, 35.0, 41.2, 46.4, 51.5, 57.0])
def test_the_ten_hour_days_are_the_almanac_s(latitude_deg: float) -> None:
    """The winter without ten hours of daylight begins and ends where astral's
    daylight passes ten hours, to a minute and a half.
    """
    found = ten_hour_days(latitude_deg, 2027)
    assert found is not None
    before, after = found
    near = 10 + 1.5 / 60
    assert almanac_h(latitude_deg, before) >= 10 - 1.5 / 60
    assert almanac_h(latitude_deg, before + timedelta(1)) < near
    assert almanac_h(latitude_deg, after - timedelta(1)) < near
    assert almanac_h(latitude_deg, after) >= 10 - 1.5 / 60


@pytest.mark.parametrize(
    ("latitude_deg", "begins", "ends"),
    [
        # A garden near Boston: daylight "fallen below 10 hours" on 10 November, back on 2 February
        # (journal "Skippy's vegetable garden", 10 November 2015, read).
        (42.4, (11, 10), (2, 2)),
        # "We live at roughly 41 degrees north ... around November 10th ... until the end of
        # January" (Our Stoney Acres, "What does the arrival of 10 hour days mean", read).
        (41.0, (11, 10), (1, 31)),
        # "Approximately 38 degrees North ... from November 21 to January 21" (M. Iwashige,
        # "Gardening: Persephone Period", November 2022, read).
        (38.0, (11, 21), (1, 21)),
    ],
)
def test_growers_printed_ten_hour_days(
    latitude_deg: float, begins: tuple[int, int], ends: tuple[int, int]
) -> None:
    """What growers print as their winter of short days is ours within three days: they round, and
    none gives more than whole degrees.
    """
    found = ten_hour_days(latitude_deg, 2027)
    assert found is not None
    assert abs((found[0] - date(2027, *begins)).days) <= 3
    assert abs((found[1] - date(2028, *ends)).days) <= 3
