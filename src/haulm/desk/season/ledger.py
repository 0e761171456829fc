"""The larder's ledger at the desk: the garden's lots and the diary, kept by the catalogue."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from haulm.desk.garden.opening import Opened, open_garden
from haulm.desk.season.books_beside import books_of_file
from haulm.desk.season.larder_told import larder_of, lots_told
from haulm.season.closings import KeptBooks, keep_closing
from haulm.season.larder import Larder
from haulm.season.ledger import keep_ledger, ledger_of_books, left_kg
from haulm.season.ledger_records import BroughtForward, Ledger
from haulm.season.records import Entry


@dataclass(frozen=True, slots=True)
class LedgerToday:
    """The books on a day: the ledger, and what is sound of each lot [kg], by its name."""

    day: date
    ledger: Ledger
    sound_kg: Mapping[str, float]
    names: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class BooksHeld:
    """Books at hand: from where they can be kept on, and what they tell."""

    kept: KeptBooks
    today: LedgerToday


def ledger_of(path: Path, day: date) -> LedgerToday:
    """Keep a notebook's books up to a day.

    Raises
    ------
    FaultsFoundError
        When the path is no notebook, or the garden has faults.
    """
    opened = open_garden(path)
    larder = larder_of(opened)
    return ledger_today(larder, books_of_file(opened, path, day, larder), day)


def ledger_today(larder: Larder, books: BroughtForward, day: date) -> LedgerToday:
    """Tell books that were kept up to a day."""
    ledger = ledger_of_books(books)
    sound_kg = {lot.id: left_kg(lot, day) for lot in ledger.lots}
    return LedgerToday(day, ledger, sound_kg, larder.names)


def books_held(
    opened: Opened, entries: Sequence[Entry], day: date, before: BooksHeld | None = None
) -> BooksHeld:
    """Keep a garden's books up to a day, on from ones held before as far as these still hold.

    ``entries`` are those of the diary that move food, in the order of their days.
    """
    larder = larder_of(opened)
    lots = lots_told(opened, larder, day)
    kept = keep_closing(entries, lots, larder, day, before.kept if before else None)
    return BooksHeld(kept, ledger_today(larder, kept.books, day))


def books_on(opened: Opened, entries: Iterable[Entry], day: date, larder: Larder) -> Ledger:
    """Keep a garden's books from its diary's entries up to a day."""
    written = [entry for entry in entries if entry.day <= day]
    return keep_ledger(written, lots_told(opened, larder, day), larder)
