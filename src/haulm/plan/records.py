"""The plan: what is sown, where, what it gives, what is put by, what stays short, and why."""

from dataclasses import dataclass
from datetime import date

from haulm.measure.findings import Finding
from haulm.measure.weeks import Horizon


@dataclass(frozen=True, slots=True)
class Allotment:
    """Ground of a bed that a family may take in one calendar year of clearing [m²]."""

    bed: str
    year: int
    family: str
    area_m2: float


@dataclass(frozen=True, slots=True)
class PlanBed:
    """A bed as the plan knew it."""

    id: str
    name: str
    area_m2: float
    under_cover: bool


@dataclass(frozen=True, slots=True)
class Serves:
    """Kilograms of one food that a planting brings to a line of the table, and in which weeks."""

    line: str
    food: str
    kg: float
    first_week: int
    last_week: int


@dataclass(frozen=True, slots=True)
class Pick:
    """Kilograms of one food taken from a planting in one week, as lifted [kg]."""

    food: str
    week: int
    kg: float


@dataclass(frozen=True, slots=True)
class Ready:
    """When one food of a planting is ready: 1, 5 and 9 years in 10.

    ``later_days`` of it come from the household's own records of the kind (earlier: under 0) [d].
    """

    food: str
    early: date
    middle: date
    late: date
    later_days: int = 0


@dataclass(frozen=True, slots=True)
class Expects:
    """What a planting gives of a food: the mean, and what 8 years in 10 lie between [kg]."""

    food: str
    kg: float
    low_kg: float
    high_kg: float


@dataclass(frozen=True, slots=True)
class Bound:
    """What held a planting at its size: a rule's name, the sentence, and what one unit more brings.

    ``worth_kg`` is weighted appetite met by one more ``unit`` [kg]; None where it was not priced.
    """

    rule: str
    sentence: str
    unit: str = ""
    worth_kg: float | None = None


@dataclass(frozen=True, slots=True)
class Planting:
    """One sowing given to one bed.

    Attributes
    ----------
    id
        Unique in the plan, short enough to type: ``garlic-1``.
    sowing
        The id of the sowing it came from.
    crop, kind, family, method, bed, under_cover
        What it is and where.
    area_m2, plants, stock, stock_unit
        Ground [m²], stations, and planting stock to start, losses divided out.
    sow_on, set_on, in_ground_from, clear_by
        Its dates; the ground is free again on ``clear_by``.
    from_week, until_week
        The weeks it holds ground, until not counted.
    tray_cells, tray_weeks
        Cells, and the weeks in trays, until not counted.
    minutes
        (week, minutes) of work, lifting included [minutes].
    expects, ready, picks, serves
        What it gives, when, week by week, and to whom.
    earliest_sowing, latest_sowing, earliest_rule, latest_rule
        Its window and the rules that set it.
    sum
        The arithmetic that sized it, line by line.
    bounds
        What bound it.
    standing
        True for what stood in the ground, or in trays, when the plan was made.
    taken, hoped, late_days
        Of what stood: (food, kg) taken of it before the plan was made, the share of a full yield
        it is expected to give [1], and by how many days it is behind [days].
    """

    id: str
    sowing: str
    crop: str
    kind: str
    family: str
    method: str
    bed: str
    under_cover: bool
    area_m2: float
    plants: int
    stock: float
    stock_unit: str
    sow_on: date
    set_on: date
    in_ground_from: date
    clear_by: date
    from_week: int
    until_week: int
    tray_cells: int
    tray_weeks: tuple[int, int]
    minutes: tuple[tuple[int, float], ...]
    expects: tuple[Expects, ...]
    ready: tuple[Ready, ...]
    picks: tuple[Pick, ...]
    serves: tuple[Serves, ...]
    earliest_sowing: date
    latest_sowing: date
    earliest_rule: str
    latest_rule: str
    sum: tuple[str, ...]
    bounds: tuple[Bound, ...]
    standing: bool = False
    taken: tuple[tuple[str, float], ...] = ()
    hoped: float = 1.0
    late_days: int = 0

    @property
    def in_trays(self) -> bool:
        """Whether it was sown before the plan was made, and is still to be set out."""
        raised = self.tray_weeks[0] < self.tray_weeks[1]
        to_come = self.from_week >= 0 and self.in_ground_from >= self.set_on
        return self.standing and raised and to_come


@dataclass(frozen=True, slots=True)
class TableWeek:
    """One line of the table in one week [kg]: wanted = fresh + stored + short."""

    line: str
    week: int
    wanted_kg: float
    fresh_kg: float
    stored_kg: float
    short_kg: float


