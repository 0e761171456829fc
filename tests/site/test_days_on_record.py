"""Days along the calendar as the record has them."""

from collections.abc import Callable
from dataclasses import replace
from datetime import date

import numpy as np
import pytest

from haulm.site.days_on_record import days_on_record
from haulm.site.records import DailyRecord, MonthlyNormals, Place

Counted = Callable[[int], DailyRecord]


def test_each_day_has_the_weather_of_that_very_day(counted: Counted, place: Place) -> None:
    """From June 2003 on the days are those of 2003, 2004 and so on, 29 February among them, up to
    the record's last; what comes after is of other years and is not called read.
    """
    whole = counted(6)
    record = DailyRecord(
        whole.origin,
        whole.first_day,
        whole.tmin_c[:-100],
        whole.tmax_c[:-100],
        whole.rain_mm[:-100],
    )
    found = days_on_record(record, place, date(2003, 6, 1), 2000, 1)
    assert found is not None
    own = (date(2003, 6, 1) - record.first_day).days
    left = record.tmin_c.size - own
    assert found.until == left
    assert found.seasons.tmin_c[0, :left] == pytest.approx(record.tmin_c[own:])
    assert found.holds(0, left)
    assert not found.holds(left - 5, left + 1)


def test_days_that_nobody_read_are_drawn_and_not_called_read(
    counted: Counted, place: Place
) -> None:
    """A spring of which a month is missing is not held by the record; the summer is."""
    record = counted(4)
    tmin = record.tmin_c.copy()
    tmin[100:130] = np.nan
    found = days_on_record(replace(record, tmin_c=tmin), place, record.first_day, 365, 1)
    assert found is not None
    assert not found.holds(90, 150)
    assert found.holds(150, 240)
    assert np.isfinite(found.seasons.tmin_c).all()


def test_monthly_means_hold_no_days(normals: MonthlyNormals, place: Place) -> None:
    """Where only monthly means are known no day of a year can be told."""
    assert days_on_record(normals, place, date(2027, 1, 1), 365, 1) is None
