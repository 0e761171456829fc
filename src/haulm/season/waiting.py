"""What waiting costs: for each job of a plan, what the table lacks the later it is done.

A quick measure, read from the plan alone. What it takes for granted:

- all else is done as planned, and what is eaten of it stays as planned;
- of what is lacking, whatever else of the same line is left over in that week stands in for it;
- a planting started some weeks late is ready as many weeks late, and gives as much until its last
  day; what frost takes of the end of its picking is not counted before that day;
- where what follows it in its bed leaves it no room, another bed under the same cover may hold it;
- how long food holds, and what weeds take, is as ``data/waiting.toml`` has it.
"""

from bisect import bisect_left
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

import numpy as np

from haulm.catalogue.records import Picking
from haulm.measure.weeks import DAYS_A_WEEK, monday_of
from haulm.plan.records import Planting, Ready
from haulm.season.feeding import Fed, Feeding, Lost
from haulm.season.waiting_rules import waiting_figure

LOOK_WEEKS = 13
"""Costs are told for so many weeks from the planned one, then for never."""
ROUND_M2 = 1e-6


@dataclass(frozen=True, slots=True)
class Waits:
    """What it costs to leave a job.

    Attributes
    ----------
    steps
        (day, what the table lacks if it is done no sooner than on that day), by day. It never
        falls; between two days it rises evenly.
    never
        What it lacks if it is not done at all.
    last_day
        The last day on which not all of that is lost; None where it falls by and by.
    """

    steps: tuple[tuple[date, Lost], ...]
    never: Lost
    last_day: date | None = None

    def lost_on(self, day: date) -> Lost:
        """Give what is lost if it is done no sooner than on a day."""
        if not self.steps or (self.last_day is not None and day > self.last_day):
            return self.never
        days = [on for on, _ in self.steps]
        later = bisect_left(days, day)
        if later == len(days):
            return self.steps[-1][1]
        on, lost = self.steps[later]
        if later == 0 or on == day:
            return lost if on == day else Lost()
        before, less = self.steps[later - 1]
        return between(less, lost, (day - before).days / (on - before).days)

    def free_until(self, noticed: float) -> date | None:
        """Give the last day it may be left until at no loss to notice; None where none comes.

        Plans know weeks: what is done in its week is in time. ``noticed`` is what a table notices
        [portions].
        """
        if self.never.portions < noticed:
            return None
        for day, lost in self.steps:
            if lost.portions >= noticed:
                return day - timedelta(days=1)
        return self.last_day


NOTHING = Waits((), Lost())


def ready_share(ready: Ready, day: date) -> float:
    """Give the share of years in which a food is ready by a day, between the three told [1].

    Before the day of 1 year in 10 it is told as 0, which stands for less than 1 in 10.
    """
    told = (ready.early, ready.middle, ready.late)
    if day < ready.early:
        return 0.0
    return float(np.interp(day.toordinal(), [one.toordinal() for one in told], (0.1, 0.5, 0.9)))


def start_waits(feeding: Feeding, planting: Planting) -> Waits:
    """Say what it costs to sow or set a planting later than in its week, until its last day."""
    last = monday_of(planting.latest_sowing) + timedelta(days=DAYS_A_WEEK - 1)
    return _start(feeding, planting, monday_of(planting.sow_on), last)


def set_out_waits(feeding: Feeding, planting: Planting) -> Waits:
    """Say what it costs to set a planting out later: its food is late, and plants spoil in trays.

    The last day is as long after the one planned as that of its sowing.
    """
    first = monday_of(planting.set_on)
    slack = max(timedelta(0), planting.latest_sowing - planting.sow_on)
    bears = timedelta(days=round(waiting_figure("tray waits").value))
    lost_a_week = waiting_figure("tray lost").value
    last = first + max(slack, bears) + timedelta(days=DAYS_A_WEEK - 1)
    waits = _start(feeding, planting, first, last)
    every = list(feeding.fed.get(planting.id, ()))
    steps = []
    for day, lost in waits.steps:
        over = max(0, (day - first - bears).days) / DAYS_A_WEEK
        share = 1 - (1 - lost_a_week) ** over
        spoilt = feeding.lost(_part(every, share), planting.id)
        steps.append((day, max(lost, spoilt, key=lambda one: one.weighed_kg)))
    return _rising(steps, waits.never, last)


