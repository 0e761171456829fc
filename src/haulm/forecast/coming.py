"""How the foods of a plan's plantings come in every run of weather."""

from collections.abc import Iterator, Mapping
from datetime import timedelta

import numpy as np

from haulm.catalogue.records import Giving, Kind, Picking, Role
from haulm.forecast.blight import blight_days, favourable_days
from haulm.forecast.diseases import disease_chances
from haulm.forecast.records import Blight, Coming, Floats, Weeks
from haulm.forecast.rules import forecast_rules
from haulm.forecast.safety import yield_spread
from haulm.growing.days import NEVER, Days
from haulm.growing.harvest import gatherings, one_start, yield_bounds
from haulm.growing.perennials import PerennialStand, midwinter, picking_years
from haulm.growing.records import PickingYear
from haulm.growing.timing import Course, course, main_giving, span_weeks
from haulm.growing.weather import GrowingWeather
from haulm.measure.weeks import DAYS_A_WEEK, Horizon
from haulm.plan.records import Plan, Planting


def comings(plan: Plan, kinds: Mapping[str, Kind], weather: GrowingWeather) -> tuple[Coming, ...]:
    """Follow every planting of a plan through every run of weather.

    Parameters
    ----------
    plan
        The plan.
    kinds
        The kinds it plants, by id.
    weather
        Runs of weather that begin before anything that stands was started.

    Notes
    -----
    The plan counts a food in the weeks that hold in eight years of ten; here each run has its own:
    from the week in which its phases end, for its span, until frost or bolting ends the stand.
    Perennials are picked for as many weeks as the plan picks them, from the week in which each
    run's spring has made them ready. What frost would have ended before the
    plan begins stands all the same.
    """
    favourable = favourable_days(weather.seasons)
    return tuple(
        coming
        for planting in plan.plantings
        for coming in _comings_of(planting, kinds[planting.kind], weather, plan.horizon, favourable)
    )


def _comings_of(
    planting: Planting,
    kind: Kind,
    weather: GrowingWeather,
    horizon: Horizon,
    favourable: Floats | None,
) -> Iterator[Coming]:
    """Follow one planting."""
    method = next(method for method in kind.methods if method.id == planting.method)
    if kind.perennial is not None:
        stand = PerennialStand(kind, planting.family, method, planting.set_on, planting.under_cover)
        yield from _of_stand(planting, stand, weather, horizon)
        return
    started = planting.set_on + timedelta(days=planting.late_days)
    begins = np.array([weather.column_of(started)], dtype=np.int64)
    alive_on = weather.column_of(horizon.first_day) if planting.standing else 0
    fared = course(
        kind, method, begins, weather, under_cover=planting.under_cover, alive_on=alive_on
    )
    start = one_start(kind, fared, 0, weather, horizon, stands=planting.standing)
    counted = {
        gathering.giving.food: gathering.until_week - gathering.first_week
        for gathering in gatherings(start)
    }
    givings = {giving.food: giving for giving in kind.givings}
    expected = {expects.food: expects.kg for expects in planting.expects}
    main_until = _weeks_of(main_giving(kind), fared, weather, horizon)[1]
    struck = None
    never_before = forecast_rules().blight_nothing_before_share.value
    if favourable is not None and _blight_may_come(planting):
        struck = blight_days(favourable, fared.up[:, 0])
    for food in sorted(expected.keys() & counted.keys()):
        giving = givings[food]
        first, until, whole = _weeks_of(giving, fared, weather, horizon)
        if planting.standing and giving.picking is Picking.ONCE:
            # What is there and ripe is lifted in the first week, however late it has grown.
            late = first < 0
            first, until = np.where(late, 0, first), np.where(late, 1, until)
        if giving.role is Role.INSTEAD:
            until = np.minimum(until, main_until)
        span = span_weeks(giving)
        cut = counted[food] / span if giving.picking is Picking.SPREAD else 1.0
        blight = None
        if struck is not None:
            ready = fared.phase_ends[giving.after][:, 0]
            week = _week_of(struck, weather, horizon)
            left = _grown_by(fared.up[:, 0], ready, struck, never_before)
            if giving.picking is Picking.SPREAD:
                left = np.clip((week - first) / np.maximum(until - first, 1), 0.0, 1.0)
            blight = Blight(week, left)
        yield Coming(
            planting=planting.id,
            crop=planting.crop,
            kind=kind.id,
            food=food,
            picking=giving.picking,
            kg=expected[food] / cut,
            spread=yield_spread(*yield_bounds(giving.yield_kg_m2)),
            span_weeks=span,
            first_week=first,
            until_week=until,
            whole=whole,
            bed=planting.bed,
            family=planting.family,
            under_cover=planting.under_cover,
            blight=blight,
        )


