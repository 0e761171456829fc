"""The household's records: who eats, what they would eat, and the hours they give."""

from dataclasses import dataclass
from datetime import date
from enum import StrEnum


class Wanted(StrEnum):
    """In which state a food is wanted at table."""

    FRESH = "fresh"
    KEPT = "kept"
    EITHER = "either"


@dataclass(frozen=True, slots=True)
class Eater:
    """One who eats: portions counted against an adult's; from age where none was given."""

    name: str
    age: int | None = None
    portions: float | None = None


@dataclass(frozen=True, slots=True)
class Away:
    """Days on which some or all eaters are away, both ends counted; no names means everybody."""

    first_day: date
    last_day: date
    eaters: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class MonthDay:
    """A day that comes round every year."""

    month: int
    day: int


@dataclass(frozen=True, slots=True)
class TableLine:
    """A food, or foods that stand in for one another, and how much of them is eaten.

    Attributes
    ----------
    id, name
        The line's own; a line of one food takes that food's id unless named otherwise.
    foods
        Ids of the foods that may serve it.
    kg_week
        What the whole household at home would eat in one week, as lifted or bought [kg];
        None where ``portions_week`` says it.
    portions_week
        Portions a week for each adult portion at home; None where ``kg_week`` says it.
    first, last
        The part of the year it is wanted in, both ends counted; None means all year.
    wanted
        Fresh, kept or either.
    priority
        1 (nice to have) to 5 (must not run short).
    share_to_grow
        The share of it that the household wants to grow itself [1].
    certainty
        Share of years in which what is promised of it is to hold [1]; None for the household's.
    """

    id: str
    name: str
    foods: tuple[str, ...]
    kg_week: float | None
    portions_week: float | None
    first: MonthDay | None
    last: MonthDay | None
    wanted: Wanted
    priority: int
    share_to_grow: float
    certainty: float | None = None


@dataclass(frozen=True, slots=True)
class Household:
    """Everyone at the table and what they want, with the hours they can give in each month.

    ``hours_week`` holds twelve figures, January first [h/week]; ``certainty`` is the share of years
    in which promises are to hold, for lines that have none of their own [1], None for plans of
    means.
    """

    eaters: tuple[Eater, ...]
    away: tuple[Away, ...]
    table: tuple[TableLine, ...]
    hours_week: tuple[float, ...]
    certainty: float | None = None


@dataclass(frozen=True, slots=True)
class Appetite:
    """What one line of the table wants, week by week.

    Attributes
    ----------
    line, name, foods, wanted, priority
        As on the table.
    kg
        Wanted from the garden in each week of the horizon, share to grow included [kg].
    certainty
        Share of years in which what is promised of it is to hold [1]; None: promised of means.
    """

    line: str
    name: str
    foods: tuple[str, ...]
    wanted: Wanted
    priority: int
    kg: tuple[float, ...]
    certainty: float | None = None
