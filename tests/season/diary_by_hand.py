"""Entries made up for the tests of the season, written a minute apart."""

from datetime import UTC, date, datetime, timedelta
from itertools import count
from typing import Any

from haulm.season.records import About, Amount, Entry, EntryKind, Measured

_numbers = count(1)
FIRST = datetime(2027, 1, 1, tzinfo=UTC)


def entry(tells: EntryKind, day: date, **said: Any) -> Entry:  # noqa: ANN401 - any field of an entry
    """Make an entry; what is said of things goes into what it is about."""
    number = next(_numbers)
    things = {key: said.pop(key) for key in tuple(said) if key in About.__dataclass_fields__}
    told: dict[str, Any] = {
        "id": f"e{number:04d}",
        "written_at": FIRST + timedelta(minutes=number),
        "device": "laptop",
        "about": About(**things),
    }
    return Entry(kind=tells, day=day, **(told | said))


def kg(number: float) -> Amount:
    """Make a weight."""
    return Amount(number, Measured.KG)


def pieces(number: float) -> Amount:
    """Make a number of pieces."""
    return Amount(number, Measured.PIECES)
