"""One thing changed about a year as it stood: what is asked, and what came of trying."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Change:
    """One change: a patch that is left out, a sowing in a bed that comes, or both.

    Attributes
    ----------
    out
        The id of the patch left out; empty for none.
    sowing, bed
        What comes, and where; empty for nothing.
    area_m2
        How large it would best be [m²].
    gain_kg
        By how much less the year would have cost, by the prices of a plan [weighted kg].
    """

    out: str
    sowing: str
    bed: str
    area_m2: float
    gain_kg: float


@dataclass(frozen=True, slots=True)
class Wish:
    """What is worth telling [weighted kg], how many changes are wanted, how many may be solved."""

    least_kg: float
    most: int = 8
    budget: int = 300


@dataclass(frozen=True, slots=True)
class Tried:
    """What came of trying changes.

    Attributes
    ----------
    changes
        The best of each sort, the most worth first.
    possible, solved
        How many changes there are, and how many had to be solved.
    all_known
        Whether none of those not solved could have been among the best.
    """

    changes: tuple[Change, ...]
    possible: int
    solved: int
    all_known: bool
