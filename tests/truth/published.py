"""Figures printed elsewhere, each beside ours: declared once, for the tests and the page alike."""

from collections.abc import Callable
from dataclasses import dataclass, field
from enum import StrEnum
from functools import cache

Span = tuple[float, float]
"""From the lowest to the highest."""

EXACT = 1e-9
"""What arithmetic alone may lose where no tolerance is given."""


class Basis(StrEnum):
    """What a printed figure rests on; only the first counts as published."""

    PUBLISHED = "published"
    COMMON_PRACTICE = "common practice"
    FROM_MEMORY = "from memory"


class Rule(StrEnum):
    """How ours must stand to what is printed, the tolerance allowed for."""

    EQUAL = "ours is the figure printed"
    WITHIN = "ours lies within what is printed"
    HOLDS = "our range holds what is printed"
    MEETS = "our range and the printed one meet"
    AT_MOST = "ours is no more than what is printed"
    AT_LEAST = "ours is no less than what is printed"


@dataclass(frozen=True)
class Check:
    """One printed figure, or one printed range, and how ours is had.

    ``differs`` says why ours disagrees; it stands exactly where it does.
    """

    what: str
    printed: float | Span
    ours: Callable[[], float | Span]
    differs: str = ""


@dataclass(frozen=True)
class Table:
    """Printed figures of one place that are held to one rule.

    Attributes
    ----------
    claim
        What must hold, as a sentence.
    source
        Who printed it: author, title, publisher, year.
    unit
        The unit of every figure in it.
    tolerance, why
        How far apart the two may lie, in that unit, and why so far.
    rule
        How ours must stand to what is printed.
    carried
        Whether ours is a figure that haulm holds as data, not one it works out.
    read
        Whether the source was read itself, or as another text gives it.
    """

    claim: str
    source: str
    unit: str
    checks: tuple[Check, ...]
    tolerance: float = 0.0
    why: str = "the figure is taken as printed"
    rule: Rule = Rule.EQUAL
    carried: bool = False
    read: str = "read itself"
    basis: Basis = Basis.PUBLISHED


@dataclass(frozen=True)
class Section:
    """What is checked of one subject."""

    title: str
    tables: tuple[Table, ...] = field(default_factory=tuple)


@cache
def ours(check: Check) -> float | Span:
    """Work out our side of a check, once."""
    return check.ours()


def agrees(table: Table, check: Check) -> bool:
    """Say whether ours stands to the printed figure as the table's rule asks."""
    low, high = _span(check.printed)
    ours_low, ours_high = _span(ours(check))
    slack = table.tolerance + EXACT
    holds = {
        Rule.EQUAL: abs(ours_low - low) <= slack and abs(ours_high - high) <= slack,
        Rule.WITHIN: low - slack <= ours_low and ours_high <= high + slack,
        Rule.HOLDS: ours_low <= low + slack and high <= ours_high + slack,
        Rule.MEETS: ours_low <= high + slack and low <= ours_high + slack,
        Rule.AT_MOST: ours_high <= low + slack,
        Rule.AT_LEAST: ours_low >= high - slack,
    }
    return holds[table.rule]


def verdict(table: Table, check: Check) -> str:
    """Say in a word or two how a check came out."""
    if agrees(table, check):
        return "agrees"
    return f"disagrees: {check.differs}" if check.differs else "DISAGREES"


def as_printed(value: float | Span) -> str:
    """Write a figure or a range."""
    low, high = _span(value)
    return f"{low:.5g}" if low == high else f"{low:.5g} to {high:.5g}"


def _span(value: float | Span) -> Span:
    if isinstance(value, tuple):
        return float(value[0]), float(value[1])
    return float(value), float(value)
