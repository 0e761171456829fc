"""Bookkeeping in the larder: entry follows entry, from wherever the books stood."""

from datetime import date, datetime

from haulm.measure.findings import Finding, Grade
from haulm.measure.units import show_mass
from haulm.season.keeping_pace import Pace
from haulm.season.larder import Larder
from haulm.season.larder_rules import larder_rules
from haulm.season.ledger_records import OUT, BroughtForward, Counted, Keeps, LedgerLot, LotKey, Move
from haulm.season.open_lot import NOTHING_KG, OpenLot
from haulm.season.open_lots import OpenLots
from haulm.season.records import STARTS, Amount, Entry, EntryKind, Measured, Purpose


class OpenBooks:
    """The books as entry follows entry."""

    def __init__(self, before: BroughtForward, larder: Larder) -> None:
        self.lots = OpenLots(before.lots, before.over)
        self.told = list(before.told)
        self._larder = larder
        self._usual = Pace(1.0, larder.pace_spread)

    def brought_forward(self) -> BroughtForward:
        """Give the books as they now stand, to be kept on from there."""
        return BroughtForward(self.lots.closed(), self.lots.over, tuple(self.told))

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
        keeps = self._larder.keeping(key)
        if keeps is None:
            what = f"nobody has told how long {self._name(key)} keeps there."
            self._tell(entry, what, "Put it by in another form or store.")
            return
        kg = self._kg(entry, entry.amount, keeps)
        if kg is None:
            return
        lot = LedgerLot(entry.id, key, entry.day, kg, about.purpose or Purpose.EAT, keeps)
        self.lots.add(OpenLot(lot, self._usual, kg, kg, touched=True))

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
        lot = self.lots.food_of(entry.about.lot) if entry.about.lot else ""
        of = entry.about.food or entry.about.kind or lot
        where = f"the diary of {entry.day.isoformat()}, {entry.kind}"
        name = self._larder.names.get(of, of)
        self.told.append(Finding(f"{where} {name}".rstrip(), what, remedy, Grade.WARNING))


def in_turn(entry: Entry) -> tuple[date, bool, datetime, str]:
    """Put entries in order: by day, what was put by before what was taken out, then as written."""
    return entry.day, entry.kind is not EntryKind.PUT_BY, entry.written_at, entry.id


def from_store(entry: Entry) -> bool:
    """Whether food came out of store: what names no lot, store or form was just picked."""
    about = entry.about
    return any(place is not None for place in (about.lot, about.store, about.form))
