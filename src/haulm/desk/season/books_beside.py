"""The larder's books carried on from a file beside the notebook, where years of diary stand in it.

The file holds the books as they stood at the end of a month, and a mark of all they rest on: every
entry up to then, what the garden tells of its larder, and haulm itself. Where any of that is
another now, where the file is damaged, or where there is none, the books are kept from nothing, and
it is written anew. It may be deleted at any time.
"""

from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass
from datetime import date
from functools import cache
from hashlib import sha256
from importlib.resources import files
from pathlib import Path

import haulm
from haulm.desk.garden.opening import Opened
from haulm.desk.season.larder_told import lots_told
from haulm.notebook.diary import Wanted, mark_until, read_after, read_diary
from haulm.notebook.file import open_notebook
from haulm.notebook.notebook import Notebook
from haulm.season.books_text import books_from_text, books_to_text
from haulm.season.closings import ClosedBooks, KeptBooks, keep_closing
from haulm.season.larder import Larder
from haulm.season.ledger_records import IN_BOOKS, BroughtForward, LedgerLot
from haulm.season.records import Entry

ENDING = ".books"
"""How the name of the file ends, after that of the notebook."""

WORTH_IT = 2000
"""With fewer entries that move food the books are kept from nothing in no time [1]."""


@dataclass(frozen=True, slots=True)
class _Means:
    """What books are kept by: the notebook, lots told in the garden, and how food keeps."""

    notebook: Notebook
    lots: tuple[LedgerLot, ...]
    larder: Larder

    def mark(self, until: date) -> str:
        """Give a mark of all that books closed on a day rest on."""
        entries = mark_until(self.notebook, IN_BOOKS, until)
        said = (_mark_of_haulm(), until, entries, self.lots, self.larder)
        return sha256(repr(said).encode()).hexdigest()


def books_of_file(opened: Opened, path: Path, day: date, larder: Larder) -> BroughtForward:
    """Keep a notebook's books up to a day, on from the file beside it where that still holds.

    Raises
    ------
    FaultsFoundError
        When the path is no notebook.
    """
    lots = lots_told(opened, larder, day)
    with open_notebook(path) as notebook:
        means = _Means(notebook, lots, larder)
        closed = _read(path, means)
        kept = _carried_on(closed, means, day) if closed and closed.until <= day else None
        if kept is not None:
            _write(path, means, [one for one in kept.closings if one.number], kept.entries)
            return kept.books
        entries = read_diary(notebook, Wanted(kinds=IN_BOOKS)).entries
        kept = keep_closing(entries, lots, larder, day)
        # Asked for a day long past, they leave what is of use today.
        if len(kept.entries) >= WORTH_IT and (closed is None or closed.until <= day):
            _write(path, means, kept.closings, kept.entries)
        return kept.books


def beside(path: Path) -> Path:
    """Give the path of the file beside a notebook."""
    return path.with_name(path.name + ENDING)


def _carried_on(closed: ClosedBooks, means: _Means, day: date) -> KeptBooks | None:
    """Keep the books on from a closing; None where something is put right across its day."""
    later = read_after(means.notebook, IN_BOOKS, closed.until)
    if later is None or any(entry.day <= closed.until for entry in later):
        return None
    before = KeptBooks((), means.lots, means.larder, (closed,), closed.books)
    return keep_closing(later, means.lots, means.larder, day, before)


def _read(path: Path, means: _Means) -> ClosedBooks | None:
    """Read the file; None where there is none, it is damaged, or no longer holds."""
    try:
        whole, _, said = beside(path).read_text(encoding="utf-8").partition("\n")
        if whole != sha256(said.encode()).hexdigest():
            return None
        mark, until, text = said.split("\n", 2)
        closed_on = date.fromisoformat(until)
        if mark != means.mark(closed_on):
            return None
        return ClosedBooks(closed_on, 0, books_from_text(text, means.larder))
    except (OSError, ValueError):
        return None


def _write(
    path: Path, means: _Means, closings: Sequence[ClosedBooks], entries: Sequence[Entry]
) -> None:
    """Write the last of some closings that nothing put right reaches across.

    A folder or disk that does not take it leaves the books as right as they were, and slower.
    """
    for closed in reversed(closings):
        if _stands_alone(means, closed, entries):
            text = books_to_text(closed.books)
            said = f"{means.mark(closed.until)}\n{closed.until}\n{text}"
            whole = sha256(said.encode()).hexdigest()
            unfinished = path.with_name(path.name + ENDING + ".unfinished")
            with suppress(OSError):
                unfinished.write_text(f"{whole}\n{said}", encoding="utf-8", newline="\n")
                unfinished.replace(beside(path))
            return


def _stands_alone(means: _Means, closed: ClosedBooks, entries: Sequence[Entry]) -> bool:
    """Whether what comes after a closing can be read by itself, and is what was read with it."""
    later = read_after(means.notebook, IN_BOOKS, closed.until)
    after = tuple(entries[closed.number :])
    return later is not None and later[: len(after)] == after


@cache
def _mark_of_haulm() -> str:
    """Give a mark of how this haulm keeps books: its version, and the room that keeps them."""
    found = sha256(haulm.__version__.encode())
    room = files("haulm.season")
    for file in sorted((*room.iterdir(), *(room / "data").iterdir()), key=lambda one: one.name):
        if file.name.endswith((".py", ".toml")):
            found.update(file.read_bytes())
    return found.hexdigest()
