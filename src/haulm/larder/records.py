"""The larder's records: stores, lots in hand, keeping curves, the sum from meal to plants."""

from dataclasses import dataclass, field
from datetime import date

from haulm.catalogue.records import Form, StoreKind


@dataclass(frozen=True, slots=True)
class StorePlace:
    """A place to keep food in.

    ``capacity_l`` is its room [litres], None where it was not limited; ``racks_m2`` what there is
    to cure on [m²], None where nobody told. No plan asks for the racks: they leave it what it is.
    """

    id: str
    name: str
    kind: StoreKind
    capacity_l: float | None
    racks_m2: float | None = field(default=None, repr=False)


@dataclass(frozen=True, slots=True)
class LotInHand:
    """Food that lies in store already: what was weighed or counted, and when it was put by."""

    food: str
    kind: str | None
    form: Form
    place: str
    kg: float
    put_by: date


@dataclass(frozen=True, slots=True)
class KeepingCurve:
    """The sound share of a lot by its age: exp(−(age / scale)^shape), age and scale in weeks.

    A two-parameter Weibull survival curve, fitted through two figures.
    """

    scale_weeks: float
    shape: float


@dataclass(frozen=True, slots=True)
class KeepRule:
    """How one kind's food may be put by in one place, as the plan needs it.

    Attributes
    ----------
    food, kind, form, place
        What, in which form, in which store.
    wait_weeks
        Whole weeks between lifting and the first week it may be eaten [weeks].
    sound
        The sound share at each whole week of age, 1 at age 0; ends where under 0.3 is sound.
    space_l_kg
        Room [litres/kg].
    work_min_kg
        Kitchen work in the week it is put by [minutes/kg].
    """

    food: str
    kind: str
    form: Form
    place: str
    wait_weeks: int
    sound: tuple[float, ...]
    space_l_kg: float
    work_min_kg: float


@dataclass(frozen=True, slots=True)
class SumStep:
    """One line of a sum a grower can check by hand: what is done, the arithmetic, the result."""

    what: str
    arithmetic: str
    value: float
    unit: str


@dataclass(frozen=True, slots=True)
class NeedSum:
    """How one line of the table, served by one kind, comes to plants, ground and planting stock.

    ``steps`` run from the year's kilograms at table to planting stock, every loss as a division by
    what survives it.
    """

    line: str
    food: str
    kind: str
    eaten_kg: float
    lifted_kg: float
    plants: int
    area_m2: float
    stock: float
    stock_unit: str
    steps: tuple[SumStep, ...]
