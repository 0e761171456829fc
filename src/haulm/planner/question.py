"""The planner's question: everything a plan depends on, and nothing else."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import date

from haulm.ground.records import Closure
from haulm.growing.records import Sowing
from haulm.household.records import Appetite
from haulm.larder.records import KeepRule, LotInHand, StorePlace
from haulm.measure.errors import HaulmError
from haulm.measure.units import Units
from haulm.measure.weeks import Horizon
from haulm.plan.pins import Pin
from haulm.plan.records import Allotment


@dataclass(frozen=True, slots=True)
class BedGround:
    """A bed as the planner needs it, with the last year each family was lifted from it.

    ``row_m`` is how long a row across it is, a wide bed taken in parts that can be reached [m]; 0
    where it is not known.
    """

    id: str
    name: str
    area_m2: float
    under_cover: bool
    last_year_of_family: tuple[tuple[str, int], ...] = ()
    row_m: float = 0.0


@dataclass(frozen=True, slots=True)
class LastingStand:
    """What a stand that stays for years is re-added from.

    Attributes
    ----------
    planted_on
        The day it was planted.
    southern
        Whether its years begin on 1 July, as south of the equator, or on 1 January.
    year_shares
        (year of the stand, share of the full yield) in order; nothing before the first [1].
    full_kg_m2
        (food, full yield) of each food [kg/m²].
    """

    planted_on: date
    southern: bool
    year_shares: tuple[tuple[int, float], ...]
    full_kg_m2: tuple[tuple[str, float], ...]


@dataclass(frozen=True, slots=True)
class Standing:
    """A planting that holds ground already: its sowing, bed and area; it cannot be moved.

    ``lasting`` is set for what stays for years: it holds its ground in every week. What the sowing
    gives is what is still to come; ``taken`` (food, kg) was taken before, ``hoped`` is the share of
    a full yield it is expected to give in all [1], and ``late_days`` how far it is behind [days].
    """

    sowing: Sowing
    bed: str
    area_m2: float
    lasting: LastingStand | None = None
    taken: tuple[tuple[str, float], ...] = ()
    hoped: float = 1.0
    late_days: int = 0


@dataclass(frozen=True, slots=True)
class SeedBack:
    """Planting stock of a kind that may be kept back from the household's own harvest.

    Attributes
    ----------
    kind, food
        What is kept back.
    units_per_kg
        Units of stock that a kilogram of lifted, sound food gives [1/kg].
    in_hand_units
        Stock already in hand [units].
    buy_price_unit
        Price of one bought unit against a kilogram of unmet appetite of middle priority.
    """

    kind: str
    food: str
    units_per_kg: float
    in_hand_units: float
    buy_price_unit: float


@dataclass(frozen=True, slots=True)
class Before:
    """A patch of the plan before this one, which a change has to be worth: sowing, bed and area."""

    sowing: str
    bed: str
    area_m2: float


@dataclass(frozen=True, slots=True)
class Prices:
    """What things cost against one kilogram of unmet appetite at priority 3, in the first slice."""

    priority_weight: tuple[float, ...] = (0.4, 0.65, 1.0, 1.6, 2.5)
    shortage_slices: tuple[tuple[float, float], ...] = ((0.34, 1.0), (0.33, 1.4), (0.33, 2.0))
    rotation_m2: float = 0.6
    rest_m2: float = 50.0
    allotment_m2: float = 0.6
    glut_kg: float = 0.01
    hour: float = 0.01
    overtime_hour: float = 0.5
    sowing: float = 0.15
    area_m2: float = 0.02
    spread_m2: float = 0.3
    over_tray_cell: float = 0.02
    over_store_l: float = 0.05
    change: float = 0.1
    pin_m2: float = 1000.0


@dataclass(frozen=True, slots=True)
class Effort:
    """How hard to look: a named count of rounds, so that the same effort gives the same plan.

    ``rounds`` of improvement after the first plan. It stops early once both gaps are reached:
    ``target_gap``, and ``target_net_gap``, which leaves out what no plan could meet.
    """

    name: str = "usual"
    rounds: int = 8
    target_gap: float = 0.01
    target_net_gap: float = 0.02


@dataclass(frozen=True, slots=True)
class PlanQuestion:
    """Everything a plan depends on.

    Attributes
    ----------
    garden, made_on, horizon
        Whose plan, made when, over which weeks.
    beds, closures, standing
        The ground, what is closed on it, and what stands on it.
    too_dark
        (bed, kind) for each kind whose bed gets less sun than the kind needs.
    rotation_gap_years
        Years to leave between stands of a family on a bed, by family id.
    sowings
        Every sowing to choose from.
    appetites, fed_lines
        What is wanted.
    keep_rules, stores, lots
        How food keeps, where, and what lies in store.
    seed_back
        Planting stock that may be kept back.
    hours_week
        Hours given in each week of the horizon [h].
    tray_cells
        Tray cells there is room for at one time; None where not limited.
    names
        Display names by id, for beds, kinds, foods, families and lines.
    units
        Metric or us: how quantities are written in the plan's sentences.
    least_patch_m2
        The smallest patch worth having [m²].
    most_in_one_bed
        No single bed holds more than this share of a crop planted in more than two patches [1].
    prices, seed
        What things cost against each other, and the seed of every random choice.
    pins
        What the grower settled by hand; the plan is made around it.
    before
        The patches of the plan before this one; leaving one, or making a new one, has its price.
    lasting_foods
        Foods that only plants which stay for years give, in order: a plan plants none of them.
    allotments
        Ground of beds that a rotation gave to families, by year; a bed waits for a family before
        the year in which it has ground there.
    most_of_family
        By family: the share of all ground of one cover that what is cleared of it in a year may
        have taken [1], infinite where it need not rest; asked of ground that is not parted into
        beds, and empty where beds remember their families instead. No plan that is kept is asked
        for with it, so that it is no part of the mark by which a kept plan knows its question.
    """

    garden: str
    made_on: date
    horizon: Horizon
    beds: tuple[BedGround, ...]
    sowings: tuple[Sowing, ...]
    appetites: tuple[Appetite, ...]
    keep_rules: tuple[KeepRule, ...]
    stores: tuple[StorePlace, ...]
    hours_week: tuple[float, ...]
    rotation_gap_years: Mapping[str, int]
    names: Mapping[str, str]
    closures: tuple[Closure, ...] = ()
    too_dark: frozenset[tuple[str, str]] = frozenset()
    standing: tuple[Standing, ...] = ()
    lots: tuple[LotInHand, ...] = ()
    seed_back: tuple[SeedBack, ...] = ()
    tray_cells: int | None = None
    least_patch_m2: float = 0.5
    most_in_one_bed: float = 0.8
    prices: Prices = field(default_factory=Prices)
    seed: int = 1
    units: Units = "metric"
    pins: tuple[Pin, ...] = ()
    before: tuple[Before, ...] = ()
    lasting_foods: tuple[str, ...] = ()
    allotments: tuple[Allotment, ...] = ()
    most_of_family: Mapping[str, float] = field(default_factory=dict, repr=False)


@dataclass(frozen=True, slots=True)
class Progress:
    """How far planning has come: the step, the best plan and bound so far, the share done."""

    step: str
    objective: float | None
    bound: float | None
    done: float


class StopPlanningError(HaulmError):
    """Raised by a watcher who wants no more looking: the best plan so far is kept."""


Watcher = Callable[[Progress], None]
