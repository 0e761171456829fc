"""Degree-days and soil warmth."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from haulm.site.degree_days import Cutoff, single_sine
from haulm.site.soil_warmth import (
    damping_depth,
    mulch_weight,
    soil_at_depth_c,
    soil_temperature_c,
    wave_lag_d,
    wave_left,
)

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


def hour_by_hour(low: float, high: float, base: float, upper: float, cutoff: Cutoff) -> float:
    """Add up a day's degree-days over ten thousand moments of its sine."""
    turn = 2 * np.pi * (np.arange(10_000) + 0.5) / 10_000
    warmth = (low + high) / 2 + (high - low) / 2 * np.sin(turn)
    held = np.clip(warmth, base, upper) - base
    if cutoff == "vertical":
        held = np.where(warmth > upper, 0.0, held)
    beyond = np.maximum(warmth - upper, 0.0)
    total = (held - beyond).mean() if cutoff == "intermediate" else held.mean()
    return float(max(total, 0.0))


@settings(max_examples=60, deadline=None)
@given(
    st.floats(-10, 30),
    st.floats(0.5, 25),
    st.floats(0, 12),
    st.sampled_from(["horizontal", "intermediate", "vertical"]),
)
def test_each_cutoff_is_what_its_sine_adds_up_to(
    low: float, span: float, base: float, cutoff: Cutoff
) -> None:
    """Past the upper threshold warmth adds no more, takes back, or does not count at all, as the
    same day added up moment by moment.
    """
    day = np.array([low]), np.array([low + span])
    expected = hour_by_hour(low, low + span, base, 28.0, cutoff)
    assert single_sine(*day, base, 28.0, cutoff)[0] == pytest.approx(expected, abs=0.01)


def test_without_an_upper_threshold_every_cutoff_is_the_same() -> None:
    """Where no warmth is too much the three ways agree."""
    low, high = np.array([4.0]), np.array([31.0])
    values = {
        float(single_sine(low, high, 5.0, np.inf, cutoff)[0])
        for cutoff in ("horizontal", "intermediate", "vertical")
    }
    assert len(values) == 1


def years_of_sine(years: int = 4) -> np.ndarray:
    """Give air that swings by 10 °C through each of some years of 365 days."""
    return 10.0 + 10.0 * np.sin(2 * np.pi * np.arange(365 * years) / 365)


@pytest.mark.parametrize("depth_m", [0.05, 0.1, 0.2, 0.5, 1.0])
def test_soil_at_depth_is_the_wave_of_the_textbook(depth_m: float) -> None:
    """The year's swing and its lag at a depth are those of a wave of warmth conducted down (Rain
    or Shine, equation 13-4), counted from the surface.
    """
    air, depth = years_of_sine(), damping_depth(5e-7, 365.0)
    surface, soil = (soil_at_depth_c(air, air, at)[-365:] for at in (0.0, depth_m))
    assert np.ptp(soil) / np.ptp(surface) == pytest.approx(wave_left(depth_m, depth), abs=0.01)
    lag_d = int(np.argmax(soil)) - int(np.argmax(surface))
    assert lag_d == pytest.approx(wave_lag_d(depth_m, depth), abs=1.5)


@pytest.mark.parametrize(
    ("depth_m", "too_small"), [(0.05, 0.04), (0.1, 0.07), (0.2, 0.14), (0.5, 0.3)]
)
def test_how_far_the_estimate_at_sowing_depth_holds(depth_m: float, too_small: float) -> None:
    """At sowing depth the quick estimate damps the year's swing by 4 in 100 too much, and deeper
    by more and more, as it says of itself.
    """
    air = years_of_sine()
    soil = soil_temperature_c(air, air, depth_m)[-365:]
    left = wave_left(depth_m, damping_depth(5e-7))
    assert left - np.ptp(soil) / 20.0 == pytest.approx(too_small, abs=0.02)


def test_mulch_makes_the_ground_later_and_evener() -> None:
    """Under 5 t/ha of straw the ground warms later and swings less from week to week than bare."""
    rng = np.random.default_rng(3)
    air = years_of_sine() + rng.normal(0, 3, 1460)
    bare, mulched = (soil_temperature_c(air, air, 0.05, mulch_kg_ha=kg)[-365:] for kg in (0, 5000))
    assert np.diff(mulched).std() < 0.5 * np.diff(bare).std()
    assert mulched[60:150].mean() < bare[60:150].mean() - 0.5
    assert mulched[240:330].mean() > bare[240:330].mean() + 0.5


def test_mulch_weighs_more_the_thicker_it_lies() -> None:
    """Bare ground keeps nothing more, thicker mulch more and more, never all."""
    weights = [mulch_weight(kg) for kg in (0, 500, 2000, 5000, 20000)]
    assert weights[0] == 0.0
    assert weights == sorted(weights)
    assert weights[-1] < 1.0


def test_a_drier_soil_lets_the_wave_less_deep() -> None:
    """Where heat moves slowly the year's swing is spent nearer the surface."""
    air = years_of_sine()
    dry, moist = (np.ptp(soil_at_depth_c(air, air, 0.5, d)[-365:]) for d in (2e-7, 8e-7))
    assert dry < moist
