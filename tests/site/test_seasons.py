"""Many runs of weather over the plan's time."""

from collections.abc import Callable
from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest

from haulm.site.cover import under_cover
from haulm.site.figures import air_figure
from haulm.site.records import DailyRecord, MonthlyNormals, Place
from haulm.site.seasons import seasons_from, whole_years

Counted = Callable[[int], DailyRecord]


def test_ten_years_are_used_as_they_were(counted: Counted, place: Place) -> None:
    """With ten years of record each run is one year's real weather on the same day of the year,
    and the years that followed it.
    """
    seasons = seasons_from(counted(10), place, date(2027, 3, 1), 400, runs=10)
    assert "real weather over 10 years" in seasons.origin
    year = np.floor(seasons.tmin_c)
    np.testing.assert_array_equal(np.sort(year[:, 0]), np.arange(1, 11))
    day = np.round((seasons.tmin_c - year) * 1000)
    # 1 March is day 59 of a year counted from 0, day 60 of a leap year.
    assert set(day[:, 0]) == {59.0, 60.0}
    new_year = (date(2028, 1, 1) - date(2027, 3, 1)).days
    np.testing.assert_array_equal(day[:, new_year], 0.0)
    # The last year goes on into the first.
    np.testing.assert_array_equal(year[:, new_year], year[:, 0] % 10 + 1)


@pytest.mark.parametrize("doubt_c", [0.0, 1.5])
@pytest.mark.parametrize("years", [10, 13])
@pytest.mark.parametrize("later_d", [1, 28, 140, 366, 800])
def test_a_day_keeps_its_real_weather_when_a_plan_begins_later(
    years: int, later_d: int, doubt_c: float, counted: Counted, place: Place
) -> None:
    """Runs of real years that begin on another day tell the days they share alike, and what the
    garden may be off by as well.
    """
    record = replace(counted(years), doubt_c=doubt_c)
    first_day = date(2027, 11, 20)
    one = seasons_from(record, place, first_day, 1000, 12)
    later = seasons_from(record, place, first_day + timedelta(later_d), 200, 12)
    np.testing.assert_array_equal(one.tmin_c[:, later_d : later_d + 200], later.tmin_c)


def test_a_record_of_these_years_is_told_as_it_was(counted: Counted, place: Place) -> None:
    """Laid over its own years, a record's first run has each day as it was read."""
    record = counted(11)
    inside = (date(2004, 5, 1) - record.first_day).days
    seasons = seasons_from(record, place, date(2004, 5, 1), 365, 11)
    np.testing.assert_array_equal(seasons.tmin_c[0], record.tmin_c[inside : inside + 365])


def test_a_leap_day_repeats_the_day_before(counted: Counted, place: Place) -> None:
    """29 February of a leap year in the plan has the weather of the 28th, and 1 March that of a
    1 March.
    """
    seasons = seasons_from(counted(10), place, date(2028, 2, 28), 3, runs=10)
    day = np.round((seasons.tmin_c % 1) * 1000)
    np.testing.assert_array_equal(day[:, 0], 58)
    np.testing.assert_array_equal(day[:, 1], 58)
    assert set(day[:, 2]) == {59.0, 60.0}


@pytest.mark.parametrize("first_day", [date(2028, 2, 29), date(2027, 12, 31), date(2027, 1, 1)])
def test_any_first_day_starts_on_its_own_day(
    first_day: date, counted: Counted, place: Place
) -> None:
    """Whatever the first day, its weather was read on that day of the year."""
    seasons = seasons_from(counted(12), place, first_day, 2, runs=12)
    day = np.round((seasons.tmin_c[:, 0] % 1) * 1000)
    number = first_day.timetuple().tm_yday - 1
    expected = {58} if first_day.day == 29 else {number, number + int(number > 60)}
    assert set(day) <= {float(value) for value in expected}


def test_more_runs_than_years_use_each_year_as_often(counted: Counted, place: Place) -> None:
    """Thirty runs over twelve years use each year two or three times."""
    seasons = seasons_from(counted(12), place, date(2027, 5, 1), 10)
    _, times = np.unique(np.floor(seasons.tmin_c[:, 0]), return_counts=True)
    assert len(times) == 12
    assert set(times) <= {2, 3}


