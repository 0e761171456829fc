"""The table line by line: what a year of it is, what it would take, and what the plan brings."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from statistics import median

from haulm.catalogue.known import counted
from haulm.catalogue.records import Catalogue
from haulm.desk.planning.question import Asked, portions_kg
from haulm.desk.planning.unknown_work import work_unknown
from haulm.desk.table.measures_of_food import Measure, measure_of
from haulm.desk.table.needs import Needs, best_keeping
from haulm.household.appetite import appetites, hours_by_week
from haulm.household.records import TableLine
from haulm.larder.keeping import keep_rules
from haulm.larder.records import KeepRule, NeedSum
from haulm.measure.weeks import DAYS_A_WEEK, WEEKS_A_YEAR, Horizon, monday_of
from haulm.notebook.file import open_notebook
from haulm.notebook.garden import Garden
from haulm.plan.records import Plan

MINUTES_AN_HOUR = 60
PUT_BY = "put by"
"""With these words the sum of need begins each step that puts food by."""
EATING_YEAR_NORTH, EATING_YEAR_SOUTH = (7, 1), (1, 1)
"""The table's year starts when the season's food comes in, so that a year's store lies within."""
SAME_SHARE = 0.01
"""A plan made for an appetite within this share of today's is taken to be made for it."""


@dataclass(frozen=True, slots=True)
class Takes:
    """What a line's year would take of the kind that serves it best.

    Attributes
    ----------
    sum
        The whole sum, from table to planting stock.
    kind
        The kind's name.
    hours
        Work to make, tend and lift it, and to put by what is stored [h]. The middle of the kind's
        sowings: those that stand longer are tended longer. None where nobody has the minutes of
        some of it.
    """

    sum: NeedSum
    kind: str
    hours: float | None


@dataclass(frozen=True, slots=True)
class Brought:
    """What the plan brings a line in the weeks of the table's year [kg].

    ``fresh``, ``stored`` and ``short`` have one figure a week, ``wanted_kg`` is what the plan was
    made for; ``as_wanted`` whether that is still what the line wants.
    """

    fresh: tuple[float, ...]
    stored: tuple[float, ...]
    short: tuple[float, ...]
    wanted_kg: float
    as_wanted: bool

    @property
    def kg(self) -> tuple[float, float, float]:
        """The year's kilograms: fresh, from store, short."""
        return sum(self.fresh), sum(self.stored), sum(self.short)


@dataclass(frozen=True, slots=True)
class TableRow:
    """One line of the table with its year.

    Attributes
    ----------
    number
        Its place among the table's lines, from 0.
    line
        The line.
    group
        The family of its first food.
    measure
        Its week, everybody at home.
    wanted
        What it wants from the garden in each week of the year [kg].
    weeks
        Weeks of the year in which it is wanted.
    takes
        What the year would take; None where no kind can serve it here.
    brought
        What the plan brings it; None without a plan, or where the plan has no such line.
    """

    number: int
    line: TableLine
    group: str
    measure: Measure
    wanted: tuple[float, ...]
    weeks: int
    takes: Takes | None
    brought: Brought | None

    @property
    def year_kg(self) -> float:
        """The year's kilograms wanted from the garden."""
        return sum(self.wanted)


@dataclass(frozen=True, slots=True)
class TableYear:
    """The whole table in one year: its weeks, its rows by group, the hours there are [h]."""

    weeks: Horizon
    groups: tuple[tuple[str, tuple[TableRow, ...]], ...]
    hours_given: float
    planned: bool

    @property
    def rows(self) -> tuple[TableRow, ...]:
        """Every row, group by group."""
        return tuple(row for _, rows in self.groups for row in rows)

    @property
    def outgrown(self) -> bool:
        """Whether the plan was made for another table than this."""
        return self.planned and any(
            row.brought is None or not row.brought.as_wanted for row in self.rows
        )

    def total(self, figure: str) -> float:
        """Add up one figure of every row that has it: kg, fresh, stored, short, area or hours."""
        brought = [row.brought.kg for row in self.rows if row.brought]
        takes = [row.takes for row in self.rows if row.takes]
        return {
            "kg": sum(row.year_kg for row in self.rows),
            "fresh": sum(kg[0] for kg in brought),
            "stored": sum(kg[1] for kg in brought),
            "short": sum(kg[2] for kg in brought),
            "area": sum(one.sum.area_m2 for one in takes),
            "hours": sum(one.hours for one in takes if one.hours is not None),
        }[figure]


def newest_plan(path: Path) -> Plan | None:
    """Give the plan that is kept in a notebook, as it was made; None where there is none."""
    with open_notebook(path) as notebook:
        return notebook.newest_plan()


def table_year(
    garden: Garden,
    catalogue: Catalogue,
    asked: Asked,
    needs: Needs,
    plan: Plan | None,
) -> TableYear:
    """Reckon every line of the table for a year.

    With a plan the year is the first whole one of eating that lies within it; without one it
    starts this week.

    Parameters
    ----------
    garden, catalogue
        What is told, and what is known.
    asked, needs
        The question as of today, and what each line needs.
    plan
        The plan that is kept, if any; it may have been made for an earlier table.
    """
    weeks = year_shown(garden, asked, plan)
    wants = appetites(garden.household, weeks, portions_kg(catalogue))
    best: dict[str, NeedSum] = {}
    for total in needs.sums:
        best.setdefault(total.line, total)
    brought = brought_by(plan, weeks) if plan else {}
    rows = [
        TableRow(
            number=number,
            line=line,
            group=group_of(line, catalogue),
            measure=measure_of(line, catalogue.foods[line.foods[0]], garden.household),
            wanted=want.kg,
            weeks=sum(kg > 0 for kg in want.kg),
            takes=_takes(best.get(line.id), garden, catalogue, asked),
            brought=_brought(brought.get(line.id), sum(want.kg)),
        )
        for number, (line, want) in enumerate(zip(garden.household.table, wants, strict=True))
    ]
    return TableYear(
        weeks=weeks,
        groups=_grouped(rows, catalogue),
        hours_given=sum(hours_by_week(garden.household, weeks)),
        planned=plan is not None,
    )


