"""Perennials: what a stand that holds its ground for years gives in each of the years planned."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

import numpy as np

from haulm.catalogue.known import counted, known
from haulm.catalogue.lasting import Perennial, StandYear
from haulm.catalogue.records import Figure, Giving, Kind, Method, Picking
from haulm.catalogue.stand import plants_m2
from haulm.growing.days import NEVER, Days, day_in_share_of_runs, look_up
from haulm.growing.harvest import yield_bounds
from haulm.growing.records import PickingYear, ReadyDates, Sowing, SowingFood, Window
from haulm.growing.rules import growing_rules
from haulm.growing.timing import course, ready_spread
from haulm.growing.weather import GrowingWeather
from haulm.measure.weeks import Horizon, monday_of

STANDS_ALREADY = "it stands already"

HALF_A_YEAR_DAYS = 182
DAYS_A_YEAR = 365


@dataclass(frozen=True, slots=True)
class PerennialStand:
    """A stand as told: what it is, how and when it was planted, whether it is covered."""

    kind: Kind
    family: str
    method: Method
    planted_on: date
    under_cover: bool


def midwinter(year: int, *, southern: bool) -> date:
    """Give the day that a perennial's year is counted from: 1 January, in the south 1 July."""
    return date(year, 7 if southern else 1, 1)


def first_year(planted_on: date, *, southern: bool) -> int:
    """Give the year of a stand's first growing season, named by its midwinter.

    What is planted before midsummer grows in that season, what is planted later in the next.
    """
    year = planted_on.year
    if planted_on < midwinter(year, southern=southern):
        year -= 1
    late = (planted_on - midwinter(year, southern=southern)).days > HALF_A_YEAR_DAYS
    return year + 1 if late else year


def age_share(perennial: Perennial, age: int) -> StandYear | None:
    """Give what a stand gives in a year of its life; None before the first picking."""
    reached = [one for one in perennial.years if one.number <= age]
    return reached[-1] if reached else None


def past_its_life(stand: PerennialStand, day: date, *, southern: bool) -> int:
    """Count the years by which a stand has outlived its worth on a day; 0 while it has not."""
    if stand.kind.perennial is None:
        return 0
    age = first_year(day, southern=southern) - first_year(stand.planted_on, southern=southern) + 1
    return max(0, age - round(stand.kind.perennial.stand_years.value))


def picking_years(
    stand: PerennialStand, weather: GrowingWeather, horizon: Horizon
) -> tuple[PickingYear, ...]:
    """Work out what a stand gives of each food in each of its years that meets the plan.

    Parameters
    ----------
    stand
        The stand. A kind that is no perennial gives nothing here.
    weather, horizon
        The runs of weather and the weeks planned.

    Returns
    -------
    tuple of PickingYear
        By food and year. A year's phases are counted from midwinter; picking begins once the food
        is ready in 8 years of 10 and goes on for its span, but no longer than the plant bears, than
        till the first frost after midsummer that ends the year's picking, or than the stand lives
        through the winters, in 8 years of 10. What is not picked for one of these is lost. A year
        in which it is not ready by the next midwinter gives none of it.
    """
    perennial, southern = stand.kind.perennial, weather.place.southern
    if perennial is None:
        return ()
    begun = first_year(stand.planted_on, southern=southern)
    made: list[PickingYear] = []
    for year in range(weather.seasons.first_day.year, horizon.monday(horizon.weeks).year + 1):
        start = weather.column_of(midwinter(year, southern=southern))
        given = age_share(perennial, year - begun + 1)
        if given is None or not 0 <= start < weather.seasons.days:
            continue
        made.extend(
            picked
            for giving in stand.kind.givings
            if (picked := _picking_year(stand, giving, (year, start, given), weather, horizon))
        )
    return tuple(made)


def _picking_year(
    stand: PerennialStand,
    giving: Giving,
    when: tuple[int, int, StandYear],
    weather: GrowingWeather,
    horizon: Horizon,
) -> PickingYear | None:
    """Work out one food in one year; None where none of it falls inside the plan."""
    year, start, given = when
    share = growing_rules().certainty_ready.value
    begins = np.array([start], dtype=np.int64)
    fared = course(stand.kind, stand.method, begins, weather, under_cover=stand.under_cover)
    ready = fared.phase_ends[giving.after]
    by = _day_in_share(ready, share)
    if by >= min(weather.seasons.days, start + DAYS_A_YEAR):
        return None
    span = _span_weeks(giving, given)
    first = horizon.week_of(weather.day_of(by))
    ends = [first + span]
    ends.extend(
        horizon.week_of(weather.day_of(end)) for end in _ends(stand, ready, start, weather, horizon)
    )
    until = max(first, min(ends))
    if until <= first or until <= 0 or first >= horizon.weeks:
        return None
    kept = (until - first) / span
    southern = weather.place.southern
    return PickingYear(
        food=giving.food,
        year=year,
        age=year - first_year(stand.planted_on, southern=southern) + 1,
        first_week=first,
        until_week=until,
        share=given.share.value * kept,
        ready=ready_spread(ready[:, 0], weather),
    )


