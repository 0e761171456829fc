"""The catalogue's records: every figure carries its unit, its source and how sure it is."""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from haulm.catalogue.caution_records import Caution
from haulm.catalogue.figures import Absent, Basis, Figure, Hardy, Source
from haulm.catalogue.lasting import GreenManure, Perennial

__all__ = [
    "Absent",
    "Basis",
    "Catalogue",
    "Caution",
    "Crop",
    "Disease",
    "Family",
    "Figure",
    "Food",
    "Form",
    "Giving",
    "Hardy",
    "Keeping",
    "Kind",
    "Labour",
    "Method",
    "Phase",
    "PhaseRule",
    "Picking",
    "Role",
    "Source",
    "SowingSeason",
    "Stand",
    "StoreKind",
    "Warmth",
    "Water",
]


class PhaseRule(StrEnum):
    """What ends a phase of growth."""

    DAYS = "days"
    DEGREE_DAYS = "degree days"
    DAY_LENGTH = "day length"
    CHILL_DAYS = "chill days"


@dataclass(frozen=True, slots=True)
class Phase:
    """A stretch of growth, and what ends it.

    ``amount`` is counted from the end of the phase before: days [d], degree-days above the
    kind's base [°C d], or chill days with a mean of 0 to 10 °C [d]. A *day length* phase ends on
    the first day at least that long [h] (days lengthening).
    """

    id: str
    rule: PhaseRule
    amount: Figure


class Picking(StrEnum):
    """How a food is taken from a planting."""

    ONCE = "once"
    SPREAD = "spread"
    STAND = "stand"


class Role(StrEnum):
    """How taking one food bears on the kind's main food."""

    MAIN = "main"
    BY_PRODUCT = "by-product"
    INSTEAD = "instead"


class Form(StrEnum):
    """How a food is kept."""

    FRESH = "fresh"
    CURED = "cured"
    CELLARED = "cellared"
    CLAMPED = "clamped"
    FROZEN = "frozen"
    DRIED = "dried"
    BOTTLED = "bottled"
    FERMENTED = "fermented"


class StoreKind(StrEnum):
    """The kinds of place a household stores food in."""

    CELLAR = "cellar"
    SHED = "shed"
    FREEZER = "freezer"
    SHELF = "shelf"


@dataclass(frozen=True, slots=True)
class Keeping:
    """One form in which a kind's food keeps.

    Attributes
    ----------
    form
        Cured, cellared, frozen and so on.
    stores
        The kinds of place it may lie in, best first.
    cure_weeks
        Weeks between lifting and the day it may be eaten or stored [weeks]; 0 where none.
    sound_90_weeks, sound_50_weeks
        Ages at which 90 % and 50 % are still sound [weeks]: the two figures of the keeping curve.
    space_l_kg
        Room it takes [litres/kg].
    work_min_kg
        Kitchen work to put it by [minutes/kg]; may be absent.
    conditions
        Temperature and humidity to aim for, in words.
    """

    form: Form
    stores: tuple[StoreKind, ...]
    cure_weeks: Figure
    sound_90_weeks: Figure
    sound_50_weeks: Figure
    space_l_kg: Figure
    work_min_kg: Figure | Absent
    conditions: str


@dataclass(frozen=True, slots=True)
class Giving:
    """A food that a planting of a kind gives.

    Attributes
    ----------
    food
        The id of a Food.
    role
        *main*: what the kind is grown for. *by-product*: taken beside it at no cost to it.
        *instead*: taken early from ground that then gives no main food.
    after
        The id of the phase at whose end it is ready.
    picking
        *once*: all lifted in the week it is ready. *spread*: picked evenly over ``span_weeks``.
        *stand*: waits in the ground, to be taken in any of ``span_weeks``.
    span_weeks
        Weeks over which it can be taken [weeks].
    yield_kg_m2
        What a square metre gives over the whole span at the kind's spacing [kg/m²], as lifted.
    keeping
        The forms it keeps in; empty if it is only eaten fresh.
    """

    food: str
    role: Role
    after: str
    picking: Picking
    span_weeks: Figure
    yield_kg_m2: Figure
    keeping: tuple[Keeping, ...] = ()


@dataclass(frozen=True, slots=True)
class Method:
    """A way of starting a kind.

    Attributes
    ----------
    id
        ``direct``, ``modules``, ``sets``, ``cloves`` or ``tubers``; for what stays for years also
        ``crowns``, ``plants``, ``runners``, ``canes`` or ``bushes``.
    unit
        What is sown or set, in the singular: seed, set, clove, tuber.
    units_per_station
        Units sown to leave one plant standing at a station, before losses.
    germination
        Share of units that come up (seed) or grow away (sets, cloves, tubers, plants) [1].
    survival
        Share of plants come up that live to be lifted [1].
    module_weeks
        Weeks raised in modules under cover before setting out [weeks]; None when started in place.
    units_per_kg
        Units in one kilogram of planting stock; for seed, seeds per gram times 1000 [1/kg]; may
        be absent.
    parts_per_unit
        Units that one lifted piece gives when kept back (cloves in a bulb) [1]; None if it is not.
    seed_life_years
        Years that seed, kept cool and dry, still comes up well [years]; may be absent; None for
        planting stock that is no seed.
    """

    id: str
    unit: str
    units_per_station: Figure
    germination: Figure
    survival: Figure
    module_weeks: Figure | None
    units_per_kg: Figure | Absent
    parts_per_unit: Figure | None = None
    seed_life_years: Figure | Absent | None = None


