"""How long the rain tanks last from today, and what to keep them for."""

from collections.abc import Sequence

import numpy as np

from haulm.desk.beds.water_course import Course
from haulm.desk.beds.water_given import TankLevel
from haulm.desk.beds.water_today_records import PatchToday, Saved, TanksToday, TankToday
from haulm.site.spread import spread_of
from haulm.water.needs import FORTNIGHT, daily_l
from haulm.water.records import Array
from haulm.water.sharing import share_out

MOST_DAYS = 60
"""So far ahead the tanks are followed [d]."""


def tanks_today(
    course: Course, levels: Sequence[TankLevel], patches: Sequence[PatchToday]
) -> TanksToday | None:
    """Say what lies in the tanks, how long it meets all that is wanted, and what to keep it for.

    From the day on every crop is watered when due, out of the tanks, which fill from their roofs.
    """
    if not levels:
        return None
    most = min(MOST_DAYS, course.watered.stress.shape[2] - course.at)
    wanted = daily_l(course.watered, course.rows)[:, course.at : course.at + most]
    rain = course.weather.climate.rain_mm[:, course.at : course.at + most]
    return TanksToday(
        tuple(
            TankToday(
                one.tank.name, one.tank.holds_l, spread_of(one.lying_l), one.read_on, one.drawn_l
            )
            for one in levels
        ),
        spread_of(_days_met(levels, rain, wanted)),
        most,
        _kept_for(course, levels, patches),
    )


def _days_met(levels: Sequence[TankLevel], rain_mm: Array, wanted_l: Array) -> Array:
    """Count the days on which all that is wanted is there, before the first on which it is not."""
    lying = np.array([one.lying_l for one in levels])
    holds = np.array([[one.tank.holds_l] for one in levels])
    caught = np.array([[one.tank.roof_m2 * one.tank.caught_share] for one in levels])
    days = np.full(wanted_l.shape[0], float(wanted_l.shape[1]))
    for day in range(wanted_l.shape[1]):
        lying = np.minimum(lying + caught * rain_mm[None, :, day], holds)
        there = lying.sum(axis=0)
        short = wanted_l[:, day] > there + 1e-6
        days = np.where(short & (days > day), np.minimum(days, day), days)
        lying = lying * (1.0 - np.minimum(wanted_l[:, day] / np.maximum(there, 1e-6), 1.0))
    return days


def _kept_for(
    course: Course, levels: Sequence[TankLevel], patches: Sequence[PatchToday]
) -> tuple[Saved, ...]:
    """Say for which crops to keep what lies in the tanks, where it may not do for a fortnight.

    Each can that a crop wants within the fortnight saves its share of what the crop would lose.
    """
    can_l = course.asked.made.garden.watering.can_l
    there = int(float(np.median(sum(one.lying_l for one in levels))) // can_l)
    rows = {course.tables.labels[row]: row for row in course.rows}
    when = slice(course.at, course.at + FORTNIGHT)
    wanted = [
        round(
            float(np.median(daily_l(course.watered, [rows[one.bed, one.planting]])[:, when].sum(1)))
            / can_l
        )
        for one in patches
    ]
    if sum(wanted) <= there:
        return ()
    worth = [
        np.linspace(0.0, one.lost_weeks, cans + 1)
        for one, cans in zip(patches, wanted, strict=True)
    ]
    shares = share_out(worth, there)
    return tuple(
        Saved(one.bed, one.name, share, cans)
        for one, share, cans in zip(patches, shares, wanted, strict=True)
        if cans
    )
