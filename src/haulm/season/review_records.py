"""The review's records: what a plan had meant, what came of it, and what nobody wrote."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from enum import StrEnum

from haulm.household.records import Wanted
from haulm.measure.findings import Finding
from haulm.measure.weeks import Horizon
from haulm.plan.records import Plan, Planting
from haulm.plan.state import Noted
from haulm.season.ledger_records import Ledger
from haulm.season.records import Entry


@dataclass(frozen=True, slots=True)
class ReviewSpan:
    """The weeks looked back on, counted in a plan's horizon, until not counted."""

    horizon: Horizon
    first_week: int
    until_week: int

    def holds(self, day: date) -> bool:
        """Say whether a day lies in it."""
        return self.first_week <= self.horizon.week_of(day) < self.until_week

    def has(self, week: int) -> bool:
        """Say whether a week lies in it."""
        return self.first_week <= week < self.until_week

    @property
    def weeks(self) -> range:
        """Its weeks, in order."""
        return range(self.first_week, self.until_week)

    @property
    def first_day(self) -> date:
        """Its first day, a Monday."""
        return self.horizon.monday(self.first_week)

    @property
    def last_day(self) -> date:
        """Its last day, a Sunday."""
        return Horizon(self.first_day, self.until_week - self.first_week).last_day


@dataclass(frozen=True, slots=True)
class Picked:
    """Some of a picking.

    Attributes
    ----------
    entry
        The entry it is from.
    day, food, kg
        When, what, and how much [kg].
    key
        The lasting name of the planting it is of; empty where it is of none of the plan.
    bed, kind
        Where and what, as far as is known.
    shared
        Whether the entry named no planting, and it was shared out.
    """

    entry: str
    day: date
    food: str
    kg: float
    key: str
    bed: str
    kind: str
    shared: bool


@dataclass(frozen=True, slots=True)
class LineAsked:
    """A line of the table: the foods that serve it, fresh or kept, and how much it matters."""

    line: str
    foods: tuple[str, ...]
    wanted: Wanted
    priority: int


@dataclass(frozen=True, slots=True)
class Season:
    """All that a review looks at.

    Attributes
    ----------
    plan, span
        The plan that counts, and the weeks of it.
    entries
        The diary's entries that hold, of all days up to the end of the span.
    opening, closing
        The larder's books on the day before the span and on its last day.
    lines
        The lines of the table.
    piece_kg
        By food: what a piece weighs [kg]; a food that nobody knows it of is not in it.
    later
        By its lasting name, every planting of the plans kept after this one.
    replaced
        The lasting names of plantings that a later plan had taken out before they were due.
    notes
        What was noted of plantings, in the garden and in the diary.
    """

    plan: Plan
    span: ReviewSpan
    entries: tuple[Entry, ...]
    opening: Ledger
    closing: Ledger
    lines: tuple[LineAsked, ...]
    piece_kg: Mapping[str, float]
    later: Mapping[str, Planting] = field(default_factory=dict)
    replaced: frozenset[str] = frozenset()
    notes: tuple[Noted, ...] = ()


class Cause(StrEnum):
    """Why what came parted from the plan."""

    NOT_WRITTEN = "not written"
    NOT_SOWN = "not sown"
    REPLANNED = "planned anew"
    NOT_PICKED = "never picked"
    AREA = "area"
    LOST = "lost"
    CLEARED = "cleared early"
    TROUBLE = "trouble"
    LATE = "late"
    YIELD = "yield"
    BESIDE = "beside the plan"


@dataclass(frozen=True, slots=True)
class Parted:
    """One part of what came more than planned, or less where below nought [kg].

    ``planting`` is the planting's name in the plan that counts; empty for what grew beside it.
    """

    cause: Cause
    food: str
    kind: str
    bed: str
    planting: str
    kg: float


@dataclass(frozen=True, slots=True)
class FoodReview:
    """One food: planned and come, over the span [kg]; None where nobody wrote of it.

    Attributes
    ----------
    food
        Which.
    planned_kg, picked_kg
        What the plan meant to pick, and what was picked.
    planned_put_by_kg, put_by_kg
        What it meant to put by, and what was put by.
    planned_eaten_kg, eaten_kg
        What it meant to eat, and what was eaten, fresh and from store.
    given_kg, thrown_kg
        What was given away and thrown out.
    opening_kg, closing_kg
        What the books had sound in store before and after; None without a lot of it.
    rotted_kg
        What of the store was lost by the books, what was thrown out of it included.
    unwritten_kg
        What counts found less than the books had; below nought where they found more.
    """

    food: str
    planned_kg: float
    picked_kg: float | None
    planned_put_by_kg: float
    put_by_kg: float | None
    planned_eaten_kg: float
    eaten_kg: float | None
    given_kg: float | None
    thrown_kg: float | None
    opening_kg: float | None
    closing_kg: float | None
    rotted_kg: float | None
    unwritten_kg: float


