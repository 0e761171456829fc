"""Many possible runs of weather over the plan's time, from real years or from the generator."""

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
from numpy.typing import NDArray

from haulm.site.calendar import DAYS_A_YEAR, days_from
from haulm.site.doubt import even_chances
from haulm.site.generator import NO_RAIN, WeatherModel, draw, fit_normals, fit_record
from haulm.site.records import DailyRecord, MonthlyNormals, Place, Seasons, Weather

YEARS_TO_STAND_ALONE = 10
YEARS_TO_BE_OLD = 15
FEBRUARY, LEAP_DAY = 2, 29
_READ_SHARE = 0.9


def model_for(weather: Weather, place: Place) -> WeatherModel:
    """Fit the generator to whichever kind of weather is known."""
    if isinstance(weather, MonthlyNormals):
        return fit_normals(weather, place)
    return fit_record(weather, place)


def seasons_from(
    weather: Weather, place: Place, first_day: date, days: int, runs: int = 30, seed: int = 1
) -> Seasons:
    """Give many runs of weather from a first day on.

    With ten or more whole years of record the runs are real weather: each starts in one year of
    the record at the same time of year and goes on into the years that followed, from the end of
    the record back to its beginning. A calendar day has the same weather in a run whenever the
    runs begin and end, real or drawn. Days nobody read are filled from the generator, and each
    29 February repeats the day before. With less, or with normals, all is drawn by the generator.

    Parameters
    ----------
    weather, place
        What is known, and where.
    first_day, days, runs, seed
        Day of the first value, length of a run [d], number of runs, seed of the generator. More
        runs than years of record use the years as evenly as they go.

    Returns
    -------
    Seasons of shape (runs, days); rain is NaN throughout where the record has none.

    Raises
    ------
    FaultsFoundError
        If the weather known is too little to fit the generator to.
    """
    model = model_for(weather, place)
    if isinstance(weather, MonthlyNormals):
        return _in_doubt(draw(model, first_day, days, runs, seed), weather.doubt_c, seed)
    if whole_years(weather) < YEARS_TO_STAND_ALONE:
        seasons = draw(model, first_day, days, runs, seed)
    else:
        seasons = _real_years(weather, model, first_day, (runs, days), seed)
    aged = replace(seasons, origin=seasons.origin + _age(weather, first_day))
    return _in_doubt(aged, weather.doubt_c, seed)


def _in_doubt(seasons: Seasons, doubt_c: float, seed: int) -> Seasons:
    """Shift each run by what the weather may be off for the garden, all shifts evenly spread."""
    if not doubt_c:
        return seasons
    # A source of chance of its own, so that the runs themselves stay what they are without doubt.
    order = np.random.default_rng([seed, 1]).permutation(seasons.runs)
    shifts_c = (doubt_c * even_chances(seasons.runs))[order][:, None]
    return replace(seasons, tmin_c=seasons.tmin_c + shifts_c, tmax_c=seasons.tmax_c + shifts_c)


def _age(record: DailyRecord, first_day: date) -> str:
    """Say so where a record ended long ago; empty where it did not."""
    last_day = record.first_day + timedelta(days=record.tmin_c.size - 1)
    years = (first_day - last_day).days // DAYS_A_YEAR
    if years < YEARS_TO_BE_OLD:
        return ""
    return f"; the record ended {years} years before, and most climates have warmed since"


def whole_years(record: DailyRecord) -> int:
    """Count the years of 365 days from the record's first on, of which 9 days in 10 were read."""
    read = np.isfinite(record.tmin_c) & np.isfinite(record.tmax_c)
    years = read.size // DAYS_A_YEAR
    by_year = read[: years * DAYS_A_YEAR].reshape(years, DAYS_A_YEAR)
    return int(np.sum(by_year.mean(axis=1) >= _READ_SHARE))


def _real_years(
    record: DailyRecord,
    model: WeatherModel,
    first_day: date,
    shape: tuple[int, int],
    seed: int,
) -> Seasons:
    """Lay the record round in a ring of whole years and start a run in each."""
    runs = shape[0]
    filled = filled_record(record, model, seed)
    rows = record_days(record, first_day, shape)
    return Seasons(
        origin=_real_origin(record, model, years_in(record), runs),
        first_day=first_day,
        tmin_c=filled.tmin_c[0, rows],
        tmax_c=filled.tmax_c[0, rows],
        rain_mm=filled.rain_mm[0, rows],
    )


def years_in(record: DailyRecord) -> int:
    """Count the years of 365 days, each 29 February left out, that a record lasts."""
    return int((_is_leap_day(record.first_day, record.tmin_c.size) == 0).sum()) // DAYS_A_YEAR


def record_days(record: DailyRecord, first_day: date, shape: tuple[int, int]) -> NDArray[np.int64]:
    """Say which day of a record stands for each day of each run, shape (runs, days).

    The first run is the record again and again, from its end back to its beginning, laid along the
    calendar so that the record's own days are themselves; the others are shifted by whole years,
    evenly over the record. So a day of a run rests on its date alone, whatever ``first_day``.
    """
    runs, days = shape
    leap_free = np.flatnonzero(_is_leap_day(record.first_day, record.tmin_c.size) == 0)
    years = leap_free.size // DAYS_A_YEAR
    ring = leap_free[: years * DAYS_A_YEAR]
    since = _leap_free_number(first_day, days) - _leap_free_number(record.first_day, 1)
    shifts = np.arange(runs) * years // runs * DAYS_A_YEAR
    return np.asarray(ring[(shifts[:, None] + since) % ring.size])


def filled_record(record: DailyRecord, model: WeatherModel, seed: int) -> Seasons:
    """Fill what nobody read with days drawn for the same dates, shape (1, days)."""
    drawn = draw(model, record.first_day, record.tmin_c.size, 1, seed)
    unread = np.isnan(record.tmin_c) | np.isnan(record.tmax_c)
    return Seasons(
        origin=record.origin,
        first_day=record.first_day,
        # Both at once, lest a drawn maximum fall under a minimum that was read.
        tmin_c=np.where(unread, drawn.tmin_c, record.tmin_c),
        tmax_c=np.where(unread, drawn.tmax_c, record.tmax_c),
        rain_mm=np.where(np.isnan(record.rain_mm), drawn.rain_mm, record.rain_mm)
        if model.rain is not None
        else drawn.rain_mm,
    )


def _leap_free_number(first_day: date, days: int) -> NDArray[np.int64]:
    """Count days without any 29 February: on one, the count stands still for a day."""
    calendar = days_from(first_day, days)
    return np.asarray(calendar.year * DAYS_A_YEAR + calendar.slot, dtype=np.int64)


def _is_leap_day(first_day: date, days: int) -> NDArray[np.int64]:
    """Mark each 29 February with 1, all other days with 0."""
    calendar = days_from(first_day, days)
    return np.asarray((calendar.month == FEBRUARY) & (calendar.day == LEAP_DAY), dtype=np.int64)


def _real_origin(record: DailyRecord, model: WeatherModel, years: int, runs: int) -> str:
    """Say what real years the runs rest on and what was filled."""
    again = f", each used {runs / years:.2g} times" if runs > years else ""
    told = f"{runs} runs of real weather over {years} years{again} ({record.origin})"
    unread = int(np.sum(np.isnan(record.tmin_c) | np.isnan(record.tmax_c)))
    if unread:
        told += f"; {unread} days nobody read are drawn by chance"
    dry = int(np.sum(np.isnan(record.rain_mm)))
    if model.rain is None:
        told += NO_RAIN
    elif dry:
        told += f"; rain of {dry} days is drawn by chance"
    return told
