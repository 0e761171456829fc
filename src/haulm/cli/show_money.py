"""Show on a terminal what a plan costs and is worth in money."""

from collections.abc import Iterator, Mapping, Sequence

from haulm.cli.show import line, table
from haulm.cli.show_plan import day
from haulm.desk.planning.plans import Made
from haulm.desk.table.money import NO_PRICE, Cost, Money, Unpriced
from haulm.measure.units import Units, show_mass

NOT_COUNTED = (
    "Compost, tools, water, fuel and your own hours are not counted, nor what lay in store already."
)


def money(found: Money, made: Made) -> None:
    """Print what planting stock costs, what the food would cost, and all that has no price."""
    plan, units = made.plan, made.garden.units
    first, last = day(plan.horizon.first_day), day(plan.horizon.last_day)
    line(f"{plan.garden}: the plan of {day(plan.made_on)}, {first} to {last}, in your own prices.")
    sides = (
        ("Planting stock to buy", found.stock, found.spent, found.stock_unpriced),
        ("Food from the garden, at the shop", found.food, found.worth, found.food_unpriced),
    )
    for title, costs, sums, without in sides:
        line("")
        if costs:
            head = ("", ">how much", ">price of one", ">comes to")
            table(head, _rows(costs, sums, made.names, units), title=title)
        else:
            line(f"{title}: {'no sum can be told.' if without else 'nothing.'}")
        if without:
            line(_unpriced_text(without, made.names, units))
    line("")
    line(NOT_COUNTED)
    if found.unpriced:
        line("Tell a price under [[price]] in garden.toml: of a food's kilogram, of a kind's unit.")


def sums_text(sums: Mapping[str, float]) -> str:
    """Write sums of money, each currency by itself; a dash where there is none."""
    return " and ".join(f"{sum_:,.2f} {currency}" for currency, sum_ in sums.items()) or "–"


def _rows(
    costs: Sequence[Cost], sums: Mapping[str, float], names: Mapping[str, str], units: Units
) -> Iterator[tuple[str, ...]]:
    for cost in costs:
        each = f"{cost.each:,.2f} {cost.currency}"
        amount = amount_text(cost.amount, cost.unit, units)
        yield names.get(cost.what, cost.what), amount, each, f"{cost.sum:,.2f} {cost.currency}"
    yield "in all", "", "", sums_text(sums)


def amount_text(amount: float, unit: str, units: Units) -> str:
    """Write how much of a thing there is: kilograms in the grower's units, or so many of a unit."""
    if unit == "kg":
        return show_mass(amount, units)
    return f"{amount:,.0f} {unit}{'' if amount == 1 else 's'}"


def _unpriced_text(without: Sequence[Unpriced], names: Mapping[str, str], units: Units) -> str:
    told = (
        f"{names.get(one.what, one.what)} ({amount_text(one.amount, one.unit, units)}"
        f"{'; ' + one.why if one.why != NO_PRICE else ''})"
        for one in without
    )
    return f"Not in the sum, for want of a price: {', '.join(told)}."
