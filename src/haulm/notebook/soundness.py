"""A notebook looked through, row by row, without writing in it: what is sound, what is not."""

import json
import sqlite3
import zlib
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import closing
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from haulm.measure.findings import Finding, Grade
from haulm.notebook.diary import entry_from_text
from haulm.notebook.faults import refusal
from haulm.notebook.file import APPLICATION_ID, NOT_A_NOTEBOOK, RESTORE, check_mark, revisions
from haulm.notebook.plan_text import plan_from_text
from haulm.season.diary import in_order
from haulm.season.records import Entry

TOLD = 5
"""So many faults of one sort are told one by one; the others are counted."""

PICTURES = (b"\xff\xd8\xff", b"\x89PNG", b"RIFF", b"GIF8", b"\x00\x00\x00")
"""How the pictures that phones and cameras make begin: JPEG, PNG, WebP, GIF, HEIF and AVIF."""

Row = Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class LookedAt:
    """One thing that was looked at, and how it was found, each in a few words."""

    what: str
    found: str


@dataclass(frozen=True, slots=True)
class Soundness:
    """All that was looked at in a notebook, and what in it is not sound."""

    looked_at: tuple[LookedAt, ...]
    findings: tuple[Finding, ...]


def look_through(path: Path) -> Soundness:
    """Look through a notebook: its pages, and every row of diary, pictures, plans and history.

    Nothing is written, and a notebook of an older haulm is left as it is.

    Raises
    ------
    FaultsFoundError
        When there is no such file, it is no notebook, or it is of a newer haulm.
    """
    check_mark(path)
    try:
        with closing(sqlite3.connect(f"{path.absolute().as_uri()}?mode=ro", uri=True)) as file:
            file.row_factory = sqlite3.Row
            return _looked_through(file, path)
    except sqlite3.Error as error:
        return Soundness((), (_damaged(path.name, str(error)),))


def _looked_through(file: sqlite3.Connection, path: Path) -> Soundness:
    if file.execute("PRAGMA application_id").fetchone()[0] != APPLICATION_ID:
        raise refusal(path, *NOT_A_NOTEBOOK)
    pages = tuple(row[0] for row in file.execute(f"PRAGMA integrity_check({TOLD})"))
    if pages != ("ok",):
        found = tuple(_damaged(path.name, what.strip()) for what in pages)
        return Soundness((LookedAt("the file", "damaged"),), found)
    tables = {row[0] for row in file.execute("SELECT name FROM sqlite_master")}
    size_kb = path.stat().st_size / 1000
    looked_at = [LookedAt("the file", f"{size_kb:,.0f} kB, every page read")]
    findings = [*_of_revision(file, tables, path), *_astray(file)]
    for name, look in LOOKS.items():
        if name in tables:
            told, faults = look(file)
            looked_at.append(told)
            findings.extend(faults)
    return Soundness(tuple(looked_at), tuple(findings))


def _of_revision(file: sqlite3.Connection, tables: set[str], path: Path) -> Iterator[Finding]:
    """Tell of a notebook that is not of today's haulm.

    Raises
    ------
    FaultsFoundError
        When it is of a newer one.
    """
    row = (
        file.execute("SELECT version_num FROM alembic_version").fetchone()
        if "alembic_version" in tables
        else None
    )
    revision = row[0] if row else None
    known = revisions()
    if revision is not None and revision not in known:
        what = "this notebook was written by a newer haulm."
        raise refusal(path, what, "Install that version, or import its garden.toml here.")
    if revision != known[0]:
        yield Finding(
            path.name,
            f"it is of an older haulm (revision {revision or 'none'}, now {known[0]}).",
            "It is brought up to date when it is next opened; a copy of it as it is stays beside.",
            Grade.NOTE,
        )


def _astray(file: sqlite3.Connection) -> Iterator[Finding]:
    """Tell of rows that belong to a bed that is not there."""
    for table, row, *_ in file.execute("PRAGMA foreign_key_check"):
        where = f"the table {table}, row {row}"
        yield Finding(where, "it belongs to a bed that is not there.", _LOOK_OVER)


