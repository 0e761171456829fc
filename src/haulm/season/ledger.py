"""Books of the larder kept from the diary: lots, what came out, counts, what is still sound."""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import date
from math import exp

from haulm.season.bookkeeping import OpenBooks, in_turn
from haulm.season.keeping_pace import age_weeks, sound_at
from haulm.season.larder import Larder
from haulm.season.ledger_records import (
    IN_BOOKS,
    BroughtForward,
    Counted,
    Ledger,
    LedgerLot,
    LotBalance,
)
from haulm.season.open_lot import sound_left_kg
from haulm.season.records import Entry, EntryKind, Purpose


def keep_ledger(entries: Iterable[Entry], lots: Sequence[LedgerLot], larder: Larder) -> Ledger:
    """Keep the books from the entries that hold, in the order of their days.

    Each lot is counted as it was put by: sound food taken out at an age takes that much more of
    what was put by with it as it takes to find it, amount / S(age). A count sets the books to what
    was found, and moves the pace at which the lot ages. What is planted comes out of what was put
    by to plant.

    Parameters
    ----------
    entries
        The diary's entries, corrections worked in.
    lots
        Lots told in the garden itself; see :func:`lot_told`.
    larder
        How food keeps.
    """
    return ledger_of_books(keep_on(opened_with(lots, larder), entries, larder))


def opened_with(lots: Sequence[LedgerLot], larder: Larder) -> BroughtForward:
    """Open the books with lots that were not put by in the diary, each as it was last counted."""
    as_usual = (
        replace(
            lot,
            pace=1.0,
            pace_spread=larder.pace_spread,
            moves=(),
            more_kg=0.0,
            cleared_kg=0.0,
            missing_kg=0.0,
            aside_kg=0.0,
        )
        for lot in lots
    )
    return BroughtForward(tuple(as_usual))


def keep_on(before: BroughtForward, entries: Iterable[Entry], larder: Larder) -> BroughtForward:
    """Keep the books on from where they stood.

    Kept on from the end of a day with all entries of later days, they stand as if kept in one go.

    Parameters
    ----------
    before
        The books as they stood.
    entries
        What came after; see :func:`keep_ledger`.
    larder
        How food keeps.
    """
    books = OpenBooks(before, larder)
    for entry in sorted((one for one in entries if one.kind in IN_BOOKS), key=in_turn):
        books.enter(entry)
    return books.brought_forward()


def ledger_of_books(books: BroughtForward) -> Ledger:
    """Give the ledger of books as they stand."""
    return Ledger(books.lots, books.told, {lot.id: lot for lot in books.lots})


def lot_told(lot: LedgerLot, counted_on: date) -> LedgerLot:
    """Take a lot told in the garden into the books: what was told of it was sound on a day.

    That stands as its first count, which no entry of the diary tells.
    """
    share = sound_at(lot.keeps.sound, age_weeks(lot.put_by, counted_on))
    base_kg = lot.kg_in / share if share > 0 else 0.0
    told = Counted(counted_on, lot.kg_in, 0.0, lot.kg_in, "")
    return replace(lot, base_kg=base_kg, most_kg=lot.kg_in, counts=(told,))


def left_kg(lot: LedgerLot, day: date) -> float:
    """Give what the books say is still sound of a lot [kg], on a day not before its last entry."""
    share = lot.share_on(day)
    return sound_left_kg(lot.base_kg, lot.most_kg, share)


def left_within_kg(lot: LedgerLot, day: date, deviations: float) -> tuple[float, float]:
    """Give what is sound of a lot if it ages so much faster, or slower, than thought [kg].

    Parameters
    ----------
    lot, day
        The lot, and a day not before its last entry.
    deviations
        How many standard deviations of the log of its pace: 1.2816 for 8 years in 10.

    What was found by the last count is sure on that day, and less so with every week since.
    """
    last = lot.counts[-1].day if lot.counts else lot.put_by
    then, now = age_weeks(lot.put_by, last), age_weeks(lot.put_by, day)
    low, high = (
        sound_left_kg(
            lot.base_kg,
            lot.most_kg,
            sound_at(lot.keeps.sound, then * lot.pace + max(0.0, now - then) * pace),
        )
        for pace in (
            lot.pace * exp(deviations * lot.pace_spread),
            lot.pace * exp(-deviations * lot.pace_spread),
        )
    )
    return low, high


def balance(lot: LedgerLot, day: date) -> LotBalance:
    """Say what became of every gram of a lot, to a day not before its last entry."""
    out: dict[EntryKind, float] = defaultdict(float)
    for move in lot.moves:
        out[move.kind] += move.kg
    sound = left_kg(lot, day)
    return LotBalance(
        lot.kg_in,
        lot.more_kg,
        dict(out),
        lot.cleared_kg,
        lot.missing_kg,
        sound,
        lot.most_kg - sound,
    )


def by_food(ledger: Ledger, day: date) -> Mapping[str, float]:
    """Add up what is sound of each food on a day, what is kept to plant or give aside [kg]."""
    kg: dict[str, float] = defaultdict(float)
    for lot in ledger.lots:
        if lot.purpose is Purpose.EAT:
            kg[lot.food] += left_kg(lot, day)
    return dict(kg)
