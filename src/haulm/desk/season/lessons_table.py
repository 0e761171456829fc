"""What the kitchen teaches: what is eaten of each food, beside what the table says of it."""

from collections import defaultdict
from collections.abc import Iterator
from datetime import date

from haulm.desk.planning.question import portions_kg
from haulm.desk.season.lesson_gathering import Gathered
from haulm.desk.season.lesson_records import Eaten
from haulm.household.appetite import appetites
from haulm.measure.weeks import DAYS_A_WEEK, WEEKS_A_YEAR, horizon_from, monday_of
from haulm.season.records import EntryKind
from haulm.season.rules import season_rules


def eaten_of(told: Gathered) -> Iterator[Eaten]:
    """Give what was eaten of each food in the last year, week by week, beside the table's amount.

    It is counted from the first to the last week in which the food was eaten; what nobody wrote is
    not seen, so less than the table says need not mean a smaller appetite.
    """
    weeks: dict[str, dict[date, float]] = defaultdict(lambda: defaultdict(float))
    for entry in told.entries:
        food = entry.about.food
        recent = (told.day - entry.day).days < WEEKS_A_YEAR * DAYS_A_WEEK
        if entry.kind is EntryKind.EATEN and food is not None and recent:
            kg = told.kg(entry, food)
            if kg is not None:
                weeks[food][monday_of(entry.day)] += kg
    few = season_rules().few_weeks.value
    for food, eaten in sorted(weeks.items()):
        if len(eaten) >= few:
            first, last = min(eaten), max(eaten)
            span = (last - first).days // DAYS_A_WEEK + 1
            told_kg = _table_kg(told, food, first, span)
            yield Eaten(food, span, len(eaten), sum(eaten.values()) / span, told_kg)


def _table_kg(told: Gathered, food: str, first: date, weeks: int) -> float | None:
    """Give what the table wants of a food a week [kg]; None where no line is for it alone."""
    lines = [line for line in told.opened.garden.household.table if food in line.foods]
    if len(lines) != 1 or len(lines[0].foods) != 1:
        return None
    horizon = horizon_from(first)
    wanted = appetites(told.opened.garden.household, horizon, portions_kg(told.usual))
    line = next(one for one in wanted if one.line == lines[0].id)
    return sum(line.kg[:weeks]) / weeks