def _diary(file: sqlite3.Connection) -> tuple[LookedAt, list[Finding]]:
    """Read every entry, and follow what puts right what."""
    entries: list[Entry] = []
    faults = []
    for row in file.execute("SELECT * FROM diary ORDER BY rowid"):
        try:
            entry = entry_from_text(row["entry"])
        except (ValidationError, ValueError, TypeError):
            faults.append(_unread(f"the diary of {row['day']}, {row['kind']} ({row['id']})"))
            continue
        entries.append(entry)
        if not _as_its_columns(entry, row):
            where = f"the diary of {entry.day}, {entry.kind} ({entry.id})"
            what = "its day, kind or name beside it are not its own."
            faults.append(Finding(where, what, _LOOK_OVER))
    diary = in_order(entries)
    ids = {entry.id for entry in entries}
    waiting = [entry for entry in entries if entry.replaces and entry.replaces not in ids]
    told = [
        Finding(
            f"the diary of {entry.day}, {entry.kind} ({entry.id})",
            "it puts right an entry that is not here; it counts by itself.",
            "If another device holds that entry, let it send.",
            Grade.WARNING,
        )
        for entry in waiting
    ]
    found = (
        f"{len(entries):,} entries read; {len(diary.entries):,} hold,"
        f" {sum(map(len, diary.before.values())):,} were put right,"
        f" {len(diary.taken_back):,} taken back"
    )
    return LookedAt("the diary", found), [*_few(faults), *_few(told), *_few(diary.doubts)]


def _as_its_columns(entry: Entry, row: Row) -> bool:
    columns = (row["id"], row["day"], row["kind"])
    replaces = row["replaces"] if "replaces" in row.keys() else entry.replaces  # noqa: SIM118
    same = (entry.id, entry.day.isoformat(), entry.kind.value) == columns
    return same and entry.replaces == replaces


def _pictures(file: sqlite3.Connection) -> tuple[LookedAt, list[Finding]]:
    """Look at every picture's beginning, and for the entry that it goes with."""
    faults = []
    number = size = 0
    asked = (
        "SELECT p.entry, p.picture, d.id FROM diary_photos p LEFT JOIN diary d ON d.id = p.entry"
    )
    for entry, picture, there in file.execute(asked):
        number, size = number + 1, size + len(picture)
        where = f"the picture of entry {entry}"
        if there is None:
            what = "its entry is not in the diary."
            remedy = "If another device holds that entry, let it send."
            faults.append(Finding(where, what, remedy, Grade.WARNING))
        if not picture.startswith(PICTURES):
            faults.append(Finding(where, "it is no picture.", _LOOK_OVER, Grade.WARNING))
    found = f"{number:,}, {size / 1e6:.1f} MB" if number else "none"
    return LookedAt("pictures", found), _few(faults)


def _plans(file: sqlite3.Connection) -> tuple[LookedAt, list[Finding]]:
    """Read every plan."""
    faults, number = [], 0
    for row in file.execute("SELECT number, plan FROM plans ORDER BY number"):
        number += 1
        try:
            plan_from_text(row["plan"])
        except (ValidationError, ValueError, TypeError):
            faults.append(_unread(f"plan {row['number']}"))
    return LookedAt("plans", f"{number:,}, every one read" if number else "none"), _few(faults)


def _history(file: sqlite3.Connection) -> tuple[LookedAt, list[Finding]]:
    """Read every garden of before that a change can be gone back to."""
    faults, number = [], 0
    for row in file.execute("SELECT number, parts, record FROM earlier_gardens"):
        number += 1
        try:
            json.loads(row["parts"])
            if row["record"] is not None:
                zlib.decompress(row["record"]).decode()
        except (ValueError, TypeError, zlib.error):
            faults.append(_unread(f"the garden before change {row['number']}"))
    return LookedAt("changes that can be gone back on", f"{number:,}"), _few(faults)


LOOKS: Mapping[str, Callable[[sqlite3.Connection], tuple[LookedAt, list[Finding]]]] = {
    "diary": _diary,
    "diary_photos": _pictures,
    "plans": _plans,
    "earlier_gardens": _history,
}
"""What is looked at, table by table; a notebook of before has not all of them."""

_LOOK_OVER = (
    "Make a new notebook of it with haulm rescue, and look that over; a copy from before has it,"
    " if anything has."
)


def _damaged(name: str, what: str) -> Finding:
    return Finding(name, f"the file is damaged: {what}.", RESTORE)


def _unread(where: str) -> Finding:
    return Finding(where, "it cannot be read.", _LOOK_OVER)


def _few(found: Sequence[Finding]) -> list[Finding]:
    """Tell the first of many findings, and how many more there are."""
    few = list(found[:TOLD])
    if len(found) > TOLD:
        what = f"there are {len(found) - TOLD:,} more like these."
        few.append(replace(found[-1], where="and besides", what=what))
    return few
