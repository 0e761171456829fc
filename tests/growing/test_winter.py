"""Winter standing crop: full grown before the dark weeks, standing through them."""

from datetime import date, timedelta

import numpy as np
import pytest

from growing.kinds_by_hand import BEAN, HORIZON, ROOT, SALAD, wave_weather
from haulm.growing.timing import course
from haulm.growing.windows import windows
from haulm.growing.winter import DarkWeeks, dark_weeks, stands_in_winter
from haulm.site.day_length import TEN_HOURS_H, daylight_h

WEATHER = wave_weather()
DARK = DarkWeeks(date(2026, 11, 3), date(2027, 2, 9))


@pytest.mark.parametrize("latitude_deg", [-52.0, -41.0, 38.0, 47.0, 55.0])
@pytest.mark.parametrize("day", [date(2027, 1, 10), date(2027, 6, 1), date(2027, 12, 1)])
def test_the_dark_weeks_are_those_to_come(latitude_deg: float, day: date) -> None:
    """They begin on the day or later, within a year, and every day between is short."""
    dark = dark_weeks(latitude_deg, day)
    assert dark is not None
    assert day <= dark.last_long <= day + timedelta(366)
    days = np.arange(dark.last_long.toordinal() + 1, dark.first_long.toordinal())
    assert np.all(daylight_h(latitude_deg, days) < TEN_HOURS_H)
    assert dark.weeks == pytest.approx((days.size + 1) / 7)


def test_near_the_equator_there_are_none() -> None:
    """At 20° no day has less than ten hours."""
    assert dark_weeks(20.0, date(2027, 1, 1)) is None


def test_the_last_start_is_full_grown_and_a_later_one_is_not() -> None:
    """In 8 runs of 10 the root is full grown by the last long day; sown a day later, within its
    window, it is not.
    """
    found = stands_in_winter(ROOT, ROOT.methods[0], DARK, WEATHER, HORIZON, under_cover=False)
    assert found is not None
    last = WEATHER.column_of(DARK.last_long)
    begins = np.array([WEATHER.column_of(found.sow_by) + late for late in (0, 1)])
    fared = course(ROOT, ROOT.methods[0], begins, WEATHER, under_cover=False)
    grown = np.mean(fared.phase_ends["ready"] <= last, axis=0)
    there = windows(ROOT, ROOT.methods[0], under_cover=False, weather=WEATHER, horizon=HORIZON)
    assert any(w.first_day <= found.sow_by <= w.last_day for w in there)
    assert grown[0] >= 0.8
    assert grown[1] < 0.8
    assert found.stands_until > DARK.last_long
    assert found.taken == 0.0


def test_what_frost_takes_does_not_stand() -> None:
    """Beans are over before November; quick salad that −6 °C kills stands in few years, or not."""
    assert (
        stands_in_winter(BEAN, BEAN.methods[0], DARK, WEATHER, HORIZON, under_cover=False) is None
    )
    salad = stands_in_winter(SALAD, SALAD.methods[0], DARK, WEATHER, HORIZON, under_cover=False)
    assert salad is None or salad.stands_until < DARK.first_long
