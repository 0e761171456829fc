"""The larder's books as text, to the last figure; read back, it can do nothing but tell them.

Written down column by column, not lot by lot, and numbers as the eight bytes they are, in letters:
it is read at every start.
"""

import json
from base64 import b64decode, b64encode
from collections.abc import Iterable, Iterator, Sequence
from datetime import date
from itertools import islice
from typing import Any

import numpy as np

from haulm.measure.findings import Finding, Grade
from haulm.season.larder import Larder
from haulm.season.ledger_records import BroughtForward, Counted, Keeps, LedgerLot, LotKey, Move
from haulm.season.records import EntryKind, Purpose

Columns = Sequence[Sequence[Any]]
KINDS = {kind.value: kind for kind in EntryKind}
PURPOSES = {purpose.value: purpose for purpose in Purpose}


def books_to_text(books: BroughtForward) -> str:
    """Write books as JSON; how a lot keeps is left out, for the larder says it."""
    numbers = {lot.id: number for number, lot in enumerate(books.lots)}
    said = [
        _columns(_lot_said(lot) for lot in books.lots),
        _columns(_move_said(move) for lot in books.lots for move in lot.moves),
        _columns(_count_said(count) for lot in books.lots for count in lot.counts),
        [numbers[id_] for id_ in books.over],
        [(one.where, one.what, one.remedy, one.grade, one.place) for one in books.told],
    ]
    return json.dumps(said, ensure_ascii=False, separators=(",", ":"))


def books_from_text(text: str, larder: Larder) -> BroughtForward:
    """Read books back; they equal those written, if they were kept by the same larder.

    Raises
    ------
    ValueError
        When the text tells no books, or of a lot whose keeping the larder does not know.
    """
    try:
        lots, moves, counts, over, told = json.loads(text)
        of_lots, of_moves, of_counts = (
            [_unpacked(column) for column in columns] for columns in (lots, moves, counts)
        )
        found = tuple(_lots(of_lots, _moves(of_moves), _counts(of_counts), larder))
        return BroughtForward(
            found,
            tuple(found[number].id for number in over),
            tuple(
                Finding(where, what, remedy, Grade(grade), tuple(place))
                for where, what, remedy, grade, place in told
            ),
        )
    except (IndexError, KeyError, OverflowError, TypeError, ValueError) as error:
        what = f"these are no books of this larder: {error}"
        raise ValueError(what) from None


def _columns(rows: Iterable[tuple[Any, ...]]) -> Columns:
    """Turn rows into columns; those of numbers alone are packed."""
    columns: Iterable[tuple[Any, ...]] = zip(*rows, strict=True)
    return [_packed(one) if type(one[0]) in (int, float) else one for one in columns]


def _packed(numbers: Sequence[float]) -> str:
    return b64encode(np.asarray(numbers, dtype="<f8").tobytes()).decode()


def _unpacked(column: str | list[Any]) -> list[Any]:
    if isinstance(column, list):
        return column
    return list(np.frombuffer(b64decode(column, validate=True), dtype="<f8").tolist())


def _lot_said(lot: LedgerLot) -> tuple[Any, ...]:
    """Write a lot; days are counted from the year 1."""
    return (
        lot.id,
        lot.key,
        lot.put_by.toordinal(),
        lot.kg_in,
        lot.purpose,
        lot.pace,
        lot.pace_spread,
        len(lot.moves),
        len(lot.counts),
        lot.base_kg,
        lot.most_kg,
        lot.more_kg,
        lot.cleared_kg,
        lot.missing_kg,
        lot.aside_kg,
    )


def _move_said(move: Move) -> tuple[Any, ...]:
    return move.day.toordinal(), move.kind, move.kg, move.entry


def _count_said(count: Counted) -> tuple[Any, ...]:
    return (
        count.day.toordinal(),
        count.sound_kg,
        count.lost_kg,
        count.books_kg,
        count.entry,
        count.soft_kg,
        count.sprouted_kg,
        count.apart,
    )


def _days(numbers: Sequence[float]) -> Iterator[date]:
    """Read days; each is made once, however often it is told."""
    days = {number: date.fromordinal(int(number)) for number in set(numbers)}
    return map(days.__getitem__, numbers)


def _moves(columns: Columns) -> Iterator[Move]:
    if not columns:
        return iter(())
    days, kinds, kg, entries = columns
    return map(Move, _days(days), map(KINDS.__getitem__, kinds), kg, entries)


def _counts(columns: Columns) -> Iterator[Counted]:
    if not columns:
        return iter(())
    days, *found = columns
    return map(Counted, _days(days), *found)


def _lots(
    said: Columns, moves: Iterator[Move], counts: Iterator[Counted], larder: Larder
) -> Iterator[LedgerLot]:
    """Read lots, each with as many of the moves and counts that follow as it has."""
    for id_, where, put_by, kg_in, purpose, pace, spread, left, seen, *kg in zip(
        *said, strict=True
    ):
        food, kind, form, store = where
        key = food, kind, form, store
        yield LedgerLot(
            id_,
            key,
            date.fromordinal(int(put_by)),
            kg_in,
            PURPOSES[purpose],
            _keeps(key, larder),
            pace,
            spread,
            tuple(islice(moves, int(left))),
            tuple(islice(counts, int(seen))),
            *kg,
        )


def _keeps(key: LotKey, larder: Larder) -> Keeps:
    keeps = larder.keeping_or_worst(key)
    if keeps is None:
        what = f"nobody knows how {key[0]} keeps"
        raise KeyError(what)
    return keeps
