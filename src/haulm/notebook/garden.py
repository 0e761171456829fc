"""The garden as its notebook holds it: everything a grower has told haulm."""

from dataclasses import dataclass, field
from datetime import date

from haulm.catalogue.own import Own
from haulm.ground.records import Bed
from haulm.household.records import Household
from haulm.larder.records import LotInHand, StorePlace
from haulm.measure.units import Units
from haulm.plan.pins import Pin
from haulm.plan.records import Allotment
from haulm.plan.state import Noted
from haulm.season.watch_records import WatchMeans
from haulm.site.records import Place, Weather
from haulm.water.figures import usual_means
from haulm.water.records import Tank, WateringMeans
from haulm.water.rules import WaterRule


@dataclass(frozen=True, slots=True)
class StandingCrop:
    """What stands in a bed now: kind, method, the day it was started (sown or set), its area.

    What the garden does not tell, and a plan that was kept and the grower's notes do: ``taken``
    (food, kg), what was taken of it; ``hoped``, the share of a full yield it is expected to give
    [1]; ``late_days``, how far it is behind [days]; ``assumed``, that it stands because the plan
    says so; what is in trays then goes into its bed on a day still to come.
    """

    bed: str
    kind: str
    method: str
    sown_on: date
    area_m2: float
    taken: tuple[tuple[str, float], ...] = ()
    hoped: float = 1.0
    late_days: int = 0
    assumed: bool = False


@dataclass(frozen=True, slots=True)
class SeedTrial:
    """Seeds laid on damp paper: how many sprouted, of how many, and when."""

    sprouted: int
    of: int
    on: date


@dataclass(frozen=True, slots=True)
class PlantingStock:
    """Seed, sets, cloves or tubers in hand [units], of which year, and how seed was tried.

    A test leaves them what they are: they are told from others by kind, units and year.
    """

    kind: str
    units: float
    year: int
    tried: SeedTrial | None = field(default=None, repr=False)


@dataclass(frozen=True, slots=True)
class Price:
    """A price the grower knows: of a kilogram of a food, or a unit of a kind's stock."""

    what: str
    each: float
    currency: str


@dataclass(frozen=True, slots=True)
class Garden:
    """One garden, complete and checked.

    ``units`` is metric or us, for display; ``tray_cells`` the tray space there is (None: not
    limited); ``kinds_wanted`` narrows the kinds grown (empty: any in the catalogue that the table
    can use); ``least_patch_m2`` the smallest patch worth having [m²]; ``pins`` what is settled by
    hand; ``noted`` what was seen to go otherwise than planned; ``today`` the day that counts as
    today in an invented garden (None: the true day); ``allotments`` say how far each family may
    spread in each bed, in the years that were laid out; ``tanks`` catch the roofs' rain; ``own``
    the kinds and figures that the household puts beside the catalogue's or in their place;
    ``watering`` with what it is watered, ``water_rules`` what an authority allows of it;
    ``watch`` what the look-out goes by.
    """

    name: str
    invented: bool
    units: Units
    place: Place
    weather: Weather
    household: Household
    beds: tuple[Bed, ...]
    stores: tuple[StorePlace, ...]
    lots: tuple[LotInHand, ...]
    standing: tuple[StandingCrop, ...]
    stock: tuple[PlantingStock, ...]
    prices: tuple[Price, ...]
    kinds_wanted: tuple[str, ...]
    tray_cells: int | None
    least_patch_m2: float
    pins: tuple[Pin, ...] = ()
    noted: tuple[Noted, ...] = ()
    today: date | None = None
    tanks: tuple[Tank, ...] = ()
    allotments: tuple[Allotment, ...] = ()
    own: Own = field(default_factory=Own)
    watering: WateringMeans = field(default_factory=usual_means)
    water_rules: tuple[WaterRule, ...] = ()
    watch: WatchMeans = field(default_factory=WatchMeans)
