"""The course of a garden's water up to a day as it truly was, and from there on."""

from dataclasses import dataclass, replace
from datetime import date, timedelta

import numpy as np

from haulm.desk.beds.bed_water import (
    RainTold,
    WaterWeather,
    midwinter_before,
    water_beds,
    water_weather,
)
from haulm.desk.beds.stood import as_stood
from haulm.desk.beds.water_given import given_to_rows
from haulm.desk.planning.plans import Made
from haulm.measure.findings import Finding
from haulm.plan.records import Plan, Planting
from haulm.season.ahead import DayAhead
from haulm.season.records import Entry
from haulm.season.watered import WaterDiary, water_told
from haulm.water.balance_tables import BalanceTables, balance_tables, first_days
from haulm.water.figures import water_figures
from haulm.water.ground_balance import ground_balance
from haulm.water.needs import FORTNIGHT
from haulm.water.records import Array, Climate, GroundBalance, Watering

LONGEST = 366
"""What stands is followed no further ahead than this [d]."""


@dataclass(frozen=True, slots=True)
class Asked:
    """What today's water is asked of: the plan's garden, the day, the diary, the days ahead."""

    made: Made
    day: date
    entries: tuple[Entry, ...] = ()
    ahead: tuple[DayAhead, ...] = ()
    cans: int | None = None


@dataclass(frozen=True, slots=True, eq=False)
class Course:
    """The balances of one answer.

    ``past`` runs to the evening before the day; ``dry`` from the day on with no more given than
    today, ``watered`` with each patch watered when due.
    """

    asked: Asked
    plan: Plan
    told: WaterDiary
    weather: WaterWeather
    tables: BalanceTables
    at: int
    given_mm: Array
    past: GroundBalance
    dry: GroundBalance
    watered: GroundBalance

    @property
    def rows(self) -> list[int]:
        """The rows with a crop in the ground on the day."""
        return [
            row
            for row, (_, patch) in enumerate(self.tables.labels)
            if patch and self.tables.area_m2[self.at, row] > 0
        ]

    def planting(self, row: int) -> Planting:
        """Give the planting of a row."""
        wanted = self.tables.labels[row][1]
        return next(one for one in self.plan.plantings if one.id == wanted)

    def lacking_mm(self, row: int) -> Array:
        """Give what a row lacks this morning, what was given today taken off, one a run [mm]."""
        if not self.at or not self.tables.area_m2[self.at - 1, row]:
            # Begun today: its ground came from its bed's as the morning found it.
            used = self.taken_mm(self.dry, row, self.at, self.at + 1)
            evening = self.dry.depletion_mm[row, :, self.at].astype(np.float64)
            return np.asarray(np.maximum(evening - used, 0.0))
        lacks = np.nan_to_num(self.past.depletion_mm[row, :, self.at - 1].astype(np.float64))
        return np.asarray(np.maximum(lacks - self.given_mm[self.at, row], 0.0))

    def taken_mm(self, balance: GroundBalance, row: int, first: int, until: int) -> Array:
        """Add up what a row's leaves and soil give to the air over some days, one a run [mm]."""
        when = slice(first, until)
        taken = balance.crop_use_mm[row, :, when] + balance.evaporated_mm[row, :, when]
        return np.asarray(taken.sum(axis=1), dtype=np.float64)

    def season_mm(self, row: int) -> Array:
        """Give all that a row takes on its days: what it took, and takes if watered when due."""
        until = self.watered.stress.shape[2]
        before = self.taken_mm(self.past, row, 0, self.at) if self.at else 0.0
        whole = before + self.taken_mm(self.watered, row, self.at, until)
        return np.asarray(np.maximum(whole, 1e-9))

    def to_come_weeks(self, row: int) -> float:
        """Give for how many weeks what is still to be picked of a row feeds its lines of the table.

        Weeks of the lines it serves, so that a kilogram of garlic and one of potatoes compare; 0
        for what the table does not eat of it.
        """
        planting, plan = self.planting(row), self.plan
        week = plan.horizon.week_of(self.asked.day)
        whole = sum(pick.kg for pick in planting.picks)
        left = sum(pick.kg for pick in planting.picks if pick.week >= week)
        if not whole:
            return 0.0
        fed = 0.0
        for serves in planting.serves:
            wanted = max(
                (one.wanted_kg for one in plan.table if one.line == serves.line), default=0.0
            )
            fed += serves.kg / wanted if wanted > 0 else 0.0
        return fed * left / whole

    def to_come_kg(self, row: int) -> float:
        """Give what is still to be picked of a row by the plan [kg]."""
        week = self.plan.horizon.week_of(self.asked.day)
        return sum(pick.kg for pick in self.planting(row).picks if pick.week >= week)

    def response(self, row: int) -> tuple[float, bool]:
        """Give a crop's yield response, and whether it is known [1]."""
        known = self.asked.made.catalogue.kinds[self.planting(row).kind].water.yield_response
        return (known or water_figures().usual_yield_response).value, known is not None

    def with_more(self, more_mm: Array) -> GroundBalance:
        """Carry the fortnight from the day on with so much more given today, shape (rows,) [mm]."""
        given = self.given_mm[: self.at + FORTNIGHT].copy()
        given[self.at] += more_mm
        ground = _cut(self.tables, self.weather.climate, self.at + FORTNIGHT)
        return _onward(ground, given, self.at, self.past)


