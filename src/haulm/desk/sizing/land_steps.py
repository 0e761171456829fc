"""One step of land: a plan for so much ground, and what share of the table it feeds."""

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date

from haulm.desk.planning.question import portions_kg
from haulm.desk.sizing.land_ground import OPEN, ImaginedGround
from haulm.desk.table.money import Money, money_of
from haulm.desk.table.nourishing import nourished
from haulm.desk.table.table_sums import year_in_plan
from haulm.household.appetite import hours_by_week
from haulm.measure.weeks import WEEKS_A_YEAR, Horizon
from haulm.plan.records import Plan
from haulm.planner.question import Prices

ENERGY = "energy_kcal"


@dataclass(frozen=True, slots=True)
class LineShare:
    """What a line of the table gets in the year of eating, and what it wants [kg]."""

    line: str
    name: str
    got_kg: float
    wanted_kg: float

    @property
    def share(self) -> float:
        """The share of what is wanted that comes to the table [1]."""
        return self.got_kg / self.wanted_kg if self.wanted_kg > 0 else 0.0


@dataclass(frozen=True, slots=True)
class LandStep:
    """So much ground, planned.

    Attributes
    ----------
    open_m2, covered_m2
        Ground in the open and under cover, paths not included [m²].
    plan
        Its plan; for the next smaller step's, where more ground brought nothing more.
    lines
        What each line of the table gets in the year of eating.
    share_kg
        Share of the kilograms wanted in that year that are grown [1].
    share_helpings
        The same by helpings, each weighted with its line's priority [1].
    share_energy
        Share of the household's need of energy that is grown, as far as foods' facts are known [1];
        None where no need is known.
    work_h
        Hours of the 52 weeks that ask most, in all [h].
    given_h
        Hours that the household gives in them [h].
    busiest_h, busiest_given_h, busiest_on
        Hours that the busiest week asks, and those that the household gives in it [h]; its Monday.
    money
        Planting stock for those 52 weeks, and the food of the year of eating, in money.
    in_use_m2
        Open ground in use in the fullest week [m²].
    full_families
        Families that hold all the open ground that their rest leaves them.
    """

    open_m2: float
    covered_m2: float
    plan: Plan
    lines: tuple[LineShare, ...]
    share_kg: float
    share_helpings: float
    share_energy: float | None
    work_h: float
    given_h: float
    busiest_h: float
    busiest_given_h: float
    busiest_on: date
    money: Money
    in_use_m2: float
    full_families: tuple[str, ...]


def step_of(ground: ImaginedGround, open_m2: float, plan: Plan) -> LandStep:
    """Add up what a plan of so much ground feeds, and what it asks."""
    garden, catalogue = ground.garden(open_m2), ground.catalogue
    eating = year_in_plan(plan, southern=garden.place.southern)
    lines = _lines(plan, eating, {a.id: a.name for a in garden.household.table})
    portions = portions_kg(catalogue)
    weights = {
        line.id: Prices().priority_weight[line.priority - 1] / portions[line.foods[0]]
        for line in garden.household.table
    }
    worked = _fullest_year(plan)
    busiest = max(plan.hours, key=lambda week: week.asked_h)
    found = nourished(plan, garden, catalogue)
    energy = next((one for one in found.year if one.nutrient.id == ENERGY), None)
    bought = money_of(plan, garden, catalogue, worked)
    eaten = money_of(plan, garden, catalogue, eating)
    return LandStep(
        open_m2=open_m2,
        covered_m2=ground.covered_m2,
        plan=plan,
        lines=lines,
        share_kg=_share(lines, dict.fromkeys(weights, 1.0)),
        share_helpings=_share(lines, weights),
        share_energy=None if energy is None else energy.share,
        work_h=sum(h.asked_h for h in plan.hours if _within(h.week, worked, plan.horizon)),
        given_h=sum(hours_by_week(garden.household, worked)),
        busiest_h=busiest.asked_h,
        busiest_given_h=hours_by_week(garden.household, plan.horizon)[busiest.week],
        busiest_on=plan.horizon.monday(busiest.week),
        money=replace(eaten, stock=bought.stock, stock_unpriced=bought.stock_unpriced),
        in_use_m2=fullest_m2(plan),
        full_families=_full_families(ground, open_m2, plan),
    )


