"""Show on a terminal how sure a plan is."""

from collections.abc import Iterator, Mapping

from haulm.cli.show import line, table
from haulm.cli.show_plan import day
from haulm.desk.forecasting import Forecasted
from haulm.forecast.odds import Promise
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