@dataclass(frozen=True, slots=True)
class Stand:
    """How a kind stands in the bed: spacings [m], depth [m], compost laid before it [m]."""

    spacing_in_row_m: Figure
    spacing_between_rows_m: Figure
    spacing_offset_m: Figure
    depth_m: Figure
    compost_m: Figure


@dataclass(frozen=True, slots=True)
class Warmth:
    """What temperatures a kind needs and bears [°C].

    ``base_c`` and ``upper_c`` bound its degree-days; ``germination_min_c`` and
    ``germination_best_c`` are soil temperatures at sowing depth; ``killing_frost_c`` is the air
    minimum that ends a stand, or says that no frost on record does.
    """

    base_c: Figure
    upper_c: Figure
    germination_min_c: Figure
    germination_best_c: Figure
    killing_frost_c: Figure | Hardy


@dataclass(frozen=True, slots=True)
class SowingSeason:
    """Which sowings of a kind a grower would consider, beside frost and warmth.

    ``earliest_day_length_h`` and ``latest_day_length_h`` bound the day length at sowing or
    setting [h]; ``lengthening`` says whether days must be lengthening (True), shortening (False)
    or either (None). Past ``bolt_day_length_h`` [h], on lengthening days after a winter in the
    ground, the kind runs to seed and every harvest ends. ``soil_at_most_c`` keeps an autumn-set
    kind out of soil that is still warm [°C].
    """

    earliest_day_length_h: Figure | None = None
    latest_day_length_h: Figure | None = None
    lengthening: bool | None = None
    bolt_day_length_h: Figure | None = None
    soil_at_most_c: Figure | None = None


@dataclass(frozen=True, slots=True)
class Labour:
    """Minutes of work: making the stand, tending it, lifting or picking it; each may be absent."""

    start_min_m2: Figure | Absent
    tend_min_m2_week: Figure | Absent
    pick_min_kg: Figure | Absent


@dataclass(frozen=True, slots=True)
class Water:
    """How deep it roots and how tall it stands [m], and FAO-56's p, Kc, Kcb, stages and Ky [1].

    Stages are shares of the season; None where nobody has said. The first five may be absent.
    """

    rooting_m: Figure | Absent
    depletion_fraction: Figure | Absent
    kc_initial: Figure | Absent
    kc_middle: Figure | Absent
    kc_end: Figure | Absent
    kcb_initial: Figure | None = None
    kcb_middle: Figure | None = None
    kcb_end: Figure | None = None
    height_m: Figure | None = None
    stage_initial: Figure | None = None
    stage_growth: Figure | None = None
    stage_middle: Figure | None = None
    stage_late: Figure | None = None
    yield_response: Figure | None = None


@dataclass(frozen=True, slots=True)
class Kind:
    """A group within a crop that a grower chooses for its timing or keeping.

    ``id`` is ``crop/kind``, as in ``garlic/hard-necked``; ``likes_cover`` says that it may also be
    grown under a tunnel or glass, where frost and cold come later; ``feed`` is light, middle or
    heavy; ``least_sun`` the least a bed must get for it: full, part or shade. ``perennial`` says
    how it stays for years (None: it is cleared and sown anew), ``green_manure`` what it does for
    its ground (None: it is grown for food); ``soil`` what soil it asks beyond a garden's usual;
    ``later_days`` by how many days everything it gives is ready later than its phases say, in one
    garden (earlier: under 0) [d]; None but where a household's own records say so.
    """

    id: str
    crop: str
    name: str
    stand: Stand
    methods: tuple[Method, ...]
    warmth: Warmth
    season: SowingSeason
    phases: tuple[Phase, ...]
    labour: Labour
    water: Water
    feed: str
    givings: tuple[Giving, ...] = ()
    likes_cover: bool = False
    least_sun: str = "full"
    perennial: Perennial | None = None
    green_manure: GreenManure | None = None
    soil: str = ""
    later_days: Figure | None = None


@dataclass(frozen=True, slots=True)
class Crop:
    """A species as grown: its family, botanical name and the cautions it carries."""

    id: str
    name: str
    latin: str
    family: str
    cautions: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Food:
    """What is eaten, at one stage or part of a crop.

    ``kitchen_share`` is the share of what is lifted that reaches the plate [1]; ``portion_kg`` a
    usual portion as bought or lifted [kg]; ``piece``/``piece_kg`` the household's own measure
    (bulb, head, jar) and its weight [kg], which may be absent.
    """

    id: str
    name: str
    crop: str
    kitchen_share: Figure
    portion_kg: Figure
    piece: str
    piece_kg: Figure | Absent
    cautions: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Family:
    """A botanical family, its two-letter mark, and the years to leave between its stands."""

    id: str
    name: str
    latin: str
    mark: str
    rotation_gap_years: Figure


@dataclass(frozen=True, slots=True)
class Disease:
    """A soil-borne disease and how long it closes ground.

    ``closes`` are families, ``closes_crops`` crops that it is kept from besides, where the rest of
    their family is not at risk. ``common_years`` is the usual garden advice, ``published_years``
    the survival read in published work; haulm uses the longer and shows both. What does not live
    in soil at all has none of either.
    """

    id: str
    name: str
    closes: tuple[str, ...]
    common_years: Figure
    published_years: Figure
    advice: str
    closes_crops: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Catalogue:
    """Everything the catalogue holds, each table keyed by id."""

    crops: Mapping[str, Crop]
    kinds: Mapping[str, Kind]
    foods: Mapping[str, Food]
    families: Mapping[str, Family]
    diseases: Mapping[str, Disease]
    cautions: Mapping[str, Caution]
    sources: Mapping[str, Source]
