"""Degree-days and soil warmth."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from haulm.site.degree_days import single_sine
from haulm.site.soil_warmth import soil_temperature_c

temperatures = st.floats(-30, 45)


@settings(max_examples=100, deadline=None)
@given(temperatures, st.floats(0, 25), st.floats(-5, 15), st.floats(0, 10), st.floats(15, 40))
def test_a_higher_base_gives_fewer_degree_days(
    tmin: float, span: float, base: float, more: float, upper: float
) -> None:
    """Raising the base, or lowering the upper threshold, never adds degree-days; they are never
    under 0 nor above the room between the thresholds.
    """
    low, high = np.array([tmin]), np.array([tmin + span])
    value = single_sine(low, high, base, upper)[0]
    assert single_sine(low, high, base + more, upper)[0] <= value + 1e-9 or base + more > upper
    assert single_sine(low, high, base, upper - 1.0)[0] <= value + 1e-9
    assert -1e-9 <= value <= max(upper - base, 0.0) + 1e-9


def test_degree_days_keep_any_shape() -> None:
    """Runs by days go in, runs by days come out, and a day nobody read stays untold."""
    tmin = np.array([[1.0, 5.0], [np.nan, 12.0]])
    value = single_sine(tmin, tmin + 10.0, 5.0, 30.0)
    assert value.shape == (2, 2)
    assert np.isnan(value[1, 0])
    assert value[1, 1] == pytest.approx(12.0)


def test_a_day_without_a_swing_counts_plainly() -> None:
    """On a day of one temperature the degree-days are what it lies above the base."""
    flat = np.array([3.0, 8.0, 40.0])
    np.testing.assert_allclose(single_sine(flat, flat, 5.0, 30.0), [0.0, 3.0, 25.0])


def test_soil_lags_and_damps_the_air() -> None:
    """Soil keeps the air's mean over the year, swings less the deeper it lies, and turns later."""
    days = np.arange(730)
    air = 10.0 - 9.0 * np.cos(2 * np.pi * days / 365)
    shallow, deep = (soil_temperature_c(air - 5, air + 5, depth) for depth in (0.05, 0.3))
    assert shallow[365:].mean() == pytest.approx(10.0, abs=0.1)
    assert np.ptp(deep[365:]) < np.ptp(shallow[365:]) < np.ptp(air)
    assert 2 <= np.argmax(shallow[365:]) - np.argmax(air[365:]) <= 10


def test_a_cold_snap_reaches_the_soil_softened() -> None:
    """One frosty day in a mild year cools the soil at sowing depth by a fifth of the drop or less,
    and a week later it is nearly gone.
    """
    air = np.full((2, 365), 10.0)
    air[1, 100] = 0.0
    soil = soil_temperature_c(air, air, 0.05)
    np.testing.assert_allclose(soil[0], 10.0)
    assert 8.0 <= soil[1, 100] < 8.5
    assert soil[1, 110] > 9.7
