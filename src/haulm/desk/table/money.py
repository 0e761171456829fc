"""Money: what a plan's planting stock costs to buy, and what its food would cost at the shop."""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from haulm.catalogue.records import Catalogue
from haulm.desk.season.seed import stock_worth
from haulm.measure.weeks import Horizon
from haulm.notebook.garden import Garden, Price
from haulm.plan.records import Plan
from haulm.sheets.shopping_sums import stock_to_buy

NOTHING_KG = 0.005
NO_PRICE = "no price is told"
SEVERAL_PRICES = "more than one price is told"


@dataclass(frozen=True, slots=True)
class Cost:
    """Something that has a price.

    Attributes
    ----------
    what
        The id of a kind whose planting stock is bought, or of a food that is eaten.
    amount, unit
        How much of it: whole units of planting stock, or kilograms as lifted (``kg``).
    each, currency
        The grower's price of one.
    """

    what: str
    amount: float
    unit: str
    each: float
    currency: str

    @property
    def sum(self) -> float:
        """What it comes to, in its currency."""
        return self.amount * self.each


@dataclass(frozen=True, slots=True)
class Unpriced:
    """Something that no sum of money counts: which kind or food, how much of it, and why."""

    what: str
    amount: float
    unit: str
    why: str


@dataclass(frozen=True, slots=True)
class Money:
    """What a plan costs and is worth by the garden's own prices.

    Attributes
    ----------
    stock
        Planting stock bought, by kind, in order of the first day it is needed.
    food
        Food eaten that the garden gives, by food, the dearest first: what it would cost to buy.
        What lay in store when the plan was made is not of the plan's making, and is left out.
    stock_unpriced, food_unpriced
        What is bought, and eaten, that has no price; the sums hold none of it.
    """

    stock: tuple[Cost, ...]
    food: tuple[Cost, ...]
    stock_unpriced: tuple[Unpriced, ...]
    food_unpriced: tuple[Unpriced, ...]

    @property
    def spent(self) -> Mapping[str, float]:
        """What the planting stock costs, by currency; currencies are never added together."""
        return by_currency(self.stock)

    @property
    def worth(self) -> Mapping[str, float]:
        """What the food eaten would have cost at the shop, by currency."""
        return by_currency(self.food)

    @property
    def unpriced(self) -> tuple[Unpriced, ...]:
        """Everything that has no price, stock first."""
        return (*self.stock_unpriced, *self.food_unpriced)


def by_currency(costs: Sequence[Cost]) -> Mapping[str, float]:
    """Add up costs, each currency by itself, in order of their names."""
    sums: dict[str, float] = defaultdict(float)
    for cost in costs:
        sums[cost.currency] += cost.sum
    return dict(sorted(sums.items()))


def money_of(
    plan: Plan,
    garden: Garden,
    catalogue: Catalogue,
    weeks: Horizon | None = None,
    day: date | None = None,
) -> Money:
    """Reckon what a plan's planting stock costs to buy, and what its food would cost at the shop.

    Only planting stock is counted as spent: seed, sets, cloves, tubers and plants, whole units,
    less what is in hand, old seed as the fresh that it is worth, and what the plan keeps back.
    Compost, tools, water, fuel and hours have no price here and are not in the sum.

    Parameters
    ----------
    plan, garden, catalogue
        The plan, the garden with its prices and the stock in hand, and what the kinds are.
    weeks
        Count what is first needed, and what is eaten, in these weeks; by default in the whole plan.
    day
        The day on which seed in hand is weighed; by default that on which the plan was made.
    """
    weeks = weeks or plan.horizon
    in_hand = stock_worth(garden, catalogue, day or plan.made_on, plan)
    bought: dict[tuple[str, str], float] = {}
    for line in stock_to_buy(plan, catalogue, in_hand):
        if line.to_buy and weeks.first_day <= line.first_on <= weeks.last_day:
            key = line.kind, line.unit
            bought[key] = bought.get(key, 0.0) + line.to_buy
    eaten = _grown_and_eaten(plan, weeks)
    prices = _prices(garden)
    stock, no_stock = _priced(bought, prices)
    food, no_food = _priced({(food, "kg"): kg for food, kg in eaten.items()}, prices)
    return Money(stock, tuple(sorted(food, key=lambda one: -one.sum)), no_stock, no_food)


def _grown_and_eaten(plan: Plan, weeks: Horizon) -> Mapping[str, float]:
    """Add up what is eaten of each food that the plan's ground gives, the most first [kg]."""
    there = {lot.id for lot in plan.lots if lot.in_hand}
    first = plan.horizon.week_of(weeks.first_day)
    eaten: dict[str, float] = defaultdict(float)
    for helping in plan.helpings:
        if helping.lot not in there and first <= helping.week < first + weeks.weeks:
            eaten[helping.food] += helping.kg
    most_first = sorted(eaten.items(), key=lambda one: -one[1])
    return {food: kg for food, kg in most_first if kg > NOTHING_KG}


def _prices(garden: Garden) -> Mapping[str, Sequence[Price]]:
    """Gather every price told of each food and kind, the same told twice but once."""
    told: dict[str, list[Price]] = defaultdict(list)
    for price in garden.prices:
        if price not in told[price.what]:
            told[price.what].append(price)
    return told


def _priced(
    amounts: Mapping[tuple[str, str], float], prices: Mapping[str, Sequence[Price]]
) -> tuple[tuple[Cost, ...], tuple[Unpriced, ...]]:
    """Price each amount of a thing and unit; what has no price, or several, stays unpriced."""
    costs, without = [], []
    for (what, unit), amount in amounts.items():
        told = prices.get(what, ())
        if len(told) == 1:
            costs.append(Cost(what, amount, unit, told[0].each, told[0].currency))
        else:
            without.append(Unpriced(what, amount, unit, SEVERAL_PRICES if told else NO_PRICE))
    return tuple(costs), tuple(without)


def as_data(money: Money) -> Mapping[str, object]:
    """Give the sums as plain data."""
    return {
        "spent": dict(money.spent),
        "worth": dict(money.worth),
        "stock": money.stock,
        "food": money.food,
        "stock_unpriced": money.stock_unpriced,
        "food_unpriced": money.food_unpriced,
    }
