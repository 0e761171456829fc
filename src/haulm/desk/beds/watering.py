"""What a garden's beds want of water: by week, in order of need, and how long tanks last."""

from dataclasses import dataclass, replace
from datetime import date, timedelta

import numpy as np

from haulm.desk.beds.bed_water import WaterWeather, water_beds, water_weather
from haulm.desk.planning.plans import Made
from haulm.measure.day_words import long_day
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.measure.near import near_names
from haulm.measure.units import Units, show_volume
from haulm.measure.weeks import DAYS_A_WEEK, monday_of
from haulm.site.spread import Spread, spread_of
from haulm.water.balance_tables import BalanceTables, balance_tables, first_days
from haulm.water.crops import stood_in
from haulm.water.figures import water_figures
from haulm.water.ground_balance import ground_balance
from haulm.water.needs import FORTNIGHT, daily_l, days_until_thirsty, lost_share, weekly_l
from haulm.water.records import Array, GroundBalance, Watering
from haulm.water.root_zone import litres
from haulm.water.tanks import run_tanks, size_that_would_do, years_met

A_YEAR = 365


def plain_rule() -> str:
    """Say the plain rule for loams, with the days after which it holds."""
    dry = water_figures().dry_days_loamy
    return (
        f"The plain rule: after {dry.value:g} days without rain in spring and early summer, soak "
        f"the garlic ({dry.basis.value})."
    )


@dataclass(frozen=True, slots=True)
class WeekWater:
    """Litres that a bed wants in one week, by its Monday: 1, 5 and 9 years in 10 want less."""

    monday: date
    litres: Spread


@dataclass(frozen=True, slots=True)
class BedWater:
    """What one bed wants of water.

    Attributes
    ----------
    id, name, area_m2
        Which bed [m²].
    weeks
        Every week from the day on in which some year wants water.
    year_l
        All of the next year [l].
    stood_in
        What nobody has said of the crops on it, so that usual figures stand in.
    """

    id: str
    name: str
    area_m2: float
    weeks: tuple[WeekWater, ...]
    year_l: Spread
    stood_in: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PatchThirst:
    """How a crop in the ground stands for water on the day.

    Attributes
    ----------
    bed, planting, name, area_m2
        Which crop, where, on how much ground [m²].
    lacks_mm, easy_mm
        What its roots' ground lacks, and what it may lack without stress [mm]; middle of the runs.
    fill_l
        What would fill its ground [l].
    days
        Days until its easy water is spent if none is given: 1, 5 and 9 years in 10 sooner [d].
    lost
        Share of its yield lost if none is given for a fortnight [1].
    response_known
        Whether the yield response is the catalogue's; taken as 1 where it is not.
    """

    bed: str
    planting: str
    name: str
    area_m2: float
    lacks_mm: float
    easy_mm: float
    fill_l: float
    days: Spread
    lost: Spread
    response_known: bool


@dataclass(frozen=True, slots=True)
class TankWater:
    """What the rain tanks do through the year from the day on.

    Attributes
    ----------
    holds_l, roof_m2
        All tanks together.
    met
        Share of years in which nothing is missing [1].
    given_share
        Share of the year's need that they give [1]; None where nothing is wanted.
    dry_days
        Days on which water is wanted and not there [d].
    spilt_l
        What runs over [l].
    would_do_l
        What they would have to hold to do in 8 years of 10; None where the roofs are too small.
    """

    holds_l: float
    roof_m2: float
    met: float
    given_share: Spread | None
    dry_days: Spread
    spilt_l: Spread
    would_do_l: float | None


@dataclass(frozen=True, slots=True)
class GardenWater:
    """A garden's water as of a day.

    Attributes
    ----------
    day, true_until
        The day, and the first day that the record itself does not tell.
    rests_on
        What the reckoning rests on and what was estimated, in sentences.
    beds
        Every bed of the plan.
    order
        The crops in the ground, those that lose most by going without first.
    tanks
        The rain tanks; None where there are none.
    """

    day: date
    true_until: date
    rests_on: tuple[str, ...]
    beds: tuple[BedWater, ...]
    order: tuple[PatchThirst, ...]
    tanks: TankWater | None

    def week(self, monday: date) -> tuple[tuple[BedWater, Spread], ...]:
        """Give the beds that want water in a week, with how much."""
        return tuple(
            (bed, week.litres) for bed in self.beds for week in bed.weeks if week.monday == monday
        )


