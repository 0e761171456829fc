"""The larder's ledger: what was put by, what came out, and what is thought to lie there sound."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from haulm.measure.findings import Finding
from haulm.season.records import EntryKind, Purpose

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
    """What a count found [kg], and what the books said was sound before it [kg]."""

    day: date
    sound_kg: float
    lost_kg: float
    books_kg: float
    entry: str


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
    pace
        How fast it ages against the usual, as its counts tell [1]; 1 without a count.
    moves, counts
        What left it, and when it was looked through, in order of days.
    base_kg
        What of it was not taken out yet, sound or rotten, as it was put by [kg].
    most_kg
        What can be left at most: what was put by or last counted, less all that left since [kg].
    """

    id: str
    key: LotKey
    put_by: date
    kg_in: float
    purpose: Purpose
    keeps: Keeps
    pace: float = 1.0
    moves: tuple[Move, ...] = ()
    counts: tuple[Counted, ...] = ()
    base_kg: float = 0.0
    most_kg: float = 0.0

    @property
    def food(self) -> str:
        """What it is."""
        return self.key[0]


@dataclass(frozen=True, slots=True)
class Ledger:
    """All lots, and what the books cannot settle.

    ``worth_knowing`` tells where books and counts part, and what was taken out that no lot had.
    """

    lots: tuple[LedgerLot, ...]
    worth_knowing: tuple[Finding, ...]
    by_id: Mapping[str, LedgerLot]