def _start(feeding: Feeding, planting: Planting, first: date, last: date) -> Waits:
    every = feeding.fed.get(planting.id, ())
    never = feeding.lost(every, planting.id)
    if not every:
        return NOTHING
    weeks = (last - first).days // DAYS_A_WEEK
    steps = [(first, Lost())]
    for late in range(1, weeks + 1):
        if late <= LOOK_WEEKS or late == weeks:
            lacking = list(_lacking_late(feeding, planting, late))
            day = first + timedelta(weeks=late)
            steps.append((day, feeding.lost(lacking, planting.id)))
    steps.append((last + timedelta(days=1), never))
    return _rising(steps, never, last)


def _rising(steps: Iterable[tuple[date, Lost]], never: Lost, last: date | None) -> Waits:
    """Make costs that never fall: a job done later can at best lose no more."""
    most = Lost()
    rising = []
    for day, lost in steps:
        most = max(most, lost, key=lambda one: one.weighed_kg)
        most = min(most, never, key=lambda one: one.weighed_kg)
        rising.append((day, most))
    return Waits(tuple(rising), never, last)


def _part(every: Iterable[Fed], share: float) -> Iterator[Fed]:
    return (replace(one, kg=one.kg * share) for one in every)


def _lacking_late(feeding: Feeding, planting: Planting, late: int) -> Iterator[Fed]:
    """Give what lacks of a planting's food when it is so many weeks late [weeks]."""
    room = _room_share(feeding, planting, late)
    foods: dict[str, list[Fed]] = {}
    for one in feeding.fed.get(planting.id, ()):
        foods.setdefault(one.food, []).append(one)
    for food, some in foods.items():
        picking = feeding.how.get((planting.kind, food), Picking.SPREAD)
        if picking is Picking.SPREAD:
            yield from _spread_late(some, feeding.picks[planting.id, food], late, room)
        else:
            ready = _ready_week(feeding, planting, food) + late
            for one in some:
                if picking is Picking.ONCE:
                    there = one.eaten >= max(ready, one.picked)
                else:
                    there = one.picked >= ready
                yield replace(one, kg=one.kg * (1 - room)) if there else one


def _ready_week(feeding: Feeding, planting: Planting, food: str) -> int:
    """Give the week of the plan from which a food is there: by its odds, or its first picking."""
    first = min(feeding.picks[planting.id, food])
    for ready in planting.ready:
        if ready.food == food:
            return min(first, feeding.plan.horizon.week_of(ready.late))
    return first


def _spread_late(
    some: Sequence[Fed], picks: Mapping[int, float], late: int, room: float
) -> Iterator[Fed]:
    """Give what lacks of a food picked week by week, when each week's picking comes later.

    What is kept may be put by from any week that then has more than is eaten fresh.
    """
    wanted: dict[int, float] = {}
    for one in some:
        wanted[one.picked] = wanted.get(one.picked, 0.0) + one.kg
    weeks = {*wanted, *(week + late for week in picks)}
    there = {week: room * picks.get(week - late, 0.0) for week in weeks}
    lack = {week: max(0.0, want - there.get(week, 0.0)) for week, want in wanted.items()}
    over = sum(max(0.0, given - wanted.get(week, 0.0)) for week, given in there.items())
    kept = sum(one.kg * lack[one.picked] / wanted[one.picked] for one in some if one.kept)
    made_up = min(1.0, over / kept) if kept > 0 else 0.0
    begins = min((week + late for week in picks), default=0)
    for one in some:
        share = lack[one.picked] / wanted[one.picked]
        if one.kept and one.eaten >= begins:
            share *= 1 - made_up
        yield replace(one, kg=one.kg * share)


