"""Water that the diary says was given, laid on the balance's rows; and what tanks then hold."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

import numpy as np

from haulm.desk.beds.bed_water import WaterWeather
from haulm.measure.findings import Finding, Grade
from haulm.plan.records import Planting
from haulm.season.records import key_of
from haulm.season.watered import Given, WaterDiary
from haulm.water.balance_tables import BalanceTables
from haulm.water.records import Array, Tank


@dataclass(frozen=True, slots=True, eq=False)
class GivenToRows:
    """What was given to each row on each day, shape (days, rows) [mm], and what found no row."""

    depth_mm: Array
    lost: tuple[Finding, ...] = ()


def given_to_rows(
    given: Iterable[Given],
    tables: BalanceTables,
    weather: WaterWeather,
    plantings: Sequence[Planting],
) -> GivenToRows:
    """Lay what was given on the ground it was given to.

    Litres given to a whole bed are spread by area over all that stood there that day, or over its
    bare ground where nothing did.

    Parameters
    ----------
    given
        From the diary.
    tables, weather
        The balance's rows, and its days.
    plantings
        The plan's, whose names the rows have.
    """
    days, rows = tables.area_m2.shape
    depth = np.zeros((days, rows))
    ids = {key_of(planting): planting.id for planting in plantings}
    kinds = {planting.id: planting.kind for planting in plantings}
    lost: list[Finding] = []
    for one in given:
        column = weather.column(one.day)
        if not 0 <= column < days:
            continue
        there = _rows_given(one, tables, column, ids, kinds)
        if not there:
            lost.append(_nowhere(one))
            continue
        area = float(tables.area_m2[column, there].sum())
        told_mm = one.depth_mm or 0.0
        depth[column, there] += told_mm if one.litres is None else one.litres / area
    return GivenToRows(depth, tuple(lost))


def _rows_given(
    one: Given,
    tables: BalanceTables,
    column: int,
    ids: Mapping[str, str],
    kinds: Mapping[str, str],
) -> list[int]:
    """Find the rows that had ground on the day and are spoken of."""
    here = [
        row
        for row, (bed, _) in enumerate(tables.labels)
        if tables.area_m2[column, row] > 0 and (one.bed is None or bed == one.bed)
    ]
    if one.planting is not None and one.planting in ids:
        wanted = ids[one.planting]
        if found := [row for row in here if tables.labels[row][1] == wanted]:
            return found
    if one.bed is None:
        return []
    grown = [row for row in here if tables.labels[row][1]]
    if one.kind is not None:
        of_kind = [row for row in grown if kinds.get(tables.labels[row][1]) == one.kind]
        grown = of_kind or grown
    return grown or here


def _nowhere(one: Given) -> Finding:
    return Finding(
        f"the diary of {one.day.isoformat()}, watered {one.planting or one.bed or ''}".rstrip(),
        "nothing of that name stood in the plan's beds that day: not counted.",
        "Put the entry right: name a bed, or a planting of the plan that is kept.",
        Grade.WARNING,
    )


@dataclass(frozen=True, slots=True, eq=False)
class TankLevel:
    """What lies in a tank this morning, in each run [l]; ``read_on`` None where nobody read it.

    A tank that nobody read is taken as full.
    """

    tank: Tank
    lying_l: Array
    read_on: date | None
    drawn_l: float


def tank_levels(
    tanks: Sequence[Tank], told: WaterDiary, weather: WaterWeather, day: date
) -> tuple[TankLevel, ...]:
    """Carry each tank from its last reading to a day, by rain on its roof and what was drawn.

    Rain of the day of the reading is taken to be in it already; what was drawn that day counts
    where it was written after the reading.
    """
    return tuple(_level(tank, told, weather, day) for tank in tanks)


def _level(tank: Tank, told: WaterDiary, weather: WaterWeather, day: date) -> TankLevel:
    runs = weather.climate.rain_mm.shape[0]
    read = [one for one in told.read if one.tank == tank.name and one.day <= day]
    if not read:
        return TankLevel(tank, np.full(runs, tank.holds_l), None, 0.0)
    last = max(read, key=lambda one: (one.day, one.number))
    lying = np.full(runs, min(last.litres, tank.holds_l))
    drawn = [
        one
        for one in told.given
        if one.tank == tank.name
        and one.litres is not None
        and last.day <= one.day <= day
        and (one.day > last.day or one.number > last.number)
    ]
    first, at = weather.column(last.day), weather.column(day)
    for column in range(max(first, 0), at + 1):
        if first < column < at:
            rain = weather.climate.rain_mm[:, column]
            lying = np.minimum(lying + tank.roof_m2 * tank.caught_share * rain, tank.holds_l)
        of_day = sum(one.litres or 0.0 for one in drawn if weather.column(one.day) == column)
        lying = np.maximum(lying - of_day, 0.0)
    return TankLevel(tank, lying, last.day, sum(one.litres or 0.0 for one in drawn))