@dataclass(frozen=True, slots=True)
class BedReview:
    """One bed: planned and picked [kg], water given [l] and work [minutes]; None: not written."""

    bed: str
    planned_kg: float
    picked_kg: float | None
    water_l: float | None
    minutes: float | None
    plantings: int
    written_of: int


@dataclass(frozen=True, slots=True)
class PlantingReview:
    """One planting of the plan that was to be begun or picked in the span.

    Attributes
    ----------
    planting
        It, as planned.
    written
        Whether anybody wrote of it.
    started_on, first_picked_on
        The days it was truly begun and first picked; None where nobody wrote them.
    area_m2
        Its ground as written [m²]; None where nobody wrote it.
    planned_kg, picked_kg
        What the plan meant to pick in the span, and what was picked, all foods together [kg].
    shared
        Whether some of that was picked by the name of the food alone, and shared out.
    ended
        What ended it before its time: a trouble's name or a note; empty where nothing did.
    """

    planting: Planting
    written: bool
    started_on: date | None
    first_picked_on: date | None
    area_m2: float | None
    planned_kg: float
    picked_kg: float | None
    shared: bool
    ended: str


class WeekCame(StrEnum):
    """How a line of the table fared in a week."""

    FED = "fed"
    WITHOUT = "without"
    NOT_KNOWN = "not known"
    NOT_WANTED = "not wanted"


@dataclass(frozen=True, slots=True)
class LineWeek:
    """One week of a line: wanted, planned to be eaten, eaten as far as it was written [kg]."""

    week: int
    wanted_kg: float
    planned_kg: float
    eaten_kg: float
    came: WeekCame


@dataclass(frozen=True, slots=True)
class LineReview:
    """One line of the table through the span.

    Attributes
    ----------
    line
        Which.
    weeks
        Week by week.
    planned_without
        In how many weeks the plan itself left it without.
    """

    line: str
    weeks: tuple[LineWeek, ...]
    planned_without: int

    @property
    def wanted_kg(self) -> float:
        """What it wanted in all [kg]."""
        return sum(week.wanted_kg for week in self.weeks)

    @property
    def promised_kg(self) -> float:
        """What the plan meant to serve of it [kg]."""
        return sum(week.planned_kg for week in self.weeks)

    @property
    def known(self) -> bool:
        """Whether the diary says of every week that wanted it how it fared."""
        return all(week.came is not WeekCame.NOT_KNOWN for week in self.weeks)

    @property
    def eaten_kg(self) -> float | None:
        """What was eaten of it [kg]; None where the diary does not say of every week."""
        return sum(week.eaten_kg for week in self.weeks) if self.known else None

    def count(self, came: WeekCame) -> int:
        """Count its weeks of one sort."""
        return sum(week.came is came for week in self.weeks)


@dataclass(frozen=True, slots=True)
class Review:
    """What a plan had meant for a span, and what came.

    Attributes
    ----------
    span
        The weeks looked back on.
    foods, beds, plantings, lines
        Planned and come; foods by what was planned of them, the most first.
    parted
        Why what was picked parts from what was planned, by planting and food: it adds up exactly
        to the one less the other, food by food.
    asked_h, told_h
        Hours planned, and hours written; None where no minutes were.
    water_l
        Water given that was written in litres or millimetres [l]; None where none was.
    covered_share
        Share of what the plan meant to pick that lies in plantings somebody wrote of [1].
    picked
        Everything that was picked, planting by planting.
    told
        What could not be counted, and what was assumed.
    """

    span: ReviewSpan
    foods: tuple[FoodReview, ...]
    beds: tuple[BedReview, ...]
    plantings: tuple[PlantingReview, ...]
    lines: tuple[LineReview, ...]
    parted: tuple[Parted, ...]
    asked_h: float
    told_h: float | None
    water_l: float | None
    covered_share: float
    picked: tuple[Picked, ...]
    told: tuple[Finding, ...] = ()

    @property
    def planned_kg(self) -> float:
        """What the plan meant to pick in all [kg]."""
        return sum(one.planned_kg for one in self.foods)

    @property
    def picked_kg(self) -> float | None:
        """What was picked of foods somebody wrote of [kg]; None where nothing was."""
        kg = [one.picked_kg for one in self.foods if one.picked_kg is not None]
        return sum(kg) if kg else None
