"""The diary in the notebook: entries are put in, and given back; none is changed or taken out."""

import json
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from functools import cache
from hashlib import sha256

from pydantic import TypeAdapter
from sqlalchemy import (
    ColumnClause,
    ColumnElement,
    Integer,
    Select,
    and_,
    func,
    insert,
    literal_column,
    or_,
    select,
)

from haulm.measure.findings import Finding, Grade
from haulm.notebook.notebook import Notebook
from haulm.notebook.tables import DIARY, PHOTOS
from haulm.season.diary import in_order
from haulm.season.records import Diary, Entry, EntryKind

LAST_LETTER = "\U0010ffff"
"""No letter comes after it; so between a beginning, and it with this, lie all that begin so."""

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


@dataclass(frozen=True, slots=True)
class Wanted:
    """Which entries are wanted; without a word, all.

    Attributes
    ----------
    first
        Those of this day and later.
    kinds
        Those of these kinds.
    named
        Those whose id begins so.
    """

    first: date | None = None
    kinds: frozenset[EntryKind] | None = None
    named: str = ""

    def has(self, entry: Entry) -> bool:
        """Say whether an entry is wanted."""
        in_time = self.first is None or entry.day >= self.first
        of_kind = self.kinds is None or entry.kind in self.kinds
        return in_time and of_kind and entry.id.startswith(self.named)


@dataclass(frozen=True, slots=True)
class Written:
    """All entries ever written, in the order they came, and the number of the last one's row."""

    entries: tuple[Entry, ...] = ()
    last_row: int = 0


EVERYTHING = Wanted()


def write_entries(notebook: Notebook, entries: Iterable[Entry]) -> Taken:
    """Put entries into the diary; one that is there already is not put in twice.

    An entry is known by its id, so that a phone that is not sure whether its entries arrived can
    send them again.
    """
    sent = {entry.id: entry for entry in entries}
    there = _texts(notebook, list(sent))
    rows, differ = [], []
    for id_, entry in sent.items():
        if id_ not in there:
            rows.append(
                {
                    "id": id_,
                    "day": entry.day,
                    "kind": entry.kind.value,
                    "entry": entry_to_text(entry),
                    "replaces": entry.replaces,
                }
            )
        elif entry_to_text(entry_from_text(there[id_])) != entry_to_text(entry):
            differ.append(_other(entry))
    if rows:
        notebook.connection.execute(insert(DIARY), rows)
    return Taken(len(rows), len(sent) - len(rows) - len(differ), tuple(differ))


def read_entries(notebook: Notebook, first: date | None = None) -> tuple[Entry, ...]:
    """Give all entries ever written, or those of a day and later, by day."""
    found = _read(notebook, Wanted(first))
    return tuple(sorted(filter(Wanted(first).has, found), key=lambda entry: (entry.day, entry.id)))


def read_diary(notebook: Notebook, wanted: Wanted = EVERYTHING) -> Diary:
    """Give the diary with corrections worked in, of all entries or of those wanted."""
    diary = in_order(_read(notebook, wanted))
    if wanted == EVERYTHING:
        return diary
    entries = tuple(filter(wanted.has, diary.entries))
    return replace(
        diary,
        entries=entries,
        before={entry.id: diary.before[entry.id] for entry in entries if entry.id in diary.before},
        taken_back={id_: entry for id_, entry in diary.taken_back.items() if wanted.has(entry)},
    )


def read_on(notebook: Notebook, before: Written) -> Written:
    """Give all entries ever written, those that were read before not read again.

    Where the file is no longer one that holds just those, all are read.
    """
    row: ColumnClause[int] = literal_column("rowid", Integer)
    ids = [entry.id for entry in before.entries[-1:]]
    held = select(func.count()).select_from(DIARY).where(row <= before.last_row)
    last = select(DIARY.c.id).where(row == before.last_row)
    goes_on = (
        notebook.connection.execute(held).scalar_one() == len(before.entries)
        and notebook.connection.execute(last).scalars().all() == ids
    )
    known = before if goes_on else Written()
    new = notebook.connection.execute(
        select(row, DIARY.c.entry).where(row > known.last_row).order_by(row)
    ).all()
    if not new:
        return known
    return Written((*known.entries, *_parsed([text for _, text in new])), new[-1][0])


def mark_until(notebook: Notebook, kinds: frozenset[EntryKind], until: date) -> str:
    """Give a mark of all entries of some kinds up to a day, and of what was put right.

    It is another as soon as one of them is, or one comes to them.
    """
    texts = (
        select(DIARY.c.entry)
        .where(
            DIARY.c.day <= until,
            or_(DIARY.c.kind.in_(sorted(kinds)), _put_right_or_puts_right()),
        )
        .order_by(literal_column("rowid"))
        .subquery()
    )
    # Put together by SQLite, which takes a third of the time of handing each text over.
    joined = select(func.group_concat(texts.c.entry, "\n"))
    said: str | None = notebook.connection.execute(joined).scalar_one()
    return sha256((said or "").encode()).hexdigest()


