"""Books of the larder kept from the diary: lots, what came out, counts, what is still sound."""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime

from haulm.measure.findings import Finding, Grade
from haulm.season.keeping_pace import age_weeks, pace_after, sound_at
from haulm.season.ledger_records import Counted, Keeps, Ledger, LedgerLot, LotKey, Move
from haulm.season.records import Amount, Entry, EntryKind, Measured, Purpose

OUT = frozenset({EntryKind.EATEN, EntryKind.GIVEN, EntryKind.THROWN})
IN_BOOKS = OUT | {EntryKind.PUT_BY, EntryKind.COUNTED}
NEAR_SHARE, NEAR_KG = 0.05, 0.2
"""Books and count are at one within a twentieth, or within 200 g."""
PIECES_WEIGHED = 20.0
"""A lot that was weighed, of pieces nobody knows the weight of, tells as much as so many."""
NOTHING_KG = 1e-9


@dataclass(frozen=True, slots=True)
class Larder:
    """What the books are kept by.

    Attributes
    ----------
    keeps
        How each food keeps, by food, kind, form and store; of an unknown kind, under None.
    names
        Display names by id.
    pace_spread
        How much lots of one kind differ in how fast they age: standard deviation of the log [1].
    """

    keeps: Mapping[LotKey, Keeps]
    names: Mapping[str, str]
    pace_spread: float

    def worst(self, key: LotKey) -> Keeps | None:
        """Give the shortest keeping of a food in a form and store; None where there is none."""
        food, _, form, store = key
        same = [
            keeps for (f, _k, m, s), keeps in self.keeps.items() if (f, m, s) == (food, form, store)
        ]
        return min(same, key=lambda keeps: sum(keeps.sound)) if same else None


def keep_ledger(entries: Iterable[Entry], lots: Sequence[LedgerLot], larder: Larder) -> Ledger:
    """Keep the books from the entries that hold, in the order of their days.

    Each lot is counted as it was put by: sound food taken out at an age takes that much more of
    what was put by with it as it takes to find it, amount / S(age). A count sets the books to what
    was found, and moves the pace at which the lot ages.

    Parameters
    ----------
    entries
        The diary's entries, corrections worked in.
    lots
        Lots told in the garden itself; see :func:`lot_told`.
    larder
        How food keeps.
    """
    books = _Books(lots, larder)
    for entry in sorted(entries, key=_when):
        books.enter(entry)
    found = tuple(sorted(books.lots.values(), key=lambda lot: (lot.put_by, lot.id)))
    return Ledger(found, tuple(books.told), {lot.id: lot for lot in found})


def lot_told(lot: LedgerLot, counted_on: date) -> LedgerLot:
    """Take a lot told in the garden into the books: what was told of it was sound on a day."""
    share = sound_at(lot.keeps.sound, age_weeks(lot.put_by, counted_on))
    base_kg = lot.kg_in / share if share > 0 else 0.0
    return replace(lot, base_kg=base_kg, most_kg=lot.kg_in)


def left_kg(lot: LedgerLot, day: date) -> float:
    """Give what the books say is still sound of a lot [kg], on a day not before its last entry."""
    share = sound_at(lot.keeps.sound, age_weeks(lot.put_by, day), lot.pace)
    return max(0.0, min(lot.base_kg * share, lot.most_kg))


