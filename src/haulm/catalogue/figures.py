"""Figures of the catalogue, what they rest on, and what stands where there is none."""

from dataclasses import dataclass
from enum import StrEnum


class Basis(StrEnum):
    """What a figure rests on; *own* is a household's word, and no file of the catalogue has it."""

    PUBLISHED = "published"
    COMMON_PRACTICE = "common practice"
    FROM_MEMORY = "from memory"
    JUDGED = "judged"
    OWN = "own"


@dataclass(frozen=True, slots=True)
class Source:
    """A published text that figures rest on: title, publisher, year, and where it was read."""

    id: str
    title: str
    publisher: str
    year: int | None
    read: str


@dataclass(frozen=True, slots=True)
class Figure:
    """One number of the catalogue.

    Attributes
    ----------
    value
        The figure used.
    unit
        Its unit, as in ``kg/m²``; ``1`` for a share.
    basis
        What it rests on.
    source
        The id of a Source; present exactly when the basis is *published*.
    low, high
        Eight years in ten lie between these; None where nobody has said.
    note
        What a reader should know of it; where there are ``others``, why this one was chosen.
    check
        What it was held against and agreed with, in words; empty where nobody has checked it.
    others
        What other sources say of the same thing; they have no others themselves.
    printed
        As its source prints it, where that is in another unit: ``35 °F``.
    borrowed_from
        The id of the kind whose figure it is, where that stands in for one nobody has.
    replaced
        The catalogue's figure that a household's own stands in for; None where there was none.
    """

    value: float
    unit: str
    basis: Basis
    source: str | None = None
    low: float | None = None
    high: float | None = None
    note: str = ""
    check: str = ""
    others: tuple["Figure", ...] = ()
    printed: str = ""
    borrowed_from: str = ""
    replaced: "Figure | None" = None


@dataclass(frozen=True, slots=True)
class Absent:
    """A figure that nobody has, and why.

    It is never taken for 0: whoever needs it says that it is not known. ``unit`` is the unit the
    figure would have.
    """

    why: str
    unit: str


@dataclass(frozen=True, slots=True)
class Hardy:
    """In place of a killing frost: no frost on record has killed the kind; ``why`` says who saw."""

    why: str
