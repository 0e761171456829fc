"""Cans that are too few for all, given where they save most for the table."""

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from haulm.desk.beds.water_course import Course
from haulm.desk.beds.water_today_records import Haste, PatchToday
from haulm.water.needs import FORTNIGHT
from haulm.water.records import Array, GroundBalance
from haulm.water.sharing import share_out

PARTS = (0.25, 0.5, 0.75)
"""What part of its lack a crop is given, beside none and all, to see what it saves [1]."""


def filled_mm(course: Course, patches: Sequence[PatchToday]) -> Array:
    """Give what fills each row that must be watered now, shape (rows,) [mm]."""
    more = np.zeros(len(course.tables.labels))
    rows = {course.tables.labels[row]: row for row in course.rows}
    for one in patches:
        if one.haste is Haste.NOW:
            more[rows[one.bed, one.planting]] = one.lacks_mm.middle
    return more


def with_shares(
    course: Course, patches: Sequence[PatchToday], cans: int | None, filled: GroundBalance
) -> tuple[PatchToday, ...]:
    """Share cans out among the crops that must be watered now, where there are too few.

    What a can saves is reckoned over the coming fortnight with no more given after it.

    Parameters
    ----------
    course, patches
        The balances, and what they say of each crop.
    cans
        How many cans there are; None for no limit.
    filled
        The fortnight with all of them filled today.
    """
    now = [one for one in patches if one.haste is Haste.NOW]
    if cans is None or sum(one.cans for one in now) <= cans:
        return tuple(patches)
    fill = filled_mm(course, patches)
    courses = [course.dry, *(course.with_more(part * fill) for part in PARTS), filled]
    rows = {course.tables.labels[row]: row for row in course.rows}
    worth = [_worth(course, rows[one.bed, one.planting], one.cans, courses) for one in now]
    shares = dict(zip([one.planting for one in now], share_out(worth, cans), strict=True))
    return tuple(
        replace(one, shared_cans=shares.get(one.planting, 0)) if one in now else one
        for one in patches
    )


def _worth(course: Course, row: int, cans: int, courses: Sequence[GroundBalance]) -> Array:
    """Give what 0, 1, 2 … cans save a crop [weeks], between the parts reckoned."""
    at = course.at
    taken = [float(course.taken_mm(one, row, at, at + FORTNIGHT).mean()) for one in courses]
    response, _ = course.response(row)
    season = float(course.season_mm(row).mean())
    saved = response * (np.array(taken) - taken[0]) / season * course.to_come_weeks(row)
    parts = np.array([0.0, *PARTS, 1.0])
    return np.asarray(np.interp(np.arange(cans + 1) / max(cans, 1), parts, saved))
