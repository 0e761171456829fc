"""Read what can be read of a damaged notebook into a new one; the damaged file is not touched."""

import sqlite3
from contextlib import closing
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, inspect
from sqlalchemy.exc import IntegrityError

from haulm.notebook.faults import refusal
from haulm.notebook.file import create_notebook
from haulm.notebook.learning_tables import PLANTINGS
from haulm.notebook.plantings import list_all_plantings

Rows = dict[int, dict[str, Any]]
"""Rows by their number in the table, each as it stands there."""

STEPS_TABLE = "alembic_version"
"""Where a notebook says of which revision it is."""

MOST_JUMP = 1 << 20
"""How far apart rows are looked for behind a damaged place, at most."""


@dataclass(frozen=True, slots=True)
class Rescued:
    """What was read of one table of a damaged notebook.

    Attributes
    ----------
    table
        Its name.
    rows
        How many rows were read, and are in the new notebook.
    damaged
        Whether a part of it could not be read: there may have been more.
    """

    table: str
    rows: int
    damaged: bool


def rescue(damaged: Path, new: Path) -> tuple[Rescued, ...]:
    """Read every row that can be read, table by table, into a new notebook.

    Each table is read from its first row on until a damaged place, then from its last row back,
    then in between, by jumps. What is read is as it was written: nothing is made up for what is
    lost. The new notebook may lack parts of the garden; it is told on opening then.

    Raises
    ------
    FaultsFoundError
        When the file cannot be read at all, or the new one is there already.
    """
    try:
        with closing(sqlite3.connect(f"{damaged.absolute().as_uri()}?mode=ro", uri=True)) as old:
            old.row_factory = sqlite3.Row
            # A text that was written over need not be UTF-8 any more; such a row is not taken.
            tables = _tables(old)
            if not tables:
                raise refusal(damaged, "nothing of it can be read.", "Take a copy from before.")
            # First as it was when it was written, then by the same steps as a sound one.
            with create_notebook(new, _revision(old)) as notebook:
                columns = _columns(notebook.connection)
                read = tuple(
                    _read(old, name, columns[name], notebook.connection)
                    for name in columns
                    if name in tables and name != PLANTINGS.name
                )
                if PLANTINGS.name in columns:
                    list_all_plantings(notebook.connection)
                return read
    except sqlite3.Error as error:
        what = f"nothing of it can be read: {error}."
        raise refusal(damaged, what, "Take a copy from before.") from None


def _tables(old: sqlite3.Connection) -> frozenset[str]:
    names = "SELECT name FROM sqlite_master WHERE type = 'table'"
    return frozenset(row["name"] for row in old.execute(names))


def _revision(old: sqlite3.Connection) -> str | None:
    """Give the revision of a damaged notebook; None where even that cannot be read."""
    try:
        found = old.execute(f"SELECT version_num FROM {STEPS_TABLE}").fetchone()  # noqa: S608
    except sqlite3.Error:
        return None
    return None if found is None else str(found["version_num"])


def _columns(connection: Connection) -> dict[str, tuple[str, ...]]:
    """Give the columns of each table that a new notebook has, but for SQLite's and the steps'."""
    asked = inspect(connection)
    return {
        name: tuple(column["name"] for column in asked.get_columns(name))
        for name in asked.get_table_names()
        if name != STEPS_TABLE
    }


def _read(
    old: sqlite3.Connection, table: str, columns: tuple[str, ...], connection: Connection
) -> Rescued:
    """Read one table; columns it had and has no more are left out."""
    rows: Rows = {}
    whole = _onward(old, table, rows)
    if not whole:
        _backward(old, table, rows)
        _between(old, table, rows)
    taken = 0
    for _, row in sorted(rows.items()):
        said = {name: row[name] for name in columns if name in row}
        names = ", ".join(f'"{name}"' for name in said)
        marks = ", ".join("?" for _ in said)
        # Put in as it stood there: what was read is not read into a record and written anew.
        statement = f'INSERT INTO "{table}" ({names}) VALUES ({marks})'  # noqa: S608 - ours
        try:
            with connection.begin_nested():
                connection.exec_driver_sql(statement, tuple(said.values()))
            taken += 1
        except IntegrityError:
            whole = False
    return Rescued(table, taken, not whole)


def _asked(name: str, rest: str) -> str:
    """Ask for the rows of one of our own tables, each with its number."""
    return f'SELECT rowid AS "_row", * FROM "{name}" {rest}'  # noqa: S608 - the name is ours


def _onward(old: sqlite3.Connection, name: str, rows: Rows) -> bool:
    """Read from the first row on; say whether the end was reached."""
    return _take(old, _asked(name, "ORDER BY rowid"), rows)


def _backward(old: sqlite3.Connection, name: str, rows: Rows) -> None:
    _take(old, _asked(name, "ORDER BY rowid DESC"), rows)


def _between(old: sqlite3.Connection, name: str, rows: Rows) -> None:
    """Look for rows between those read from both ends, by jumps that double where nothing is."""
    for after, last in _gaps(rows):
        jump, at = 1, after + 1
        while at < last and jump <= MOST_JUMP:
            before = len(rows)
            _take(old, _asked(name, f"WHERE rowid >= {at} ORDER BY rowid"), rows, until=last)
            if len(rows) > before:
                at, jump = max(row for row in rows if row < last) + 1, 1
            else:
                at, jump = at + jump, 2 * jump


def _gaps(rows: Rows) -> tuple[tuple[int, int], ...]:
    """Give the rows read on either side of each stretch that was not."""
    return tuple((one, next_) for one, next_ in pairwise(sorted(rows)) if next_ > one + 1)


def _take(old: sqlite3.Connection, asked: str, rows: Rows, until: int | None = None) -> bool:
    """Take rows until one cannot be read; say whether all were."""
    try:
        for row in old.execute(asked):
            said = dict(row)
            number = said.pop("_row")
            if until is not None and number >= until:
                return True
            rows.setdefault(number, said)
    except (sqlite3.Error, UnicodeDecodeError):
        return False
    return True
