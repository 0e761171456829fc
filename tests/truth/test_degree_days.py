"""Degree-days, against published figures and against sums over the hours of real days."""

from datetime import date
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from haulm.site.degree_days import averaging, single_sine
from haulm.site.readers.choose import read_record

WEATHER = Path(__file__).parent / "data" / "weather"
RECORDS = (
    "baltimore_2010_2019",
    "fulda_1979_1988",
    "melbourne_1981_1990",
    "seattle_2012_2015",
)


def one(value: float) -> np.ndarray[tuple[int, ...], np.dtype[np.float64]]:
    """Make an array of one figure."""
    return np.array([value], dtype=np.float64)


def test_the_single_sine_is_worked_out_from_its_formula() -> None:
    """From 5 to 25 °C over 10 the sine gives 6.0900 °C d (worked out by the formula of Baskerville
    and Emin 1969) where a day's mean gives 5.
    """
    assert single_sine(one(5), one(25), 10, 30)[0] == pytest.approx(6.0900, abs=5e-5)
    assert averaging(one(5), one(25), 10)[0] == pytest.approx(5)


def four_cases(tmin: float, tmax: float, base: float) -> float:
    """Give degree-days by the rule of four cases (Met Éireann's page on degree-days)."""
    mean = (tmin + tmax) / 2
    if tmin > base:
        return mean - base
    if mean > base:
        return (tmax - base) / 2 - (base - tmin) / 4
    return max(tmax - base, 0.0) / 4


@settings(max_examples=100, deadline=None)
@given(st.floats(-15, 30), st.floats(0.5, 20), st.sampled_from([0.0, 5.0, 10.0]))
def test_near_the_rule_of_four_cases(tmin: float, span: float, base: float) -> None:
    """The sine never strays from the four-case rule by more than 3.5 % of the day's span.

    The most is 1/(2π) - 1/8 = 3.42 %, with the base in the middle of the day's span.
    """
    sine = single_sine(one(tmin), one(tmin + span), base, np.inf)[0]
    assert sine == pytest.approx(four_cases(tmin, tmin + span, base), abs=0.035 * span)


@pytest.mark.parametrize("name", RECORDS)
@pytest.mark.parametrize(("base", "upper"), [(0.0, 30.0), (5.0, 20.0), (10.0, 30.0)])
def test_sum_over_the_hours_of_real_days(name: str, base: float, upper: float) -> None:
    """On every day of four real records the degree-days equal the mean, over 2000 moments of a
    sine through the day's extremes, of the warmth between the thresholds.
    """
    record, _ = read_record(WEATHER / f"{name}.csv")
    step = slice(None, None, 7)
    tmin, tmax = record.tmin_c[step], record.tmax_c[step]
    moments = (np.arange(2000) + 0.5) / 2000 * 2 * np.pi
    course = (tmin + tmax)[:, None] / 2 + (tmax - tmin)[:, None] / 2 * np.sin(moments)
    summed = (np.clip(course, base, upper) - base).mean(axis=1)
    np.testing.assert_allclose(single_sine(tmin, tmax, base, upper), summed, atol=2e-3)


def test_a_year_at_fulda_by_a_plain_loop() -> None:
    """Fulda's degree-days above 5 °C from March to October 1983 equal a sum day by day and hour
    by hour.
    """
    record, _ = read_record(WEATHER / "fulda_1979_1988.csv")
    start, end = ((day - record.first_day).days for day in (date(1983, 3, 1), date(1983, 11, 1)))
    total = 0.0
    for low, high in zip(record.tmin_c[start:end], record.tmax_c[start:end], strict=True):
        for hour in range(240):
            angle = 2 * np.pi * (hour + 0.5) / 240
            total += max((low + high) / 2 + (high - low) / 2 * np.sin(angle) - 5.0, 0.0) / 240
    ours = single_sine(record.tmin_c[start:end], record.tmax_c[start:end], 5.0, np.inf).sum()
    assert ours == pytest.approx(total, rel=1e-4)
    assert 1500 < ours < 2300
