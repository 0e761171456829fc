"""The rotation's records: what is asked for several years, and what is answered."""

from dataclasses import dataclass, field
from datetime import date

from haulm.ground.records import Closure
from haulm.measure.units import Units

LEAST_YEARS, MOST_YEARS = 3, 8
"""How many years a rotation may have."""


@dataclass(frozen=True, slots=True)
class RotationBed:
    """A bed: its size, its cover, and the (family, year) of everything lifted from it [m²]."""

    id: str
    area_m2: float
    under_cover: bool
    lifted: tuple[tuple[str, int], ...] = ()


@dataclass(frozen=True, slots=True)
class FamilyNeed:
    """Ground that a family takes each year, over the same seasons.

    Attributes
    ----------
    id
        Unique in the question.
    family
        The family.
    crop
        The crop, where a disease closes some bed to that crop alone; else None.
    area_m2
        What its patches come to in one year [m²].
    worth_m2
        What one of its square metres brings, in kilograms of appetite of middle priority [1/m²].
    seasons
        The seasons it holds ground, counted from the first quarter of the year it is cleared in.
    touches
        The seasons, so counted, in which it leaves no room for a green manure.
    under_cover
        Whether it grows under cover.
    dark
        Beds with less sun than it needs.
    """

    id: str
    family: str
    crop: str | None
    area_m2: float
    worth_m2: float
    seasons: tuple[int, ...]
    touches: tuple[int, ...] = ()
    under_cover: bool = False
    dark: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class HeldGround:
    """Ground that is taken already: by a crop not yet cleared, or by a stand that stays.

    Attributes
    ----------
    bed, kind, family, area_m2
        What stands where, and on how much [m²].
    until_season
        The first season in which its ground is free.
    lifted_year
        The year it is cleared in; for a stand, the last year it is worth its ground.
    worn_out
        Whether it is a stand that was past its life when this was asked.
    lasting
        Whether it is a stand that stays for years.
    """

    bed: str
    kind: str
    family: str
    area_m2: float
    until_season: int
    lifted_year: int
    worn_out: bool = False
    lasting: bool = False


@dataclass(frozen=True, slots=True)
class StandChoice:
    """A kind that stays for years, and could serve a line of the table that no other can.

    Attributes
    ----------
    kind, family, line, food
        What it is and whom it serves.
    full_m2
        Ground whose full yield is all that the line can eat of it [m²].
    eaten_kg
        What the line eats of it in a year of full bearing [kg].
    weight
        What a kilogram of that line weighs against one of middle priority.
    year_shares
        (year of the stand, share of its full yield), nothing before the first [1].
    life_years
        Years a stand is worth its ground.
    there
        (year, share of the line) for which stands already there are large enough [1], until a
        successor has to be planted.
    dark
        Beds with less sun than it needs.
    """

    kind: str
    family: str
    line: str
    food: str
    full_m2: float
    eaten_kg: float
    weight: float
    year_shares: tuple[tuple[int, float], ...]
    life_years: int
    there: tuple[tuple[int, float], ...] = ()
    dark: frozenset[str] = frozenset()

    def share(self, age: int) -> float:
        """Give the share of its full yield in a year of its life; from the last on as in that."""
        reached = [share for year, share in self.year_shares if year <= age]
        return reached[-1] if reached else 0.0

    @property
    def bearing_age(self) -> int:
        """The year of its life in which it is first picked."""
        return self.year_shares[0][0]


@dataclass(frozen=True, slots=True)
class CoverChoice:
    """A green manure: sown in a quarter, it stands that many seasons, the first counted."""

    kind: str
    family: str
    quarter: int
    seasons: int
    under_cover: bool = False


@dataclass(frozen=True, slots=True)
class RotationPrices:
    """What things cost against one kilogram of unmet appetite of middle priority, first slice."""

    rest_m2_year: float = 0.6
    patch: float = 0.15
    slices: tuple[tuple[float, float], ...] = ((0.34, 1.0), (0.33, 1.4), (0.33, 2.0))


