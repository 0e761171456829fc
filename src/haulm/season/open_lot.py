"""One lot while its books are kept: what leaves it and what counts find, in the order of days."""

from dataclasses import dataclass, field, replace
from datetime import date
from math import floor

from haulm.measure.weeks import DAYS_A_WEEK
from haulm.season.keeping_pace import Pace, age_weeks, pace_after, sound_at
from haulm.season.larder_rules import larder_rules
from haulm.season.ledger_records import Counted, Keeps, LedgerLot, LotKey, Move
from haulm.season.records import EntryKind, Purpose

NOTHING_KG = 1e-9


def sound_left_kg(base_kg: float, most_kg: float, share: float) -> float:
    """Give what is sound of what was not taken out [kg], at a sound share [1]."""
    return max(0.0, min(base_kg * share, most_kg))


@dataclass(slots=True)
class OpenLot:
    """A lot whose books are being kept; ``closed`` gives it as it then stands.

    ``over_from`` is the day, counted from the year 1, from which nothing more can come of it: all
    is taken out, or past keeping. What stands in ``first`` of name, key, day and purpose stands
    beside it, for it is looked at most.
    """

    first: LedgerLot
    pace: Pace
    base_kg: float
    most_kg: float
    more_kg: float = 0.0
    cleared_kg: float = 0.0
    missing_kg: float = 0.0
    aside_kg: float = 0.0
    moves: list[Move] = field(default_factory=list)
    counts: list[Counted] = field(default_factory=list)
    touched: bool = False
    id: str = field(init=False)
    key: LotKey = field(init=False)
    put_by: date = field(init=False)
    purpose: Purpose = field(init=False)
    over_from: int = field(init=False)

    def __post_init__(self) -> None:
        first = self.first
        self.id, self.key, self.put_by, self.purpose = (
            first.id,
            first.key,
            first.put_by,
            first.purpose,
        )
        self.over_from = self._over_from()

    @classmethod
    def kept_on(cls, lot: LedgerLot) -> "OpenLot":
        """Open the books of a lot as they stand."""
        return cls(
            lot,
            Pace(lot.pace, lot.pace_spread),
            lot.base_kg,
            lot.most_kg,
            lot.more_kg,
            lot.cleared_kg,
            lot.missing_kg,
            lot.aside_kg,
            list(lot.moves),
            list(lot.counts),
        )

    @property
    def keeps(self) -> Keeps:
        """How it usually keeps."""
        return self.first.keeps

    def share_on(self, day: date) -> float:
        """Give the share of it that is sound on a day [1]."""
        return sound_at(self.keeps.sound, age_weeks(self.put_by, day), self.pace.usual)

    def left_kg(self, day: date) -> float:
        """Give what of it is sound on a day [kg]."""
        return sound_left_kg(self.base_kg, self.most_kg, self.share_on(day))

    def _over_from(self) -> int:
        if self.aside_kg > NOTHING_KG:
            return date.max.toordinal()
        if self.base_kg <= NOTHING_KG:
            return 0
        keeps_days = (len(self.keeps.sound) - 1) / self.pace.usual * DAYS_A_WEEK
        return self.put_by.toordinal() + floor(keeps_days) + 1

    def take(self, move: Move) -> None:
        """Take food out: what a count set aside goes first, and what is thrown was rotten."""
        aside = min(move.kg, self.aside_on(move.day, move.kind))
        self.aside_kg -= aside
        self.cleared_kg -= aside
        kg = move.kg - aside
        share = self.share_on(move.day)
        rotten = move.kind is EntryKind.THROWN
        with_it = 0.0 if rotten else kg / share if share > 0 else self.base_kg
        self.base_kg = max(0.0, self.base_kg - with_it)
        self.more_kg += max(0.0, kg - self.most_kg)
        self.most_kg = max(0.0, self.most_kg - kg)
        self.moves.append(move)
        self._moved()

    def aside_on(self, day: date, kind: EntryKind) -> float:
        """Give what a count found soft or sprouted and can still leave in a way [kg]."""
        if kind is EntryKind.THROWN or not self.counts:
            return self.aside_kg
        fresh = (day - self.counts[-1].day).days <= larder_rules().soft_days.value
        return self.aside_kg if fresh else 0.0

    def count(self, count: Counted) -> None:
        """Set the books to what was found, and move its pace."""
        gone = self.most_kg - count.sound_kg
        lost = count.lost_kg or min(max(gone, 0.0), self.most_kg - count.books_kg)
        self.cleared_kg += lost
        self.aside_kg = count.lost_kg
        self.missing_kg += max(0.0, gone - lost)
        self.more_kg += max(0.0, lost - gone)
        self.pace = self._pace_found(count)
        share = self.share_on(count.day)
        self.base_kg = count.sound_kg / share if share > 0 else 0.0
        self.most_kg = count.sound_kg
        self.counts.append(count)
        self._moved()

    def _moved(self) -> None:
        self.touched = True
        self.over_from = self._over_from()

    def _pace_found(self, count: Counted) -> Pace:
        now = age_weeks(self.put_by, count.day)
        before = age_weeks(self.put_by, self.counts[-1].day) if self.counts else 0.0
        pace = self.pace
        whole = count.sound_kg + count.lost_kg
        if count.lost_kg > 0:
            each = self.keeps.piece_kg
            pieces = whole / each if each else larder_rules().pieces_weighed.value
            sound = pieces * count.sound_kg / whole
            pace = pace_after(self.keeps.sound, (before, now), (sound, pieces - sound), pace)
        last = len(self.keeps.sound) - 1
        if count.sound_kg > 0 and now * pace.usual > last:
            # What was found sound is not past keeping, whatever is usual.
            slower = last * (1 - larder_rules().life_left.value) / now
            pace = Pace(slower, pace.spread)
        return pace

    def closed(self) -> LedgerLot:
        """Give the lot as its books now stand."""
        if not self.touched:
            return self.first
        return replace(
            self.first,
            pace=self.pace.usual,
            pace_spread=self.pace.spread,
            moves=tuple(self.moves),
            counts=tuple(self.counts),
            base_kg=self.base_kg,
            most_kg=self.most_kg,
            more_kg=self.more_kg,
            cleared_kg=self.cleared_kg,
            missing_kg=self.missing_kg,
            aside_kg=self.aside_kg,
        )