def _room_share(feeding: Feeding, planting: Planting, late: int) -> float:
    """Give the share of a planting that has room, so many weeks later, in the bed that fits best.

    Its own bed, or another under the same cover.
    """
    weeks = feeding.plan.horizon.weeks
    span = range(max(0, planting.from_week + late), min(weeks, planting.until_week + late))
    own = range(planting.from_week, planting.until_week)
    best = 0.0
    for bed in feeding.plan.beds:
        if bed.under_cover != planting.under_cover and bed.id != planting.bed:
            continue
        held = feeding.held_m2[bed.id]
        mine = bed.id == planting.bed
        free = min(
            (
                bed.area_m2 - held[week] + (planting.area_m2 if mine and week in own else 0.0)
                for week in span
            ),
            default=planting.area_m2,
        )
        best = max(best, free)
    return min(1.0, max(0.0, best + ROUND_M2) / planting.area_m2)


def pick_waits(feeding: Feeding, planting: Planting, food: str, week: int) -> Waits:
    """Say what it costs to leave a week's picking of what is taken again and again, or stands.

    What stands or holds in the ground loses only that week's meals; of the rest what would have
    been put by is lost too, and some plants give less afterwards. What is more than the table takes
    costs nothing to leave.
    """
    every = [one for one in feeding.fed.get(planting.id, ()) if one.food == food]
    monday = feeding.plan.horizon.monday(week)
    after = monday + timedelta(days=DAYS_A_WEEK)
    picking = feeding.how.get((planting.kind, food), Picking.SPREAD)
    holds = waiting_figure("holds", planting.crop).value
    waits = picking is Picking.STAND or holds >= DAYS_A_WEEK
    now = [one for one in every if one.picked == week and not (one.kept and waits)]
    less = waiting_figure("stops", planting.crop).value
    later = [one for one in every if one.picked > week]
    odds = _odds_ready(planting, food, after - timedelta(days=1))
    missed = feeding.lost(_part([*now, *_part(later, less)], odds), planting.id)
    twice = feeding.lost(_part([*now, *_part(later, 1 - (1 - less) ** 2)], odds), planting.id)
    return _rising([(monday, Lost()), (after, missed), (after + timedelta(weeks=1), twice)],
                   twice, None)  # fmt: skip


def _odds_ready(planting: Planting, food: str, day: date) -> float:
    """Give the share of years in which there is anything to pick by a day [1]; 1 if not told."""
    return next((ready_share(one, day) for one in planting.ready if one.food == food), 1.0)


def lift_waits(feeding: Feeding, planting: Planting, food: str, week: int) -> Waits:
    """Say what it costs to lift later what is lifted once: meals till then, and what spoils."""
    monday = feeding.plan.horizon.monday(week)
    every = [
        one for one in feeding.fed.get(planting.id, ()) if one.food == food and one.picked == week
    ]
    holds = waiting_figure("lift", planting.crop).value
    a_week = waiting_figure("lift lost").value
    never = feeding.lost(every, planting.id)
    steps = [(monday, Lost())]
    for late in range(1, LOOK_WEEKS + 1):
        over = max(0.0, late * DAYS_A_WEEK - holds) / DAYS_A_WEEK
        share = 1 - (1 - a_week) ** over
        missed = [
            one if one.eaten < week + late else replace(one, kg=one.kg * share) for one in every
        ]
        steps.append((monday + timedelta(weeks=late), feeding.lost(missed, planting.id)))
    return _rising(steps, never, None)


def put_by_waits(feeding: Feeding, lots: Sequence[str], form: str, week: int) -> Waits:
    """Say what it costs to leave a picking in the kitchen before it is put by."""
    monday = feeding.plan.horizon.monday(week)
    every = [one for lot in lots for one in feeding.lot_fed.get(lot, ())]
    holds = waiting_figure("put by", form).value
    a_day = waiting_figure("put by lost").value
    never = feeding.lost(every)
    days = sorted({0, round(holds), *(DAYS_A_WEEK * late for late in range(1, 5))})
    steps = [
        (
            monday + timedelta(days=day),
            feeding.lost(_part(every, min(1.0, max(0.0, day - holds) * a_day))),
        )
        for day in days
    ]
    last = monday + timedelta(days=int(holds + 1 / a_day))
    return _rising(steps, never, last)


