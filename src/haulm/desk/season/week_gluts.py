"""The gluts of a week: what it brings beyond table and stores, and what else to do with it."""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from haulm.catalogue.records import Catalogue, Picking
from haulm.desk.season.larder_care import weighed_between
from haulm.desk.season.other_uses import UsesAsked, givings_of, other_uses
from haulm.desk.season.week_waiting import TAKES, Asked, food_of
from haulm.measure.weeks import DAYS_A_WEEK
from haulm.season.gluts import NEAR_WEEKS, NOTHING_KG, Glut, TakenByPlan
from haulm.season.records import Entry
from haulm.season.weighing import Weighing
from haulm.sheets.week_list import WeekJob


@dataclass(frozen=True, slots=True)
class GlutsAsked:
    """By what a week's gluts are told: the plan as it was made, the diary, and the other uses."""

    asked: Asked
    entries: Sequence[Entry]
    uses: UsesAsked

    @property
    def catalogue(self) -> Catalogue:
        """The garden's catalogue."""
        return self.uses.opened.catalogue


def gluts_of(asked: GlutsAsked, jobs: Iterable[WeekJob], monday: date) -> tuple[Glut, ...]:
    """Say of which foods a week brings more than is eaten, put by or given, the most first.

    By the plan, of what is still to be picked; and by the diary, where more was picked than the
    plan takes and the diary tells of.
    """
    weighed = _weighed(asked, monday, monday + timedelta(days=DAYS_A_WEEK - 1))
    before = _weighed(asked, monday - timedelta(weeks=NEAR_WEEKS), monday - timedelta(days=1))
    planned = _planned(asked.asked, jobs)
    found = []
    for food in dict.fromkeys([*planned, *weighed]):
        mine = weighed.get(food)
        had_kg = before[food].picked_kg if food in before else 0.0
        over = max(planned.get(food, 0.0), _over(asked, mine, monday, had_kg))
        if over > NOTHING_KG:
            picked = mine.picked_kg if mine else None
            found.append(Glut(food, picked, over, other_uses(asked.uses, food, monday)))
    return tuple(sorted(found, key=lambda one: (-one.over_kg, one.food)))


def _weighed(asked: GlutsAsked, first: date, last: date) -> Mapping[str, Weighing]:
    """Weigh what the diary tells of some days, by food; what was not picked is left out."""
    found = weighed_between(asked.entries, asked.catalogue, first, last)
    return {one.food: one for one in found if one.picked_kg > 0}


def _planned(asked: Asked, jobs: Iterable[WeekJob]) -> Mapping[str, float]:
    """Add up what the plan means to be picked still beyond what it takes, by food [kg]."""
    found: dict[str, float] = defaultdict(float)
    for job in jobs:
        planting = asked.plantings.get(job.due.job.planting)
        if planting is not None and job.due.job.kind in TAKES and job.done is None:
            found[food_of(job.due.job, planting)] += job.over_kg
    return found


def _over(asked: GlutsAsked, weighed: Weighing | None, monday: date, had_kg: float) -> float:
    """Give what was picked beyond what the plan takes, or the diary says was taken [kg].

    0 of what the plan does not grow about that time: nobody has reckoned what the table wants.
    """
    if weighed is None:
        return 0.0
    week = asked.asked.plan.horizon.week_of(monday)
    taken = _taken(asked, weighed.food).near(week, had_kg)
    if taken is None:
        return 0.0
    return max(0.0, weighed.picked_kg - max(taken, weighed.told_kg))


def _taken(asked: GlutsAsked, food: str) -> TakenByPlan:
    """Give what the plan takes of a food's picking, week by week."""
    feeding = asked.asked.feeding
    by_week = {
        week: kg - feeding.glut.get((one, week), 0.0)
        for (one, week), kg in feeding.picked.items()
        if one == food
    }
    again = any(one.picking is Picking.SPREAD for _, one in givings_of(asked.catalogue, food))
    return TakenByPlan(by_week, again)
