"""What is told of a garden's water today."""

from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from haulm.desk.beds.bed_water import From
from haulm.ground.records import Watered
from haulm.measure.findings import Finding
from haulm.site.spread import Spread
from haulm.water.rules import Allowed


class Haste(StrEnum):
    """How soon a crop must be watered."""

    NOW = "now"
    SOON = "soon"
    WAITS = "waits"


class Stage(StrEnum):
    """How far a crop's season has gone, in the four stages of FAO-56, table 11."""

    YOUNG = "young"
    GROWING = "growing"
    FULL = "full leaf"
    RIPENING = "ripening"


@dataclass(frozen=True, slots=True)
class PatchToday:
    """How one crop in the ground stands for water today.

    Attributes
    ----------
    bed, planting, name, kind, area_m2, stage
        Which crop, where, on how much ground [m²], how far on.
    lacks_mm, easy_mm
        What its roots' ground lacks this morning, what was given today taken off, and what it may
        lack without stress [mm]. One figure three times where the weather is known.
    fill_l
        What would fill its ground [l].
    days
        Days until its easy water is spent if none is given: 1, 5 and 9 years in 10 sooner [d].
    lost, lost_kg, lost_weeks
        Share of its yield, kilograms of what is still to be picked, and weeks at table of the lines
        it feeds, lost if none is given for a fortnight.
    response_known
        Whether the yield response is the catalogue's; taken as 1 where it is not.
    haste
        Whether it must be watered now.
    safe_until
        The first day on which it is thirsty in 1 year of 10; None where that is not within a
        fortnight. Until then it can safely wait.
    cans
        What it should get today [cans]; 0 where it can wait.
    shared_cans
        What it gets of the cans there are today; None where there are enough for all.
    """

    bed: str
    planting: str
    name: str
    kind: str
    area_m2: float
    stage: Stage
    lacks_mm: Spread
    easy_mm: float
    fill_l: float
    days: Spread
    lost: Spread
    lost_kg: float
    lost_weeks: float
    response_known: bool
    haste: Haste
    safe_until: date | None
    cans: int
    shared_cans: int | None = None


@dataclass(frozen=True, slots=True)
class BedToday:
    """What one bed wants today.

    Attributes
    ----------
    id, name, area_m2, way
        Which bed [m²], and how it is watered.
    allowed, next_allowed
        What the rules say of its way of watering today, and the next day that they allow it.
    patches
        What stands on it, in order of need.
    give_l, cans
        What it should get today [l, cans].
    week_l
        What it is likely to want until Sunday, today included [l].
    """

    id: str
    name: str
    area_m2: float
    way: Watered
    allowed: Allowed
    next_allowed: date | None
    patches: tuple[PatchToday, ...]
    give_l: float
    cans: int
    week_l: Spread


@dataclass(frozen=True, slots=True)
class WaterDay:
    """One past day as it was reckoned: rain [mm], what the air took [mm], what was given [l].

    Figures are the middle of the runs where the weather was drawn.
    """

    day: date
    rain_mm: float
    rain_from: From
    use_mm: float
    use_from: From
    given_l: float


@dataclass(frozen=True, slots=True)
class DayTold:
    """A day ahead of which rain was told: the middle amount [mm] and the odds of any [1]."""

    day: date
    rain_mm: float
    odds: float


@dataclass(frozen=True, slots=True)
class TankToday:
    """A rain tank today: what lies in it [l], when it was read (None: taken as full)."""

    name: str
    holds_l: float
    lies_l: Spread
    read_on: date | None
    drawn_l: float


@dataclass(frozen=True, slots=True)
class Saved:
    """What to keep tank water for: a crop, and its cans in the coming fortnight."""

    bed: str
    name: str
    cans: int
    wanted_cans: int


@dataclass(frozen=True, slots=True)
class TanksToday:
    """All rain tanks today.

    Attributes
    ----------
    tanks
        Each of them.
    days
        Days until they cannot give what all beds want, by run; ``most`` where they last longer [d].
    most
        So far ahead was looked [d].
    save
        What to keep them for over the fortnight, where they may not do for all; else empty.
    """

    tanks: tuple[TankToday, ...]
    days: Spread
    most: int
    save: tuple[Saved, ...]


@dataclass(frozen=True, slots=True)
class DrySpell:
    """Days without good rain, for those who keep no gauge and no record.

    Attributes
    ----------
    last_rain
        The last day it is known to have rained well; None where nobody told.
    days
        Days since; None where that is not known.
    by
        Who says so.
    kept
        Whether a gauge is being kept, so that nobody need be asked when it rained.
    over
        For each length that is over: after how many days, and the beds on such soil.
    """

    last_rain: date | None
    days: int | None
    by: From | None
    kept: bool
    over: tuple[tuple[int, tuple[str, ...]], ...]


@dataclass(frozen=True, slots=True)
class WaterToday:
    """A garden's water as it truly is on a day.

    Attributes
    ----------
    day
        The day.
    beds
        Every bed with something in the ground, what must be watered first at the top.
    order
        All crops in the ground in order of need.
    quiet_until
        The first day from tomorrow on which something that is not watered today is thirsty in 1
        year of 10; None where that is not within a fortnight.
    cans_wanted, cans_there
        What should be given today, and what can be carried or lies in the tank; None for no limit.
    can_l, flow_l_min
        What a can holds [l], and the hose's flow [l/min], None where nobody told.
    gauge_read_on
        When the gauge was read last; None where none is kept.
    given_since
        From which day on only what the diary tells was given; before it the beds are taken as
        watered when due. None where the diary tells nothing of water.
    known_until
        The first past day whose weather is not known.
    past
        The last days as reckoned, newest first.
    ahead
        Days ahead of which rain was told.
    tanks, dry
        The tanks, None where there are none; and the plain rule's dry spell.
    not_counted
        Waterings that could not be counted, each said.
    estimated
        What was not measured of the air's thirst, in words.
    drawn_from
        Where drawn weather comes from, in words.
    """

    day: date
    beds: tuple[BedToday, ...]
    order: tuple[PatchToday, ...]
    quiet_until: date | None
    cans_wanted: int
    cans_there: int | None
    can_l: float
    flow_l_min: float | None
    gauge_read_on: date | None
    given_since: date | None
    known_until: date
    past: tuple[WaterDay, ...]
    ahead: tuple[DayTold, ...]
    tanks: TanksToday | None
    dry: DrySpell
    not_counted: tuple[Finding, ...]
    estimated: tuple[str, ...]
    drawn_from: str
