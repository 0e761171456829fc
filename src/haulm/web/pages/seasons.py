"""Seasons: the kept plan lived through many of them; how sure each promise is, line by line."""

from dataclasses import dataclass
from datetime import date, timedelta

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from haulm.desk.at_hand import AtHand
from haulm.forecast.records import PlanOdds, Promise
from haulm.measure.weeks import WEEKS_A_YEAR, Horizon
from haulm.web.pages.table_rows import plan_at_hand
from haulm.web.show import page, shelf_of

CLOSEST = 8
"""How many pairs that fail together are shown."""


@dataclass(frozen=True, slots=True)
class YearOfPromises:
    """The promises of one year of the plan, the least sure first."""

    first_day: date
    last_day: date
    promises: tuple[Promise, ...]


@dataclass(frozen=True, slots=True)
class RunsOut:
    """A food in store: when most of it lies there, and when it has run out; None: not by the end.

    The dates are those of a year in which it runs out early, of a middle one and of a late one.
    """

    food: str
    fullest: date
    dates: tuple[date | None, ...]


@dataclass(frozen=True, slots=True)
class Seasons:
    """What many seasons say of the plan, ready to be shown."""

    count: int
    origin: str
    years: tuple[YearOfPromises, ...]
    run_out: tuple[RunsOut, ...]
    together: tuple[tuple[str, str], ...]


def show(request: Request) -> Response:
    """Show how sure the kept plan is."""
    garden = shelf_of(request).garden
    plan = plan_at_hand(garden)
    names = names_of(garden) if plan else {}
    many = _told(garden.odds, plan.horizon, names) if plan else None
    sure = dict(plan.certainty.lines) if plan and plan.certainty else {}
    return page(request, "seasons.html", many=many, names=names, sure=sure)


def names_of(garden: AtHand) -> dict[str, str]:
    """Give the names of the table's lines and of foods; a line's own name goes first."""
    foods = {food.id: food.name for food in garden.catalogue.foods.values()}
    return foods | {line.id: line.name for line in garden.opened.garden.household.table}


def _told(odds: PlanOdds, horizon: Horizon, names: dict[str, str]) -> Seasons:
    """Order what the seasons say by how much a grower can do about it."""
    return Seasons(
        count=odds.seasons,
        origin=odds.origin,
        years=tuple(
            YearOfPromises(
                horizon.monday(year * WEEKS_A_YEAR),
                horizon.monday((year + 1) * WEEKS_A_YEAR) - timedelta(days=1),
                tuple(sorted((p for p in odds.promises if p.year == year), key=lambda p: p.held)),
            )
            for year in sorted({promise.year for promise in odds.promises})
        ),
        run_out=tuple(
            RunsOut(
                names.get(out.food, out.food),
                horizon.monday(out.fullest),
                tuple(None if week is None else horizon.monday(week) for week in out.weeks),
            )
            for out in odds.run_out
        ),
        together=tuple(
            (names.get(pair.one, pair.one), names.get(pair.other, pair.other))
            for pair in odds.together[:CLOSEST]
        ),
    )


routes = [Route("/seasons", show, methods=["GET"])]
