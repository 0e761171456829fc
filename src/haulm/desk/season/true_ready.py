"""When food was ready in the year that came: by the weather record, the diary or the odds."""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import timedelta
from enum import StrEnum

from haulm.catalogue.records import Catalogue
from haulm.desk.beds.weather import WEEKS_AFTER, WEEKS_BEFORE
from haulm.desk.planning.plans import Made
from haulm.growing.grown import Start, TrueWeather, grown
from haulm.growing.records import Sowing, SowingFood
from haulm.growing.weather import growing_weather
from haulm.measure.weeks import DAYS_A_WEEK
from haulm.planner.question import PlanQuestion
from haulm.planner.true_year import Stood, TrueYear, is_dated
from haulm.site.days_on_record import days_on_record

GrownFoods = Mapping[str, Mapping[str, SowingFood]]
"""What the weather made of foods, by sowing or patch and food."""


class ReadyBy(StrEnum):
    """What a food's days in the true year are taken from."""

    RECORD = "the weather record"
    DIARY = "the diary"
    ODDS = "the odds"


@dataclass(frozen=True, slots=True)
class ReadyFood:
    """By what the days of a food's sowings are known: how many by each."""

    food: str
    by: tuple[tuple[ReadyBy, int], ...]


@dataclass(frozen=True, slots=True)
class ReadyInYear:
    """A true year with the days of its record; and by sowing or patch and food, what tells them.

    What was weighed has its days from the diary and is not among them.
    """

    year: TrueYear
    by: Mapping[tuple[str, str], ReadyBy]


def ready_in(question: PlanQuestion, year: TrueYear, made: Made, seed: int) -> ReadyInYear:
    """Reckon the days of a year from the record of its weather, and say what each is taken from.

    Of a sowing to choose from: the record where it was read from the start until the food was
    ready; else so much later as the kind's plantings were picked; else as the plan had it. Of a
    patch that stood and was not weighed: the record from the day it was truly begun, else as the
    plan had it, so much later as it was begun.
    """
    weather = _true_weather(question, made, seed)
    offered = {sowing.id: sowing for sowing in question.sowings}
    stood = [one for one in year.stood if one.sowing in offered]
    made_of: dict[str, Mapping[str, SowingFood]] = {}
    if weather is not None:
        for sowing in offered.values():
            made_of[sowing.id] = _grown(sowing, 0, made.catalogue, weather)
        for one in stood:
            late = one.late_weeks
            made_of[one.id] = _grown(offered[one.sowing], late, made.catalogue, weather)
    by = dict(_told_by(offered, stood, made_of, year))
    return ReadyInYear(replace(year, grown=made_of), by)


def ready_foods(by: Mapping[tuple[str, str], ReadyBy]) -> tuple[ReadyFood, ...]:
    """Count by food what its days are taken from, foods by name."""
    counts: dict[str, Counter[ReadyBy]] = {}
    for (_, food), told in by.items():
        counts.setdefault(food, Counter())[told] += 1
    return tuple(
        ReadyFood(food, tuple((told, counts[food][told]) for told in ReadyBy if counts[food][told]))
        for food in sorted(counts)
    )


def _true_weather(question: PlanQuestion, made: Made, seed: int) -> TrueWeather | None:
    horizon, garden = question.horizon, made.begun_from
    first_day = horizon.first_day - timedelta(weeks=WEEKS_BEFORE)
    days = DAYS_A_WEEK * (WEEKS_BEFORE + horizon.weeks + WEEKS_AFTER)
    found = days_on_record(garden.weather, garden.place, first_day, days, seed)
    if found is None or not found.until:
        return None
    return TrueWeather(growing_weather(found.seasons, garden.place), found, horizon)


def _grown(
    sowing: Sowing, late_weeks: int, catalogue: Catalogue, weather: TrueWeather
) -> Mapping[str, SowingFood]:
    kind = catalogue.kinds[sowing.kind]
    method = next(method for method in kind.methods if method.id == sowing.method)
    begins_on = sowing.set_on + timedelta(weeks=late_weeks)
    return grown(Start(kind, method, begins_on, sowing.under_cover), weather)


def _told_by(
    offered: Mapping[str, Sowing], stood: Sequence[Stood], made_of: GrownFoods, year: TrueYear
) -> Iterator[tuple[tuple[str, str], ReadyBy]]:
    """Say of each sowing and patch not weighed what its foods' days in the year are taken from."""
    came = {(one.kind, one.food) for one in year.kinds}
    weighed = {(one.id, food.food) for one in stood for food in one.foods}
    every = [(id_, sowing, True) for id_, sowing in offered.items()]
    every += [(one.id, offered[one.sowing], False) for one in stood]
    for id_, sowing, chosen in every:
        for food in sowing.foods:
            if (id_, food.food) in weighed:
                continue
            dated = made_of.get(id_, {}).get(food.food)
            if dated is not None and is_dated(food, dated, year):
                yield (id_, food.food), ReadyBy.RECORD
            elif year.first_week <= food.first_week < year.until_week:
                by_kind = chosen and (sowing.kind, food.food) in came
                yield (id_, food.food), ReadyBy.DIARY if by_kind else ReadyBy.ODDS
