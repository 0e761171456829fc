"""Real years by name, and weather with one misfortune taken out."""

from collections.abc import Callable
from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest

from haulm.measure.errors import FaultsFoundError
from haulm.site.calendar import days_from
from haulm.site.real_years import real_years
from haulm.site.records import DailyRecord, MonthlyNormals, Place, Seasons
from haulm.site.without import (
    MILD_NIGHT_C,
    Part,
    Span,
    months_of,
    with_usual_warmth,
    with_warmer_nights,
    without_frost,
)

Counted = Callable[[int], DailyRecord]
FIRST, DAYS = date(2026, 3, 1), 900
WINDOW = date(2027, 3, 1), date(2028, 3, 1)


def test_every_year_is_told_by_its_own_name(counted: Counted, place: Place) -> None:
    """Each run has the weather of the year it is named by, at the same time of year; the last year,
    whose plan would outlast the record, is named as unfinished.
    """
    told = real_years(counted(6), place, FIRST, DAYS, WINDOW, 1)
    # The record's minimum tells the year, 1 for 2001.
    begins = (WINDOW[0] - FIRST).days
    year = np.floor(told.seasons.tmin_c[:, begins]).astype(int) + 2000
    assert told.years == tuple(year)
    assert told.years == (2001, 2002, 2003, 2004, 2005)
    assert told.unfinished == (2006,)
    assert told.missing == ()


def test_a_year_that_nobody_read_is_named_and_left_out(counted: Counted, place: Place) -> None:
    """A summer without readings is not made up: its year is missing, and said to be."""
    record = counted(6)
    unread = record.tmin_c.copy()
    start = (date(2003, 5, 1) - record.first_day).days
    unread[start : start + 120] = np.nan
    told = real_years(replace(record, tmin_c=unread), place, FIRST, DAYS, WINDOW, 1)
    assert 2003 not in told.years
    assert told.missing == (2003,)


def test_the_last_thirty_years_are_enough(counted: Counted, place: Place) -> None:
    """Of a long record the last thirty years are lived."""
    told = real_years(counted(36), place, FIRST, DAYS, WINDOW, 1)
    assert told.years == tuple(range(2006, 2036))


def test_monthly_means_have_no_years(normals: MonthlyNormals, place: Place) -> None:
    """Where only means are known no real year can be lived, and what to load is told."""
    with pytest.raises(FaultsFoundError, match="no real year"):
        real_years(normals, place, FIRST, DAYS, WINDOW, 1)


def frosty(runs: int = 5) -> Seasons:
    """Give a year of mild nights in each run, with frosts: usual ones, and two that are not."""
    first_day = date(2027, 1, 1)
    tmin = np.full((runs, 365), 5.0)
    for run in range(runs):
        tmin[run, :100] = -1.0  # winter, until 10 April
        tmin[run, 300:] = -1.0  # from 28 October on
    tmin[0, 130] = -2.0  # 11 May, of the first run alone
    tmin[0, 260] = -2.0  # 18 September
    return Seasons("by hand", first_day, tmin, tmin + 10.0, np.zeros((runs, 365)))


@pytest.mark.parametrize(("late", "day"), [(True, 130), (False, 260)])
def test_only_unusual_frosts_are_taken_out(place: Place, *, late: bool, day: int) -> None:
    """Without its late frost the year has that one night mild; winter and the other stay."""
    seasons = frosty()
    mended = without_frost(seasons, 0, place, Span(0, 365), late=late)
    changed = np.flatnonzero(mended.tmin_c[0] != seasons.tmin_c[0])
    assert changed.tolist() == [day]
    assert mended.tmin_c[0, day] == MILD_NIGHT_C
    assert mended.runs == 1


def test_a_cold_spring_is_brought_to_the_usual(place: Place, southern_place: Place) -> None:
    """A spring two degrees too cold is shifted to the mean of all years, day by day alike, and how
    cold it was is told. South of the equator spring is from September to November.
    """
    seasons = frosty()
    spring = slice(59, 151)
    cold = seasons.tmin_c.copy()
    cold[0, spring] -= 2.0
    chilled = replace(seasons, tmin_c=cold, tmax_c=cold + 10.0)
    mended, off_c = with_usual_warmth(chilled, 0, place, Span(0, 365), Part.SPRING)
    mean_c = (mended.tmin_c[0, spring] + mended.tmax_c[0, spring]).mean() / 2
    assert off_c < -1.5
    usual_c = (chilled.tmin_c[:, spring] + chilled.tmax_c[:, spring]).mean() / 2
    assert mean_c == pytest.approx(usual_c)
    assert np.array_equal(mended.tmin_c[0, 151:], chilled.tmin_c[0, 151:])
    assert months_of(Part.SPRING, southern_place) == {9, 10, 11}
    assert months_of(Part.WINTER, place) == {12, 1, 2}


def test_fleece_warms_nights_of_frost_alone() -> None:
    """Fleece lifts the nights that freeze, within the plan, and leaves the others."""
    seasons = frosty()
    covered = with_warmer_nights(seasons, 2.0, Span(50, 200))
    gained = covered.tmin_c - seasons.tmin_c
    days = days_from(seasons.first_day, 365)
    assert np.all(gained[:, :50] == 0)
    assert np.all(gained[:, 50:100] == 2.0)
    assert gained[0, 130] == 2.0
    assert (seasons.first_day + timedelta(days=130)).month == days.month[130] == 5
