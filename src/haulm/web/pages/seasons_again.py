"""The kept plan lived again: through real years, with and without water, in one bed or several."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from haulm.desk.odds.drought import WateringTold, watering_worth_of
from haulm.desk.odds.replay import Replayed, replay_made
from haulm.desk.odds.splitting import splits_for
from haulm.desk.odds.thirst import WateredHow
from haulm.forecast.records import Promise
from haulm.forecast.replay import StoreReplayed
from haulm.forecast.splitting import CropSplits
from haulm.measure.findings import Finding
from haulm.web.pages.seasons import names_of
from haulm.web.pages.table_rows import plan_at_hand
from haulm.web.show import page, shelf_of

SEED, SEASONS, SPLIT_SEASONS = 1, 1000, 10_000
SHORT_SHARE = 0.9
"""A bar is drawn as short where less than this share of its promise was eaten [1]."""

SOON_SHARE = 0.75
"""A store is drawn as out soon where it lasted less than this share of a middle year [1]."""

TALLEST = 1.1
"""Bars are drawn no taller than so many times the ruled line [1]."""


@dataclass(frozen=True, slots=True)
class Bar:
    """One year's bar: how tall against the ruled line [1], and whether it fell short."""

    year: int
    tall: float
    short: bool


@dataclass(frozen=True, slots=True)
class LineYears:
    """One line of the table through the years: its bars, and the years that it was short in."""

    line: str
    promised_kg: float
    bars: tuple[Bar, ...]
    eaten_kg: tuple[float, ...]
    short: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class StoreYears:
    """One food's store through the years: its bars, and when it ran out first, usually and last.

    ``dates`` are (day or None, year), None where it had not run out by the plan's end.
    """

    food: str
    fullest: date
    bars: tuple[Bar, ...]
    dates: tuple[tuple[date | None, int], ...]


def real(request: Request) -> Response:
    """Show the plan through the real years of the record."""
    garden = shelf_of(request).garden
    plan = plan_at_hand(garden)
    asked = request.query_params.get("watered", "")
    how = WateredHow(asked) if asked in set(WateredHow) else None
    told = garden.of_plan("replay", replay_made, how, SEED) if plan else None
    replayed = told if isinstance(told, Replayed) else None
    return page(
        request,
        "seasons_years.html",
        plan=plan,
        findings=told if isinstance(told, tuple) else (),
        replayed=replayed,
        names=names_of(garden) if plan else {},
        lines=_lines(replayed) if replayed else (),
        stores=_stores(replayed) if replayed else (),
        hows=[how for how in WateredHow if how is not WateredHow.TANKS or _has_tanks(replayed)],
    )


def water(request: Request) -> Response:
    """Show what watering is worth."""
    garden = shelf_of(request).garden
    plan = plan_at_hand(garden)
    told = garden.of_plan("drought", watering_worth_of, SEASONS, SEED) if plan else None
    found = told if isinstance(told, WateringTold) else None
    return page(
        request,
        "seasons_water.html",
        plan=plan,
        findings=told if isinstance(told, tuple) else (),
        found=found,
        names=names_of(garden) | dict(found.made.names) if found else {},
        rows=_promises(found) if found else (),
    )


def beds(request: Request) -> Response:
    """Show what two or three beds are worth, rather than one."""
    garden = shelf_of(request).garden
    plan = plan_at_hand(garden)
    told = garden.of_plan("splits", splits_for, SPLIT_SEASONS, SEED) if plan else None
    crops = [one for one in told or () if isinstance(one, CropSplits)]
    findings = [one for one in told or () if isinstance(one, Finding)]
    names = names_of(garden) if plan else {}
    if garden.unlaid is not None:
        names |= dict(garden.unlaid.names)
    return page(
        request, "seasons_beds.html", plan=plan, findings=findings, crops=crops, names=names
    )


def _has_tanks(replayed: Replayed | None) -> bool:
    """Say whether the garden can be watered from tanks."""
    return replayed is not None and bool(replayed.made.garden.tanks)


def _lines(replayed: Replayed) -> tuple[LineYears, ...]:
    """Give every line, the one that was short most often first."""
    told = []
    for one in replayed.told.lines:
        shares = [kg / one.promised_kg for kg in one.eaten_kg]
        bars = tuple(
            Bar(year, min(share, TALLEST), share < SHORT_SHARE)
            for year, share in zip(replayed.told.years, shares, strict=True)
        )
        short = tuple(bar.year for bar in bars if bar.short)
        told.append(LineYears(one.line, one.promised_kg, bars, one.eaten_kg, short))
    return tuple(sorted(told, key=lambda one: (-len(one.short), sum(b.tall for b in one.bars))))


def _stores(replayed: Replayed) -> tuple[StoreYears, ...]:
    """Give every store and how long it lasted, year by year."""
    return tuple(_store(store, replayed) for store in replayed.told.stores)


def _store(store: StoreReplayed, replayed: Replayed) -> StoreYears:
    """Give one food's store through the years."""
    horizon, years = replayed.made.plan.horizon, replayed.told.years
    until = [horizon.weeks if week is None else week for week in store.out]
    order = sorted(range(len(years)), key=lambda at: until[at])
    middle = max(until[order[len(order) // 2]] - store.fullest, 1)
    return StoreYears(
        food=store.food,
        fullest=horizon.monday(store.fullest),
        bars=tuple(
            Bar(
                year,
                min((week - store.fullest) / middle, 2 * TALLEST) / 2,
                week - store.fullest < SOON_SHARE * middle,
            )
            for year, week in zip(years, until, strict=True)
        ),
        dates=tuple(
            (None if (week := store.out[at]) is None else horizon.monday(week), years[at])
            for at in (order[0], order[len(order) // 2], order[-1])
        ),
    )


def _promises(found: WateringTold) -> Sequence[tuple[Promise, ...]]:
    """Give each promise watered in every way, what loses most first."""
    together = zip(*(way.odds.promises for way in found.ways), strict=True)
    return sorted(together, key=lambda ps: ps[-1].eaten_kg[1] - ps[0].eaten_kg[1])


routes = [
    Route("/seasons/years", real, methods=["GET"]),
    Route("/seasons/water", water, methods=["GET"]),
    Route("/seasons/beds", beds, methods=["GET"]),
]