@dataclass(frozen=True, slots=True)
class RotationQuestion:
    """Everything a rotation depends on.

    Attributes
    ----------
    garden, made_on
        Whose, and as of when.
    first_year, years
        The first calendar year, and how many there are: three to eight.
    beds, held, closures
        The ground, what stands on it, and what disease keeps off it.
    needs, stands, covers
        What families take, stands that may be planted, green manures that may be sown.
    gap_years
        Years to leave between stands of a family on a bed, by family.
    names
        Display names by id.
    least_m2
        The smallest piece of ground worth giving [m²].
    southern, units, prices, seed
        For words, for prices and for every random choice.
    """

    garden: str
    made_on: date
    first_year: int
    years: int
    beds: tuple[RotationBed, ...]
    needs: tuple[FamilyNeed, ...]
    gap_years: dict[str, int]
    names: dict[str, str] = field(default_factory=dict)
    held: tuple[HeldGround, ...] = ()
    closures: tuple[Closure, ...] = ()
    stands: tuple[StandChoice, ...] = ()
    covers: tuple[CoverChoice, ...] = ()
    least_m2: float = 0.5
    southern: bool = False
    units: Units = "metric"
    prices: RotationPrices = field(default_factory=RotationPrices)
    seed: int = 1

    @property
    def span(self) -> range:
        """The years planned."""
        return range(self.first_year, self.first_year + self.years)


@dataclass(frozen=True, slots=True)
class Share:
    """Ground of a bed given to one need in one year [m²]."""

    bed: str
    year: int
    need: str
    area_m2: float


@dataclass(frozen=True, slots=True)
class BedYearFamily:
    """Ground of a bed given to a family in one year [m²].

    ``room_m2`` is how far the family may spread there: what it is given, and what else of the bed
    lies bare in all the seasons it stands, since that spends no other rest.
    """

    bed: str
    year: int
    family: str
    area_m2: float
    room_m2: float
    seasons: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class StandYearGiven:
    """What a stand gives in one year of its life [kg]."""

    year: int
    age: int
    kg: float


@dataclass(frozen=True, slots=True)
class NewStand:
    """A stand to be planted: where, when, how large, what it gives, and its last good year."""

    bed: str
    kind: str
    family: str
    line: str
    planted_year: int
    area_m2: float
    gives: tuple[StandYearGiven, ...]
    last_year: int
    sentence: str


@dataclass(frozen=True, slots=True)
class CoverSown:
    """A green manure over ground that would lie bare; the season it is sown in, and its last."""

    bed: str
    kind: str
    family: str
    area_m2: float
    first_season: int
    last_season: int


@dataclass(frozen=True, slots=True)
class BrokenRest:
    """A family back on a bed too soon: where, when, how many years, and what that costs."""

    bed: str
    year: int
    family: str
    area_m2: float
    years_missing: int
    last_lifted: int
    price: float
    sentence: str


@dataclass(frozen=True, slots=True)
class GoneWithout:
    """What a rotation cannot give: ground of a need, or a line that wants a stand, in one year.

    ``area_m2`` is ground left out [m²], ``share`` what that is of all that was wanted [1].
    """

    year: int
    what: str
    area_m2: float
    share: float
    price: float
    sentence: str


@dataclass(frozen=True, slots=True)
class Rotation:
    """Families to beds over several years, complete enough to be re-added by anyone.

    ``objective`` is what is left out, what is broken and what each piece costs, in kilograms of
    appetite of middle priority; no rotation costs less than ``bound``. ``gap`` is what lies
    between, as a share of the objective [1].
    """

    garden: str
    made_on: date
    first_year: int
    years: int
    shares: tuple[Share, ...]
    families: tuple[BedYearFamily, ...]
    stands: tuple[NewStand, ...]
    covers: tuple[CoverSown, ...]
    broken: tuple[BrokenRest, ...]
    going_without: tuple[GoneWithout, ...]
    notes: tuple[str, ...]
    objective: float
    bound: float
    gap: float
