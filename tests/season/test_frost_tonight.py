"""Frost by bed: the odds follow the forecast's error, and the order what is lost."""

from statistics import NormalDist

import pytest
from hypothesis import given
from hypothesis import strategies as st

from haulm.season.frost_tonight import BedNight, Night, kill_odds
from haulm.season.watch_figures import watch_figures

OPEN = BedNight("north", 0.0, 1.5)
HOLLOW = BedNight("south", -2.0, 1.5)


def test_the_forecasts_error_is_as_the_met_office_tells_it() -> None:
    """86.5 % of first-night minima fell within 2 °C of the forecast (Met Office, Accuracy
    performance, 119 stations): so do ours.
    """
    error = NormalDist(0.0, watch_figures().forecast_min_error_c.value)
    assert error.cdf(2.0) - error.cdf(-2.0) == pytest.approx(0.865, abs=0.002)


def test_even_odds_where_the_forecast_is_what_kills() -> None:
    """Forecast at the killing temperature itself the night is as likely colder as warmer."""
    assert kill_odds(Night(-0.5), -0.5, OPEN) == pytest.approx(0.5)
    assert kill_odds(Night(1.5), -0.5, HOLLOW) == pytest.approx(0.5)


def test_one_degree_of_frost_by_hand() -> None:
    """At 1 °C forecast, killed at −0.5 °C: 1.5 °C over a spread of √(1.34² + 1²) = 1.672 °C are
    0.897 deviations, 18.5 nights in a hundred; under fleece (+1.5 °C) 3.6.
    """
    assert kill_odds(Night(1.0), -0.5, OPEN) == pytest.approx(0.185, abs=0.001)
    assert kill_odds(Night(1.0), -0.5, OPEN, covered=True) == pytest.approx(0.0364, abs=0.0005)


@given(st.floats(-8, 8), st.floats(-8, 2), st.floats(0, 3), st.integers(0, 4))
def test_colder_hollower_and_barer_is_never_safer(
    tmin_c: float, kills_c: float, deeper: float, ahead: int
) -> None:
    """A colder forecast, a deeper hollow and no cover never lessen the odds."""
    night, colder = Night(tmin_c, ahead), Night(tmin_c - 0.5, ahead)
    lower = BedNight("low", -deeper, 1.5)
    assert kill_odds(colder, kills_c, OPEN) >= kill_odds(night, kills_c, OPEN)
    assert kill_odds(night, kills_c, lower) >= kill_odds(night, kills_c, OPEN)
    assert kill_odds(night, kills_c, OPEN, covered=True) <= kill_odds(night, kills_c, OPEN)
