"""All lots while their books are kept, found by what an entry says of them."""

from bisect import insort
from collections import defaultdict
from collections.abc import Iterable
from datetime import date

from haulm.season.ledger_records import LedgerLot
from haulm.season.open_lot import NOTHING_KG, OpenLot
from haulm.season.records import Entry, EntryKind, Purpose

_FIRST_FROM = {EntryKind.GIVEN: Purpose.GIVE}
"""What each way of leaving takes from before what is to be eaten."""


class OpenLots:
    """Lots by id and by food, what can still give something apart from what is over."""

    def __init__(self, lots: Iterable[OpenLot]) -> None:
        self.by_id: dict[str, OpenLot] = {}
        self._there: defaultdict[str, list[OpenLot]] = defaultdict(list)
        self._over: defaultdict[str, list[OpenLot]] = defaultdict(list)
        self._seed: defaultdict[str, list[OpenLot]] = defaultdict(list)
        for lot in lots:
            self.add(lot)

    def add(self, lot: OpenLot) -> None:
        """Take a lot in, in the order of the days on which lots were put by."""
        self.by_id[lot.id] = lot
        insort(self._there[lot.key[0]], lot, key=_by_age)
        if lot.purpose is Purpose.PLANT and lot.key[1] is not None:
            insort(self._seed[lot.key[1]], lot, key=_by_age)

    def closed(self) -> tuple[LedgerLot, ...]:
        """Give all lots as their books stand, in the order in which they were put by."""
        return tuple(lot.closed() for lot in sorted(self.by_id.values(), key=_by_age))

    def fitting(self, entry: Entry) -> list[OpenLot]:
        """Find the lots an entry may speak of, the oldest first.

        What is eaten is never taken from what was put by to plant or to give unless its lot is
        named; what is given, from that put by for it first. Where no lot there fits, those that are
        over are looked at: what was taken beyond the books is written down to one of them.
        """
        food = entry.about.food or ""
        self._set_over_aside(food, entry.day)
        fits = [lot for lot in self._there[food] if _fits(lot, entry)]
        if not fits or entry.kind in (EntryKind.COUNTED, EntryKind.THROWN):
            lying = [lot for lot in self._over[food] if _lies_there(lot, entry)]
            fits += lying
            if entry.kind is EntryKind.COUNTED:
                self._take_back(lying)
        if not fits:
            fits = [lot for lot in self._over[food] if _fits(lot, entry)][-1:]
        if all(lot.purpose is Purpose.EAT for lot in fits):
            return fits
        first = _FIRST_FROM.get(entry.kind, Purpose.EAT)
        return sorted(fits, key=lambda lot: (lot.purpose is not first, *_by_age(lot)))

    def seed_of(self, kind: str, day: date) -> list[OpenLot]:
        """Find the lots of a kind that were put by to plant, the oldest first."""
        return [lot for lot in self._seed[kind] if lot.put_by <= day]

    def named(self, id_: str, kind: EntryKind) -> OpenLot | None:
        """Find a lot by its name; one that is counted may be found to be there after all."""
        lot = self.by_id.get(id_)
        if lot is not None and kind is EntryKind.COUNTED:
            self._take_back([lot])
        return lot

    def _set_over_aside(self, food: str, day: date) -> None:
        """Put aside what can give nothing more, so that years of lots are not looked through."""
        there = self._there[food]
        over = [lot for lot in there if lot.over_on(day)]
        if over:
            self._over[food] += over
            gone = {lot.id for lot in over}
            self._there[food] = [lot for lot in there if lot.id not in gone]

    def _take_back(self, lots: Iterable[OpenLot]) -> None:
        """Put lots back among those that can give something."""
        for lot in lots:
            over = self._over[lot.key[0]]
            if any(one is lot for one in over):
                self._over[lot.key[0]] = [one for one in over if one is not lot]
                insort(self._there[lot.key[0]], lot, key=_by_age)


def _lies_there(lot: OpenLot, entry: Entry) -> bool:
    """Whether something of a lot lies there, if only rotten."""
    return lot.most_kg > NOTHING_KG and _fits(lot, entry)


def _fits(lot: OpenLot, entry: Entry) -> bool:
    about = entry.about
    food, kind, form, store = lot.key
    return (
        lot.first.put_by <= entry.day
        and about.store in (None, store)
        and about.form in (None, form)
        and about.kind in (None, kind)
        and about.food in (None, food)
        and (entry.kind is not EntryKind.EATEN or lot.purpose is Purpose.EAT)
    )


def _by_age(lot: OpenLot) -> tuple[date, str]:
    return lot.put_by, lot.id
