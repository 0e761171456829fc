"""What is told about a plan beside it: what one more of a thing would bring, what was left out."""

from dataclasses import dataclass
from enum import StrEnum


class Scarce(StrEnum):
    """The things of which there may be more."""

    GROUND = "ground"
    HOURS = "hours"
    ROOM = "room"
    TRAYS = "trays"


Fed = tuple[tuple[str, float], ...]
"""(line of the table, kilograms more at table, or less where below nought), most first."""


@dataclass(frozen=True, slots=True)
class OneMore:
    """What one more of something would bring, every patch where it is.

    Attributes
    ----------
    what, where
        Which thing; the bed or store, and empty for hours and trays.
    first_week, last_week
        In which weeks there would be more of it.
    amount
        How much more, in each of those weeks [m², h, l or cells].
    at_first_kg
        What it would bring at the rate of the first hair of it [weighted kg].
    worth_kg
        What all of it would bring, the plan's sizes and meals reckoned anew with it: never more
        than at first [weighted kg].
    fed
        By line of the table, what more would come to it, and what less.
    """

    what: Scarce
    where: str
    first_week: int
    last_week: int
    amount: float
    at_first_kg: float
    worth_kg: float
    fed: Fed

    @property
    def fed_kg(self) -> float:
        """What more comes to table in all [kg]."""
        return sum(kg for _, kg in self.fed)


class Barred(StrEnum):
    """Why a kind was not even to be tried: nobody could eat it, no bed may hold it, or no room."""

    NOT_EATEN = "not eaten"
    NO_BED = "no bed"
    NO_ROOM = "no room"


@dataclass(frozen=True, slots=True)
class LeftOut:
    """A kind that could serve a line of the table and is not planted, at its best place.

    Attributes
    ----------
    line, kind
        Which line, and which kind.
    sowing, bed
        The sowing and bed that would be the best for it; empty where it is barred.
    area_m2
        The patch that was tried there [m²].
    fed
        By line, what that patch would bring to table, and what it would take from it.
    cost_kg
        What the whole plan would lose by it [weighted kg]; below nought where it would gain.
    times
        It would be worth its place if it gave so many times as much; None where not even at
        ``planner.pieces.most_times``.
    priority
        It would be worth its place if its line had this priority; None where not even at 5.
    barred
        Why it was not tried anywhere; None where it was.
    """

    line: str
    kind: str
    sowing: str
    bed: str
    area_m2: float
    fed: Fed
    cost_kg: float
    times: float | None
    priority: int | None
    barred: Barred | None = None


@dataclass(frozen=True, slots=True)
class Elsewhere:
    """A patch of the plan somewhere else: in another bed, or begun in another week.

    Attributes
    ----------
    sowing, bed
        The sowing and the bed it would have.
    area_m2
        How large it would best be there [m²].
    fed
        By line of the table, what more would come to it, and what less.
    cost_kg
        What the whole plan would lose by it [weighted kg]; below nought where it would gain.
    """

    sowing: str
    bed: str
    area_m2: float
    fed: Fed
    cost_kg: float
