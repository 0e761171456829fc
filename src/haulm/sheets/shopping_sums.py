"""What to buy: planting stock with losses divided out and what is in hand taken off; compost."""

import math
from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from haulm.catalogue.known import known
from haulm.catalogue.records import Catalogue, Food, Method
from haulm.larder.need import seed_units_per_kg
from haulm.measure.weeks import monday_of
from haulm.plan.records import Plan, Planting
from haulm.sheets.bundle import SheetBundle

LITRES_A_M3 = 1000.0


@dataclass(frozen=True, slots=True)
class StockLine:
    """Planting stock of one kind for one year's sowings [units], by whatever methods it is started.

    ``needed`` is what the plantings ask with losses divided out; ``in_hand`` and ``kept_back``
    what of it is there or kept from the household's own harvest; ``to_buy`` the rest, whole units.
    ``buy_g`` is its weight [g]; None where nobody knows how many make a kilogram, or the catalogue
    does not list the method. ``first_on`` is
    the day it is first needed, ``plants`` what it comes to.
    """

    kind: str
    methods: tuple[str, ...]
    unit: str
    year: int
    first_on: date
    plants: int
    needed: float
    in_hand: float
    kept_back: float
    to_buy: int
    buy_g: float | None
    come_up: float | None


@dataclass(frozen=True, slots=True)
class CompostLine:
    """Compost one bed takes in one year: area [m²], depth at its planting [m], volume [litres]."""

    bed: str
    year: int
    first_on: date
    area_m2: float
    litres: float


def stock_lines(bundle: SheetBundle) -> tuple[StockLine, ...]:
    """Add up the planting stock of a set of sheets, as :func:`stock_to_buy`."""
    return stock_to_buy(bundle.plan, bundle.catalogue, bundle.stock_in_hand)


def stock_to_buy(
    plan: Plan, catalogue: Catalogue, in_hand: Mapping[str, float]
) -> tuple[StockLine, ...]:
    """Add up planting stock by kind, unit and year of sowing, in order of the day it is needed.

    Stock in hand is used for the earliest sowings first; stock that the plan keeps back from the
    household's own harvest for sowings from the week on in which it is kept back.

    Parameters
    ----------
    plan, catalogue
        What is planted, and what its kinds are.
    in_hand
        Planting stock in hand by kind [units].
    """
    groups: dict[tuple[str, str, int], list[Planting]] = defaultdict(list)
    for planting in plan.plantings:
        if not planting.standing:
            groups[planting.kind, planting.stock_unit, planting.sow_on.year].append(planting)
    left = dict(in_hand)
    kept = _kept_back(plan)
    ordered = sorted(groups.items(), key=lambda item: (_first_on(item[1]), item[0]))
    return tuple(_stock_line(catalogue, some, left, kept) for _, some in ordered)


def _first_on(plantings: list[Planting]) -> date:
    return min(planting.sow_on for planting in plantings)


_Kept = dict[str, list[tuple[date, str, float]]]
"""What is kept back of each kind: from when on, of which food, how much [kg]."""


def _kept_back(plan: Plan) -> _Kept:
    kept: _Kept = defaultdict(list)
    for lot in plan.lots:
        if lot.seed_week is not None and lot.seed_kg > 0:
            monday = plan.horizon.monday(lot.seed_week)
            kept[lot.kind].append((monday, lot.food, lot.seed_kg))
    return kept


def _units_kept(kg: float, method: Method | None, food: Food | None) -> float:
    """Count the units in a weight kept back, as the plan counts them: by the pieces lifted."""
    own = seed_units_per_kg(method, food) if method and food else None
    bought = known(method.units_per_kg) if method else None
    return kg * (own or bought or 0.0)


def _stock_line(
    catalogue: Catalogue,
    some: list[Planting],
    left: dict[str, float],
    kept: _Kept,
) -> StockLine:
    chief = some[0]
    methods = catalogue.kinds[chief.kind].methods
    method = next((one for one in methods if one.id == chief.method), None)
    first_on, last_on = _first_on(some), max(planting.sow_on for planting in some)
    needed = sum(planting.stock for planting in some)
    in_hand = min(needed, left.get(chief.kind, 0.0))
    left[chief.kind] = left.get(chief.kind, 0.0) - in_hand
    own = [lot for lot in kept.get(chief.kind, ()) if monday_of(last_on) >= lot[0]]
    kept[chief.kind] = [lot for lot in kept.get(chief.kind, ()) if lot not in own]
    foods = catalogue.foods
    units_kept = sum(_units_kept(kg, method, foods.get(food)) for _, food, kg in own)
    kept_back = min(needed - in_hand, units_kept)
    units_kg = known(method.units_per_kg) if method else None
    # A whole unit less the solver's rounding is still that unit.
    to_buy = math.ceil(needed - in_hand - kept_back - 1e-6)
    return StockLine(
        kind=chief.kind,
        methods=tuple(sorted({planting.method for planting in some})),
        unit=chief.stock_unit,
        year=first_on.year,
        first_on=first_on,
        plants=sum(planting.plants for planting in some),
        needed=needed,
        in_hand=in_hand,
        kept_back=kept_back,
        to_buy=max(0, to_buy),
        buy_g=max(0, to_buy) / units_kg * 1000 if units_kg else None,
        come_up=method.germination.value if method else None,
    )


def compost_lines(bundle: SheetBundle) -> tuple[CompostLine, ...]:
    """Add up compost by bed and year: depth × area for every planting that is still to be made."""
    groups: dict[tuple[str, int], list[Planting]] = defaultdict(list)
    for planting in bundle.plan.plantings:
        if not planting.standing and bundle.kind_of(planting).stand.compost_m.value > 0:
            groups[planting.bed, planting.in_ground_from.year].append(planting)
    lines = [
        CompostLine(
            bed=bed,
            year=year,
            first_on=min(planting.in_ground_from for planting in some),
            area_m2=sum(planting.area_m2 for planting in some),
            litres=sum(
                planting.area_m2 * bundle.kind_of(planting).stand.compost_m.value * LITRES_A_M3
                for planting in some
            ),
        )
        for (bed, year), some in groups.items()
    ]
    order = {bed.id: number for number, bed in enumerate(bundle.beds)}
    return tuple(sorted(lines, key=lambda line: (line.year, order[line.bed])))
