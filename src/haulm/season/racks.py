"""Racks in a week: what hangs on them, what is lifted onto them, and whether they hold it."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import date, timedelta

from haulm.catalogue.figures import Basis
from haulm.measure.weeks import DAYS_A_WEEK, monday_of
from haulm.season.curing import Hung, curings, rack_m2

NOTHING_KG = 0.005
NOTHING_M2 = 0.005


@dataclass(frozen=True, slots=True)
class OnRack:
    """One food on racks, or on its way to them.

    Attributes
    ----------
    food
        What it is.
    kg
        How much, with what will go in drying and trimming [kg]; None where it was not weighed.
    m2
        The rack it takes [m²]; None where that is not known.
    basis
        What the load of a square metre rests on; None where nobody has told it.
    """

    food: str
    kg: float | None
    m2: float | None
    basis: Basis | None


@dataclass(frozen=True, slots=True)
class ToCure:
    """Food that the plan has lifted and put by to cure: its weight when put by [kg], and when."""

    food: str
    kg: float
    lifted: date
    done: date


@dataclass(frozen=True, slots=True)
class RackWeek:
    """The racks of a week.

    Attributes
    ----------
    told_m2
        All racks there are [m²]; None where nobody told.
    hanging
        What hangs by the diary, or will hang still by the plan, food by food.
    coming
        What the plan has lifted onto them in the week.
    """

    told_m2: float | None
    hanging: tuple[OnRack, ...]
    coming: tuple[OnRack, ...]

    @property
    def hanging_m2(self) -> float:
        """What hangs takes, as far as that is known [m²]."""
        return sum(one.m2 or 0.0 for one in self.hanging)

    @property
    def coming_m2(self) -> float:
        """What is lifted takes, as far as that is known [m²]."""
        return sum(one.m2 or 0.0 for one in self.coming)

    @property
    def free_m2(self) -> float | None:
        """What is left of the racks, under 0 what is lacking [m²]; None where nobody told them."""
        if self.told_m2 is None:
            return None
        return self.told_m2 - self.hanging_m2 - self.coming_m2

    @property
    def lacking_m2(self) -> float:
        """What is lacking [m²]; 0 where all finds room or nobody told the racks."""
        lacking = -(self.free_m2 or 0.0)
        return lacking if lacking > NOTHING_M2 else 0.0

    @property
    def untold(self) -> tuple[OnRack, ...]:
        """What takes an unknown part of them: not weighed, or of no known load."""
        return tuple(one for one in (*self.hanging, *self.coming) if one.m2 is None)


def racks_in(
    week: tuple[date, date],
    today: date,
    told_m2: float | None,
    hung: Iterable[Hung],
    to_cure: Iterable[ToCure],
) -> RackWeek | None:
    """Say what a week's racks hold and are to hold; None where nothing cures in it.

    A batch hangs until it was taken down; in weeks to come, until it is usually done. What the plan
    has lifted in the week of today is less by what the diary says was hung of it in that week; what
    it has lifted between then and a week to come hangs there until it is usually done. Weights of
    the plan are those put by: what goes in drying and trimming is divided out, kg / (1 - lost).

    Parameters
    ----------
    week
        Its Monday and its Sunday.
    today
        The day that counts as today.
    told_m2
        All racks there are [m²]; None where nobody told.
    hung
        What the diary says was hung.
    to_cure
        What the plan has lifted to cure.
    """
    monday, sunday = week
    batches = tuple(hung)
    there = [one for one in batches if _hangs(one, week, today)]
    hanging = [OnRack(one.food, one.kg, rack_m2(one), _basis(one.food)) for one in there]
    coming = []
    for lot in _still_to_lift(to_cure, batches, monday_of(today)):
        if monday <= lot.lifted <= sunday:
            coming.append(_as_lifted(lot))
        elif lot.lifted < monday < lot.done:
            hanging.append(_as_lifted(lot))
    found = RackWeek(told_m2, _summed(hanging), _summed(coming))
    return found if found.hanging or found.coming else None


def _hangs(one: Hung, week: tuple[date, date], today: date) -> bool:
    monday, sunday = week
    if one.begun > sunday:
        return False
    if one.ended is not None:
        return sunday < today and one.ended >= monday
    return monday <= today or one.done_on is None or one.done_on[1] > monday


def _basis(food: str) -> Basis | None:
    curing = curings().get(food)
    return curing.load_kg_m2.basis if curing else None


def _as_lifted(lot: ToCure) -> OnRack:
    """Give food as it is lifted: before what goes in drying and trimming has gone."""
    curing = curings().get(lot.food)
    if curing is None:
        return OnRack(lot.food, lot.kg, None, None)
    kg = lot.kg / (1.0 - curing.lost.value)
    return OnRack(lot.food, kg, kg / curing.load_kg_m2.value, curing.load_kg_m2.basis)


def _still_to_lift(
    to_cure: Iterable[ToCure], hung: Iterable[Hung], monday: date
) -> Iterator[ToCure]:
    """Give what the plan has lifted from a Monday on, less what was hung of it since."""
    since = [one for one in hung if one.begun >= monday]
    unweighed = {one.food for one in since if one.kg is None}
    hung_kg = {one.food: 0.0 for one in since}
    for one in since:
        curing = curings().get(one.food)
        hung_kg[one.food] += (one.kg or 0.0) * (1.0 - (curing.lost.value if curing else 0.0))
    for lot in sorted(to_cure, key=lambda lot: lot.lifted):
        if lot.lifted < monday:
            continue
        this_week = lot.lifted < monday + timedelta(days=DAYS_A_WEEK)
        gone = min(lot.kg, hung_kg.get(lot.food, 0.0)) if this_week else 0.0
        if this_week and lot.food in unweighed:
            gone = lot.kg
        hung_kg[lot.food] = hung_kg.get(lot.food, 0.0) - gone
        if lot.kg - gone > NOTHING_KG:
            yield replace(lot, kg=lot.kg - gone)


def _summed(foods: Iterable[OnRack]) -> tuple[OnRack, ...]:
    """Add up racks by food; what was not weighed stands by itself."""
    weighed: dict[str, OnRack] = {}
    untold: dict[str, OnRack] = {}
    for one in foods:
        if one.kg is None:
            untold[one.food] = one
        elif one.food in weighed:
            had = weighed[one.food]
            m2 = None if had.m2 is None or one.m2 is None else had.m2 + one.m2
            weighed[one.food] = OnRack(one.food, (had.kg or 0.0) + one.kg, m2, one.basis)
        else:
            weighed[one.food] = one
    return (*weighed.values(), *untold.values())
