"""Gather everything a plan depends on into the planner's question."""

import pickle
from collections.abc import Hashable
from dataclasses import dataclass
from datetime import date
from hashlib import sha256

from haulm.catalogue.known import known
from haulm.catalogue.records import Catalogue, Kind, Role
from haulm.desk.beds.ground import (
    bed_grounds,
    closed_ground,
    family_of_crop,
    is_covered,
    standing_plantings,
    too_dark,
)
from haulm.desk.beds.weather import planning_weather
from haulm.desk.garden.dating import not_yet, too_long_ago
from haulm.growing.records import Sowing
from haulm.growing.sowings import Planned, SowingChoice, sowings
from haulm.growing.weather import GrowingWeather
from haulm.household.appetite import appetites, hours_by_week
from haulm.larder.keeping import keep_rules
from haulm.larder.need import seed_units_per_kg
from haulm.measure.errors import FaultsFoundError
from haulm.measure.weeks import Horizon, horizon_from
from haulm.notebook.garden import Garden
from haulm.planner.question import Before, PlanQuestion, SeedBack

BOUGHT_STOCK_KG = 2.0
"""Appetite of middle priority that a bought kilogram of planting stock is weighed against [kg]."""


@dataclass(frozen=True, slots=True)
class OnOffer:
    """What this site's weather allows: every sowing of the kinds that can serve the table.

    It rests on the place, its weather, the day, the kinds and the covers there are, on nothing
    else; so it can be kept while the table or the beds' sizes change.
    """

    horizon: Horizon
    weather: GrowingWeather
    kinds: tuple[Kind, ...]
    sowings: tuple[Sowing, ...]


@dataclass(frozen=True, slots=True)
class Asked:
    """The question put to the planner, and the weather and kinds it was made from."""

    question: PlanQuestion
    weather: GrowingWeather
    kinds: tuple[Kind, ...]


def on_offer(
    garden: Garden, catalogue: Catalogue, day: date, seed: int, planned: Planned = frozenset()
) -> OnOffer:
    """Work out what may be sown here over the two seasons from a day, what is planned included."""
    horizon = horizon_from(day)
    weather = planning_weather(garden, horizon, seed)
    kinds = kinds_for(garden, catalogue)
    choice = all_sowings(garden, catalogue, kinds, (weather, horizon), planned)
    return OnOffer(horizon, weather, kinds, choice)


def mark_of_offer(garden: Garden, catalogue: Catalogue, seed: int, planned: Planned) -> Hashable:
    """Give a mark of all that :func:`on_offer` rests on, besides the day."""
    covers = frozenset(bed.cover for bed in garden.beds)
    kinds = tuple(kind.id for kind in kinds_for(garden, catalogue))
    site = sha256(pickle.dumps((garden.place, garden.weather))).hexdigest()
    return site, seed, covers, kinds, garden.own, planned


def ask(
    garden: Garden,
    catalogue: Catalogue,
    day: date,
    seed: int,
    before: tuple[Before, ...] = (),
    offer: OnOffer | None = None,
) -> Asked:
    """Put a garden's whole question, as of a day.

    Parameters
    ----------
    garden, catalogue
        What is told, and what is known.
    day, seed
        The day the plan is made, and the seed of every random draw.
    before
        The patches of the plan that is kept; of those, the ones that could be made again are
        asked about.
    offer
        What may be sown, where it was worked out before for the same day, seed and site.

    Raises
    ------
    FaultsFoundError
        When the garden claims to hold what was started or put by after that day, or what was
        started too long before it.
    """
    lasting = {kind.id for kind in catalogue.kinds.values() if kind.perennial is not None}
    misdated = (*not_yet(garden, day), *too_long_ago(garden, day, lasting))
    if misdated:
        raise FaultsFoundError(misdated)
    offer = offer or on_offer(garden, catalogue, day, seed)
    horizon, weather, kinds = offer.horizon, offer.weather, offer.kinds
    stood = {stand.kind for stand in garden.standing}
    stored = {lot.kind for lot in garden.lots if lot.kind is not None}
    kept = [kind for kind in catalogue.kinds.values() if kind in kinds or kind.id in stood | stored]
    gap_years = {
        family.id: round(family.rotation_gap_years.value) for family in catalogue.families.values()
    }
    there = {sowing.id for sowing in offer.sowings}
    beds = {bed.id for bed in garden.beds}
    question = PlanQuestion(
        garden=garden.name,
        made_on=day,
        horizon=horizon,
        beds=bed_grounds(garden, catalogue),
        sowings=offer.sowings,
        appetites=appetites(garden.household, horizon, portions_kg(catalogue)),
        keep_rules=keep_rules(kept, garden.stores),
        stores=garden.stores,
        hours_week=hours_by_week(garden.household, horizon),
        rotation_gap_years=gap_years,
        names=display_names(garden, catalogue),
        closures=closed_ground(garden, catalogue),
        too_dark=too_dark(garden, kinds),
        standing=standing_plantings(garden, catalogue, weather, horizon),
        lots=garden.lots,
        seed_back=seed_back(garden, catalogue, kinds),
        tray_cells=garden.tray_cells,
        least_patch_m2=garden.least_patch_m2,
        seed=seed,
        units=garden.units,
        pins=garden.pins,
        allotments=garden.allotments,
        before=tuple(one for one in before if one.sowing in there and one.bed in beds),
        lasting_foods=lasting_foods(catalogue),
    )
    return Asked(question, weather, kinds)


