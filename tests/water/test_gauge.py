"""A gauge's readings: whose rain they are, and what nobody knows."""

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from haulm.water.gauge import gauge_rain_mm

DAYS, GAP = 30, 7
READINGS = st.dictionaries(st.integers(0, DAYS), st.floats(0, 60), max_size=12)


def test_a_reading_tells_of_the_days_since_the_last() -> None:
    """Read on day 10 and on day 14, the second reading is the rain of days 10 to 13, evenly."""
    rain = gauge_rain_mm({10: 0.0, 14: 8.0}, DAYS, GAP)
    assert rain[10:14].tolist() == [2.0, 2.0, 2.0, 2.0]
    assert rain[9] == 0.0
    assert np.isnan(rain[14:]).all()


def test_nothing_read_is_not_no_rain() -> None:
    """Without a reading no day is known; one that says 0 is."""
    assert np.isnan(gauge_rain_mm({}, DAYS, GAP)).all()
    assert gauge_rain_mm({4: 0.0}, DAYS, GAP)[3] == 0.0


def test_after_a_long_gap_a_reading_stands_for_one_day() -> None:
    """A gauge nobody read for longer than a week says nothing of the days before."""
    rain = gauge_rain_mm({3: 1.0, 11: 9.0}, DAYS, GAP)
    assert rain[10] == 9.0
    assert np.isnan(rain[3:10]).all()
    kept = gauge_rain_mm({4: 1.0, 11: 7.0}, DAYS, GAP)
    assert kept[4:11].tolist() == [1.0] * 7


def test_the_record_beside_it_shares_rain_out() -> None:
    """Where a station near by had rain on one of the days, all of it fell on that day."""
    beside = np.zeros(DAYS)
    beside[12] = 30.0
    rain = gauge_rain_mm({10: 0.0, 14: 8.0}, DAYS, GAP, beside)
    assert rain[10:14].tolist() == [0.0, 0.0, 8.0, 0.0]
    beside[11] = np.nan
    assert gauge_rain_mm({10: 0.0, 14: 8.0}, DAYS, GAP, beside)[10] == 2.0


@given(READINGS)
def test_no_rain_is_made_or_lost(readings: dict[int, float]) -> None:
    """All that was read lies on some day, but for what was read before there was a day."""
    rain = gauge_rain_mm(readings, DAYS, GAP)
    read = sum(mm for day, mm in readings.items() if day > 0)
    assert np.nansum(rain) == np.float64(0.0) if not read else abs(np.nansum(rain) - read) < 1e-9
