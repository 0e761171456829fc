"""What part of the household's energy and vitamins a plan grows, by year and by month."""

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from haulm.catalogue.food_facts import NUTRIENTS, ORIGIN, load_food_facts
from haulm.catalogue.records import Catalogue
from haulm.desk.planning.plans import UNLAID, kept_plan
from haulm.desk.table.table_sums import year_in_plan
from haulm.household.portions import energy_source
from haulm.household.reference_intakes import left_out, needed_at_home, reference_intakes
from haulm.larder.nourishing import Eaten, NutrientSum, by_day, nourishment
from haulm.measure.findings import Finding
from haulm.measure.weeks import DAYS_A_WEEK, Horizon
from haulm.notebook.garden import Garden
from haulm.plan.records import Plan

NOTHING_KG = 0.005
RESTS_ON = (
    f"What foods hold: {ORIGIN}. Energy needed: Dietary Guidelines for Americans. All else needed: "
    "Dietary Reference Intakes, National Academies (USA)."
)
"""The sources in short; their titles in full are in ``Nourished.sources``."""


@dataclass(frozen=True, slots=True)
class MonthNourished:
    """One month of the year shown: its number, how many of its days lie in the year, its sums."""

    month: int
    days: int
    sums: tuple[NutrientSum, ...]


@dataclass(frozen=True, slots=True)
class Unknown:
    """A food that is eaten and of which nothing is known: how much [kg], and why."""

    food: str
    kg: float
    reason: str


@dataclass(frozen=True, slots=True)
class Nourished:
    """What a plan's food covers of the household's need.

    Attributes
    ----------
    weeks
        The year told: the first whole year of eating in the plan.
    year
        Every nutrient over that year.
    months
        The same by month, in the order in which they come.
    unknown
        Foods that are eaten and without facts, the most first.
    uncounted
        Eaters whose needs are not counted, such as infants.
    ageless
        Eaters whose age is not told; they are counted as adults of 31 to 50.
    sources
        Where the facts and the needs are from.
    names
        Names of foods, by id.
    since
        What has changed since the plan was made.
    certainty
        The share of years in which as much at least is eaten, for a plan made so sure; None for
        one of a middle year.
    """

    weeks: Horizon
    year: tuple[NutrientSum, ...]
    months: tuple[MonthNourished, ...]
    unknown: tuple[Unknown, ...]
    uncounted: tuple[str, ...]
    ageless: tuple[str, ...]
    sources: tuple[str, ...]
    names: dict[str, str]
    since: tuple[Finding, ...] = ()
    certainty: float | None = None


def nourished_by(path: Path) -> Nourished:
    """Reckon what the plan kept in a notebook covers.

    Raises
    ------
    FaultsFoundError
        When the path is no notebook, there is no plan in it, or the garden no longer has what the
        plan stands on.
    """
    made = kept_plan(path, UNLAID)
    return nourished(made.plan, made.garden, made.catalogue, made.since)


def nourished(
    plan: Plan, garden: Garden, catalogue: Catalogue, since: tuple[Finding, ...] = ()
) -> Nourished:
    """Reckon what a plan's food covers of the household's need."""
    weeks = year_in_plan(plan, southern=garden.place.southern)
    known = load_food_facts()
    eaten = Eaten(_eaten(plan, weeks), catalogue.foods, known.facts)
    household = garden.household
    needed = {one.id: needed_at_home(one.id, household, weeks) for one in NUTRIENTS}
    days = _days(weeks)
    whole = np.ones(len(days), dtype=np.bool_)
    months = np.array([day.month for day in days])
    in_order = dict.fromkeys(day.month for day in days)
    unknown = [
        Unknown(food, float(kg.sum()), known.why_absent(food))
        for food, kg in eaten.daily_kg.items()
        if food not in known.facts and kg.sum() > NOTHING_KG
    ]
    return Nourished(
        weeks=weeks,
        year=nourishment(eaten, needed, whole),
        months=tuple(
            MonthNourished(
                month, int((months == month).sum()), nourishment(eaten, needed, months == month)
            )
            for month in in_order
        ),
        unknown=tuple(sorted(unknown, key=lambda one: -one.kg)),
        uncounted=_uncounted(garden),
        ageless=tuple(eater.name for eater in household.eaters if eater.age is None),
        sources=(
            ORIGIN,
            energy_source(),
            *dict.fromkeys(one.source for one in reference_intakes().values()),
        ),
        names={food.id: food.name for food in catalogue.foods.values()},
        since=since,
        certainty=_certainty(plan),
    )


def _certainty(plan: Plan) -> float | None:
    """Give the share of years in which all the plan promises is to hold [1]; None: of means."""
    sure = dict(plan.certainty.lines) if plan.certainty else {}
    return min(sure.values()) if sure.keys() == {row.line for row in plan.table} else None


def as_told(found: Nourished) -> Mapping[str, object]:
    """Give what was reckoned as plain values, shares and names with them."""
    return {
        "first_day": found.weeks.first_day,
        "last_day": found.weeks.last_day,
        "certainty": found.certainty,
        "year": [_told(one, found.names) for one in found.year],
        "months": [
            {
                "month": one.month,
                "days": one.days,
                "nutrients": [_told(total, found.names) for total in one.sums],
            }
            for one in found.months
        ],
        "unknown": [
            {"food": found.names[one.food], "kg": one.kg, "reason": one.reason}
            for one in found.unknown
        ],
        "uncounted": found.uncounted,
        "ageless": found.ageless,
        "sources": found.sources,
        "since": found.since,
    }


def _told(total: NutrientSum, names: Mapping[str, str]) -> Mapping[str, object]:
    return {
        "nutrient": total.nutrient.name,
        "unit": total.nutrient.unit,
        "eaten": total.eaten,
        "needed": total.needed,
        "share": total.share,
        "known_share": total.known_share,
        "from": [{"food": names[food], "amount": amount} for food, amount in total.most_from],
    }


def _eaten(plan: Plan, weeks: Horizon) -> dict[str, NDArray[np.float64]]:
    """Give the kilograms of each food eaten on each day of some weeks, as lifted [kg]."""
    offset = (weeks.first_day - plan.horizon.first_day).days // DAYS_A_WEEK
    weekly: defaultdict[str, list[float]] = defaultdict(lambda: [0.0] * weeks.weeks)
    for helping in plan.helpings:
        if 0 <= helping.week - offset < weeks.weeks:
            weekly[helping.food][helping.week - offset] += helping.kg
    return {food: by_day(kg) for food, kg in weekly.items()}


def _days(weeks: Horizon) -> list[date]:
    count = weeks.weeks * DAYS_A_WEEK
    return [weeks.first_day + timedelta(days=number) for number in range(count)]


def _uncounted(garden: Garden) -> tuple[str, ...]:
    """Name the eaters whose need is not counted for any nutrient that has one."""
    names = (left_out(nutrient, garden.household) for nutrient in reference_intakes())
    return tuple(dict.fromkeys(name for some in names for name in some))
