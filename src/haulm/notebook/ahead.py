"""What was told of the coming days, in the notebook: all that was told stays, the last counts."""

from collections.abc import Iterable
from datetime import date
from functools import cache

from pydantic import TypeAdapter
from sqlalchemy import insert, select

from haulm.notebook.notebook import Notebook
from haulm.notebook.tables import AHEAD, HOURS
from haulm.season.ahead import DayAhead, HourTold, told_last


def write_ahead(notebook: Notebook, days: Iterable[DayAhead]) -> None:
    """Put in what was told of days; what was told before is kept behind it."""
    rows = [
        {
            "day": one.day,
            "told_at": one.told_at.isoformat(),
            "told": _days().dump_json(one).decode(),
        }
        for one in days
    ]
    if rows:
        notebook.connection.execute(insert(AHEAD).prefix_with("OR REPLACE"), rows)


def read_ahead(notebook: Notebook, first: date) -> tuple[DayAhead, ...]:
    """Give what was told of a day and of those after it; of each figure what was told last."""
    wanted = select(AHEAD.c.told).where(AHEAD.c.day >= first).order_by(AHEAD.c.day)
    texts = notebook.connection.execute(wanted).scalars().all()
    return told_last(_days().validate_json(text) for text in texts)


def write_hours(notebook: Notebook, hours: Iterable[HourTold]) -> None:
    """Put in temperature and humidity by the hour, in the place of what was told of each hour."""
    rows = [
        {name: getattr(one, name) for name in ("day", "hour", "temperature_c", "humidity")}
        for one in hours
    ]
    if rows:
        notebook.connection.execute(insert(HOURS).prefix_with("OR REPLACE"), rows)


def read_hours(notebook: Notebook, first: date) -> tuple[HourTold, ...]:
    """Give the hours of a day and of those after it, in order."""
    wanted = select(HOURS).where(HOURS.c.day >= first).order_by(HOURS.c.day, HOURS.c.hour)
    return tuple(HourTold(*row) for row in notebook.connection.execute(wanted))


@cache
def _days() -> TypeAdapter[DayAhead]:
    """Make the adapter on first use: it takes a moment."""
    return TypeAdapter(DayAhead)
