"""Say what a garden claims to hold already that does not go with the day planned from."""

from collections.abc import Collection
from datetime import date, timedelta

from haulm.desk.beds.weather import WEEKS_BEFORE
from haulm.measure.findings import Finding, Grade
from haulm.measure.weeks import monday_of
from haulm.notebook.garden import Garden


def not_yet(garden: Garden, day: date) -> tuple[Finding, ...]:
    """Find what is said to stand or lie in store, and was started or put by after the day."""
    remedy = f"Give the day it was, up to {day}, or plan as of a later day."
    standing = (
        Finding(
            where=f"standing {number}, {stand.kind}",
            what=f"it was started on {stand.sown_on}, after the day planned from, {day}.",
            remedy=remedy,
        )
        for number, stand in enumerate(garden.standing, start=1)
        if stand.sown_on > day and not stand.assumed
    )
    stored = (
        Finding(
            where=f"in store {number}, {lot.food}",
            what=f"it was put by on {lot.put_by}, after the day planned from, {day}.",
            remedy=remedy,
        )
        for number, lot in enumerate(garden.lots, start=1)
        if lot.put_by > day
    )
    return (*standing, *stored)


def too_long_ago(garden: Garden, day: date, lasting: Collection[str] = ()) -> tuple[Finding, ...]:
    """Find what is said to stand and was started before the weather that plans are made through.

    The kinds that are ``lasting`` may have been planted any number of years ago.
    """
    first = monday_of(day) - timedelta(weeks=WEEKS_BEFORE)
    return tuple(
        Finding(
            where=f"standing {number}, {stand.kind}",
            what=f"it was started on {stand.sown_on}, before the {WEEKS_BEFORE} weeks of weather "
            "that lead up to the plan.",
            remedy="Give the day it went into this ground, or leave it out if it is gone.",
        )
        for number, stand in enumerate(garden.standing, start=1)
        if stand.sown_on < first and stand.kind not in lasting and not stand.assumed
    )


def old_stock(garden: Garden, day: date) -> tuple[Finding, ...]:
    """Note planting stock from before last year, which is counted as if it were fresh."""
    return tuple(
        Finding(
            where=f"stock {number}, {stock.kind}",
            what=f"it is from {stock.year}, and is counted as if all of it were fresh.",
            remedy="Let ten of it come up on damp paper before you rely on it.",
            grade=Grade.NOTE,
        )
        for number, stock in enumerate(garden.stock, start=1)
        if stock.year < day.year - 1
    )
