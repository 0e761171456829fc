"""Winter standing crop: the dark weeks in which nothing grows, and what must be full grown before.

Under ten hours of daylight growth of leafy crops all but stops (common practice): what is eaten
from the ground until days are long again has to stand there, full grown, on the last long day.
"""

from dataclasses import dataclass
from datetime import date

import numpy as np

from haulm.catalogue.records import Kind, Method, Picking
from haulm.growing.days import day_in_share_of_runs
from haulm.growing.rules import growing_rules
from haulm.growing.timing import course, main_giving, module_weeks, span_weeks
from haulm.growing.weather import GrowingWeather
from haulm.growing.windows import windows, within
from haulm.measure.weeks import DAYS_A_WEEK, Horizon
from haulm.site.day_length import ten_hour_days


@dataclass(frozen=True, slots=True)
class DarkWeeks:
    """The days of one winter without ten hours of daylight: the last long day, and the first."""

    last_long: date
    first_long: date

    @property
    def weeks(self) -> float:
        """How many weeks lie between [weeks]."""
        return (self.first_long - self.last_long).days / DAYS_A_WEEK


@dataclass(frozen=True, slots=True)
class StandsInWinter:
    """A kind that can stand in the ground into the dark weeks.

    Attributes
    ----------
    kind, method, under_cover
        What, how it is started, and where.
    sow_by, set_by
        The last day to sow it, in the tray for modules, and to set it out, so that it is full grown
        by the last long day in 8 years of 10.
    stands_until
        The day until which it stands and may be picked in 8 years of 10, started then: by its own
        span, frost and bolting.
    taken
        Share of years in which a killing frost takes it before days are long again [1].
    """

    kind: str
    method: str
    under_cover: bool
    sow_by: date
    set_by: date
    stands_until: date
    taken: float


def dark_weeks(latitude_deg: float, day: date) -> DarkWeeks | None:
    """Find the next dark weeks that begin on a day or after it; None where no day is so short."""
    for year in (day.year - 1, day.year, day.year + 1):
        found = ten_hour_days(latitude_deg, year)
        if found is not None and found[0] >= day:
            return DarkWeeks(*found)
    return None


def stands_in_winter(
    kind: Kind,
    method: Method,
    dark: DarkWeeks,
    weather: GrowingWeather,
    horizon: Horizon,
    *,
    under_cover: bool,
) -> StandsInWinter | None:
    """Find the last start of a kind that is full grown when the dark weeks begin.

    Every day from the horizon's first on is tried, within the kind's windows. None where no such
    start is left, where the kind is lifted at once, or where what is started last has been picked
    out before the dark weeks begin.

    Parameters
    ----------
    kind, method, under_cover
        What, how and where; neither what stays for years nor a green manure.
    dark
        The dark weeks; their end lies within the weather.
    weather, horizon
        The runs of weather, and the weeks planned.
    """
    giving = main_giving(kind)
    if giving.picking is Picking.ONCE:
        return None
    first, last = weather.column_of(horizon.first_day), weather.column_of(dark.last_long)
    sown = np.arange(first, max(first, last) + 1, dtype=np.int64)
    begins = sown + DAYS_A_WEEK * module_weeks(method)
    fared = course(kind, method, begins, weather, under_cover=under_cover)
    sure = growing_rules().certainty_ready.value
    grown = day_in_share_of_runs(fared.phase_ends[giving.after], sure) <= last
    found = windows(kind, method, under_cover, weather, horizon)
    places = np.flatnonzero(grown & within(found, sown, weather))
    if not places.size:
        return None
    place = int(places[-1])
    ready = fared.phase_ends[giving.after][:, place]
    cut = np.minimum(fared.frost, fared.bolts)[:, place]
    ends = np.minimum(ready + DAYS_A_WEEK * span_weeks(giving), np.maximum(ready, cut))
    until = int(day_in_share_of_runs(ends[:, None], 1 - sure)[0])
    if until <= last:
        return None
    sow_by = weather.day_of(int(sown[place]))
    return StandsInWinter(
        kind=kind.id,
        method=method.id,
        under_cover=under_cover,
        sow_by=sow_by,
        set_by=weather.day_of(int(begins[place])),
        stands_until=weather.day_of(until),
        taken=float(np.mean(fared.frost[:, place] < weather.column_of(dark.first_long))),
    )
