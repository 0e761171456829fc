"""What each bed wants of water today, by what truly fell on it and what was given to it."""

from collections.abc import Sequence
from datetime import date, timedelta
from math import ceil, floor

import numpy as np

from haulm.desk.beds.bed_water import From
from haulm.desk.beds.dry_spell import dry_spell
from haulm.desk.beds.water_course import Asked, Course, course_of
from haulm.desk.beds.water_given import tank_levels
from haulm.desk.beds.water_shared import filled_mm, with_shares
from haulm.desk.beds.water_tanks import tanks_today
from haulm.desk.beds.water_today_records import (
    BedToday,
    DayTold,
    Haste,
    PatchToday,
    Stage,
    WaterDay,
    WaterToday,
)
from haulm.ground.records import Bed
from haulm.measure.weeks import DAYS_A_WEEK
from haulm.site.spread import Spread, spread_of
from haulm.water.crops import crop_water
from haulm.water.figures import water_figures
from haulm.water.needs import FORTNIGHT, daily_l, days_until_thirsty
from haulm.water.records import GroundBalance
from haulm.water.root_zone import litres
from haulm.water.rules import allowed_on, next_allowed
from haulm.water.stages import warm_progress

PAST_DAYS = 14


def water_today(asked: Asked) -> WaterToday:
    """Reckon what a planned garden wants of water on a day, by what truly happened.

    Raises
    ------
    FaultsFoundError
        When the garden's weather has no rain.
    """
    course, lost = course_of(asked)
    garden, day = asked.made.garden, asked.day
    patches = sorted((_patch(course, row) for row in course.rows), key=_need)
    limit = garden.watering.cans_a_day if asked.cans is None else asked.cans
    filled = course.with_more(filled_mm(course, patches))
    patches = list(with_shares(course, patches, limit, filled))
    beds = [_bed(course, bed, [one for one in patches if one.bed == bed.id]) for bed in garden.beds]
    planted = frozenset(one.bed for one in patches)
    return WaterToday(
        day=day,
        beds=tuple(sorted((b for b in beds if b.patches), key=lambda bed: _need(bed.patches[0]))),
        order=tuple(patches),
        quiet_until=_quiet_until(course, patches, filled),
        cans_wanted=sum(one.cans for one in patches),
        cans_there=limit,
        can_l=garden.watering.can_l,
        flow_l_min=garden.watering.flow_l_min,
        gauge_read_on=max((one for one in course.told.gauge_mm if one <= day), default=None),
        given_since=course.told.first_day,
        known_until=course.weather.true_until,
        past=_past(course),
        ahead=_ahead(course),
        tanks=tanks_today(
            course, tank_levels(garden.tanks, course.told, course.weather, day), patches
        ),
        dry=dry_spell(garden, course.weather, course.told, day, planted),
        not_counted=(*course.told.not_counted, *lost),
        estimated=course.weather.use.assumed,
        drawn_from=course.weather.seasons.origin,
    )


def _need(one: PatchToday) -> tuple[bool, float, float, float, str]:
    """Give the key that puts what must be watered now first, and of those what loses most."""
    waits = one.haste is not Haste.NOW
    return (waits, -one.lost_weeks, -one.lost.middle, one.days.middle, one.planting)


def _patch(course: Course, row: int) -> PatchToday:
    """Say how the crop of a row stands for water."""
    planting, at = course.planting(row), course.at
    bed = next(one for one in course.asked.made.garden.beds if one.id == planting.bed)
    lacks = spread_of(course.lacking_mm(row))
    days = spread_of(days_until_thirsty(course.dry, row, at, FORTNIGHT))
    response, known = course.response(row)
    until = at + FORTNIGHT
    missed = course.taken_mm(course.watered, row, at, until)
    missed = np.maximum(missed - course.taken_mm(course.dry, row, at, until), 0.0)
    lost = spread_of(np.minimum(response * missed / course.season_mm(row), 1.0))
    haste = _haste(course, bed, days, lost)
    fill_l = litres(lacks.middle, planting.area_m2)
    return PatchToday(
        bed=planting.bed,
        planting=planting.id,
        name=course.asked.made.names.get(planting.kind, planting.kind),
        kind=planting.kind,
        area_m2=planting.area_m2,
        stage=_stage(course, row),
        lacks_mm=lacks,
        easy_mm=float(np.median(course.dry.easy_mm[row, :, at])),
        fill_l=fill_l,
        days=days,
        lost=lost,
        lost_kg=lost.middle * course.to_come_kg(row),
        lost_weeks=lost.middle * course.to_come_weeks(row),
        response_known=known,
        haste=haste,
        safe_until=_safe_until(course.asked.day, days),
        cans=cans_for(fill_l, course.asked.made.garden.watering.can_l) if haste is Haste.NOW else 0,
    )


