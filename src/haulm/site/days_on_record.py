"""Days of the calendar as a record has them: its own weather wherever it was read."""

from dataclasses import dataclass
from datetime import date

import numpy as np
from numpy.typing import NDArray

from haulm.site.real_years import READ_SHARE
from haulm.site.records import DailyRecord, Place, Seasons, Weather
from haulm.site.seasons import filled_record, model_for, record_days, years_in


@dataclass(frozen=True, slots=True, eq=False)
class DaysOnRecord:
    """One run of weather along the calendar, with the days that were truly read.

    Attributes
    ----------
    seasons
        The run: the record's own weather on every day that it holds; what lies before or after it
        is of other years, and what nobody read is drawn.
    read
        Which days were read on that very day, shape (days,).
    """

    seasons: Seasons
    read: NDArray[np.bool_]

    @property
    def until(self) -> int:
        """The column after the last day that was read; 0 where none was."""
        at = np.flatnonzero(self.read)
        return int(at[-1]) + 1 if at.size else 0

    def holds(self, first: int, until: int) -> bool:
        """Say whether 95 days in 100 of some columns were read, as of a real year lived again."""
        inside = self.read[max(first, 0) : until]
        return first >= 0 and until <= self.until and bool(np.mean(inside) >= READ_SHARE)


def days_on_record(
    weather: Weather, place: Place, first_day: date, days: int, seed: int
) -> DaysOnRecord | None:
    """Lay a record along the calendar; None where there is no year of days on record.

    Parameters
    ----------
    weather, place
        What is known of the weather, and where.
    first_day, days
        The first day of the run and how many follow.
    seed
        The seed of the days nobody read, which are drawn.
    """
    if not isinstance(weather, DailyRecord) or not years_in(weather):
        return None
    size = weather.tmin_c.size
    own = (first_day - weather.first_day).days + np.arange(days)
    inside = (own >= 0) & (own < size)
    at = np.where(inside, own, record_days(weather, first_day, (1, days))[0])
    there = np.isfinite(weather.tmin_c) & np.isfinite(weather.tmax_c)
    filled = filled_record(weather, model_for(weather, place), seed)
    seasons = Seasons(
        origin=weather.origin,
        first_day=first_day,
        tmin_c=filled.tmin_c[:, at],
        tmax_c=filled.tmax_c[:, at],
        rain_mm=filled.rain_mm[:, at],
    )
    return DaysOnRecord(seasons, inside & there[at])