def read_after(
    notebook: Notebook, kinds: frozenset[EntryKind], until: date
) -> tuple[Entry, ...] | None:
    """Give the entries of some kinds after a day, corrections worked in.

    Where an entry of that day or before was put right by one of a later day, or the other way
    round, those after it cannot be told by themselves: None.
    """
    one, other = DIARY.alias(), DIARY.alias()
    over = (
        select(func.count())
        .select_from(one.join(other, one.c.replaces == other.c.id))
        .where(one.c.replaces.is_not(None), (one.c.day <= until) != (other.c.day <= until))
    )
    if notebook.connection.execute(over).scalar_one():
        return None
    wanted = Wanted(until + timedelta(days=1), kinds)
    return tuple(filter(wanted.has, in_order(_read(notebook, wanted)).entries))


def known_ids(notebook: Notebook, ids: Iterable[str]) -> frozenset[str]:
    """Give those of some ids under which there is an entry."""
    return frozenset(_texts(notebook, list(ids)))


def _read(notebook: Notebook, wanted: Wanted) -> list[Entry]:
    """Read the entries wanted, and with them all that they were put right by, or put right."""
    chosen = select(DIARY.c.entry)
    conditions = []
    kind: ColumnElement[str] = DIARY.c.kind
    if wanted.first is not None:
        conditions.append(DIARY.c.day >= wanted.first)
        # Put together with nothing, so that SQLite finds the few by their days.
        kind = kind + ""
    if wanted.kinds is not None:
        conditions.append(kind.in_(sorted(wanted.kinds)))
    if wanted.named:
        conditions.append(DIARY.c.id.between(wanted.named, wanted.named + LAST_LETTER))
    if conditions:
        condition = and_(*conditions)
        chosen = chosen.where(or_(condition, DIARY.c.id.in_(_linked_to(condition))))
    return _parsed(notebook.connection.execute(chosen).scalars().all())


def _linked_to(condition: ColumnElement[bool]) -> Select[tuple[str]]:
    """Ask for the ids of what is linked, over any number of corrections, to certain entries."""
    first = select(DIARY.c.id, DIARY.c.replaces).where(condition, _put_right_or_puts_right())
    linked, row = first.cte("linked", recursive=True), DIARY.alias()
    beside = or_(row.c.replaces == linked.c.id, row.c.id == linked.c.replaces)
    linked = linked.union(select(row.c.id, row.c.replaces).join_from(linked, row, beside))
    return select(linked.c.id)


def _put_right_or_puts_right() -> ColumnElement[bool]:
    put_right = select(DIARY.c.replaces).where(DIARY.c.replaces.is_not(None))
    return or_(DIARY.c.replaces.is_not(None), DIARY.c.id.in_(put_right))


def _parsed(texts: Sequence[str]) -> list[Entry]:
    return _several().validate_json(f"[{','.join(texts)}]")


def entries_there(notebook: Notebook, ids: Iterable[str]) -> dict[str, Entry]:
    """Give those entries of some ids that are in the diary, as written, by id."""
    texts = _texts(notebook, list(ids))
    return {id_: entry_from_text(text) for id_, text in texts.items()}


def write_photo(notebook: Notebook, entry: str, photo: Photo) -> None:
    """Put a picture beside an entry, in the place of the one before."""
    row = {"entry": entry, "media_type": photo.media_type, "picture": photo.picture}
    notebook.connection.execute(insert(PHOTOS).prefix_with("OR REPLACE").values(row))


def read_photo(notebook: Notebook, entry: str) -> Photo | None:
    """Give the picture of an entry; None where it has none."""
    wanted = select(PHOTOS.c.media_type, PHOTOS.c.picture).where(PHOTOS.c.entry == entry)
    found = notebook.connection.execute(wanted).one_or_none()
    return None if found is None else Photo(found.media_type, found.picture)


def photographed(notebook: Notebook) -> frozenset[str]:
    """Give the ids of the entries that have a picture."""
    return frozenset(notebook.connection.execute(select(PHOTOS.c.entry)).scalars())


def entry_to_text(entry: Entry) -> str:
    """Write an entry as JSON; what says nothing is left out."""
    said = _one().dump_python(entry, mode="json", exclude_defaults=True)
    return json.dumps(said, ensure_ascii=False)


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
