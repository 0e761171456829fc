"""What a diary teaches, as records: figures moved, and what they rest on."""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property
from typing import Any

from haulm.measure.findings import Finding


class Taught(StrEnum):
    """What sort of figure the diary moves."""

    YIELD = "yield"
    COMES_UP = "what comes up"
    LIVES = "plants that live"
    READY = "days till ready"
    KEEPS = "keeping"
    MINUTES = "minutes"


NOTE = "from your diary"
"""How the note begins of a figure that was learnt, and may be learnt anew."""

OWN_FIGURE, OWN_PACE = "own_figure", "own_pace"
_WHICH = {OWN_FIGURE: ("of", "figure"), OWN_PACE: ("work",)}


@dataclass(frozen=True, slots=True)
class Written:
    """A part of garden.toml that a lesson would write, and its keys and values."""

    part: str
    typed: Mapping[str, Any]

    def is_of(self, other: Mapping[str, Any]) -> bool:
        """Whether another part of the sort is of the same figure."""
        return all(str(other[key]) == str(self.typed[key]) for key in _WHICH[self.part])


@dataclass(frozen=True)
class Moved:
    """A figure that the diary moves.

    Attributes
    ----------
    taught
        What sort of figure it is.
    of, figure
        The kind, and the figure's name as in ``[[own_figure]]``; of minutes, the sort of work.
    name, unit
        What it is, in words, and its unit.
    usual
        The catalogue's value, or the one that the household gave by hand.
    value, low, high
        This household's, and what that lies between in 8 cases of 10.
    next_low, next_high
        What the next planting lies between in 8 years in 10; None where that is not told.
    prior_weight
        The share of it that is still the catalogue's [1].
    counted, asked
        Entries that it rests on, and entries so far from what was to be expected that they do not
        count before somebody says that they are right.
    few
        Whether that is too few to tell.
    writes
        What planning by it writes into the garden.
    by_hand
        Whether the household gave the figure itself: it is never written over then.
    now
        The figure that was learnt before and is planned by today; None where none is.
    """

    taught: Taught
    of: str
    figure: str
    name: str
    unit: str
    usual: float
    value: float
    low: float
    high: float
    prior_weight: float
    counted: tuple[str, ...]
    writes: tuple[Written, ...]
    next_low: float | None = None
    next_high: float | None = None
    asked: tuple[str, ...] = ()
    few: bool = False
    by_hand: bool = False
    now: float | None = None

    @property
    def records(self) -> int:
        """How many records it rests on."""
        return len(self.counted)

    @property
    def key(self) -> str:
        """A name by which it is told from all others."""
        return f"{self.of} {self.figure}"

    @cached_property
    def may_be_kept(self) -> bool:
        """Whether plans may be made by it when asked for by itself."""
        return self.records > 0 and not self.by_hand


@dataclass(frozen=True, slots=True)
class Eaten:
    """What was eaten of a food in the weeks of which it was written, and what the table says [kg].

    Both are means over the ``weeks`` from the first to the last in which it was eaten; ``told_kg``
    is None where the table has no line for it alone.
    """

    food: str
    weeks: int
    written_weeks: int
    eaten_kg: float
    told_kg: float | None


@dataclass(frozen=True, slots=True)
class Lessons:
    """What a diary teaches.

    Attributes
    ----------
    moved
        The figures it moves.
    eaten
        What is eaten, against the table; told, and nothing is changed by it.
    said
        What was said of entries that were asked about: their names, by what was said.
    told
        What could not be taken, and why.
    names
        Names by id.
    """

    moved: tuple[Moved, ...]
    eaten: tuple[Eaten, ...]
    said: Mapping[str, tuple[str, ...]]
    told: tuple[Finding, ...]
    names: Mapping[str, str]

    @property
    def asked(self) -> tuple[tuple[str, tuple[Moved, ...]], ...]:
        """Each entry that is asked about, with the figures it is odd for."""
        found: dict[str, list[Moved]] = {}
        for one in self.moved:
            for entry in one.asked:
                found.setdefault(entry, []).append(one)
        return tuple((entry, tuple(some)) for entry, some in found.items())