def bed_named(found: GardenWater, wanted: str) -> BedWater:
    """Find a bed by its id or name.

    Raises
    ------
    FaultsFoundError
        When the plan has no such bed.
    """
    for bed in found.beds:
        if wanted.casefold() in {bed.id.casefold(), bed.name.casefold()}:
            return bed
    near = near_names(wanted, [bed.id for bed in found.beds])
    ids = ", ".join(bed.id for bed in found.beds)
    remedy = f"Did you mean {' or '.join(near)}?" if near else f"It has: {ids}."
    raise FaultsFoundError([Finding("--bed", f"the plan has no bed called {wanted}.", remedy)])


def litres_text(litres: float, units: Units) -> str:
    """Write an amount of water no finer than it can be known: to two figures, whole litres."""
    if litres < water_figures().told_from_l.value:
        return "none"
    return show_volume(to_two_figures(litres), units)


def to_two_figures(litres: float) -> float:
    """Round an amount of water to two figures, and to whole litres [l]."""
    step = 10.0 ** max(int(np.floor(np.log10(max(litres, 1.0)))) - 1, 0)
    return step * round(litres / step)


def garden_water(made: Made, day: date) -> GardenWater:
    """Reckon what a planned garden wants of water from a day on, to the plan's end.

    It is watered whenever a crop's easy water is spent, up to what the ground holds. Odds are over
    the runs of weather.

    Raises
    ------
    FaultsFoundError
        When the garden's weather has no rain.
    """
    last_day = made.plan.horizon.last_day
    weather = water_weather(made.garden, day, max(last_day, day) + timedelta(days=1))
    beds = water_beds(made.garden, made.catalogue, made.plan, weather)
    tables = balance_tables(beds, weather.climate)
    watered = ground_balance(tables, weather.climate, Watering(when_due=True))
    return GardenWater(
        day,
        weather.true_until,
        _rests_on(weather, day),
        tuple(_bed_water(made, bed.id, watered, weather, day) for bed in beds),
        _order(made, tables, watered, weather, day),
        _tanks(made, watered, weather, day),
    )


def _rests_on(weather: WaterWeather, day: date) -> tuple[str, ...]:
    """Say what the reckoning rests on, in sentences."""
    if weather.true_until >= day:
        true = f"the record's own days up to {long_day(day)}, then "
    elif weather.true_until > weather.seasons.first_day:
        true = f"the record's own days up to {long_day(weather.true_until)}, where it ends, then "
    else:
        true = ""
    start = long_day(weather.seasons.first_day)
    return (
        f"Weather: {true}{weather.seasons.origin}.",
        f"Not measured but estimated: {', '.join(weather.use.assumed)}.",
        f"Ground is taken as full on {start}, and as watered whenever it was due until today.",
    )


def _rows_of(balance: GroundBalance, bed: str) -> list[int]:
    """Give the rows of a bed's patches."""
    return [row for row, (of, patch) in enumerate(balance.labels) if of == bed and patch]


