"""Pins: what a grower settles by hand, as records."""

from dataclasses import dataclass
from datetime import date
from enum import StrEnum


class PinRule(StrEnum):
    """What a grower settles by hand: what a plan must have, or what it must not.

    Keep and at least ask for ground; the others set a limit, and planting nothing keeps them all.
    """

    KEEP = "keep"
    AT_LEAST = "at least"
    AT_MOST = "at most"
    FORBID = "forbid"
    ONLY_IN = "only in"
    APART = "apart"


ASKING = frozenset({PinRule.KEEP, PinRule.AT_LEAST})
"""The rules that ask for ground."""
MEASURED = frozenset({PinRule.AT_LEAST, PinRule.AT_MOST})
"""The rules that say nothing without an area."""


@dataclass(frozen=True, slots=True)
class Pin:
    """One thing settled by hand, which every later plan is made around.

    Attributes
    ----------
    rule
        Keep: it is planted. At least, at most: so much of it, all patches together. Forbid: it is
        not planted. Only in: in these beds and no other. Apart: never in one bed at one time.
    kind, crop, family
        Which kind, or which crop or family with all its kinds: one of the three.
    bed
        In which bed; None for any.
    method
        By which method; None for any.
    sow_on
        In the ISO week of this day it is sown or set; None for any week.
    area_m2
        A kept planting's ground, or the least or most of all patches [m²]; None for as much as the
        plan sees fit, from the smallest patch worth having. The other rules have none.
    year
        The calendar year in which it is sown or set; None for any.
    beds
        *Only in*: the beds.
    apart_from
        *Apart*: the other kind, crop or family.
    """

    rule: PinRule
    kind: str | None
    bed: str | None = None
    method: str | None = None
    sow_on: date | None = None
    area_m2: float | None = None
    crop: str | None = None
    family: str | None = None
    year: int | None = None
    beds: tuple[str, ...] = ()
    apart_from: str | None = None

    @property
    def what(self) -> str:
        """The id of the kind, crop or family it speaks of."""
        return self.kind or self.crop or self.family or ""

    @property
    def exact(self) -> bool:
        """Whether it keeps just so much ground, no less and no more."""
        return self.rule is PinRule.KEEP and self.area_m2 is not None
