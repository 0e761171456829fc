"""What the table wants out of store, food by food and week by week, and when a food comes anew."""

from collections import defaultdict
from collections.abc import Mapping
from datetime import date, timedelta

from haulm.desk.garden.opening import Opened
from haulm.desk.planning.question import portions_kg
from haulm.household.appetite import appetites
from haulm.household.records import Wanted
from haulm.measure.weeks import horizon_from
from haulm.plan.records import Plan
from haulm.season.eat_first import weeks_until
from haulm.season.run_out import ReadyAgain

SOON_DAYS = 7
"""What is ready within so many days is taken to be of the harvest that is being eaten."""


def wanted_from_store(
    opened: Opened, plan: Plan | None, in_store_kg: Mapping[str, float], day: date
) -> Mapping[str, tuple[float, ...]]:
    """Give what the table wants of each food from store in each week from today's on [kg].

    What the plan serves fresh is taken off. Foods that stand in for one another share a line's
    want by what of each lies in store.
    """
    horizon = horizon_from(day)
    wants: dict[str, list[float]] = defaultdict(lambda: [0.0] * horizon.weeks)
    fresh = _fresh_kg(plan)
    mondays = [horizon.monday(week) for week in range(horizon.weeks)]
    for appetite in appetites(opened.garden.household, horizon, portions_kg(opened.catalogue)):
        if appetite.wanted is Wanted.FRESH:
            continue
        there = {food: in_store_kg.get(food, 0.0) for food in appetite.foods}
        whole = sum(there.values())
        for week, kg in enumerate(appetite.kg):
            lacks = max(0.0, kg - fresh.get((appetite.line, mondays[week]), 0.0))
            for food, share in there.items():
                if whole > 0:
                    wants[food][week] += lacks * share / whole
    return {food: tuple(weeks) for food, weeks in wants.items()}


def _fresh_kg(plan: Plan | None) -> Mapping[tuple[str, date], float]:
    """Add up what a plan serves fresh, by line and Monday [kg]."""
    kg: dict[tuple[str, date], float] = defaultdict(float)
    if plan is not None:
        for helping in plan.helpings:
            if helping.lot is None:
                kg[helping.line, plan.horizon.monday(helping.week)] += helping.kg
    return kg


def ready_again(plan: Plan | None, food: str, day: date) -> ReadyAgain | None:
    """Give when a plan has a food ready anew; None where it has none to come."""
    coming = [
        ready
        for planting in (plan.plantings if plan else ())
        for ready in planting.ready
        if ready.food == food and ready.middle > day + timedelta(days=SOON_DAYS)
    ]
    if not coming:
        return None
    first = min(coming, key=lambda ready: (ready.middle, ready.early))
    return ReadyAgain(first.early, first.middle, first.late)


def until_again(weeks: tuple[float, ...], day: date, again: ReadyAgain | None) -> tuple[float, ...]:
    """Keep the weeks that what lies in store is meant for.

    Those before the food comes anew for certain; where nobody knows when, those until it is next
    not wanted.
    """
    if again is not None:
        return weeks[: weeks_until(day, again.late)]
    first = next((number for number, kg in enumerate(weeks) if kg > 0), len(weeks))
    last = next((n for n in range(first, len(weeks)) if weeks[n] <= 0), len(weeks))
    return weeks[:last]