def test_a_record_that_starts_in_autumn_keeps_its_days(counted: Counted, place: Place) -> None:
    """A record need not start at New Year for its days to stay where they belong."""
    whole = counted(13)
    skip = (date(2001, 9, 20) - whole.first_day).days
    record = DailyRecord(
        whole.origin,
        date(2001, 9, 20),
        whole.tmin_c[skip:],
        whole.tmax_c[skip:],
        whole.rain_mm[skip:],
    )
    seasons = seasons_from(record, place, date(2027, 3, 1), 365, runs=12)
    day = np.round((seasons.tmin_c % 1) * 1000)
    assert set(day[:, 0]) == {59.0, 60.0}
    assert set(day[:, (date(2028, 1, 1) - date(2027, 3, 1)).days]) == {0.0}


def test_gaps_are_filled_not_zeroed(counted: Counted, place: Place) -> None:
    """Days nobody read are drawn to fit their season, and the origin says how many."""
    record = counted(10)
    tmin, rain = record.tmin_c.copy(), record.rain_mm.copy()
    tmin[400:420], rain[:] = np.nan, np.nan
    holed = DailyRecord("holed", record.first_day, tmin, record.tmax_c, rain)
    seasons = seasons_from(holed, place, date(2027, 1, 1), 365, runs=10)
    assert "20 days nobody read" in seasons.origin
    assert np.isfinite(seasons.tmin_c).all()
    assert (seasons.tmax_c > seasons.tmin_c).all()
    assert np.isnan(seasons.rain_mm).all()
    assert "so none is told" in seasons.origin


def test_few_years_are_drawn_from(counted: Counted, place: Place) -> None:
    """Nine years are too few to stand alone: the runs are drawn, and the origin says so."""
    record = counted(9)
    assert whole_years(record) == 9
    seasons = seasons_from(record, place, date(2027, 1, 1), 30)
    assert seasons.runs == 30
    assert "drawn by chance" in seasons.origin
    assert "9.0 years" in seasons.origin


def test_normals_give_many_years(normals: MonthlyNormals, place: Place) -> None:
    """Twelve normals alone give as many differing years as are asked for."""
    seasons = seasons_from(normals, place, date(2027, 1, 4), 750, runs=40, seed=3)
    assert (seasons.runs, seasons.days) == (40, 750)
    assert len(np.unique(seasons.tmin_c.mean(axis=1))) == 40
    assert "judged" in seasons.origin


def test_under_cover_it_is_warmer_and_dry(normals: MonthlyNormals, place: Place) -> None:
    """Under a tunnel the days are warmer by the measured means (Savage 1980, 4.2 and 1.3 °C) and
    no rain falls.
    """
    outside = seasons_from(normals, place, date(2027, 1, 4), 60, runs=3)
    inside = under_cover(outside)
    assert (air_figure("tunnel_day_gain_c"), air_figure("tunnel_night_gain_c")) == (4.2, 1.3)
    np.testing.assert_allclose(inside.tmax_c - outside.tmax_c, 4.2)
    np.testing.assert_allclose(inside.tmin_c - outside.tmin_c, 1.3)
    assert not inside.rain_mm.any()
    assert "tunnel" in inside.origin


def test_an_old_record_is_said_to_be_old(counted: Counted, place: Place) -> None:
    """A record that ended long before the plan says so; one that has just ended does not."""
    record = counted(10)
    old = seasons_from(record, place, date(2041, 1, 1), 30)
    assert "ended 30 years before" in old.origin
    assert "ended" not in seasons_from(record, place, date(2012, 1, 1), 30).origin


def test_too_little_rain_is_told_as_none(counted: Counted, place: Place) -> None:
    """A handful of days with rain read is too little: no rain is told, and it is said so; a few
    days without are filled and counted.
    """
    record = counted(10)
    rain = np.full(record.rain_mm.size, np.nan)
    rain[:5] = 3.0
    scarce = replace(record, rain_mm=rain)
    seasons = seasons_from(scarce, place, date(2027, 1, 1), 30)
    assert np.isnan(seasons.rain_mm).all()
    assert "so none is told" in seasons.origin
    rain = record.rain_mm.copy()
    rain[:5] = np.nan
    filled = seasons_from(replace(record, rain_mm=rain), place, date(2027, 1, 1), 30)
    assert np.isfinite(filled.rain_mm).all()
    assert "rain of 5 days is drawn" in filled.origin
