"""Books of the larder kept from the diary: lots, what came out, counts, what is still sound."""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, datetime
from math import exp

from haulm.measure.findings import Finding, Grade
from haulm.measure.units import Units, show_mass
from haulm.season.keeping_pace import Pace, age_weeks, sound_at
from haulm.season.larder_rules import larder_rules
from haulm.season.ledger_records import (
    Counted,
    Keeps,
    Ledger,
    LedgerLot,
    LotBalance,
    LotKey,
    Move,
)
from haulm.season.open_lot import NOTHING_KG, OpenLot, sound_left_kg
from haulm.season.open_lots import OpenLots
from haulm.season.records import STARTS, Amount, Entry, EntryKind, Measured, Purpose

OUT = frozenset({EntryKind.EATEN, EntryKind.GIVEN, EntryKind.THROWN})
IN_BOOKS = OUT | STARTS | {EntryKind.PUT_BY, EntryKind.COUNTED}


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
    stock_a_kg
        Units of planting stock that a kilogram of a food gives, by kind [1/kg].
    units
        In which weights are told.
    """

    keeps: Mapping[LotKey, Keeps]
    names: Mapping[str, str]
    pace_spread: float
    stock_a_kg: Mapping[str, float] = field(default_factory=dict)
    units: Units = "metric"

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
    books = _Books(lots, larder)
    for entry in sorted((one for one in entries if one.kind in IN_BOOKS), key=_when):
        books.enter(entry)
    found = books.lots.closed()
    return Ledger(found, tuple(books.told), {lot.id: lot for lot in found})


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


class _Books:
    """The books as entry follows entry."""

    def __init__(self, lots: Sequence[LedgerLot], larder: Larder) -> None:
        usual = Pace(1.0, larder.pace_spread)
        self.lots = OpenLots(
            OpenLot(lot, usual, lot.base_kg, lot.most_kg, counts=list(lot.counts)) for lot in lots
        )
        self.told: list[Finding] = []
        self._larder = larder
        self._usual = usual

    def enter(self, entry: Entry) -> None:
        """Work one entry into the books."""
        if entry.kind is EntryKind.PUT_BY:
            self._put_by(entry)
        elif entry.kind in OUT and from_store(entry):
            self._take_out(entry)
        elif entry.kind is EntryKind.COUNTED:
            self._count(entry)
        elif entry.kind in STARTS:
            self._plant(entry)

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
        lot = LedgerLot(entry.id, key, entry.day, kg, about.purpose or Purpose.EAT, keeps)
        self.lots.add(OpenLot(lot, self._usual, kg, kg))

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
            there = lot.left_kg(entry.day) + lot.aside_on(entry.day, entry.kind)
            kg = wanted if entry.about.lot else min(wanted, there)
            if kg > NOTHING_KG:
                lot.take(Move(entry.day, entry.kind, kg, entry.id))
                wanted -= kg
        if wanted > NOTHING_KG:
            lots[-1].take(Move(entry.day, entry.kind, wanted, entry.id))
            what = f"{self._mass(wanted)} more were {entry.kind} than the books had."
            self._tell(entry, what, "Count what is there: the books follow.")

    def _plant(self, entry: Entry) -> None:
        """Take what was planted out of the lots put by to plant; more was bought or spared."""
        kind, amount = entry.about.kind, entry.amount
        lots = self.lots.seed_of(kind or "", entry.day)
        if not lots or kind is None:
            return
        kg = self._planted_kg(kind, amount)
        if kg is None:
            there = self._mass(sum(lot.left_kg(entry.day) for lot in lots))
            what = f"it does not say how much of the {there} put by to plant went into the ground."
            self._tell(entry, what, "Count what is left of the seed: the books follow.")
            return
        for lot in lots:
            out = min(kg, lot.left_kg(entry.day))
            if out > NOTHING_KG:
                lot.take(Move(entry.day, entry.kind, out, entry.id))
                kg -= out

    def _planted_kg(self, kind: str, amount: Amount | None) -> float | None:
        if amount is None:
            return None
        if amount.measured is Measured.KG:
            return amount.number
        a_kg = self._larder.stock_a_kg.get(kind)
        return amount.number / a_kg if a_kg and amount.measured is Measured.PIECES else None

    def _count(self, entry: Entry) -> None:
        """Set the books to what was found; several lots of a food share it as the books had it."""
        lots = self._meant(entry)
        if not lots:
            return
        measured = entry.amount.measured if entry.amount else Measured.PIECES
        found = entry.count
        sound = found.sound if found else entry.amount.number if entry.amount else 0.0
        parts = (sound, found.soft if found else 0.0, found.sprouted if found else 0.0)
        weights = [self._kg(entry, Amount(one, measured), lots[0].keeps) for one in parts]
        if any(weight is None for weight in weights):
            return
        kg = [weight or 0.0 for weight in weights]
        books = [lot.left_kg(entry.day) for lot in lots]
        whole = sum(books)
        apart = self._compare(entry, whole, kg[0])
        for lot, had in zip(lots, books, strict=True):
            # Where the books had nothing, what was found is of the youngest lot.
            share = had / whole if whole > 0 else float(lot is lots[-1])
            mine = [one * share for one in kg]
            lost = mine[1] + mine[2]
            lot.count(Counted(entry.day, mine[0], lost, had, entry.id, mine[1], mine[2], apart))

    def _compare(self, entry: Entry, books_kg: float, found_kg: float) -> bool:
        """Tell where books and count part by more than the tolerance, and say whether they do."""
        rules = larder_rules()
        apart = found_kg - books_kg
        near = max(rules.near_kg.value, rules.near_share.value * max(books_kg, found_kg))
        if abs(apart) <= near:
            return False
        more = "more" if apart > 0 else "less"
        self._tell(
            entry,
            f"{self._mass(found_kg)} were found sound, {self._mass(abs(apart))} {more} than the"
            f" books had ({self._mass(books_kg)}).",
            "Something was eaten, given or thrown unwritten, or it kept otherwise than usual;"
            " the count holds from now on.",
        )
        return True

    def _meant(self, entry: Entry) -> list[OpenLot]:
        """Find the lots an entry speaks of, the oldest first; tell where there is none."""
        if entry.about.lot is not None:
            named = self.lots.named(entry.about.lot, entry.kind)
            if named is None:
                self._tell(entry, "the books have no such lot.", "Name a lot that was put by.")
            return [] if named is None else [named]
        fits = self.lots.fitting(entry)
        if not fits:
            self._tell(entry, "the books have no lot of it.", "Enter first what was put by.")
        return fits

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

    def _mass(self, kg: float) -> str:
        return show_mass(kg, self._larder.units)

    def _name(self, key: LotKey) -> str:
        return self._larder.names.get(key[0], key[0])

    def _tell(self, entry: Entry, what: str, remedy: str) -> None:
        of = entry.about.food or entry.about.kind or ""
        where = f"the diary of {entry.day.isoformat()}, {entry.kind}"
        name = self._larder.names.get(of, of)
        self.told.append(Finding(f"{where} {name}".rstrip(), what, remedy, Grade.WARNING))


def _when(entry: Entry) -> tuple[date, bool, datetime, str]:
    """Put entries in order: by day, what was put by before what was taken out, then as written."""
    return entry.day, entry.kind is not EntryKind.PUT_BY, entry.written_at, entry.id


def from_store(entry: Entry) -> bool:
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