def share_fed(plan: Plan, *, southern: bool) -> float:
    """Give the share of the kilograms wanted in a plan's year of eating that it grows [1]."""
    eating = year_in_plan(plan, southern=southern)
    rows = [row for row in plan.table if _within(row.week, eating, plan.horizon)]
    wanted = sum(row.wanted_kg for row in rows)
    return sum(row.fresh_kg + row.stored_kg for row in rows) / wanted if wanted > 0 else 0.0


def _lines(plan: Plan, eating: Horizon, names: Mapping[str, str]) -> tuple[LineShare, ...]:
    """Add up each line's year of eating."""
    got: dict[str, float] = dict.fromkeys(names, 0.0)
    wanted: dict[str, float] = dict.fromkeys(names, 0.0)
    for row in plan.table:
        if _within(row.week, eating, plan.horizon):
            got[row.line] += row.fresh_kg + row.stored_kg
            wanted[row.line] += row.wanted_kg
    return tuple(LineShare(line, name, got[line], wanted[line]) for line, name in names.items())


def _share(lines: tuple[LineShare, ...], weights: Mapping[str, float]) -> float:
    wanted = sum(weights[one.line] * one.wanted_kg for one in lines)
    got = sum(weights[one.line] * one.got_kg for one in lines)
    return got / wanted if wanted > 0 else 0.0


def _within(week: int, weeks: Horizon, horizon: Horizon) -> bool:
    first = horizon.week_of(weeks.first_day)
    return first <= week < first + weeks.weeks


def _fullest_year(plan: Plan) -> Horizon:
    """Choose the 52 weeks of a plan that ask the most hours."""
    asked = [hours.asked_h for hours in sorted(plan.hours, key=lambda one: one.week)]
    starts = range(max(1, len(asked) - WEEKS_A_YEAR + 1))
    first = max(starts, key=lambda week: sum(asked[week : week + WEEKS_A_YEAR]))
    return Horizon(plan.horizon.monday(first), WEEKS_A_YEAR)


def fullest_m2(plan: Plan, where: str = OPEN) -> float:
    """Give the ground in use in the fullest week, in the open or under cover [m²]."""
    there = [planting for planting in plan.plantings if planting.bed == where]
    starts = {planting.from_week for planting in there}
    return max(
        (sum(p.area_m2 for p in there if p.from_week <= week < p.until_week) for week in starts),
        default=0.0,
    )


def ground_of_families(plan: Plan, where: str = OPEN) -> Mapping[str, float]:
    """Give for each family the most ground that it takes in any one year [m²]."""
    taken: dict[tuple[str, int], float] = defaultdict(float)
    for planting in plan.plantings:
        if planting.bed == where:
            taken[planting.family, planting.clear_by.year] += planting.area_m2
    most: dict[str, float] = {}
    for (family, _), area_m2 in taken.items():
        most[family] = max(most.get(family, 0.0), area_m2)
    return most


FULL = 0.98
"""A family with this share of what it may hold holds all of it, but for a patch [1]."""


def _full_families(ground: ImaginedGround, open_m2: float, plan: Plan) -> tuple[str, ...]:
    shares = ground.question(open_m2).most_of_family
    taken = ground_of_families(plan)
    families = ground.catalogue.families
    return tuple(
        families[family].name
        for family, area_m2 in sorted(taken.items(), key=lambda one: -one[1])
        if family in shares and area_m2 >= FULL * shares[family] * open_m2
    )


def ground_that_holds(plan: Plan, shares: Mapping[str, float]) -> float:
    """Give the least open ground on which a plan has room and its families their rest [m²]."""
    taken = ground_of_families(plan)
    ring = (area_m2 / shares[family] for family, area_m2 in taken.items() if family in shares)
    return max([fullest_m2(plan), *ring])
