"""All lots while their books are kept, found by what an entry says of them."""

from bisect import insort
from collections import defaultdict
from collections.abc import Iterable, Sequence
from datetime import date
from typing import TypeVar

from haulm.season.ledger_records import LedgerLot
from haulm.season.open_lot import NOTHING_KG, OpenLot
from haulm.season.records import Entry, EntryKind, Purpose

_FIRST_FROM = {EntryKind.GIVEN: Purpose.GIVE}
"""What each way of leaving takes from before what is to be eaten."""


Lot = OpenLot | LedgerLot
"""A lot whose books are open, or one that nothing was entered for yet."""

AnyLot = TypeVar("AnyLot", OpenLot, LedgerLot, Lot)


class OpenLots:
    """Lots by id and by food, what can still give something apart from what is over.

    Those that are over stay closed until something is entered for them, for in ten years they are
    most.

    Parameters
    ----------
    lots
        Lots whose books are kept on, as they stand.
    over
        The names of those that were found to have nothing more to give, in the order found so.
    """

    def __init__(self, lots: Iterable[LedgerLot], over: Sequence[str] = ()) -> None:
        self._by_id: dict[str, Lot] = {lot.id: lot for lot in lots}
        self._there: defaultdict[str, list[OpenLot]] = defaultdict(list)
        self._over: defaultdict[str, list[Lot]] = defaultdict(list)
        self._seed: defaultdict[str, list[OpenLot]] = defaultdict(list)
        for id_ in over:
            self._over[self._by_id[id_].key[0]].append(self._by_id[id_])
        aside = frozenset(over)
        for lot in tuple(self._by_id.values()):
            if lot.id not in aside:
                insort(self._there[lot.key[0]], self._open(lot), key=_by_age)
            if _is_seed(lot):
                insort(self._seed[lot.key[1] or ""], self._open(lot), key=_by_age)

    def add(self, lot: OpenLot) -> None:
        """Take a lot in, in the order of the days on which lots were put by."""
        self._by_id[lot.id] = lot
        insort(self._there[lot.key[0]], lot, key=_by_age)
        if _is_seed(lot):
            insort(self._seed[lot.key[1] or ""], lot, key=_by_age)

    @property
    def over(self) -> tuple[str, ...]:
        """The names of the lots that were found to have nothing more to give, food by food."""
        return tuple(lot.id for lots in self._over.values() for lot in lots)

    def closed(self) -> tuple[LedgerLot, ...]:
        """Give all lots as their books stand, in the order in which they were put by."""
        lots = sorted(self._by_id.values(), key=_by_age)
        return tuple(lot.closed() if isinstance(lot, OpenLot) else lot for lot in lots)

    def _open(self, lot: Lot) -> OpenLot:
        """Open the books of a lot, if they are not open."""
        found = self._by_id[lot.id]
        if isinstance(found, OpenLot):
            return found
        opened = self._by_id[lot.id] = OpenLot.kept_on(found)
        over = self._over[found.key[0]]
        self._over[found.key[0]] = [opened if one is found else one for one in over]
        return opened

    def fitting(self, entry: Entry) -> list[OpenLot]:
        """Find the lots an entry may speak of, the oldest first.

        What is eaten is never taken from what was put by to plant or to give unless its lot is
        named; what is given, from that put by for it first, then from the kitchen's. Where no lot
        there fits, those that are over are looked at: what was taken beyond the books is written
        down to one of them.
        """
        food = entry.about.food or ""
        self._set_over_aside(food, entry.day)
        fits = list(_fitting(self._there[food], entry))
        if not fits or entry.kind in (EntryKind.COUNTED, EntryKind.THROWN):
            lying = [lot for lot in self._over[food] if lot.most_kg > NOTHING_KG]
            found = [self._open(lot) for lot in _fitting(lying, entry)]
            fits += found
            if entry.kind is EntryKind.COUNTED:
                self._take_back(found)
        if not fits:
            fits = [self._open(lot) for lot in _fitting(self._over[food], entry)[-1:]]
        if all(lot.purpose is Purpose.EAT for lot in fits):
            return fits
        first = _FIRST_FROM.get(entry.kind, Purpose.EAT)

        def turn(lot: OpenLot) -> tuple[object, ...]:
            # What was put by to plant comes last, unless it is what is asked for.
            return lot.purpose is not first, lot.purpose is Purpose.PLANT, *_by_age(lot)

        return sorted(fits, key=turn)

    def food_of(self, id_: str) -> str:
        """Give the food of a lot by the lot's name; empty where there is no such lot."""
        lot = self._by_id.get(id_)
        return lot.key[0] if lot else ""

    def seed_of(self, kind: str, day: date) -> list[OpenLot]:
        """Find the lots of a kind that were put by to plant, the oldest first."""
        return [lot for lot in self._seed[kind] if lot.put_by <= day]

    def named(self, id_: str, kind: EntryKind) -> OpenLot | None:
        """Find a lot by its name; one that is counted may be found to be there after all."""
        if id_ not in self._by_id:
            return None
        lot = self._open(self._by_id[id_])
        if kind is EntryKind.COUNTED:
            self._take_back([lot])
        return lot

    def _set_over_aside(self, food: str, day: date) -> None:
        """Put aside what can give nothing more, so that years of lots are not looked through."""
        there, today = self._there[food], day.toordinal()
        over = [lot for lot in there if lot.over_from <= today]
        if over:
            self._over[food] += over
            self._there[food] = [lot for lot in there if lot.over_from > today]

    def _take_back(self, lots: Iterable[OpenLot]) -> None:
        """Put lots back among those that can give something."""
        for lot in lots:
            over = self._over[lot.key[0]]
            if any(one is lot for one in over):
                self._over[lot.key[0]] = [one for one in over if one is not lot]
                insort(self._there[lot.key[0]], lot, key=_by_age)


def _fitting(lots: Iterable[AnyLot], entry: Entry) -> list[AnyLot]:
    """Keep the lots of a food that an entry may speak of."""
    about, day = entry.about, entry.day
    kind, form, store = about.kind, about.form, about.store
    eaten = entry.kind is EntryKind.EATEN
    return [
        lot
        for lot in lots
        if lot.put_by <= day
        and (kind is None or lot.key[1] == kind)
        and (form is None or lot.key[2] == form)
        and (store is None or lot.key[3] == store)
        and not (eaten and lot.purpose is not Purpose.EAT)
    ]


def _is_seed(lot: Lot) -> bool:
    return lot.purpose is Purpose.PLANT and lot.key[1] is not None


def _by_age(lot: Lot) -> tuple[date, str]:
    return lot.put_by, lot.id
