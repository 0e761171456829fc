"""The garden with what its diary says: notes on plantings, and stores as the books have them."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date

from haulm.catalogue.records import Form
from haulm.desk.garden.opening import Opened
from haulm.desk.season.larder_told import larder_of
from haulm.desk.season.ledger import books_on
from haulm.larder.records import LotInHand
from haulm.notebook.diary import read_diary
from haulm.notebook.file import open_notebook
from haulm.notebook.garden import Garden
from haulm.plan.records import Plan
from haulm.season.ledger import left_kg
from haulm.season.ledger_records import OUT, LedgerLot
from haulm.season.notes import notes_of
from haulm.season.records import Entry, EntryKind, Purpose

KEPT_BY = frozenset({EntryKind.PUT_BY, EntryKind.COUNTED})
"""Whoever writes these keeps the larder's books."""

MOVES = OUT | KEPT_BY
LEAST_KG = 0.005

Place = tuple[str, str, str]
"""A food in one form and store."""


@dataclass(frozen=True, slots=True)
class AsWritten:
    """A garden as told with what its diary says.

    Attributes
    ----------
    garden
        The garden.
    books_kept
        Whether the larder's books say all that lies in store.
    """

    garden: Garden
    books_kept: bool = False


def with_diary(opened: Opened, plan: Plan | None, day: date) -> AsWritten:
    """Give a garden as told, with what its diary says up to a day.

    Notes on plantings are added to those the garden tells. Once anything was put by or counted
    since the plan was made, the books say all there is in store. Before that they say all there
    is of a food in one form and store that was taken from; of any other the garden's own word
    stands, or what the plan meant to have left.

    Parameters
    ----------
    opened
        The garden.
    plan
        The plan that is carried on; None where there is none.
    day
        The last day whose entries count.
    """
    garden = opened.garden
    entries = [entry for entry in _written(opened) if entry.day <= day]
    if not entries:
        return AsWritten(garden)
    since = [entry for entry in entries if plan is None or entry.day >= plan.made_on]
    books_kept = plan is not None and any(entry.kind in KEPT_BY for entry in since)
    return AsWritten(
        replace(
            garden,
            noted=(*garden.noted, *(notes_of(entries, plan) if plan else ())),
            lots=_lots(opened, entries, since, day, everywhere=books_kept),
        ),
        books_kept,
    )


def with_notes(opened: Opened, plan: Plan) -> Garden:
    """Give a garden as told, with all that its diary says of a plan's plantings, to this day."""
    garden = opened.garden
    return replace(garden, noted=(*garden.noted, *notes_of(_written(opened), plan)))


def _written(opened: Opened) -> tuple[Entry, ...]:
    """Give the entries that hold; garden.toml has none."""
    if opened.notebook is None:
        return ()
    with open_notebook(opened.notebook) as notebook:
        return read_diary(notebook).entries


def _lots(
    opened: Opened, entries: list[Entry], since: Iterable[Entry], day: date, *, everywhere: bool
) -> tuple[LotInHand, ...]:
    """Give what lies in store, by the books: everywhere, or where they were written in since."""
    told = opened.garden.lots
    moved = [entry for entry in since if entry.kind in MOVES]
    if not moved:
        return told
    ledger = books_on(opened, entries, day, larder_of(opened))
    written = {entry.id for entry in moved}
    places = {_place(lot) for lot in ledger.lots if everywhere or written & _entries_of(lot)}
    kept = tuple(lot for lot in told if (lot.food, lot.form.value, lot.place) not in places)
    return (*kept, *(_in_hand(lot, day) for lot in ledger.lots if _counts(lot, places, day)))


def _counts(lot: LedgerLot, places: set[Place], day: date) -> bool:
    return _place(lot) in places and lot.purpose is Purpose.EAT and left_kg(lot, day) > LEAST_KG


def _place(lot: LedgerLot) -> Place:
    food, _, form, store = lot.key
    return food, form, store


def _entries_of(lot: LedgerLot) -> set[str]:
    """Give the entries that a lot rests on."""
    return {lot.id, *(move.entry for move in lot.moves), *(count.entry for count in lot.counts)}


def _in_hand(lot: LedgerLot, day: date) -> LotInHand:
    food, kind, form, store = lot.key
    return LotInHand(food, kind, Form(form), store, round(left_kg(lot, day), 3), lot.put_by)
