"""The larder's books closed at the ends of some days, so that they are kept on from the last.

Whatever comes to the diary later, or is put right or taken back in it, the books stand as if kept
from nothing: they go on from the last closing before the first entry that is another one now.
"""

from bisect import bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import takewhile

from haulm.season.larder import Larder
from haulm.season.ledger import keep_on, opened_with
from haulm.season.ledger_records import BroughtForward, LedgerLot
from haulm.season.records import Entry

YEARS_BACK = (4, 1)
"""So many years back the books are closed at a year's end, besides at a month's end."""


@dataclass(frozen=True, slots=True)
class ClosedBooks:
    """The books closed at the end of a day, with how many entries are in them."""

    until: date
    number: int
    books: BroughtForward


@dataclass(frozen=True, slots=True)
class KeptBooks:
    """Books kept, with all that tells from where they can be kept on.

    Attributes
    ----------
    entries, lots, larder
        What they were kept from; see :func:`haulm.season.ledger.keep_ledger`.
    closings
        How they stood at the ends of some days, the earliest first.
    books
        How they stand after the last entry.
    """

    entries: tuple[Entry, ...]
    lots: tuple[LedgerLot, ...]
    larder: Larder
    closings: tuple[ClosedBooks, ...]
    books: BroughtForward


def closing_days(day: date) -> tuple[date, ...]:
    """Give the days at whose end the books are closed, as of a day; they move but once a month.

    The last is the end of the month before last: what is written late, or put right, is mostly of
    a later day.
    """
    month = (day.replace(day=1) - timedelta(days=1)).replace(day=1)
    years = (date(day.year - back, 1, 1) for back in YEARS_BACK)
    return tuple(sorted({first - timedelta(days=1) for first in (*years, month)}))


def keep_closing(
    entries: Sequence[Entry],
    lots: Sequence[LedgerLot],
    larder: Larder,
    day: date,
    before: KeptBooks | None = None,
) -> KeptBooks:
    """Keep the books up to a day, on from ones kept before as far as these still hold.

    Parameters
    ----------
    entries
        The diary's entries that move food, corrections worked in, in the order of their days.
    lots, larder
        As for :func:`haulm.season.ledger.keep_ledger`.
    day
        The last day.
    before
        Books kept before, of whatever entries; None where there are none.
    """
    days = [entry.day for entry in entries]
    written, told = tuple(entries[: bisect_right(days, day)]), tuple(lots)
    held = _that_hold(before, written, told, larder) if before else ()
    closings = [closed for closed in held if closed.until <= day]
    books = closings[-1].books if closings else opened_with(told, larder)
    number = closings[-1].number if closings else 0
    for until in closing_days(day):
        if closings and until <= closings[-1].until:
            continue
        end = bisect_right(days, until)
        books, number = keep_on(books, written[number:end], larder), end
        closings.append(ClosedBooks(until, number, books))
    return KeptBooks(
        written, told, larder, tuple(closings), keep_on(books, written[number:], larder)
    )


def _that_hold(
    before: KeptBooks, entries: tuple[Entry, ...], lots: tuple[LedgerLot, ...], larder: Larder
) -> Iterator[ClosedBooks]:
    """Give the closings before which nothing is other than it was."""
    if before.lots != lots or before.larder != larder:
        return
    pairs = zip(before.entries, entries, strict=False)
    # Most are the very same: to ask that first is quicker than to compare what they say.
    same = sum(1 for _ in takewhile(lambda pair: pair[0] is pair[1] or pair[0] == pair[1], pairs))
    for closed in before.closings:
        later = entries[closed.number : closed.number + 1]
        if closed.number <= same and not any(entry.day <= closed.until for entry in later):
            yield closed
