"""Years of weather cut at midwinter and midsummer, so that each frost season stays whole."""

from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np
from numpy.typing import NDArray

from haulm.site.generator import draw
from haulm.site.records import DailyRecord, Place, Weather
from haulm.site.seasons import model_for

FIRST_HALF_DAYS = 182
LONGEST_HALF_DAYS = 184
DRAWN_YEARS = 200
LEAST_YEARS_OF_RECORD = 3
_READ_SHARE = 0.95


@dataclass(frozen=True, slots=True, eq=False)
class Halves:
    """Daily minima by half-year.

    Attributes
    ----------
    after_midwinter, after_midsummer
        One row a season: the days from midwinter on, and those that follow from midsummer on,
        shape (seasons, 184) [°C]. Days past a half's end, days nobody read, and whole halves read
        on fewer than 95 days in 100 are NaN.
    how
        Where they come from, in words; empty for a record.
    """

    after_midwinter: NDArray[np.float64]
    after_midsummer: NDArray[np.float64]
    how: str


def season_start(place: Place, year: int) -> date:
    """Give the day after midwinter with which a season starts: 1 January, or 1 July south."""
    return date(year, 7, 1) if place.southern else date(year, 1, 1)


def halves_of(weather: Weather, place: Place, seed: int) -> Halves:
    """Cut weather into half-years.

    A record with fewer than three halves of either kind, and normals, give 200 drawn years.

    Raises
    ------
    FaultsFoundError
        If the weather known is too little to fit the generator to.
    """
    if isinstance(weather, DailyRecord):
        halves = _of_record(weather, place)
        least = min(seasons_read(halves.after_midwinter), seasons_read(halves.after_midsummer))
        if least >= LEAST_YEARS_OF_RECORD:
            return halves
    return drawn_halves(weather, place, seed)


def drawn_halves(weather: Weather, place: Place, seed: int) -> Halves:
    """Draw 200 years from midwinter on and cut them; raises as :func:`halves_of`."""
    model = model_for(weather, place)
    # A year without a 29 February, so that every drawn season is alike.
    first_day = season_start(place, 2025)
    drawn = draw(model, first_day, 365, DRAWN_YEARS, seed)
    return Halves(
        after_midwinter=_padded(drawn.tmin_c[:, :FIRST_HALF_DAYS]),
        after_midsummer=_padded(drawn.tmin_c[:, FIRST_HALF_DAYS:]),
        how=f"from {DRAWN_YEARS} years drawn by chance, {model.origin}",
    )


def seasons_read(half: NDArray[np.float64]) -> int:
    """Count the seasons in which a half was read."""
    return int(np.isfinite(half).any(axis=1).sum())


def _of_record(record: DailyRecord, place: Place) -> Halves:
    """Cut a record at every midwinter and midsummer it touches."""
    days = record.tmin_c.size
    last_day = record.first_day + timedelta(days=days - 1)
    spring, autumn = [], []
    for year in range(record.first_day.year - 1, last_day.year + 1):
        start = season_start(place, year)
        middle = start + timedelta(days=FIRST_HALF_DAYS)
        spring.append(_cut(record, start, FIRST_HALF_DAYS))
        autumn.append(_cut(record, middle, (season_start(place, year + 1) - middle).days))
    return Halves(np.array(spring), np.array(autumn), how="")


def _cut(record: DailyRecord, start: date, days: int) -> NDArray[np.float64]:
    """Take some days of the minima, NaN outside the record and where too few were read."""
    offset = (start - record.first_day).days
    row = np.full(LONGEST_HALF_DAYS, np.nan)
    where = np.arange(offset, offset + days)
    inside = (where >= 0) & (where < record.tmin_c.size)
    row[:days][inside] = record.tmin_c[where[inside]]
    if np.isfinite(row).sum() < _READ_SHARE * days:
        row[:] = np.nan
    return row


def _padded(half: NDArray[np.float64]) -> NDArray[np.float64]:
    """Widen drawn half-years to the common width."""
    width = LONGEST_HALF_DAYS - half.shape[1]
    return np.pad(half, ((0, 0), (0, width)), constant_values=np.nan)
