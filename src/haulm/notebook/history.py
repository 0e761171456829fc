"""The garden as it was before each of its last changes, kept in the notebook to go back to."""

import json
import zlib
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import delete, insert, select

from haulm.notebook.notebook import Notebook
from haulm.notebook.parts import Parts
from haulm.notebook.tables import EARLIER
from haulm.notebook.weather_file import record_from_text, record_text

MOST_KEPT = 50
"""How many changes can be gone back on."""


@dataclass(frozen=True, slots=True)
class EarlierGarden:
    """A garden as it was before a change: its number, when it was changed, and what was done."""

    number: int
    changed_at: datetime
    what: str


def remember(
    notebook: Notebook, before: Parts, what: str, at: datetime, *, record_changes: bool = False
) -> None:
    """Keep the garden as it is now, before a change.

    Parameters
    ----------
    notebook, before
        The notebook, before anything is written, and its parts.
    what
        The change, in a few words.
    at
        When it is made.
    record_changes
        Whether the daily record will be another; it is kept with the garden then.
    """
    record = notebook.record() if record_changes else None
    row = {
        "changed_at": at.isoformat(),
        "what": what,
        "parts": json.dumps(before, default=str, ensure_ascii=False),
        "record_changed": record_changes,
        "origin": record.origin if record else None,
        "record": zlib.compress(record_text(record).encode()) if record else None,
    }
    notebook.connection.execute(insert(EARLIER).values(row))
    kept = select(EARLIER.c.number).order_by(EARLIER.c.number.desc()).limit(MOST_KEPT)
    notebook.connection.execute(delete(EARLIER).where(EARLIER.c.number.not_in(kept)))


def earlier_gardens(notebook: Notebook) -> tuple[EarlierGarden, ...]:
    """List the gardens that can be gone back to, the newest first."""
    columns = (EARLIER.c.number, EARLIER.c.changed_at, EARLIER.c.what)
    rows = notebook.connection.execute(select(*columns).order_by(EARLIER.c.number.desc()))
    return tuple(
        EarlierGarden(row.number, datetime.fromisoformat(row.changed_at), row.what) for row in rows
    )


def bring_back(notebook: Notebook, number: int) -> None:
    """Put an earlier garden in the place of the one that is, and forget what came after it."""
    row = notebook.connection.execute(select(EARLIER).where(EARLIER.c.number == number)).one()
    notebook.write_parts({name: tuple(listed) for name, listed in json.loads(row.parts).items()})
    if row.record_changed:
        text = zlib.decompress(row.record).decode() if row.record is not None else None
        notebook.write_record(None if text is None else record_from_text(text, row.origin))
    notebook.connection.execute(delete(EARLIER).where(EARLIER.c.number >= number))


def forget(notebook: Notebook) -> None:
    """Forget every earlier garden: what is written next does not follow on from them."""
    notebook.connection.execute(delete(EARLIER))
