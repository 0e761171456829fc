"""Harvest: when a planting's foods are counted on, over which weeks, and how much of each."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from haulm.catalogue.known import counted
from haulm.catalogue.records import Figure, Giving, Kind, Picking, Role
from haulm.growing.days import NEVER, Days, day_in_share_of_runs
from haulm.growing.records import ReadyDates, SowingFood
from haulm.growing.rules import growing_rules
from haulm.growing.timing import Course, main_giving, ready_spread, span_weeks
from haulm.growing.weather import GrowingWeather
from haulm.measure.weeks import Horizon


@dataclass(frozen=True, slots=True, eq=False)
class OneStart:
    """One start of a kind, as it fares in every run of weather.

    Attributes
    ----------
    kind
        What was started.
    phase_ends
        By phase id, the day the phase ends, shape (runs,).
    cut_short
        The day frost or bolting ends the stand, shape (runs,).
    weather, horizon
        The runs of weather and the weeks planned.
    stands
        Whether it stands in the ground on the first day of the horizon.
    """

    kind: Kind
    phase_ends: Mapping[str, Days]
    cut_short: Days
    weather: GrowingWeather
    horizon: Horizon
    stands: bool = False

    def week_of(self, column: int) -> int:
        """Count the weeks of the horizon to a day column."""
        return self.horizon.week_of(self.weather.day_of(column))


@dataclass(frozen=True, slots=True)
class Gathering:
    """A food of one start and the weeks it counts for: from (counted) to until (not counted)."""

    giving: Giving
    first_week: int
    until_week: int


def one_start(
    kind: Kind,
    fared: Course,
    place: int,
    weather: GrowingWeather,
    horizon: Horizon,
    *,
    stands: bool = False,
) -> OneStart:
    """Take one start, by its place, out of the course of many."""
    return OneStart(
        kind=kind,
        phase_ends={phase: ends[:, place] for phase, ends in fared.phase_ends.items()},
        cut_short=np.minimum(fared.frost[:, place], fared.bolts[:, place]),
        weather=weather,
        horizon=horizon,
        stands=stands,
    )


def gatherings(start: OneStart) -> tuple[Gathering, ...]:
    """Count the weeks in which one start gives each of its foods, inside the horizon or not.

    Notes
    -----
    A food counts from the week by whose end it is ready in 8 runs of 10, for its span, but no
    longer than to the week in which frost or bolting has ended the stand in more than 2 runs of
    10. Food taken instead of the main food ends with the lifting of the main food; a start that
    cannot count on its main food gives nothing. What stands on the first day gives whatever it
    still can; what of it is lifted once is lifted in week 0 at the earliest: it is still there.
    """
    if not start.kind.givings:
        return ()
    main = main_giving(start.kind)
    weeks = {
        giving.food: counted
        for giving in start.kind.givings
        if (counted := _weeks_counted(start, giving)) is not None and counted[0] < counted[1]
    }
    if main.food not in weeks and not start.stands:
        return ()
    if main.food in weeks:
        for giving in start.kind.givings:
            if giving.role is Role.INSTEAD and giving.food in weeks:
                first, until = weeks[giving.food]
                weeks[giving.food] = first, min(until, weeks[main.food][1])
    return tuple(
        Gathering(giving, *weeks[giving.food])
        for giving in start.kind.givings
        if giving.food in weeks and weeks[giving.food][0] < weeks[giving.food][1]
    )


def _weeks_counted(start: OneStart, giving: Giving) -> tuple[int, int] | None:
    share = growing_rules().certainty_ready.value
    ready = _day_in_share(start.phase_ends[giving.after], share)
    if ready >= start.weather.seasons.days:
        return None
    first = start.week_of(ready)
    if start.stands and giving.picking is Picking.ONCE:
        first = max(first, 0)
    until = first + span_weeks(giving)
    cut_short = _day_in_share(start.cut_short, 1 - share)
    if cut_short != NEVER and giving.picking is not Picking.ONCE:
        # What stands today can be taken this week, whatever the frost does.
        until = min(until, max(start.week_of(cut_short), 1 if start.stands else first))
    return first, until


def _day_in_share(days: Days, share: float) -> int:
    return int(day_in_share_of_runs(days[:, None], share)[0])


def food_of(start: OneStart, gathering: Gathering) -> SowingFood | None:
    """Say what one start gives of a food in the horizon's weeks; None if nothing.

    A *spread* food cut short by frost or bolting loses that share of its yield; the weeks that lie
    outside the horizon lose their shares.
    """
    giving = gathering.giving
    weeks = range(gathering.first_week, gathering.until_week)
    inside = [week for week in weeks if 0 <= week < start.horizon.weeks]
    if not inside:
        return None
    share = 1.0 if giving.picking is Picking.STAND else 1.0 / len(weeks)
    kept = len(weeks) / span_weeks(giving) if giving.picking is Picking.SPREAD else 1.0
    low, high = yield_bounds(giving.yield_kg_m2)
    return SowingFood(
        food=giving.food,
        role=giving.role,
        picking=giving.picking,
        ready=_ready(start, giving),
        first_week=gathering.first_week,
        week_shares=tuple((week, share) for week in inside),
        yield_kg_m2=giving.yield_kg_m2.value * kept,
        yield_low_kg_m2=low * kept,
        yield_high_kg_m2=high * kept,
        pick_min_kg=counted(start.kind.labour.pick_min_kg),
    )


def _ready(start: OneStart, giving: Giving) -> ReadyDates:
    later = start.kind.later_days
    spread = ready_spread(start.phase_ends[giving.after], start.weather)
    return spread if later is None else replace(spread, later_days=round(later.value))


def yield_bounds(figure: Figure) -> tuple[float, float]:
    """Give the bounds of a yield, 8 years in 10; a judged spread stands in where none is given."""
    half = growing_rules().yield_half_spread.value * figure.value
    low = figure.value - half if figure.low is None else figure.low
    high = figure.value + half if figure.high is None else figure.high
    return low, high