@dataclass(frozen=True, slots=True)
class Helping:
    """Kilograms of one food eaten for one line in one week, from a lot or (None) fresh."""

    line: str
    food: str
    week: int
    kg: float
    lot: str | None = None


@dataclass(frozen=True, slots=True)
class Lot:
    """Food put by in one week, in one form and place.

    ``kg_in`` is what went in [kg]; ``eaten`` (week, kg) what came out sound; ``seed_kg`` what was
    kept back to plant, in the week ``seed_week``; ``lost_kg`` what rots or sprouts by the end;
    ``sound`` the share still sound at each whole week of age; ``in_hand`` whether it lay in store
    when the plan was made, then at ``age_weeks``.
    """

    id: str
    food: str
    kind: str
    form: str
    place: str
    put_by_week: int
    kg_in: float
    eaten: tuple[tuple[int, float], ...]
    seed_kg: float
    seed_week: int | None
    left_kg: float
    lost_kg: float
    sound: tuple[float, ...]
    space_l_kg: float
    work_min_kg: float
    in_hand: bool = False
    age_weeks: int = 0


@dataclass(frozen=True, slots=True)
class HoursWeek:
    """Hours that one week asks, and hours the household gives [h]."""

    week: int
    asked_h: float
    given_h: float


@dataclass(frozen=True, slots=True)
class Shortage:
    """A stretch of weeks in which a line of the table runs short, and why, in garden words."""

    line: str
    first_week: int
    last_week: int
    kg: float
    sentence: str


@dataclass(frozen=True, slots=True)
class BrokenRule:
    """A rule the plan had to break: its name, where, how much, its price, and the sentence."""

    rule: str
    where: str
    amount: float
    unit: str
    price: float
    sentence: str


@dataclass(frozen=True, slots=True)
class SolverReport:
    """How good the plan is proven to be.

    ``gap`` = (objective − bound) / objective. ``net_gap`` leaves out of the divisor the appetite
    that no plan could meet. ``seed`` and ``effort`` make the plan again.
    """

    bound: float
    objective: float
    gap: float
    net_gap: float
    seconds: float
    rounds: int
    effort: str
    seed: int


@dataclass(frozen=True, slots=True)
class Held:
    """How often a promise held in seasons that its plan never saw.

    Attributes
    ----------
    line, year
        Whose promise, and in which year of the plan, the first being 0.
    share
        Share of the seasons in which it held [1].
    error
        Its standard error, for the number of seasons [1].
    """

    line: str
    year: int
    share: float
    error: float


@dataclass(frozen=True, slots=True)
class Certainty:
    """How sure a plan was made to be.

    Attributes
    ----------
    lines
        (line of the table, share of years in which what is promised of it is to hold [1]), for each
        line that was asked to be sure, in the order of the table.
    counted
        (food, the plan's year in which it is lifted, share of its mean yield counted on [1]).
    held
        How often the promises of those lines held in seasons that the plan never saw.
    seasons
        How many seasons those were.
    """

    lines: tuple[tuple[str, float], ...]
    counted: tuple[tuple[str, int, float], ...]
    held: tuple[Held, ...] = ()
    seasons: int = 0


@dataclass(frozen=True, slots=True)
class Begun:
    """What a plan was begun with, by which a later one tells what was told since.

    Attributes
    ----------
    told
        Marks of the standing crops, lots, stock and notes that the garden told then.
    stock
        (kind, units) of planting stock in hand [units].
    past
        (bed, crop, year) of what had left its bed by the plans before, beside what the garden says.
    unused
        (mark, kg) of each lot the garden told that the plan has no use for: it still lies there,
        so much of it sound when the plan was made [kg].
    """

    told: tuple[str, ...] = ()
    stock: tuple[tuple[str, float], ...] = ()
    past: tuple[tuple[str, str, int], ...] = ()
    unused: tuple[tuple[str, float], ...] = ()


@dataclass(frozen=True, slots=True)
class Plan:
    """A whole plan, complete enough to be re-added by anyone."""

    garden: str
    made_on: date
    horizon: Horizon
    beds: tuple[PlanBed, ...]
    plantings: tuple[Planting, ...]
    table: tuple[TableWeek, ...]
    helpings: tuple[Helping, ...]
    lots: tuple[Lot, ...]
    hours: tuple[HoursWeek, ...]
    shortages: tuple[Shortage, ...]
    broken: tuple[BrokenRule, ...]
    solver: SolverReport
    findings: tuple[Finding, ...] = ()
    certainty: Certainty | None = None
    begun: Begun | None = None