def _bed_water(
    made: Made, bed: str, balance: GroundBalance, weather: WaterWeather, day: date
) -> BedWater:
    """Give what one bed wants, week by week."""
    own = next(one for one in made.garden.beds if one.id == bed)
    monday = monday_of(day)
    # The week of the day counts from the day on: what was given before is not wanted again.
    daily = daily_l(balance, _rows_of(balance, bed))
    daily[:, : weather.column(day)] = 0.0
    start = weather.column(monday)
    if start < 0:
        daily = np.pad(daily, ((0, 0), (-start, 0)))
        start = 0
    weeks = (daily.shape[1] - start) // DAYS_A_WEEK
    by_week = weekly_l(daily, start, weeks)
    kinds = {
        planting.kind
        for planting in made.plan.plantings
        if planting.bed == bed and planting.clear_by > day
    }
    missing = dict.fromkeys(
        f"{made.names.get(kind, kind)}: {what}"
        for kind in sorted(kinds)
        for what in stood_in(made.catalogue.kinds[kind].water)
    )
    return BedWater(
        bed,
        own.name,
        own.outline.area_m2,
        tuple(
            WeekWater(monday + timedelta(days=DAYS_A_WEEK * week), spread_of(by_week[:, week]))
            for week in range(weeks)
            if by_week[:, week].max() > water_figures().told_from_l.value
        ),
        spread_of(daily[:, weather.column(day) : weather.column(day) + A_YEAR].sum(axis=1)),
        tuple(missing),
    )


def _order(
    made: Made,
    tables: BalanceTables,
    watered: GroundBalance,
    weather: WaterWeather,
    day: date,
) -> tuple[PatchThirst, ...]:
    """Put the crops in the ground in the order of their need, should none be given for a while."""
    at = weather.column(day)
    # Watered up to the day, so that what is told is the need that comes, not one long past.
    climate = weather.climate
    days = at + FORTNIGHT
    soon = replace(climate, rain_mm=climate.rain_mm[:, :days], use_mm=climate.use_mm[:, :days])
    dry = ground_balance(first_days(tables, days), soon, Watering(when_due=True, until_day=at))
    plantings = {planting.id: planting for planting in made.plan.plantings}
    usual = water_figures().usual_yield_response
    told = []
    for row, (bed, patch) in enumerate(dry.labels):
        if not patch or not tables.area_m2[at, row]:
            continue
        planting = plantings[patch]
        response = made.catalogue.kinds[planting.kind].water.yield_response
        lacks = float(np.median(dry.depletion_mm[row, :, max(at - 1, 0)]))
        lacks = 0.0 if np.isnan(lacks) else lacks
        when = slice(at, days)
        told.append(
            PatchThirst(
                bed=bed,
                planting=patch,
                name=made.names.get(planting.kind, planting.kind),
                area_m2=planting.area_m2,
                lacks_mm=lacks,
                easy_mm=float(np.median(dry.easy_mm[row, :, at])),
                fill_l=litres(lacks, planting.area_m2),
                days=spread_of(days_until_thirsty(dry, row, at, FORTNIGHT)),
                lost=spread_of(lost_share(watered, dry, row, when, (response or usual).value)),
                response_known=response is not None,
            )
        )
    return tuple(sorted(told, key=_haste))


def _haste(one: PatchThirst) -> tuple[float, float, float, str]:
    """Give the key that puts what loses most first, then what is thirsty soonest."""
    return (-one.lost.middle, -one.lost.high, one.days.middle, one.planting)


def _tanks(
    made: Made, balance: GroundBalance, weather: WaterWeather, day: date
) -> TankWater | None:
    """Say what the tanks do through a year from the day on."""
    tanks = made.garden.tanks
    if not tanks:
        return None
    year = slice(weather.column(day), weather.column(day) + A_YEAR)
    rows = [row for row, (_, patch) in enumerate(balance.labels) if patch]
    wanted: Array = daily_l(balance, rows)[:, year]
    rain = weather.climate.rain_mm[:, year]
    told = run_tanks(tanks, rain, wanted)
    need = wanted.sum(axis=1)
    least_l = water_figures().told_from_l.value
    wants = need > least_l
    shares = told.given_l.sum(axis=1)[wants] / need[wants]
    return TankWater(
        holds_l=sum(tank.holds_l for tank in tanks),
        roof_m2=sum(tank.roof_m2 for tank in tanks),
        met=years_met(told),
        given_share=spread_of(shares) if shares.size else None,
        dry_days=spread_of((told.short_l > least_l).sum(axis=1).astype(np.float64)),
        spilt_l=spread_of(told.spilt_l.sum(axis=1)),
        would_do_l=size_that_would_do(tanks, rain, wanted),
    )
