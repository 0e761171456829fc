"""Growing's records: when a kind may be started at a site, and what one start gives and holds."""

from dataclasses import dataclass
from datetime import date

from haulm.catalogue.records import Picking, Role


@dataclass(frozen=True, slots=True)
class Window:
    """A run of weeks in which a kind may be started by one method under one cover.

    Attributes
    ----------
    kind, method, under_cover
        What is started, how, and whether under a tunnel or glass.
    first_day, last_day
        The Mondays of the first and last week in which it may be started (the day it is sown or
        set; for modules the day it is sown in the tray).
    first_rule, last_rule
        The rule that set each end, in the grower's words with its figures.
    """

    kind: str
    method: str
    under_cover: bool
    first_day: date
    last_day: date
    first_rule: str
    last_rule: str


@dataclass(frozen=True, slots=True)
class ReadyDates:
    """The spread of the day a food is ready, over all runs of weather: 1, 5 and 9 years in 10.

    ``later_days`` of it come from the household's own records of the kind (earlier: under 0) [d].
    """

    early: date
    middle: date
    late: date
    later_days: int = 0


@dataclass(frozen=True, slots=True)
class SowingFood:
    """What one sowing gives of one food, per square metre of patch.

    Attributes
    ----------
    food, role, picking
        As in the catalogue.
    ready
        When it is ready.
    first_week
        The week of the horizon from which it is counted on (ready by then 8 years in 10); may lie
        before 0 for what already stands.
    week_shares
        (week, share) for each week in which it can be taken. For *spread* and *once* the shares
        add to 1 (less what falls outside the horizon); for *stand* each share is 1: any week
        will do.
    yield_kg_m2
        Mean of what is lifted from a square metre, field losses included [kg/m²].
    yield_low_kg_m2, yield_high_kg_m2
        Eight years in ten lie between these [kg/m²].
    pick_min_kg
        Work to lift or pick it [minutes/kg].
    """

    food: str
    role: Role
    picking: Picking
    ready: ReadyDates
    first_week: int
    week_shares: tuple[tuple[int, float], ...]
    yield_kg_m2: float
    yield_low_kg_m2: float
    yield_high_kg_m2: float
    pick_min_kg: float


@dataclass(frozen=True, slots=True)
class PickingYear:
    """What a perennial stand gives of one food in one year.

    Attributes
    ----------
    food
        The food.
    year
        The year, named by the midwinter it begins with.
    age
        Which growing season of the stand it is; the first is 1.
    first_week, until_week
        The weeks of the horizon in which it is picked, until not counted; may lie outside it.
    share
        Share of the full yield that is picked in them [1].
    ready
        When it is ready.
    """

    food: str
    year: int
    age: int
    first_week: int
    until_week: int
    share: float
    ready: ReadyDates


@dataclass(frozen=True, slots=True)
class Sowing:
    """One kind started in one week by one method under one cover, not yet given to a bed.

    Attributes
    ----------
    id
        ``kind:method:ISO week`` with ``:cover`` behind it when under cover.
    kind, crop, family, method, under_cover
        What it is.
    sow_on, set_on
        The Monday it is sown, set or planted; for modules, sown in the tray and then set out.
        The same day when started in place.
    ground_from_week, ground_until_week
        The weeks of the horizon in which it holds ground: from (counted) to until (not counted),
        the end being late enough for 8 years in 10.
    plants_m2
        Stations in a square metre at the kind's offset spacing [1/m²].
    stock_m2
        Units of planting stock to start for each square metre, losses divided out [1/m²].
    stock_unit, stock_units_per_kg
        What that stock is, and how many make a kilogram [1/kg]; None where nobody knows.
    tray_weeks
        Weeks of the horizon in trays, from (counted) to until (not counted); equal when none.
    cells_m2
        Tray cells for each square metre [1/m²].
    work_min_m2
        (week, minutes) for each square metre, lifting and picking not counted [minutes/m²].
    foods
        What it gives.
    window
        The window it lies in.
    picking_years
        For a perennial that stands, what it gives year by year; else empty.
    """

    id: str
    kind: str
    crop: str
    family: str
    method: str
    under_cover: bool
    sow_on: date
    set_on: date
    ground_from_week: int
    ground_until_week: int
    plants_m2: float
    stock_m2: float
    stock_unit: str
    stock_units_per_kg: float | None
    tray_weeks: tuple[int, int]
    cells_m2: float
    work_min_m2: tuple[tuple[int, float], ...]
    foods: tuple[SowingFood, ...]
    window: Window
    picking_years: tuple[PickingYear, ...] = ()
