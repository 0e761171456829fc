"""Green manures at a site: each week one may be sown, and when it is worth digging in."""

from dataclasses import dataclass

from haulm.catalogue.records import Kind
from haulm.growing.days import day_in_share_of_runs
from haulm.growing.rules import growing_rules
from haulm.growing.weather import GrowingWeather
from haulm.growing.windows import starts, windows_among
from haulm.measure.weeks import Horizon


@dataclass(frozen=True, slots=True)
class CoverStart:
    """A green manure sown in one week of the horizon, not given to a bed.

    Attributes
    ----------
    kind, crop, family
        What it is.
    sow_week
        The week it is sown in.
    dig_in_week
        The week by which it is worth digging in, in 8 years of 10.
    free_week
        The first week in which what follows may be sown or set: digging in and rest are over.
    """

    kind: str
    crop: str
    family: str
    sow_week: int
    dig_in_week: int
    free_week: int


def cover_starts(
    kind: Kind, family: str, weather: GrowingWeather, horizon: Horizon, *, under_cover: bool
) -> tuple[CoverStart, ...]:
    """List every week of a horizon in which a green manure may be sown, with its digging in.

    The windows are those of any other kind, digging in standing where picking would. Empty for
    what is no green manure, and under cover for what has no business there.
    """
    manure = kind.green_manure
    if manure is None or (under_cover and not kind.likes_cover):
        return ()
    share = growing_rules().certainty_ready.value
    rest = round(manure.rest_weeks.value)
    made: list[CoverStart] = []
    for method in kind.methods:
        looked_at = starts(kind, method, under_cover=under_cover, weather=weather, horizon=horizon)
        grown = day_in_share_of_runs(looked_at.fared.phase_ends[manure.dig_in_after], share)
        for window in windows_among(looked_at, horizon):
            first, last = (horizon.week_of(day) for day in (window.first_day, window.last_day))
            for week in range(max(0, first), min(last, horizon.weeks - 1) + 1):
                place = week - int(looked_at.weeks[0])
                by = int(grown[place])
                if by < weather.seasons.days:
                    dig_in = max(week + 1, horizon.week_of(weather.day_of(by)))
                    start = CoverStart(kind.id, kind.crop, family, week, dig_in, dig_in + 1 + rest)
                    made.append(start)
    return tuple(made)
