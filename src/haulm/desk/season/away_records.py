"""The note for whoever looks after the garden while the household is away."""

from dataclasses import dataclass
from datetime import date

from haulm.ground.records import Outline


@dataclass(frozen=True, slots=True)
class VisitWater:
    """What one bed gets at one visit [cans], unless more rain has fallen since the last [mm]."""

    day: date
    cans: int
    skip_mm: float


@dataclass(frozen=True, slots=True)
class AwayBed:
    """A bed of the note.

    Attributes
    ----------
    id, name, outline
        Which bed, and its shape.
    stands
        What stands on it, by name.
    likely
        Share of the runs in which it wants water while the household is away [1].
    visits
        Its waterings, if no rain falls.
    covered
        Whether it is a tunnel or glass, to open and close.
    closed_for
        The disease for which it is visited last; empty for none.
    """

    id: str
    name: str
    outline: Outline
    stands: tuple[str, ...]
    likely: float
    visits: tuple[VisitWater, ...]
    covered: bool
    closed_for: str


@dataclass(frozen=True, slots=True)
class ToPick:
    """A food to pick freely, and where."""

    food: str
    bed: str


@dataclass(frozen=True, slots=True)
class Chore:
    """Something the household does: what, of which crop, in which bed, and by when it can be."""

    what: str
    crop: str
    bed: str
    by: date | None = None


@dataclass(frozen=True, slots=True)
class AwayNote:
    """All that the note says.

    Attributes
    ----------
    garden, invented
        Whose garden.
    first, last
        The first and the last day away.
    at_home
        Who stays; empty where everybody is away.
    can_l
        What a can holds [l].
    visits
        The days of the visits.
    beds
        The beds, in the garden's order.
    pick, leave
        What may be picked freely, and what must be left: foods by name, and beds.
    frost_odds
        Odds of some night of frost [1], and the tender crops standing in the open then.
    tender
        See above; empty where frost is not spoken of.
    blight
        Whether potatoes or tomatoes stand and nights are warm enough for late blight.
    rain_mm
        Rain in a middle run while the household is away [mm], on days told ahead as it was told.
    rain_told
        Of how many of the days away rain was told ahead.
    frost_nights
        The days away on which a night ends for which frost was told ahead.
    before, after
        What the household does before it leaves, and what waits until it is back.
    """

    garden: str
    invented: bool
    first: date
    last: date
    at_home: tuple[str, ...]
    can_l: float
    visits: tuple[date, ...]
    beds: tuple[AwayBed, ...]
    pick: tuple[ToPick, ...]
    leave: tuple[str, ...]
    frost_odds: float
    tender: tuple[str, ...]
    blight: bool
    rain_mm: float
    before: tuple[Chore, ...]
    after: tuple[Chore, ...]
    rain_told: int = 0
    frost_nights: tuple[date, ...] = ()