def _span_weeks(giving: Giving, given: StandYear) -> int:
    if giving.picking is Picking.ONCE:
        return 1
    weeks = giving.span_weeks if given.picking_weeks is None else given.picking_weeks
    return max(1, round(min(weeks.value, giving.span_weeks.value)))


def _ends(
    stand: PerennialStand, ready: Days, start: int, weather: GrowingWeather, horizon: Horizon
) -> Iterator[int]:
    """Give the days that end a year's picking before its span is over."""
    perennial = stand.kind.perennial
    short = 1 - growing_rules().certainty_ready.value
    if perennial is None:
        return
    if perennial.pick_until_days is not None:
        yield start + round(perennial.pick_until_days.value)
    midsummer = start + HALF_A_YEAR_DAYS
    for threshold, since in (
        (perennial.resting_frost_c, np.maximum(ready, midsummer)),
        (
            stand.kind.warmth.killing_frost_c,
            np.full_like(ready, weather.column_of(horizon.first_day)),
        ),
    ):
        if not isinstance(threshold, Figure):
            continue
        frosts = weather.next_frost(threshold.value, under_cover=stand.under_cover)
        end = _day_in_share(look_up(frosts, since), short)
        if end != NEVER:
            yield end


def winter_kill(stand: PerennialStand, weather: GrowingWeather, horizon: Horizon) -> date | None:
    """Give the day by which frost has killed a stand in more than 2 years of 10; None if none."""
    killing = stand.kind.warmth.killing_frost_c
    if not isinstance(killing, Figure):
        return None
    frosts = weather.next_frost(killing.value, under_cover=stand.under_cover)
    today = np.full((weather.seasons.runs, 1), weather.column_of(horizon.first_day), np.int64)
    day = _day_in_share(look_up(frosts, today), 1 - growing_rules().certainty_ready.value)
    last = weather.column_of(horizon.monday(horizon.weeks))
    return weather.day_of(day) if day < last else None


def standing_perennial(stand: PerennialStand, weather: GrowingWeather, horizon: Horizon) -> Sowing:
    """Work out what a stand will give, hold and ask in the weeks planned.

    Returns
    -------
    Sowing
        It holds its ground to the horizon's end. A food's yield is what a square metre gives
        within the horizon, all its years together, and its week shares add to 1. What it asks is
        tending in every week.
    """
    kind, method = stand.kind, stand.method
    stations = plants_m2(kind.stand)
    stock = stations * method.units_per_station.value
    planted = stand.planted_on
    year, iso_week, _ = monday_of(planted).isocalendar()
    from_week = horizon.week_of(planted)
    years = picking_years(stand, weather, horizon)
    foods = (_food(kind, giving, years, horizon) for giving in kind.givings)
    tend = counted(kind.labour.tend_min_m2_week)
    return Sowing(
        id=f"{kind.id}:{method.id}:{year}-W{iso_week:02d}"
        + (":cover" if stand.under_cover else ""),
        kind=kind.id,
        crop=kind.crop,
        family=stand.family,
        method=method.id,
        under_cover=stand.under_cover,
        sow_on=planted,
        set_on=planted,
        ground_from_week=from_week,
        ground_until_week=horizon.weeks,
        plants_m2=stations,
        stock_m2=stock / (method.germination.value * method.survival.value),
        stock_unit=method.unit,
        stock_units_per_kg=known(method.units_per_kg),
        tray_weeks=(from_week, from_week),
        cells_m2=0.0,
        work_min_m2=tuple((week, tend) for week in range(horizon.weeks)),
        foods=tuple(food for food in foods if food is not None),
        window=_stood(stand),
        picking_years=years,
    )


def _stood(stand: PerennialStand) -> Window:
    """Give the window of what is in the ground already: the day it was planted."""
    kind, planted = stand.kind.id, stand.planted_on
    told = STANDS_ALREADY
    return Window(kind, stand.method.id, stand.under_cover, planted, planted, told, told)


def _food(
    kind: Kind, giving: Giving, years: tuple[PickingYear, ...], horizon: Horizon
) -> SowingFood | None:
    """Gather one food over all its years inside the horizon; None where there is none."""
    by_week: dict[int, float] = {}
    ready: list[ReadyDates] = []
    for picked in years:
        if picked.food != giving.food:
            continue
        weeks = range(picked.first_week, picked.until_week)
        inside = [week for week in weeks if 0 <= week < horizon.weeks]
        ready.extend([picked.ready] if inside else [])
        for week in inside:
            by_week[week] = by_week.get(week, 0.0) + picked.share / len(weeks)
    total = sum(by_week.values())
    if total <= 0:
        return None
    low, high = yield_bounds(giving.yield_kg_m2)
    return SowingFood(
        food=giving.food,
        role=giving.role,
        picking=giving.picking,
        ready=ready[0],
        first_week=min(by_week),
        week_shares=tuple((week, by_week[week] / total) for week in sorted(by_week)),
        yield_kg_m2=giving.yield_kg_m2.value * total,
        yield_low_kg_m2=low * total,
        yield_high_kg_m2=high * total,
        pick_min_kg=counted(kind.labour.pick_min_kg),
    )


def _day_in_share(days: Days, share: float) -> int:
    return int(day_in_share_of_runs(days, share)[0])
