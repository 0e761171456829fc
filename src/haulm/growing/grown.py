"""What one start gave of its foods in the weather that truly came, as far as that was read."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date

import numpy as np

from haulm.catalogue.records import Kind, Method
from haulm.growing.days import NEVER
from haulm.growing.harvest import OneStart, food_of, gatherings, one_start
from haulm.growing.records import SowingFood
from haulm.growing.timing import course
from haulm.growing.weather import GrowingWeather
from haulm.measure.weeks import Horizon
from haulm.site.days_on_record import DaysOnRecord


@dataclass(frozen=True, slots=True, eq=False)
class TrueWeather:
    """The weather of a record as plants met it, one run, and which of its days were read."""

    weather: GrowingWeather
    days: DaysOnRecord
    horizon: Horizon


@dataclass(frozen=True, slots=True)
class Start:
    """One start of a kind: how, the day it was in its ground, and whether under cover."""

    kind: Kind
    method: Method
    begins_on: date
    under_cover: bool


def grown(start: Start, true: TrueWeather) -> Mapping[str, SowingFood]:
    """Reckon when a start's foods were ready in the weather that came, and in which weeks to take.

    A food is given where the record was read from the start until the food was ready: its dates
    are those of that one run. Frost and bolting end it as they came; where they would come after
    the record's end, nothing is known of them, and they do not end it. A food that the weather
    killed before it was ready is left out, and so is one that is ready only after the record's end.
    """
    weather = true.weather
    column = weather.column_of(start.begins_on)
    if not 0 <= column < weather.seasons.days:
        return {}
    begins = np.array([column], dtype=np.int64)
    fared = course(start.kind, start.method, begins, weather, under_cover=start.under_cover)
    one = one_start(start.kind, fared, 0, weather, true.horizon)
    known = np.where(one.cut_short < true.days.until, one.cut_short, NEVER)
    one = replace(one, cut_short=known)
    return dict(_foods(one, column, true.days))


def _foods(one: OneStart, column: int, days: DaysOnRecord) -> list[tuple[str, SowingFood]]:
    found = []
    for gathering in gatherings(one):
        ready = int(one.phase_ends[gathering.giving.after][0])
        food = food_of(one, gathering)
        if food is not None and days.holds(column, ready + 1):
            found.append((food.food, food))
    return found