def cans_for(litres_: float, can_l: float) -> int:
    """Give the cans that hold so much, a last one begun counting whole where it is half full."""
    begun = water_figures().can_begun.value
    return max(1, ceil(litres_ / can_l - begun + 1e-9))


def _haste(course: Course, bed: Bed, days: Spread, lost: Spread) -> Haste:
    """Say whether a crop must be watered now: thirsty today, or before it is allowed again.

    What hardly loses by a fortnight's drought can wait: ripening garlic, a sowing just begun.
    """
    if lost.high < water_figures().slight_loss.value:
        return Haste.WAITS
    if days.middle < 1:
        return Haste.NOW
    rules, day = course.asked.made.garden.water_rules, course.asked.day
    if allowed_on(rules, bed.id, bed.watered, day).may:
        again = next_allowed(rules, bed.id, bed.watered, day)
        wait = (again - day).days if again else FORTNIGHT
        if wait > 1 and days.middle < wait:
            return Haste.NOW
    return Haste.SOON if days.middle <= water_figures().soon_days.value else Haste.WAITS


def _safe_until(day: date, days: Spread) -> date | None:
    """Give the first day on which a crop is thirsty in 1 year of 10; None for not soon."""
    return None if days.low >= FORTNIGHT else day + timedelta(days=floor(days.low))


def _stage(course: Course, row: int) -> Stage:
    """Say how far a crop's season has gone on the day, by warmth."""
    planting, weather = course.planting(row), course.weather
    kind = course.asked.made.catalogue.kinds[planting.kind]
    shares = np.cumsum(crop_water(kind.water).shares)
    first, until = weather.column(planting.in_ground_from), weather.column(planting.clear_by)
    mean_c = ((weather.seasons.tmin_c + weather.seasons.tmax_c) / 2).mean(axis=0)
    columns = np.arange(first, until) % 365
    warmth = np.maximum(mean_c[np.minimum(columns, mean_c.size - 1)] - kind.warmth.base_c.value, 0)
    progress = warm_progress(warmth)[course.at - first]
    return list(Stage)[int(np.searchsorted(shares[:3], progress))]


def _bed(course: Course, bed: Bed, patches: Sequence[PatchToday]) -> BedToday:
    """Put a bed's crops together."""
    rules, day = course.asked.made.garden.water_rules, course.asked.day
    now = [one for one in patches if one.haste is Haste.NOW]
    give_l = sum(one.fill_l for one in now)
    rows = [row for row in course.rows if course.tables.labels[row][0] == bed.id]
    until = course.at + DAYS_A_WEEK - day.weekday()
    week = daily_l(course.watered, rows)[:, course.at : until].sum(axis=1)
    return BedToday(
        id=bed.id,
        name=bed.name,
        area_m2=bed.outline.area_m2,
        way=bed.watered,
        allowed=allowed_on(rules, bed.id, bed.watered, day),
        next_allowed=next_allowed(rules, bed.id, bed.watered, day),
        patches=tuple(patches),
        give_l=give_l,
        cans=sum(one.cans for one in now),
        week_l=spread_of(np.maximum(week, give_l)),
    )


def _quiet_until(
    course: Course, patches: Sequence[PatchToday], filled: GroundBalance
) -> date | None:
    """Give the first day from tomorrow on which something is thirsty again in 1 year of 10.

    What must be watered today is taken as watered.
    """
    rows = {course.tables.labels[row]: row for row in course.rows}
    days = [
        spread_of(days_until_thirsty(filled, rows[one.bed, one.planting], course.at, FORTNIGHT)).low
        for one in patches
    ]
    soonest = min(days, default=float(FORTNIGHT))
    if soonest >= FORTNIGHT:
        return None
    return course.asked.day + timedelta(days=max(1, floor(soonest)))


def _past(course: Course) -> tuple[WaterDay, ...]:
    """Tell the last days as they were reckoned, newest first."""
    weather, area = course.weather, course.tables.area_m2
    days = []
    for column in range(course.at - 1, max(course.at - 1 - PAST_DAYS, -1), -1):
        given = float((course.given_mm[column] * area[column]).sum())
        days.append(
            WaterDay(
                weather.seasons.first_day + timedelta(days=column),
                float(np.median(weather.climate.rain_mm[:, column])),
                From(int(weather.rain_from[column])),
                float(np.median(weather.climate.use_mm[:, column])),
                From(int(weather.air_from[column])),
                given,
            )
        )
    return tuple(days)


def _ahead(course: Course) -> tuple[DayTold, ...]:
    """Tell the days ahead of which rain was told."""
    weather = course.weather
    told = []
    for column in range(course.at, course.at + FORTNIGHT):
        if weather.rain_from[column] == From.TOLD:
            rain = weather.climate.rain_mm[:, column]
            day = weather.seasons.first_day + timedelta(days=column)
            some = rain[rain > 0]
            middle = float(np.median(some)) if some.size else 0.0
            told.append(DayTold(day, middle, float(np.mean(rain > 0))))
    return tuple(told)