class _Books:
    """The books as entry follows entry."""

    def __init__(self, lots: Sequence[LedgerLot], larder: Larder) -> None:
        self.lots = {lot.id: lot for lot in lots}
        self.told: list[Finding] = []
        self._larder = larder

    def enter(self, entry: Entry) -> None:
        """Work one entry into the books."""
        if entry.kind is EntryKind.PUT_BY:
            self._put_by(entry)
        elif entry.kind in OUT and _from_store(entry):
            self._take_out(entry)
        elif entry.kind is EntryKind.COUNTED:
            self._count(entry)

    def _put_by(self, entry: Entry) -> None:
        about = entry.about
        key = (about.food or "", about.kind, about.form or "", about.store or "")
        keeps = self._keeps(key)
        if keeps is None:
            what = f"nobody has told how long {self._name(key)} keeps there."
            self._tell(entry, what, "Put it by in another form or store.")
            return
        kg = self._kg(entry, entry.amount, keeps)
        if kg is None:
            return
        self.lots[entry.id] = LedgerLot(
            id=entry.id,
            key=key,
            put_by=entry.day,
            kg_in=kg,
            purpose=about.purpose or Purpose.EAT,
            keeps=keeps,
            base_kg=kg,
            most_kg=kg,
        )

    def _keeps(self, key: LotKey) -> Keeps | None:
        """Find how a food keeps; of an unknown kind, as the worst keeper of that food there."""
        if key in self._larder.keeps:
            return self._larder.keeps[key]
        return self._larder.worst(key) if key[1] is None else None

    def _take_out(self, entry: Entry) -> None:
        """Take food out of the lot named, else of those that it may be from, the oldest first."""
        lots = self._meant(entry)
        if not lots:
            return
        wanted = self._kg(entry, entry.amount, lots[0].keeps)
        if wanted is None:
            return
        for lot in lots:
            if wanted <= NOTHING_KG:
                return
            there = left_kg(lot, entry.day)
            kg = wanted if entry.about.lot else min(wanted, there)
            if kg > NOTHING_KG:
                self._out(lot, Move(entry.day, entry.kind, kg, entry.id))
                wanted -= kg
        if wanted > NOTHING_KG:
            self._out(lots[-1], Move(entry.day, entry.kind, wanted, entry.id))
            what = f"{wanted:.2f} kg more were {entry.kind} than the books had."
            self._tell(entry, what, "Count what is there: the books follow.")

    def _out(self, lot: LedgerLot, move: Move) -> None:
        lot = self.lots[lot.id]
        share = sound_at(lot.keeps.sound, age_weeks(lot.put_by, move.day), lot.pace)
        rotten = move.kind is EntryKind.THROWN
        with_it = 0.0 if rotten else move.kg / share if share > 0 else lot.base_kg
        self.lots[lot.id] = replace(
            lot,
            base_kg=max(0.0, lot.base_kg - with_it),
            most_kg=max(0.0, lot.most_kg - move.kg),
            moves=(*lot.moves, move),
        )

    def _count(self, entry: Entry) -> None:
        """Set the books to what was found; several lots of a food share it as the books had it."""
        lots = self._meant(entry)
        if not lots:
            return
        measured = entry.amount.measured if entry.amount else Measured.PIECES
        found = entry.count
        sound = found.sound if found else entry.amount.number if entry.amount else 0.0
        lost = found.soft + found.sprouted if found else 0.0
        sound_kg = self._kg(entry, Amount(sound, measured), lots[0].keeps)
        lost_kg = self._kg(entry, Amount(lost, measured), lots[0].keeps)
        if sound_kg is None or lost_kg is None:
            return
        books = {lot.id: left_kg(lot, entry.day) for lot in lots}
        whole = sum(books.values())
        self._compare(entry, whole, sound_kg)
        for lot in lots:
            share = books[lot.id] / whole if whole > 0 else 1 / len(lots)
            count = Counted(entry.day, sound_kg * share, lost_kg * share, books[lot.id], entry.id)
            self._set(lot, count)

    def _set(self, lot: LedgerLot, count: Counted) -> None:
        now = age_weeks(lot.put_by, count.day)
        before = age_weeks(lot.put_by, lot.counts[-1].day) if lot.counts else 0.0
        each = lot.keeps.piece_kg
        whole = count.sound_kg + count.lost_kg
        pieces = whole / each if each else PIECES_WEIGHED
        pace = lot.pace
        if count.lost_kg > 0 and whole > 0:
            sound = pieces * count.sound_kg / whole
            found = (sound, pieces - sound)
            pace = pace_after(lot.keeps.sound, (before, now), found, self._larder.pace_spread)
        share = sound_at(lot.keeps.sound, now, pace)
        self.lots[lot.id] = replace(
            lot,
            pace=pace,
            base_kg=count.sound_kg / share if share > 0 else 0.0,
            most_kg=count.sound_kg,
            counts=(*lot.counts, count),
        )

    def _compare(self, entry: Entry, books_kg: float, found_kg: float) -> None:
        apart = found_kg - books_kg
        if abs(apart) > max(NEAR_KG, NEAR_SHARE * max(books_kg, found_kg)):
            more = "more" if apart > 0 else "less"
            self._tell(
                entry,
                f"{found_kg:.2f} kg were found sound, {abs(apart):.2f} kg {more} than the books"
                f" had ({books_kg:.2f} kg).",
                "Something was eaten, given or thrown unwritten, or it kept otherwise than usual;"
                " the count holds from now on.",
            )

    def _meant(self, entry: Entry) -> list[LedgerLot]:
        """Find the lots an entry speaks of, the oldest first; tell where there is none."""
        about = entry.about
        if about.lot is not None:
            if about.lot in self.lots:
                return [self.lots[about.lot]]
            self._tell(entry, "the books have no such lot.", "Name a lot that was put by.")
            return []
        asked = (about.food, about.kind, about.form, about.store)
        fits = [
            lot
            for lot in self.lots.values()
            if lot.put_by <= entry.day
            and all(want is None or want == is_ for want, is_ in zip(asked, lot.key, strict=True))
            and (lot.purpose is Purpose.EAT or entry.kind is not EntryKind.EATEN)
        ]
        if not fits:
            self._tell(entry, "the books have no lot of it.", "Enter first what was put by.")
        return sorted(fits, key=lambda lot: (lot.put_by, lot.id))

    def _kg(self, entry: Entry, amount: Amount | None, keeps: Keeps) -> float | None:
        if amount is None:
            return 0.0
        if amount.measured is Measured.KG:
            return amount.number
        if keeps.piece_kg is None:
            what = "nobody knows what a piece of it weighs."
            self._tell(entry, what, "Weigh it, and write the weight.")
            return None
        return amount.number * keeps.piece_kg

    def _name(self, key: LotKey) -> str:
        return self._larder.names.get(key[0], key[0])

    def _tell(self, entry: Entry, what: str, remedy: str) -> None:
        food = self._larder.names.get(entry.about.food or "", entry.about.food or "")
        where = f"the diary of {entry.day.isoformat()}, {entry.kind} {food}".rstrip()
        self.told.append(Finding(where, what, remedy, Grade.WARNING))


def _when(entry: Entry) -> tuple[date, bool, datetime, str]:
    """Put entries in order: by day, what was put by before what was taken out, then as written."""
    return entry.day, entry.kind is not EntryKind.PUT_BY, entry.written_at, entry.id


def _from_store(entry: Entry) -> bool:
    """Whether food came out of store: what names no lot, store or form was just picked."""
    about = entry.about
    return any(place is not None for place in (about.lot, about.store, about.form))


def by_food(ledger: Ledger, day: date) -> Mapping[str, float]:
    """Add up what is sound of each food on a day, what is kept to plant or give aside [kg]."""
    kg: dict[str, float] = defaultdict(float)
    for lot in ledger.lots:
        if lot.purpose is Purpose.EAT:
            kg[lot.food] += left_kg(lot, day)
    return dict(kg)