def year_shown(garden: Garden, asked: Asked, plan: Plan | None) -> Horizon:
    """Choose the 52 weeks that the table shows."""
    if plan is None:
        return Horizon(asked.question.horizon.first_day, WEEKS_A_YEAR)
    return year_in_plan(plan, southern=garden.place.southern)


def year_in_plan(plan: Plan, *, southern: bool) -> Horizon:
    """Choose the first whole year of eating that lies within a plan."""
    month_day = EATING_YEAR_SOUTH if southern else EATING_YEAR_NORTH
    first = plan.horizon.first_day
    starts = [monday_of(date(year, *month_day)) for year in (first.year, first.year + 1)]
    start = next(day for day in starts if day >= first)
    last = plan.horizon.monday(plan.horizon.weeks - WEEKS_A_YEAR)
    return Horizon(max(first, min(start, last)), WEEKS_A_YEAR)


def _takes(
    total: NeedSum | None, garden: Garden, catalogue: Catalogue, asked: Asked
) -> Takes | None:
    """Say what a line's best sum takes; None where there is none."""
    if total is None:
        return None
    kind = catalogue.kinds[total.kind]
    if kind.perennial is not None:
        if work_unknown(kind, total.food):
            return Takes(total, kind.name, None)
        rules = keep_rules((kind,), garden.stores)
        tending_m2 = counted(kind.labour.tend_min_m2_week) * WEEKS_A_YEAR
        hours = hours_of(total, tending_m2, counted(kind.labour.pick_min_kg), rules)
        return Takes(total, kind.name, hours)
    return takes_of(total, asked)


def takes_of(total: NeedSum, asked: Asked) -> Takes:
    """Say what a sum takes in hours beside plants and ground."""
    name = asked.question.names[total.kind]
    if any(kind.id == total.kind and work_unknown(kind, total.food) for kind in asked.kinds):
        return Takes(total, name, None)
    ways = [
        (sowing, given)
        for sowing in asked.question.sowings
        if sowing.kind == total.kind and not sowing.under_cover
        for given in sowing.foods
        if given.food == total.food
    ]
    # Work is told only within the weeks looked over: a sowing must lie wholly in them.
    weeks = asked.question.horizon.weeks
    whole = [way for way in ways if way[0].ground_until_week <= weeks] or ways
    tending_m2 = median(sum(minutes for _, minutes in sowing.work_min_m2) for sowing, _ in whole)
    picking_kg = max(given.pick_min_kg for _, given in whole)
    hours = hours_of(total, tending_m2, picking_kg, asked.question.keep_rules)
    return Takes(total, name, hours)


def hours_of(
    total: NeedSum, tending_m2: float, picking_kg: float, rules: Sequence[KeepRule]
) -> float:
    """Reckon the hours of a sum from minutes a square metre and a kilogram; storing included."""
    keep = best_keeping(rules, total.kind, total.food)
    put_by = sum(step.value for step in total.steps if step.what.startswith(PUT_BY))
    minutes = (
        tending_m2 * total.area_m2
        + picking_kg * total.lifted_kg
        + (keep.work_min_kg * put_by if keep else 0.0)
    )
    return minutes / MINUTES_AN_HOUR


def brought_by(plan: Plan, weeks: Horizon) -> Mapping[str, Brought]:
    """Gather what a plan brings each line in some weeks; weeks beyond the plan bring nothing."""
    offset = (weeks.first_day - plan.horizon.first_day).days // DAYS_A_WEEK
    lines: dict[str, list[list[float]]] = {}
    for one in plan.table:
        kept = lines.setdefault(one.line, [[0.0] * weeks.weeks for _ in range(4)])
        at = one.week - offset
        if 0 <= at < weeks.weeks:
            figures = (one.fresh_kg, one.stored_kg, one.short_kg, one.wanted_kg)
            for series, kg in zip(kept, figures, strict=True):
                series[at] += kg
    return {
        line: Brought(tuple(fresh), tuple(stored), tuple(short), sum(wanted), as_wanted=True)
        for line, (fresh, stored, short, wanted) in lines.items()
    }


def _brought(found: Brought | None, wanted_kg: float) -> Brought | None:
    """Say of what the plan brings whether it was made for what is wanted now."""
    if found is None:
        return None
    same = abs(found.wanted_kg - wanted_kg) <= SAME_SHARE * max(wanted_kg, found.wanted_kg)
    return Brought(found.fresh, found.stored, found.short, found.wanted_kg, as_wanted=same)


def group_of(line: TableLine, catalogue: Catalogue) -> str:
    """Name the family of a line's first food."""
    crop = catalogue.crops[catalogue.foods[line.foods[0]].crop]
    return catalogue.families[crop.family].name


def _grouped(
    rows: Sequence[TableRow], catalogue: Catalogue
) -> tuple[tuple[str, tuple[TableRow, ...]], ...]:
    """Put rows together by group, groups in the catalogue's order, rows in the table's."""
    names = dict.fromkeys(family.name for family in catalogue.families.values())
    grouped = {name: tuple(row for row in rows if row.group == name) for name in names}
    return tuple((name, some) for name, some in grouped.items() if some)