def portions_kg(catalogue: Catalogue) -> dict[str, float]:
    """Give a usual portion of every food, as lifted or bought [kg]."""
    return {food.id: food.portion_kg.value for food in catalogue.foods.values()}


def kinds_for(garden: Garden, catalogue: Catalogue) -> tuple[Kind, ...]:
    """Choose the kinds that can serve the table, narrowed to those the grower wants.

    What stays for years is left out: a plan of two seasons counts what stands, and plants none.
    """
    foods = {food for line in garden.household.table for food in line.foods}
    return tuple(
        kind
        for kind in catalogue.kinds.values()
        if (not garden.kinds_wanted or kind.id in garden.kinds_wanted)
        and any(giving.food in foods for giving in kind.givings)
        and kind.perennial is None
    )


def kinds_that_last(garden: Garden, catalogue: Catalogue) -> tuple[Kind, ...]:
    """Choose the kinds that stay for years, narrowed to those the grower wants."""
    return tuple(
        kind
        for kind in catalogue.kinds.values()
        if kind.perennial is not None
        and (not garden.kinds_wanted or kind.id in garden.kinds_wanted)
    )


def lasting_foods(catalogue: Catalogue) -> tuple[str, ...]:
    """Gather the foods that only kinds which stay for years give, in order.

    In order, since a question is told from another by how it is written out.
    """
    kinds = catalogue.kinds.values()
    cleared = {g.food for kind in kinds if kind.perennial is None for g in kind.givings}
    lasting = {g.food for kind in kinds if kind.perennial is not None for g in kind.givings}
    return tuple(sorted(lasting - cleared))


def all_sowings(
    garden: Garden,
    catalogue: Catalogue,
    kinds: tuple[Kind, ...],
    when: tuple[GrowingWeather, Horizon],
    planned: Planned = frozenset(),
) -> tuple[Sowing, ...]:
    """Work out every sowing of every kind that this site allows."""
    weather, horizon = when
    families = family_of_crop(catalogue)
    covers = tuple(sorted({is_covered(bed) for bed in garden.beds}))
    return tuple(
        sowing
        for kind in kinds
        for sowing in sowings(
            kind,
            families[kind.crop],
            weather,
            horizon,
            SowingChoice(
                covers=tuple(cover for cover in covers if not cover or kind.likes_cover),
                planned=planned,
            ),
        )
    )


def seed_back(
    garden: Garden, catalogue: Catalogue, kinds: tuple[Kind, ...]
) -> tuple[SeedBack, ...]:
    """Say which planting stock may be kept back from the household's own harvest."""
    in_hand = stock_in_hand(garden)
    chosen = []
    for kind in kinds:
        main = next(giving for giving in kind.givings if giving.role is Role.MAIN)
        for method in kind.methods:
            units_per_kg = seed_units_per_kg(method, catalogue.foods[main.food])
            if units_per_kg is not None:
                chosen.append(
                    SeedBack(
                        kind=kind.id,
                        food=main.food,
                        units_per_kg=units_per_kg,
                        in_hand_units=in_hand.get(kind.id, 0.0),
                        buy_price_unit=bought_unit_kg(
                            garden, kind, main.food, known(method.units_per_kg) or units_per_kg
                        ),
                    )
                )
    return tuple(chosen)


def bought_unit_kg(garden: Garden, kind: Kind, food: str, units_per_kg: float) -> float:
    """Weigh one bought unit of planting stock against a kilogram of its food [kg].

    By the grower's own prices where both are known in one currency, else by a usual ratio and the
    units in a kilogram of bought stock; of own stock, where nobody knows those.
    """
    prices = {price.what: price for price in garden.prices}
    stock, shop = prices.get(kind.id), prices.get(food)
    if stock is not None and shop is not None and stock.currency == shop.currency and shop.each:
        return stock.each / shop.each
    return BOUGHT_STOCK_KG / units_per_kg


def stock_in_hand(garden: Garden) -> dict[str, float]:
    """Add up the planting stock in hand by kind [units]."""
    in_hand: dict[str, float] = {}
    for stock in garden.stock:
        in_hand[stock.kind] = in_hand.get(stock.kind, 0.0) + stock.units
    return in_hand


def display_names(garden: Garden, catalogue: Catalogue) -> dict[str, str]:
    """Give the name by which each id is spoken of to the grower."""
    names = {family.id: family.name for family in catalogue.families.values()}
    names |= {crop.id: crop.name for crop in catalogue.crops.values()}
    names |= {food.id: food.name for food in catalogue.foods.values()}
    names |= {kind.id: kind.name for kind in catalogue.kinds.values()}
    names |= {store.id: store.name for store in garden.stores}
    names |= {bed.id: bed.name for bed in garden.beds}
    names |= {line.id: line.name for line in garden.household.table}
    return names
