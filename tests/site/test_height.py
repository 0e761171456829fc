"""Weather told for a garden's own height."""

from datetime import date

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from haulm.measure.errors import FaultsFoundError
from haulm.site.figures import air_figures
from haulm.site.frost import frost_odds
from haulm.site.height import at_height
from haulm.site.records import DailyRecord, MonthlyNormals, Place
from haulm.site.seasons import seasons_from
from stations import PLACES, read_real


def test_every_figure_of_the_air_says_what_it_rests_on() -> None:
    """Each figure has a basis and a note, a published one its source, and lies in its range."""
    for name, figure in air_figures().items():
        assert figure.basis in {"published", "common practice", "judged", "from memory"}, name
        assert figure.note, name
        assert bool(figure.source) == (figure.basis == "published"), name
        assert bool(figure.read) == bool(figure.source), name
        if figure.low is not None and figure.high is not None:
            assert figure.low <= figure.value <= figure.high, name


def test_nights_and_days_fall_with_height(normals: MonthlyNormals) -> None:
    """A garden 500 m above the station has nights 1.9 and days 3.25 °C colder, and says so."""
    told = at_height(normals, 200.0, 700.0)
    np.testing.assert_allclose(told.tmin_c, np.array(normals.tmin_c) - 1.9)
    np.testing.assert_allclose(told.tmax_c, np.array(normals.tmax_c) - 3.25)
    assert "read at 200 m and told for 700 m" in told.origin
    assert told.doubt_c == pytest.approx(0.75)


def test_the_same_height_changes_nothing(normals: MonthlyNormals) -> None:
    """Weather from the garden's own height is told as it was read."""
    assert at_height(normals, 410.0, 410.4) is normals


@given(st.floats(-1400, 1400))
def test_going_up_and_down_again_gives_the_weather_back(higher_m: float) -> None:
    """Corrected up a hill and down again the weather is the same, though more in doubt."""
    normals = MonthlyNormals("invented", (0.0,) * 12, (18.0,) * 12, (60.0,) * 12)
    there = at_height(at_height(normals, 0.0, higher_m), higher_m, 0.0)
    np.testing.assert_allclose(there.tmin_c, normals.tmin_c, atol=1e-9)
    np.testing.assert_allclose(there.tmax_c, normals.tmax_c, atol=1e-9)


def test_weather_from_far_below_is_refused(normals: MonthlyNormals) -> None:
    """A record from the valley does not tell the weather of a garden 1600 m above it."""
    with pytest.raises(FaultsFoundError, match="1600 m"):
        at_height(normals, 0.0, 1600.0)


def test_no_maximum_comes_under_its_minimum() -> None:
    """Days fall faster with height than nights; where they would meet, the day stays above."""
    first_day = date(2001, 1, 1)
    record = DailyRecord("invented", first_day, np.zeros(400), np.full(400, 1.0), np.zeros(400))
    told = at_height(record, 0.0, 1000.0)
    assert (np.asarray(told.tmax_c) > np.asarray(told.tmin_c)).all()


@pytest.mark.parametrize("name", ["baltimore", "fulda", "seattle"])
def test_the_doubt_widens_every_date(name: str) -> None:
    """Corrected over 400 m the dates lie wider apart than those of the same nights undoubted, and
    as many years are told as were read.
    """
    record, place = read_real(name), PLACES[name]
    told = at_height(record, 0.0, 400.0)
    assert isinstance(told, DailyRecord)
    undoubted = DailyRecord(told.origin, told.first_day, told.tmin_c, told.tmax_c, told.rain_mm)
    wide, narrow = (frost_odds(weather, place, 0.0) for weather in (told, undoubted))
    assert wide.years == narrow.years
    spans = [
        (odds.last_spring[0] or 0.0) - (odds.last_spring[-1] or 0.0) for odds in (wide, narrow)
    ]
    assert spans[0] > spans[1]
    assert wide.last_spring[2] == pytest.approx(narrow.last_spring[2], abs=4)


def test_the_doubt_spreads_the_runs(normals: MonthlyNormals, place: Place) -> None:
    """Each run of weather is shifted as a whole, and their mean stays what it was."""
    told = at_height(normals, 0.0, 1000.0)
    sure = MonthlyNormals(told.origin, told.tmin_c, told.tmax_c, told.rain_mm)
    wide, narrow = (
        seasons_from(weather, place, date(2027, 1, 1), 365, 30) for weather in (told, sure)
    )
    shifts = wide.tmin_c - narrow.tmin_c
    np.testing.assert_allclose(shifts, shifts[:, :1] + np.zeros(365), atol=1e-9)
    assert shifts.mean() == pytest.approx(0.0, abs=1e-6)
    assert shifts[:, 0].std() == pytest.approx(1.5, rel=0.1)
