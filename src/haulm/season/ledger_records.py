"""The larder's ledger: what was put by, what came out, and what is thought to lie there sound."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from haulm.measure.findings import Finding
from haulm.season.keeping_pace import age_weeks, sound_at
from haulm.season.records import STARTS, EntryKind, Purpose

OUT = frozenset({EntryKind.EATEN, EntryKind.GIVEN, EntryKind.THROWN})
"""How food leaves the household's store."""

IN_BOOKS = OUT | STARTS | {EntryKind.PUT_BY, EntryKind.COUNTED}
"""What moves the larder's books."""

LotKey = tuple[str, str | None, str, str]
"""Food, kind (None where nobody knows), form and store."""


@dataclass(frozen=True, slots=True)
class Keeps:
    """How a lot keeps: the sound share at each whole week of age, and what a piece weighs [kg].

    ``sound`` is 1 at age 0 and ends where the food is past keeping; ``piece_kg`` is None where
    nobody knows.
    """

    sound: tuple[float, ...]
    piece_kg: float | None = None


@dataclass(frozen=True, slots=True)
class Move:
    """Food that left a lot: when, how, how much [kg], and by which entry of the diary."""

    day: date
    kind: EntryKind
    kg: float
    entry: str


@dataclass(frozen=True, slots=True)
class Counted:
    """What a count found [kg], and what the books said was sound before it [kg].

    ``soft_kg`` and ``sprouted_kg`` are parts of what was found lost [kg]; ``apart`` says whether
    books and count part by more than the tolerance.
    """

    day: date
    sound_kg: float
    lost_kg: float
    books_kg: float
    entry: str
    soft_kg: float = 0.0
    sprouted_kg: float = 0.0
    apart: bool = False


@dataclass(frozen=True, slots=True)
class LedgerLot:
    """One lot in the books.

    Attributes
    ----------
    id
        The entry by which it was put by; or its number in the garden, for what was told there.
    key
        Food, kind, form, store.
    put_by, kg_in
        When it was put by, and how much [kg].
    purpose
        What it is kept for.
    keeps
        How it usually keeps.
    pace, pace_spread
        How fast it ages against the usual, as its counts tell [1]; 1 without a count. And how far
        that may be off: standard deviation of its logarithm [1].
    moves, counts
        What left it, and when it was looked through, in order of days.
    base_kg
        What of it was not taken out yet, sound or rotten, as it was put by [kg].
    most_kg
        What can be left at most: what was put by or last counted, less all that left since [kg].
    more_kg
        What was taken out or found beyond what the books had [kg].
    cleared_kg, missing_kg
        What counts found lost, or lost before them; and what they missed unwritten [kg].
    aside_kg
        What the last count found soft or sprouted and nobody has eaten, given or thrown [kg].
    """

    id: str
    key: LotKey
    put_by: date
    kg_in: float
    purpose: Purpose
    keeps: Keeps
    pace: float = 1.0
    pace_spread: float = 0.0
    moves: tuple[Move, ...] = ()
    counts: tuple[Counted, ...] = ()
    base_kg: float = 0.0
    most_kg: float = 0.0
    more_kg: float = 0.0
    cleared_kg: float = 0.0
    missing_kg: float = 0.0
    aside_kg: float = 0.0

    def share_on(self, day: date) -> float:
        """Give the share of it that is sound on a day, at the pace its counts tell [1]."""
        return sound_at(self.keeps.sound, age_weeks(self.put_by, day), self.pace)

    @property
    def food(self) -> str:
        """What it is."""
        return self.key[0]

    @property
    def kind(self) -> str | None:
        """Which kind of it; None where nobody knows."""
        return self.key[1]

    @property
    def form(self) -> str:
        """How it is kept."""
        return self.key[2]

    @property
    def store(self) -> str:
        """Where it lies."""
        return self.key[3]


@dataclass(frozen=True, slots=True)
class LotBalance:
    """What became of a lot, to the gram [kg].

    put by + more = eaten + given + thrown + planted + cleared + missing + sound + rotting.

    Attributes
    ----------
    put_by_kg, more_kg
        What was put by; what was taken out or found beyond what the books had.
    out_kg
        What left it, by how it left.
    cleared_kg, missing_kg
        What counts found soft or sprouted, or that had rotted before them; what they missed.
    sound_kg, rotting_kg
        What is thought to lie there sound; and what lies there and is not, since the last count.
    """

    put_by_kg: float
    more_kg: float
    out_kg: Mapping[EntryKind, float]
    cleared_kg: float
    missing_kg: float
    sound_kg: float
    rotting_kg: float


@dataclass(frozen=True, slots=True)
class Ledger:
    """All lots, and what the books cannot settle.

    ``worth_knowing`` tells where books and counts part, and what was taken out that no lot had.
    """

    lots: tuple[LedgerLot, ...]
    worth_knowing: tuple[Finding, ...]
    by_id: Mapping[str, LedgerLot]


@dataclass(frozen=True, slots=True)
class BroughtForward:
    """The books as they stood at the end of a day, with all that keeping them on rests on.

    Attributes
    ----------
    lots
        All lots, in the order in which they were put by.
    over
        The names of those that were found to have nothing more to give, in the order found so.
    told
        What the books could not settle.
    """

    lots: tuple[LedgerLot, ...]
    over: tuple[str, ...] = ()
    told: tuple[Finding, ...] = ()
