"""Winter standing crop: what has to stand on the last long day to feed the table until spring."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta

from haulm.catalogue.records import Kind, Picking
from haulm.catalogue.stand import plants_m2
from haulm.desk.beds.ground import is_covered
from haulm.desk.beds.weather import planning_weather
from haulm.desk.garden.opening import Opened
from haulm.desk.planning.question import portions_kg
from haulm.forecast.safety import counted_share, yield_spread
from haulm.growing.harvest import yield_bounds
from haulm.growing.timing import main_giving, span_weeks
from haulm.growing.winter import DarkWeeks, StandsInWinter, dark_weeks, stands_in_winter
from haulm.household.appetite import appetites
from haulm.household.records import Appetite, Wanted
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.measure.units import Units, show_area, show_mass
from haulm.measure.weeks import DAYS_A_WEEK, Horizon, horizon_from
from haulm.plan.records import Plan

CERTAINTIES = (0.5, 0.8, 0.9)
"""The shares of years in which what stands may be wanted to suffice [1]."""
SQUARE_FOOT_M2 = 0.3048**2
SPOILT_MOST = 0.5
"""What a killing frost takes in more years than this is not counted on to stand at all [1]."""


@dataclass(frozen=True, slots=True)
class WinterWay:
    """One kind that could feed one line of the table through the dark weeks, by itself.

    Attributes
    ----------
    stands
        Until when it has to be started, and how long it stands.
    name, food
        The kind's name, and the food.
    need_kg
        What the line wants of it from the last long day until it is over, or days are long again
        [kg].
    until
        The day until which that is.
    counted
        Share of its mean yield that is counted on for the certainty [1].
    area_m2, plants
        What has to stand on the last long day.
    sum
        The arithmetic, line by line.
    """

    stands: StandsInWinter
    name: str
    food: str
    need_kg: float
    until: date
    counted: float
    area_m2: float
    plants: int
    sum: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class WinterLine:
    """One line of the table in the dark weeks: what it wants [kg], and what could stand for it.

    ``planned_kg`` is what the plan that is kept picks for it in those weeks from the ground; None
    without a plan, or where the plan does not reach so far.
    """

    name: str
    need_kg: float
    planned_kg: float | None
    ways: tuple[WinterWay, ...]


@dataclass(frozen=True, slots=True)
class Winter:
    """The dark weeks of a garden; None of them near the equator. ``certainty`` is as asked [1]."""

    dark: DarkWeeks | None
    certainty: float
    lines: tuple[WinterLine, ...]


def winter(opened: Opened, plan: Plan | None, day: date, certainty: float, seed: int) -> Winter:
    """Size what has to stand when the dark weeks begin.

    Parameters
    ----------
    opened, plan
        The garden, and the plan that is kept; None where there is none.
    day
        The day that counts as today; the next dark weeks that begin after it are looked at.
    certainty
        Share of years in which what stands is to suffice [1]; the seed of every random draw.

    Raises
    ------
    FaultsFoundError
        When the certainty is not one that can be asked for.
    """
    if not min(CERTAINTIES) <= certainty <= max(CERTAINTIES):
        what = f"{10 * certainty:g} years in 10 is not reckoned with."
        raise FaultsFoundError([Finding("years", what, "Give 5 to 9.")])
    garden, catalogue = opened.garden, opened.catalogue
    dark = dark_weeks(garden.place.latitude_deg, day)
    if dark is None:
        return Winter(None, certainty, ())
    horizon = horizon_from(day)
    standing = _standing(opened, dark, horizon, seed)
    wants = appetites(garden.household, horizon, portions_kg(catalogue))
    lines = []
    for want in wants:
        need = _need_kg(want, horizon, dark.last_long, dark.first_long)
        if need <= 0 or want.wanted is Wanted.KEPT:
            continue
        ways = [
            _way(kind, stands, want, dark, horizon, (certainty, garden.units))
            for kind, stands in standing
            if main_giving(kind).food in want.foods
        ]
        ordered = sorted(ways, key=lambda way: (-way.until.toordinal(), way.area_m2, way.name))
        lines.append(WinterLine(want.name, need, _planned_kg(plan, want, dark), tuple(ordered)))
    return Winter(dark, certainty, tuple(lines))


def _standing(
    opened: Opened, dark: DarkWeeks, horizon: Horizon, seed: int
) -> list[tuple[Kind, StandsInWinter]]:
    """Find every kind of the table that can stand into the dark weeks, by each way it is started.

    Of several ways in one kind of place the one with the latest last day is taken.
    """
    garden, catalogue = opened.garden, opened.catalogue
    weather = planning_weather(garden, horizon, seed)
    foods = {food for line in garden.household.table for food in line.foods}
    covers = sorted({is_covered(bed) for bed in garden.beds}) or [False]
    found: list[tuple[Kind, StandsInWinter]] = []
    for kind in catalogue.kinds.values():
        sown = kind.perennial is None and kind.green_manure is None
        wanted = not garden.kinds_wanted or kind.id in garden.kinds_wanted
        if not sown or not wanted or main_giving(kind).food not in foods:
            continue
        for cover in covers:
            if cover and not kind.likes_cover:
                continue
            ways = [
                stands
                for method in kind.methods
                if (
                    stands := stands_in_winter(
                        kind, method, dark, weather, horizon, under_cover=cover
                    )
                )
                is not None
                and stands.taken <= SPOILT_MOST
            ]
            if ways:
                found.append((kind, max(ways, key=lambda one: (one.sow_by, one.method))))
    return found


def _way(
    kind: Kind,
    stands: StandsInWinter,
    want: Appetite,
    dark: DarkWeeks,
    horizon: Horizon,
    asked: tuple[float, Units],
) -> WinterWay:
    """Size one kind for one line, every step as a sum a grower can check."""
    certainty, units = asked
    giving = main_giving(kind)
    until = min(stands.stands_until, dark.first_long)
    need = _need_kg(want, horizon, dark.last_long, until)
    counted = counted_share(yield_spread(*yield_bounds(giving.yield_kg_m2)), certainty)
    weeks = (until - dark.last_long).days / DAYS_A_WEEK
    span = span_weeks(giving)
    # What is picked bit by bit gives in these weeks only its part of the whole; what stands, all.
    part = min(1.0, weeks / span) if giving.picking is Picking.SPREAD else 1.0
    mean = giving.yield_kg_m2.value * part
    area = need / counted / mean
    stations = round(area * plants_m2(kind.stand))
    each = f"{show_mass(mean, units)} a square metre"
    if units == "us":
        each = f"{show_mass(mean * SQUARE_FOOT_M2, units)} a square foot"
    if part < 1:
        each += f" in {weeks:.0f} of its {span} weeks of picking"
    years = f"{round(10 * certainty)} years in 10"
    lift = show_mass(need / counted, units)
    return WinterWay(
        stands=stands,
        name=kind.name,
        food=giving.food,
        need_kg=need,
        until=until,
        counted=counted,
        area_m2=area,
        plants=stations,
        sum=(
            f"{show_mass(need, units)} wanted in {weeks:.0f} weeks without growth",
            f"/ {counted:.2f} of the mean yield, counted on in {years} = {lift}",
            f"/ {each} = {show_area(area, units)}",
            f"holding {stations} plants",
        ),
    )


def _need_kg(want: Appetite, horizon: Horizon, first: date, until: date) -> float:
    """Add up what a line wants after one day, up to another, parts of weeks by days [kg]."""
    days = (until - first).days
    each = (first + timedelta(number) for number in range(1, days + 1))
    return sum(_of_day(want, horizon, day) for day in each)


def _of_day(want: Appetite, horizon: Horizon, day: date) -> float:
    week = horizon.week_of(day)
    return want.kg[week] / DAYS_A_WEEK if 0 <= week < len(want.kg) else 0.0


def _planned_kg(plan: Plan | None, want: Appetite, dark: DarkWeeks) -> float | None:
    """Add up what a plan serves a line fresh in the dark weeks [kg]."""
    if plan is None or not plan.horizon.first_day <= dark.last_long < plan.horizon.last_day:
        return None
    first, last = plan.horizon.week_of(dark.last_long), plan.horizon.week_of(dark.first_long)
    return sum(_fresh(plan, want, range(first + 1, last)))


def _fresh(plan: Plan, want: Appetite, weeks: range) -> Iterable[float]:
    return (one.fresh_kg for one in plan.table if one.line == want.line and one.week in weeks)
