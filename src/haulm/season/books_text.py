"""The larder's books as text, to the last figure; read back, it can do nothing but tell them."""

import json
from collections.abc import Sequence
from datetime import date
from typing import Any

from haulm.measure.findings import Finding, Grade
from haulm.season.larder import Larder
from haulm.season.ledger_records import BroughtForward, Counted, LedgerLot, Move
from haulm.season.records import EntryKind, Purpose


def books_to_text(books: BroughtForward) -> str:
    """Write books as JSON; how a lot keeps is left out, for the larder says it."""
    numbers = {lot.id: number for number, lot in enumerate(books.lots)}
    told = [[one.where, one.what, one.remedy, one.grade, one.place] for one in books.told]
    said = [[_said(lot) for lot in books.lots], [numbers[id_] for id_ in books.over], told]
    return json.dumps(said, ensure_ascii=False, separators=(",", ":"))


def books_from_text(text: str, larder: Larder) -> BroughtForward:
    """Read books back; they equal those written, if they were kept by the same larder.

    Raises
    ------
    ValueError
        When the text tells no books, or of a lot whose keeping the larder does not know.
    """
    try:
        lots, over, told = json.loads(text)
        found = _Lots(larder).read(lots)
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


def _said(lot: LedgerLot) -> list[Any]:
    """Write a lot; days are counted from the year 1, which is read quicker."""
    return [
        lot.id,
        lot.key,
        lot.put_by.toordinal(),
        lot.kg_in,
        lot.purpose,
        lot.pace,
        lot.pace_spread,
        [(move.day.toordinal(), move.kind, move.kg, move.entry) for move in lot.moves],
        [
            (
                count.day.toordinal(),
                count.sound_kg,
                count.lost_kg,
                count.books_kg,
                count.entry,
                count.soft_kg,
                count.sprouted_kg,
                count.apart,
            )
            for count in lot.counts
        ],
        lot.base_kg,
        lot.most_kg,
        lot.more_kg,
        lot.cleared_kg,
        lot.missing_kg,
        lot.aside_kg,
    ]


class _Lots:
    """Lots read back; a day, a way of leaving, a key are made once each."""

    def __init__(self, larder: Larder) -> None:
        self._larder = larder
        self._days: dict[int, date] = {}
        self._kinds = {kind.value: kind for kind in EntryKind}
        self._purposes = {purpose.value: purpose for purpose in Purpose}

    def read(self, said: Sequence[Sequence[Any]]) -> tuple[LedgerLot, ...]:
        """Read all of them."""
        return tuple(map(self._lot, said))

    def _lot(self, said: Sequence[Any]) -> LedgerLot:
        id_, key, put_by, kg_in, purpose, pace, spread, moves, counts, *kg = said
        food, kind, form, store = key
        keeps = self._larder.keeps.get((food, kind, form, store)) or self._larder.worst(
            (food, kind, form, store)
        )
        if keeps is None:
            what = f"nobody knows how {food} keeps"
            raise KeyError(what)
        day, kinds = self._day, self._kinds
        return LedgerLot(
            id_,
            (food, kind, form, store),
            day(put_by),
            kg_in,
            self._purposes[purpose],
            keeps,
            pace,
            spread,
            tuple([Move(day(on), kinds[how], much, entry) for on, how, much, entry in moves]),
            tuple([Counted(day(on), *found) for on, *found in counts]),
            *kg,
        )

    def _day(self, number: int) -> date:
        found = self._days.get(number)
        if found is None:
            found = self._days[number] = date.fromordinal(number)
        return found
