"""Power cut in whatever writes: the notebook is as it was before, at any statement of the work."""

import os
import signal
import sqlite3
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from datetime import UTC, date, datetime
from pathlib import Path

import pytest
from sqlalchemy import Engine, event

from gardens import small_garden
from haulm.desk.garden.editing import Change, change_garden, mark_of, parts_of, undo_last
from haulm.desk.garden.exchange import import_garden
from haulm.desk.season.diary import put_right, receive, take_back, write_entry
from haulm.desk.season.diary_files import ColumnMap, import_table
from haulm.desk.season.diary_typed import TypedEntry, Written
from haulm.notebook.diary import read_entries, write_entries
from haulm.notebook.file import open_notebook
from haulm.notebook.soundness import look_through
from haulm.season.records import EntryKind
from season.diary_by_hand import entry

DAY = date(2027, 1, 20)
AT = datetime(2027, 2, 1, 12, tzinfo=UTC)
WORKED = TypedEntry("worked", DAY.isoformat(), minutes="30")
BY = Written("e-new", AT, "laptop")
MANY = [entry(EntryKind.WORKED, DAY, minutes=float(n), words="x" * 300) for n in range(300)]
CUTS = 6
"""So many statements of each verb are chosen to be cut at, from its first to its last."""


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """Give the small garden's notebook with an entry, and one change that can be gone back on."""
    made, _ = import_garden(small_garden(tmp_path), tmp_path / "quill.haulm")
    with open_notebook(made, writing=True) as notebook:
        write_entries(notebook, [entry(EntryKind.WORKED, DAY, id="e-old", minutes=20.0)])
    rename(made, "Upper bed")
    (tmp_path / "many.csv").write_text(
        "day,kind,minutes\n" + "".join(f"2027-01-20,worked,{n}\n" for n in range(200)),
        encoding="utf-8",
    )
    return made


def rename(path: Path, name: str) -> None:
    """Call the first bed otherwise, as the page does."""
    bed = dict(parts_of(path)["bed"][0])
    change_garden(path, [Change("bed", mark_of(bed), bed | {"name": name})], AT)


VERBS: Mapping[str, Callable[[Path], object]] = {
    "write an entry": lambda path: write_entry(path, WORKED, BY, DAY),
    "put one right": lambda path: put_right(path, "e-old", WORKED, BY, DAY),
    "take one back": lambda path: take_back(path, "e-old", BY),
    "take in what a phone sends": lambda path: receive(path, MANY, AT, AT),
    "take in a table": lambda path: import_table(
        path, path.with_name("many.csv"), ColumnMap(), AT, DAY
    ),
    "change a bed": lambda path: rename(path, "Lower bed"),
    "undo": undo_last,
    "bring it up to date with garden.toml": lambda path: import_garden(
        path.with_name("garden.toml"), path, AT
    ),
}


@contextmanager
def each_statement(does: Callable[[int], None]) -> Iterator[list[int]]:
    """Call something before every statement, with its number; what is written goes to the disk.

    A cache of two pages makes SQLite write into the file long before the work ends, so that a cut
    finds it half written.
    """
    count = [0]

    def small_cache(driver: object, _entry: object) -> None:
        """Leave SQLite no room to keep what is written to itself."""
        if isinstance(driver, sqlite3.Connection):
            driver.execute("PRAGMA cache_size = 2")

    def before(*_: object) -> None:
        """Count, and call."""
        count[0] += 1
        does(count[0])

    event.listen(Engine, "connect", small_cache)
    event.listen(Engine, "before_cursor_execute", before)
    event.listen(Engine, "commit", before)
    try:
        yield count
    finally:
        event.remove(Engine, "connect", small_cache)
        event.remove(Engine, "before_cursor_execute", before)
        event.remove(Engine, "commit", before)


def state(path: Path) -> object:
    """Give all that a notebook says."""
    with open_notebook(path) as notebook:
        return notebook.parts(), read_entries(notebook)


def cut(path: Path, verb: Callable[[Path], object], number: int) -> bool:
    """Do something in a process of its own that is killed at a statement; say whether it was."""
    child = os.fork()
    if child == 0:

        def kill(at: int) -> None:
            """End at once, as a power cut does."""
            if at == number:
                os.kill(os.getpid(), signal.SIGKILL)

        with each_statement(kill):
            verb(path)
        os._exit(0)
    _, status = os.waitpid(child, 0)
    return os.WIFSIGNALED(status)


@pytest.mark.parametrize("name", VERBS)
def test_power_cut_at_any_statement_leaves_the_notebook_as_it_was(path: Path, name: str) -> None:
    """Cut at its first statement, its last, and some between, a verb has written nothing or all.

    Done again after each cut, it does what it was to do.
    """
    verb = VERBS[name]
    before = state(path)
    whole = path.read_bytes()
    with each_statement(lambda _: None) as count:
        verb(path)
    after, statements = state(path), count[0]
    assert after != before
    path.write_bytes(whole)
    for number in sorted({1 + (statements - 1) * step // (CUTS - 1) for step in range(CUTS)}):
        assert cut(path, verb, number)
        assert state(path) in (before, after)
        assert look_through(path).findings == ()
        path.write_bytes(whole)
        path.with_name(path.name + "-journal").unlink(missing_ok=True)
    verb(path)
    assert state(path) == after