def _blight_may_come(planting: Planting) -> bool:
    """Say whether a planting may be struck by a disease that the weather brings."""
    return any(
        disease.from_weather
        and not (disease.open_air_only and planting.under_cover)
        and (planting.crop in disease.crops or planting.family in disease.families)
        for disease in disease_chances()
    )


def _of_stand(
    planting: Planting, stand: PerennialStand, weather: GrowingWeather, horizon: Horizon
) -> Iterator[Coming]:
    """Follow a perennial stand: each run begins to pick when its own spring has come."""
    runs = weather.seasons.runs
    givings = {giving.food: giving for giving in stand.kind.givings}
    expected = {expects.food: expects.kg for expects in planting.expects}
    years = [year for year in picking_years(stand, weather, horizon) if year.food in expected]
    inside = {id(year): _share_inside(year, horizon) for year in years}
    for year in years:
        giving = givings[year.food]
        whole = sum(one.share * inside[id(one)] for one in years if one.food == year.food)
        first, until = _weeks_of_year(stand, giving, year, weather, horizon)
        yield Coming(
            planting=planting.id,
            crop=planting.crop,
            kind=stand.kind.id,
            food=year.food,
            picking=giving.picking,
            kg=expected[year.food] * year.share / whole,
            spread=yield_spread(*yield_bounds(giving.yield_kg_m2)),
            span_weeks=year.until_week - year.first_week,
            first_week=first,
            until_week=until,
            whole=np.ones(runs),
            bed=planting.bed,
            family=planting.family,
            under_cover=planting.under_cover,
        )


def _weeks_of_year(
    stand: PerennialStand,
    giving: Giving,
    year: PickingYear,
    weather: GrowingWeather,
    horizon: Horizon,
) -> tuple[Weeks, Weeks]:
    """Give the weeks in which a stand is picked in one of its years, run by run.

    From the week in which the food is ready, for as many weeks as the plan picks it; not past the
    day on which picking stops so that the plants recover, however late the spring.
    """
    start = weather.column_of(midwinter(year.year, southern=weather.place.southern))
    begins = np.array([start], dtype=np.int64)
    fared = course(stand.kind, stand.method, begins, weather, under_cover=stand.under_cover)
    first = _week_of(fared.phase_ends[giving.after][:, 0], weather, horizon)
    until = first + (year.until_week - year.first_week)
    perennial = stand.kind.perennial
    if perennial is not None and perennial.pick_until_days is not None:
        stops = np.array([start + round(perennial.pick_until_days.value)], dtype=np.int64)
        until = np.minimum(until, np.maximum(first, _week_of(stops, weather, horizon)))
    return first, until


def _share_inside(year: PickingYear, horizon: Horizon) -> float:
    """Give the share of a year's picking weeks that lie in the plan [1]."""
    inside = min(year.until_week, horizon.weeks) - max(year.first_week, 0)
    return max(inside, 0) / (year.until_week - year.first_week)


def _weeks_of(
    giving: Giving, fared: Course, weather: GrowingWeather, horizon: Horizon
) -> tuple[Weeks, Weeks, Floats]:
    """Give the weeks in which a food can be taken, run by run, and what frost left of it."""
    ready, cut = fared.phase_ends[giving.after][:, 0], fared.frost[:, 0]
    ends = np.minimum(cut, fared.bolts[:, 0])
    first = _week_of(ready, weather, horizon)
    if giving.picking is not Picking.ONCE:
        until = np.minimum(first + span_weeks(giving), _week_of(ends, weather, horizon))
        return first, until, np.ones(ready.size)
    nothing_before = forecast_rules().nothing_before_share.value
    whole = _grown_by(fared.up[:, 0], ready, cut, nothing_before)
    lifted = np.where(cut < ready, _week_of(cut, weather, horizon), first)
    return lifted, lifted + 1, whole


def _grown_by(up: Days, ready: Days, ends: Days, nothing_before: float) -> Floats:
    """Give the share of what is lifted once that is there when something ends its growth."""
    grown = (ends - up) / np.maximum(ready - up, 1)
    share = np.clip((grown - nothing_before) / (1 - nothing_before), 0.0, 1.0)
    whole: Floats = np.where(ready >= NEVER, 0.0, np.where(ends < ready, share, 1.0))
    return whole


def _week_of(column: Days, weather: GrowingWeather, horizon: Horizon) -> Weeks:
    """Count the weeks of the horizon to day columns; what never comes stays far beyond."""
    return (column - weather.column_of(horizon.first_day)) // DAYS_A_WEEK
