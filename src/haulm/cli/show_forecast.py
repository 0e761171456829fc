"""Show on a terminal how sure a plan is."""

from collections.abc import Iterator, Mapping, Sequence
from datetime import timedelta

from haulm.cli.show import line, table
from haulm.cli.show_plan import day
from haulm.desk.garden.opening import Opened
from haulm.desk.odds.certainty_prices import LineGap, Priced, gap_changes
from haulm.desk.odds.certainty_told import is_short
from haulm.desk.odds.forecasting import Forecasted
from haulm.forecast.records import Promise
from haulm.measure.units import Units, show_mass
from haulm.measure.weeks import WEEKS_A_YEAR, Horizon

CLOSEST = 8
"""How many pairs that fail together are shown."""


def forecast(forecasted: Forecasted) -> None:
    """Print how sure each promise is, when stores run out, and what fails together."""
    made, odds = forecasted.made, forecasted.odds
    plan, names, units = made.plan, made.names, made.garden.units
    line(f"{plan.garden}: the plan of {day(plan.made_on)}, lived through {odds.seasons} seasons.")
    line(f"Weather: {odds.origin}. Yields, failures, stores and appetite are drawn besides.")
    for year in sorted({promise.year for promise in odds.promises}):
        line("")
        table(
            ("line", ">promised", ">a poor year", ">a middle year", ">a good year", "held"),
            _promises(odds.promises, year, names, units),
            title=f"Eaten of it, {_year(plan.horizon, year)}, the least sure first",
        )
    line("")
    table(
        ("in store", "fullest", "runs out early", "in a middle year", "late"),
        (
            (
                names.get(out.food, out.food),
                day(plan.horizon.monday(out.fullest)),
                *(_date(plan.horizon, week) for week in out.weeks),
            )
            for out in odds.run_out
        ),
        title="When stores run out",
    )
    if odds.together:
        line("")
        line("What fails together, so that one cannot stand in for the other:")
        for pair in odds.together[:CLOSEST]:
            line(f"  {names.get(pair.one, pair.one)} and {names.get(pair.other, pair.other)}")


def _promises(
    promises: tuple[Promise, ...], year: int, names: Mapping[str, str], units: Units
) -> Iterator[tuple[str, ...]]:
    """Give one row for each promise of a year, the least sure first."""
    for promise in sorted((p for p in promises if p.year == year), key=lambda p: p.held):
        low, middle, high = (show_mass(kg, units) for kg in promise.eaten_kg)
        yield (
            names.get(promise.line, promise.line),
            show_mass(promise.promised_kg, units),
            low,
            middle,
            high,
            f"{10 * promise.held:.1f} years in 10",
        )


def _year(horizon: Horizon, year: int) -> str:
    """Name one of the plan's years by its first and last day."""
    first = horizon.monday(year * WEEKS_A_YEAR)
    last = horizon.monday((year + 1) * WEEKS_A_YEAR)
    return f"{day(first)} to {day(last)}"


def _date(horizon: Horizon, week: int | None) -> str:
    """Name a week by its Monday, or say that it does not come within the plan."""
    return "not within the plan" if week is None else day(horizon.monday(week))


def prices(opened: Opened, priced: Sequence[Priced]) -> None:
    """Print side by side what each certainty costs, and what it promises line by line."""
    garden = opened.garden
    names = {line.id: line.name for line in garden.household.table}
    heads = [f">{years(price.certainty)}" for price in priced]
    line(f"{garden.name}: what it costs to be surer. Nothing is kept of these plans.")
    line("")
    table(
        ("", *heads),
        (
            ("ground in use, of all beds and weeks", *(f"{p.ground_share:.0%}" for p in priced)),
            ("hours of work over the plan", *(f"{p.work_h:.0f}" for p in priced)),
            ("plantings", *(str(p.plantings) for p in priced)),
            ("planting stock to buy", *(_sum(p.money.spent) for p in priced)),
            ("kinds without a price", *(str(len(p.money.stock_unpriced)) for p in priced)),
            ("weeks in which a line is short", *(str(p.gap_weeks) for p in priced)),
        ),
        title="The price",
    )
    line("")
    table(
        ("line", *heads),
        (
            (
                names.get(id_, id_),
                *(show_mass(price.promised_kg.get(id_, 0.0), garden.units) for price in priced),
            )
            for id_ in priced[0].promised_kg
        ),
        title="What may be promised over the plan",
    )
    line("")
    for price in priced:
        line(_kept_to(price))
    for price in priced[1:]:
        line("")
        line(
            f"In a poor year, one in ten, with {years(price.certainty)} beside "
            f"{years(priced[0].certainty)}:"
        )
        changes = gap_changes(priced[0], price)
        for gaps, word in ((changes.vanish, "closed"), (changes.appear, "new")):
            for gap in gaps:
                line(f"  {word}: {_gap(gap, price.plan.horizon, names)}")
        if not (changes.vanish or changes.appear):
            line("  the same lines run short at the same times")


def years(certainty: float | None) -> str:
    """Name a certainty, or the means."""
    return "means" if certainty is None else f"{10 * certainty:g} years in 10"


def _sum(spent: Mapping[str, float]) -> str:
    """Write what is spent, each currency by itself."""
    told = (f"{amount:.2f} {currency}" for currency, amount in spent.items())
    return ", ".join(told) or "no price known"


def _gap(gap: LineGap, horizon: Horizon, names: Mapping[str, str]) -> str:
    """Name a gap by its line, its weeks and what is short."""
    last = horizon.monday(gap.last_week + 1) - timedelta(days=1)
    return f"{names.get(gap.line, gap.line)}, {day(horizon.monday(gap.first_week))} to {day(last)}"


def _kept_to(price: Priced) -> str:
    """Say how well promises held in seasons that the plan never saw."""
    odds = price.odds
    held = sorted(promise.held for promise in odds.promises)
    if not held:
        return f"{years(price.certainty)}: nothing can be promised."
    spread = f"the least sure {10 * held[0]:.1f}, the middle one {10 * held[len(held) // 2]:.1f}"
    seen = f"in {odds.seasons} seasons the plan never saw"
    sure = price.plan.certainty
    if sure is None:
        return f"means: {seen}, promises held {spread} years in 10."
    wanted = dict(sure.lines)
    short = sum(is_short(one, wanted[one.line]) for one in sure.held)
    return (
        f"{years(price.certainty)}: {seen}, {len(sure.held) - short} of {len(sure.held)} promises "
        f"held so often, but for chance; {spread}."
    )
