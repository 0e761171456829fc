"""Real years by name: the weather of a record, each run begun in a year that can be told."""

from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.site.records import DailyRecord, Place, Seasons, Weather
from haulm.site.seasons import filled_record, model_for, record_days, years_in

MOST_YEARS = 30
READ_SHARE = 0.95


@dataclass(frozen=True, slots=True, eq=False)
class RealYears:
    """Runs of real weather, each named by the calendar year in which the time looked at begins.

    Attributes
    ----------
    seasons
        One run a year.
    years
        The year of each run, in order.
    missing
        Years after the first of them of which too little was read.
    unfinished
        Years that the record begins, but does not follow to the end of the time looked at.
    """

    seasons: Seasons
    years: tuple[int, ...]
    missing: tuple[int, ...]
    unfinished: tuple[int, ...]


def real_years(
    weather: Weather, place: Place, first_day: date, days: int, window: tuple[date, date], seed: int
) -> RealYears:
    """Lay the last thirty years of a record over a time to come, year by year.

    Parameters
    ----------
    weather, place
        The record, and where.
    first_day, days
        The first day of every run and how many follow.
    window
        The first day and the day after the last of the time looked at. A year counts when 95 days
        in 100 of that time were read in it, and the record holds all of it without a break; what
        lies before and after may be of other years.
    seed
        The seed of the days nobody read, which are drawn.

    Raises
    ------
    FaultsFoundError
        When there is no record of days, or not one year of it can be told.
    """
    if not isinstance(weather, DailyRecord):
        what = "the weather is monthly means, so no real year can be lived again."
        raise FaultsFoundError([Finding("weather", what, REMEDY)])
    years = years_in(weather)
    rows = record_days(weather, first_day, (years, days)) if years else np.empty((0, days), int)
    told: dict[int, int] = {}
    missing, unfinished = [], []
    inside = slice((window[0] - first_day).days, (window[1] - first_day).days)
    read = np.isfinite(weather.tmin_c) & np.isfinite(weather.tmax_c)
    for run, of_run in enumerate(rows):
        of_window = of_run[inside]
        year = (weather.first_day + timedelta(days=int(of_window[0]))).year
        if np.any(np.diff(of_window) < 0):
            unfinished.append(year)
        elif read[of_window].mean() >= READ_SHARE:
            told[year] = run
        else:
            missing.append(year)
    if not told:
        what = "the record holds no whole time of the plan's length, so no year can be lived again."
        raise FaultsFoundError([Finding("weather", what, REMEDY)])
    names = sorted(told)[-MOST_YEARS:]
    filled = filled_record(weather, model_for(weather, place), seed)
    at = rows[[told[year] for year in names]]
    seasons = Seasons(
        origin=f"{len(names)} real years, {names[0]} to {names[-1]} ({weather.origin})",
        first_day=first_day,
        tmin_c=filled.tmin_c[0, at],
        tmax_c=filled.tmax_c[0, at],
        rain_mm=filled.rain_mm[0, at],
    )
    gaps = tuple(sorted(year for year in missing if year > names[0]))
    return RealYears(seasons, tuple(names), gaps, tuple(sorted(unfinished)))


REMEDY = "Load a daily record of at least three years: haulm weather fetch, or the page Place."
