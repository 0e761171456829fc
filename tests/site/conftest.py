"""An invented place and weather for the site's tests, and the real records."""

from collections.abc import Callable
from datetime import date

import numpy as np
import pytest

from haulm.site.records import DailyRecord, MonthlyNormals, Place, Soil
from stations import read_real


@pytest.fixture
def place() -> Place:
    """Give the invented valley of Torrenz."""
    return Place("Torrenz", 46.4, 10.0, 410.0, Soil.LOAM)


@pytest.fixture
def southern_place() -> Place:
    """Give an invented place on the other side of the equator."""
    return Place("southern Torrenz", -38.0, 145.0, 30.0, Soil.LOAM)


@pytest.fixture
def normals() -> MonthlyNormals:
    """Give invented monthly normals of a cool upland valley."""
    return MonthlyNormals(
        origin="invented",
        tmin_c=(-4, -3, 0, 4, 8, 11, 13, 13, 9, 6, 1, -3),
        tmax_c=(3, 5, 10, 15, 19, 23, 25, 25, 20, 14, 7, 3),
        rain_mm=(60, 60, 70, 80, 100, 110, 100, 100, 90, 90, 80, 70),
    )


@pytest.fixture
def real() -> Callable[[str], DailyRecord]:
    """Give a reader of the real records by the first word of their names."""
    return read_real


@pytest.fixture
def counted() -> Callable[[int], DailyRecord]:
    """Give a maker of records of so many years whose minimum tells year and day of the year."""

    def make(years: int) -> DailyRecord:
        """Make one record."""
        first_day = date(2001, 1, 1)
        days = (date(2001 + years, 1, 1) - first_day).days
        stamps = np.datetime64(first_day, "D") + np.arange(days)
        year = stamps.astype("datetime64[Y]")

        tmin = (year.astype(int) + 1970 - 2000) + (stamps - year.astype("datetime64[D]")).astype(
            int
        ) / 1000.0
        return DailyRecord("counted days", first_day, tmin, tmin + 8.0, np.ones(days))

    return make
