"""The diary in the notebook: entries are put in, and given back; none is changed or taken out."""

import json
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from functools import cache

from pydantic import TypeAdapter
from sqlalchemy import and_, insert, or_, select

from haulm.measure.findings import Finding, Grade
from haulm.notebook.notebook import Notebook
from haulm.notebook.tables import DIARY, PHOTOS
from haulm.season.diary import in_order
from haulm.season.records import Diary, Entry, EntryKind

AT_ONCE = 500
"""How many ids are asked after in one statement; SQLite takes no more than some thousands."""


@dataclass(frozen=True, slots=True)
class Photo:
    """A picture that goes with an entry."""

    media_type: str
    picture: bytes


@dataclass(frozen=True, slots=True)
class Taken:
    """What became of entries that were sent: how many were new, how many were here already.

    ``differ`` tells of entries whose id is here with other content; those are not taken.
    """

    new: int
    known: int
    differ: tuple[Finding, ...] = ()


def write_entries(notebook: Notebook, entries: Iterable[Entry]) -> Taken:
    """Put entries into the diary; one that is there already is not put in twice.

    An entry is known by its id, so that a phone that is not sure whether its entries arrived can
    send them again.
    """
    sent = {entry.id: entry for entry in entries}
    there = _texts(notebook, list(sent))
    rows, differ = [], []
    for id_, entry in sent.items():
        text = entry_to_text(entry)
        if id_ not in there:
            row = {"id": id_, "day": entry.day, "kind": entry.kind.value, "entry": text}
            rows.append(row)
        elif there[id_] != text:
            differ.append(_other(entry))
    if rows:
        notebook.connection.execute(insert(DIARY), rows)
    return Taken(len(rows), len(sent) - len(rows) - len(differ), tuple(differ))


def read_entries(notebook: Notebook, first: date | None = None) -> tuple[Entry, ...]:
    """Give all entries ever written, or those of a day and later, by day."""
    wanted = select(DIARY.c.entry).order_by(DIARY.c.day, DIARY.c.id)
    if first is not None:
        wanted = wanted.where(DIARY.c.day >= first)
    texts = notebook.connection.execute(wanted).scalars().all()
    return tuple(_several().validate_json(f"[{','.join(texts)}]"))


def read_diary(notebook: Notebook, first: date | None = None) -> Diary:
    """Give the diary with corrections worked in, of all days or of one and later."""
    return in_order(read_entries(notebook, first))


def read_kinds(notebook: Notebook, kinds: Iterable[EntryKind], first: date) -> tuple[Entry, ...]:
    """Give the entries of some kinds, of a day and later, that hold; others are hardly read.

    Every correction is read, whatever it tells and of which day: it may have put another kind or
    day in an entry's place.
    """
    wanted = select(DIARY.c.entry).where(
        or_(
            and_(DIARY.c.day >= first, DIARY.c.kind.in_([kind.value for kind in kinds])),
            DIARY.c.entry.not_like('%"replaces": null%'),
        )
    )
    texts = notebook.connection.execute(wanted).scalars().all()
    found = in_order(_several().validate_json(f"[{','.join(texts)}]")).entries
    asked = frozenset(kinds)
    return tuple(entry for entry in found if entry.kind in asked and entry.day >= first)


def write_photo(notebook: Notebook, entry: str, photo: Photo) -> None:
    """Put a picture beside an entry, in the place of the one before."""
    row = {"entry": entry, "media_type": photo.media_type, "picture": photo.picture}
    notebook.connection.execute(insert(PHOTOS).prefix_with("OR REPLACE").values(row))


def read_photo(notebook: Notebook, entry: str) -> Photo | None:
    """Give the picture of an entry; None where it has none."""
    wanted = select(PHOTOS.c.media_type, PHOTOS.c.picture).where(PHOTOS.c.entry == entry)
    found = notebook.connection.execute(wanted).one_or_none()
    return None if found is None else Photo(found.media_type, found.picture)


def entry_to_text(entry: Entry) -> str:
    """Write an entry as JSON."""
    return json.dumps(_one().dump_python(entry, mode="json"), ensure_ascii=False)


def entry_from_text(text: str) -> Entry:
    """Read an entry back; it equals the one written."""
    return _one().validate_json(text)


def _texts(notebook: Notebook, ids: Sequence[str]) -> dict[str, str]:
    """Give those entries that are there, as written, by id."""
    found: dict[str, str] = {}
    for start in range(0, len(ids), AT_ONCE):
        some = ids[start : start + AT_ONCE]
        rows = notebook.connection.execute(
            select(DIARY.c.id, DIARY.c.entry).where(DIARY.c.id.in_(some))
        )
        found |= {row.id: row.entry for row in rows}
    return found


def _other(entry: Entry) -> Finding:
    return Finding(
        f"the diary of {entry.day.isoformat()}, {entry.kind}",
        f"an entry of this name ({entry.id}) is there already and says something else.",
        "It was not taken. Enter it anew, or put the one that is there right.",
        Grade.WARNING,
    )


@cache
def _one() -> TypeAdapter[Entry]:
    """Make the adapter on first use: it takes a moment."""
    return TypeAdapter(Entry)


@cache
def _several() -> TypeAdapter[list[Entry]]:
    return TypeAdapter(list[Entry])
