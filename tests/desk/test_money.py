"""What a plan costs and is worth in money, from the grower's own prices."""

from dataclasses import replace

import pytest

from haulm.desk.planning.plans import Made
from haulm.desk.season.seed import stock_worth
from haulm.desk.table.money import NO_PRICE, SEVERAL_PRICES, Money, money_of
from haulm.measure.weeks import Horizon
from haulm.notebook.garden import PlantingStock, Price
from haulm.plan.records import Helping
from haulm.sheets.shopping_sums import stock_to_buy


def money(made: Made, *prices: Price, weeks: Horizon | None = None) -> Money:
    """Reckon the money of a plan as if these were the prices its grower knows."""
    return money_of(made.plan, replace(made.garden, prices=prices), made.catalogue, weeks)


def test_food_eaten_is_worth_its_kilograms_at_the_shop_price(made: Made) -> None:
    """What is eaten of a food in the whole plan, times the price of a kilogram of it."""
    eaten = sum(one.kg for one in made.plan.helpings if one.food == "onion")
    found = money(made, Price("onion", 1.5, "EUR"))
    assert found.worth == {"EUR": pytest.approx(eaten * 1.5)}
    assert {one.what for one in found.food_unpriced} >= {"garlic", "leek"}


def test_stock_costs_what_the_shopping_list_says_is_to_buy(made: Made) -> None:
    """Units to buy on the shopping list, over both years, times the price of one."""
    kind = next(p.kind for p in made.plan.plantings if p.crop == "garlic")
    to_buy = sum(x.to_buy for x in stock_to_buy(made.plan, made.catalogue, {}) if x.kind == kind)
    found = money(made, Price(kind, 0.2, "EUR"))
    assert to_buy > 0
    assert found.spent == {"EUR": pytest.approx(to_buy * 0.2)}


def test_stock_in_hand_is_not_bought(made: Made) -> None:
    """Cloves that lie in the shed cost nothing more."""
    kind = next(p.kind for p in made.plan.plantings if p.crop == "garlic")
    priced = replace(made.garden, prices=(Price(kind, 0.2, "EUR"),))
    held = replace(priced, stock=(*priced.stock, PlantingStock(kind, 100_000.0, 2027)))
    without, having = (money_of(made.plan, one, made.catalogue) for one in (priced, held))
    assert without.spent["EUR"] > 0
    bought = {one.what for one in having.stock} | {one.what for one in having.stock_unpriced}
    assert kind not in bought


def test_old_seed_is_counted_for_the_fresh_that_it_is_worth(made: Made) -> None:
    """Leek seed two years old is at half by the published table: twice as much of it is as good as
    fresh, so what is still to buy is what the shopping list says; seed of ten years ago is nothing.
    """
    kind = next(p.kind for p in made.plan.plantings if p.crop == "leek")
    day = made.plan.made_on

    def bought(units: float, year: int) -> float:
        stock = (PlantingStock(kind, units, year),)
        garden = replace(made.garden, prices=(Price(kind, 1.0, "EUR"),), stock=stock)
        found = money_of(made.plan, garden, made.catalogue, day=day)
        list_ = stock_to_buy(
            made.plan, made.catalogue, stock_worth(garden, made.catalogue, day, made.plan)
        )
        assert found.spent.get("EUR", 0.0) == sum(x.to_buy for x in list_ if x.kind == kind)
        return found.spent.get("EUR", 0.0)

    few = bought(0.0, day.year) / 4
    assert bought(few, day.year) < bought(few, day.year - 2) < bought(few, day.year - 10)
    assert bought(few, day.year - 10) == bought(0.0, day.year)


def test_currencies_are_never_added_together(made: Made) -> None:
    """Onions in one currency and garlic in another are two sums."""
    found = money(made, Price("onion", 1.5, "EUR"), Price("garlic", 9.0, "CHF"))
    assert set(found.worth) == {"CHF", "EUR"}
    assert sum(found.worth.values()) == pytest.approx(sum(one.sum for one in found.food))


def test_what_has_no_price_is_named_and_never_counted_as_free(made: Made) -> None:
    """Without a price nothing is spent and nothing is worth anything; all of it is missing."""
    found = money(made)
    assert not found.spent
    assert not found.worth
    grown = {one.food for one in made.plan.helpings if one.kg > 0.01}
    assert {one.what for one in found.food_unpriced} == grown
    assert {one.why for one in found.unpriced} == {NO_PRICE}
    assert all(one.amount > 0 for one in found.unpriced)


def test_a_free_thing_has_a_price(made: Made) -> None:
    """A price of 0, as of seed that neighbours swap, is a price: it is not missing."""
    found = money(made, Price("onion", 0.0, "EUR"))
    assert found.worth == {"EUR": 0.0}
    assert "onion" not in {one.what for one in found.food_unpriced}


def test_of_two_prices_none_is_chosen(made: Made) -> None:
    """Where a food has two prices, nobody knows which holds; the same one told twice is one."""
    twice = money(made, Price("onion", 1.5, "EUR"), Price("onion", 2.0, "EUR"))
    assert {one.what: one.why for one in twice.food_unpriced}["onion"] == SEVERAL_PRICES
    same = money(made, Price("onion", 1.5, "EUR"), Price("onion", 1.5, "EUR"))
    assert same.worth == money(made, Price("onion", 1.5, "EUR")).worth


def test_what_lay_in_store_already_is_not_of_the_plans_making(made: Made) -> None:
    """Food that was in store when the plan was made is eaten, but the plan did not grow it."""
    lot = next(lot for lot in made.plan.lots if lot.food == "onion")
    helping = next(one for one in made.plan.helpings if one.lot == lot.id)
    old = replace(lot, id="old", in_hand=True)
    extra = Helping(helping.line, "onion", helping.week, 3.0, "old")
    plan = replace(made.plan, lots=(*made.plan.lots, old), helpings=(*made.plan.helpings, extra))
    price = Price("onion", 1.5, "EUR")
    with_old = money(replace(made, plan=plan), price)
    assert with_old.worth == money(made, price).worth


def test_two_halves_of_a_plan_are_worth_the_whole(made: Made) -> None:
    """Food and stock of one year and of the other come to those of both."""
    prices = [Price(food, 2.0, "EUR") for food in ("onion", "garlic", "leek", "green beans")]
    prices += [Price(kind, 0.1, "EUR") for kind in {p.kind for p in made.plan.plantings}]
    whole = made.plan.horizon
    first = Horizon(whole.first_day, 52)
    second = Horizon(whole.monday(52), whole.weeks - 52)
    halves = [money(made, *prices, weeks=weeks) for weeks in (first, second)]
    both = money(made, *prices)
    assert sum(half.worth["EUR"] for half in halves) == pytest.approx(both.worth["EUR"])
    assert sum(half.spent["EUR"] for half in halves) == pytest.approx(both.spent["EUR"])