def course_of(asked: Asked) -> tuple[Course, tuple[Finding, ...]]:
    """Run the balances up to a day and on, and tell which waterings found no ground.

    Up to the first day of which the diary tells anything of water, what is due is taken as given:
    that nobody wrote does not say that nobody watered. From that day on only what is told was.

    Raises
    ------
    FaultsFoundError
        When the garden's weather has no rain.
    """
    garden, day = asked.made.garden, asked.day
    start = midwinter_before(garden.place, day)
    entries = [entry for entry in asked.entries if entry.day <= day]
    told = water_told([e for e in entries if e.day >= start], garden.watering.flow_l_min)
    plan = _near(as_stood(asked.made.plan, entries, garden.noted), start, day)
    until = _until(plan, day)
    # A whole year of warmth at least, by which seasons that go on are counted.
    drawn = max(until, start + timedelta(days=LONGEST))
    weather = water_weather(garden, day, drawn, RainTold(told.gauge_mm, asked.ahead))
    beds = water_beds(garden, asked.made.catalogue, plan, weather)
    tables = balance_tables(beds, weather.climate)
    at = weather.column(day)
    given = given_to_rows(told.given, tables, weather, plan.plantings)
    days = weather.column(until)
    first = at if told.first_day is None else min(max(weather.column(told.first_day), 0), at)
    past_tables, past_climate = _cut(tables, weather.climate, max(at, 1))
    by_hand = Watering(when_due=True, until_day=first, given_mm=given.depth_mm[: max(at, 1)])
    past = ground_balance(past_tables, past_climate, by_hand)
    dry = _onward(_cut(tables, weather.climate, at + FORTNIGHT), given.depth_mm, at, past)
    watered = _onward(_cut(tables, weather.climate, days), given.depth_mm, at, past, when_due=True)
    course = Course(asked, plan, told, weather, tables, at, given.depth_mm, past, dry, watered)
    return course, given.lost


def _cut(tables: BalanceTables, climate: Climate, days: int) -> tuple[BalanceTables, Climate]:
    """Give ground and weather for the first days alone."""
    short = replace(climate, rain_mm=climate.rain_mm[:, :days], use_mm=climate.use_mm[:, :days])
    return first_days(tables, days), short


def _onward(
    ground: tuple[BalanceTables, Climate],
    given_mm: Array,
    at: int,
    past: GroundBalance,
    *,
    when_due: bool = False,
) -> GroundBalance:
    """Carry the ground on from a day, as the evening before left it; at midwinter it is full."""
    tables, climate = ground
    watering = Watering(when_due=when_due, given_mm=given_mm[: tables.area_m2.shape[0]])
    return ground_balance(tables, climate, watering, begun=(at, past.left) if at else None)


def _near(plan: Plan, start: date, day: date) -> Plan:
    """Leave out what is over by the start, and what is begun after the coming fortnight."""
    soon = day + timedelta(days=FORTNIGHT)
    near = tuple(p for p in plan.plantings if p.clear_by > start and p.in_ground_from < soon)
    return replace(plan, plantings=near)


def _until(plan: Plan, day: date) -> date:
    """Give the last day on which something that stands is cleared, a year ahead at most."""
    stands = [p.clear_by for p in plan.plantings if p.in_ground_from <= day < p.clear_by]
    least, most = day + timedelta(days=FORTNIGHT), day + timedelta(days=LONGEST)
    return min(max([*stands, least]), most)