def clear_waits(feeding: Feeding, planting: Planting) -> Waits:
    """Say what it costs to leave a planting standing: what follows it in its bed is late.

    Nothing until the first planting that needs its ground.
    """
    beds = {bed.id: bed.area_m2 for bed in feeding.plan.beds}
    held = feeding.held_m2[planting.bed]
    after = sorted(
        (
            one
            for one in feeding.plan.plantings
            if one.bed == planting.bed
            and one.id != planting.id
            and planting.until_week <= one.from_week < feeding.plan.horizon.weeks
        ),
        key=lambda one: (one.from_week, one.id),
    )
    for one in after:
        short = held[one.from_week] + planting.area_m2 - beds[planting.bed]
        if short > ROUND_M2:
            waits = start_waits(feeding, one)
            if not waits.steps:
                return NOTHING
            moved = monday_of(one.in_ground_from) - waits.steps[0][0]
            share = min(1.0, short / one.area_m2)
            steps = [(day + moved, _scaled(lost, share)) for day, lost in waits.steps]
            last = waits.last_day + moved if waits.last_day else None
            return Waits(tuple(steps), _scaled(waits.never, share), last)
    return NOTHING


def between(less: Lost, more: Lost, share: float) -> Lost:
    """Give what is lost a share of the way from one loss to a greater one."""
    lines = {line: (kg * share, of * share) for line, kg, of in more.lines}
    for line, kg, of in less.lines:
        had_kg, had_of = lines.get(line, (0.0, 0.0))
        lines[line] = (had_kg + kg * (1 - share), had_of + of * (1 - share))
    told = sorted(lines.items(), key=lambda pair: (-pair[1][0], pair[0]))
    known = less.kcal is not None and more.kcal is not None
    return Lost(
        less.kg + (more.kg - less.kg) * share,
        less.weighed_kg + (more.weighed_kg - less.weighed_kg) * share,
        less.portions + (more.portions - less.portions) * share,
        (less.kcal or 0.0) + ((more.kcal or 0.0) - (less.kcal or 0.0)) * share if known else None,
        tuple((line, kg, of) for line, (kg, of) in told if kg > 0),
    )


def _scaled(lost: Lost, share: float) -> Lost:
    return Lost(
        lost.kg * share,
        lost.weighed_kg * share,
        lost.portions * share,
        None if lost.kcal is None else lost.kcal * share,
        tuple((line, kg * share, of * share) for line, kg, of in lost.lines),
    )


def weeds_grow(mean_c: float) -> float:
    """Give how fast weeds grow in a week against the height of summer [1].

    Parameters
    ----------
    mean_c
        The week's usual mean temperature [°C].
    """
    least, full = waiting_figure("weeds from").value, waiting_figure("weeds full").value
    return min(1.0, max(0.0, (mean_c - least) / (full - least)))


def tend_waits(feeding: Feeding, bed: str, week: int, growth: float) -> Waits:
    """Say what weeds take of what stands in a bed, for each week it is not tended.

    ``growth`` is how fast weeds grow against the height of summer [1].
    """
    monday = feeding.plan.horizon.monday(week)
    standing = [
        one
        for one in feeding.plan.plantings
        if one.bed == bed and one.from_week <= week < one.until_week
    ]
    steps = []
    for late in range(LOOK_WEEKS + 1):
        lacking = [
            part for one in standing for part in _weeds_take(feeding, one, week, late * growth)
        ]
        steps.append((monday + timedelta(weeks=late), feeding.lost(lacking)))
    return _rising(steps, steps[-1][1], None)


def _weeds_take(feeding: Feeding, planting: Planting, week: int, late: float) -> Iterator[Fed]:
    """Give what weeds take of a planting's later picking in so many summer weeks [weeks]."""
    young_weeks = round(waiting_figure("young").value)
    left = max(0, planting.from_week + young_weeks - week)
    young, grown = min(late, left), max(0.0, late - left)
    a_week = waiting_figure("weeds", planting.family).value
    share = 1 - (1 - a_week) ** young * (1 - waiting_figure("weeds grown").value) ** grown
    every = (one for one in feeding.fed.get(planting.id, ()) if one.picked > week)
    return _part(every, share)
