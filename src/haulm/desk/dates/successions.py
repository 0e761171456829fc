"""Succession for a garden: when to sow a kind again and again so that it is picked evenly."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import pairwise

from haulm.catalogue.records import Catalogue, Kind, Method
from haulm.desk.beds.ground import is_covered
from haulm.desk.beds.weather import planning_weather
from haulm.desk.garden.answers import found_crops
from haulm.desk.garden.opening import Opened
from haulm.growing.succession import (
    Succession,
    SuccessionWish,
    succession,
    usual_interval_days,
)
from haulm.growing.timing import main_giving
from haulm.growing.weather import GrowingWeather
from haulm.household.records import MonthDay, TableLine
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.measure.weeks import Horizon, horizon_from
from haulm.notebook.garden import Garden

DAYS_A_YEAR = 365
LEAST_DAYS, MOST_DAYS = 2, 90
"""An interval lies between these [d]."""


@dataclass(frozen=True, slots=True)
class Wished:
    """What a grower asks of a succession; None where the garden's own habits are to serve."""

    first_day: date | None = None
    last_day: date | None = None
    interval_days: int | None = None


@dataclass(frozen=True, slots=True)
class Successions:
    """The successions of one kind in one garden, way by way.

    Attributes
    ----------
    kind
        What is sown.
    wish
        When it is wanted, as asked or as the table has it.
    line
        The line of the table whose season is taken; None where the days were given, or no line
        asks for it.
    ways
        One succession for each method, in the open and under cover where there is any.
    """

    kind: Kind
    wish: SuccessionWish
    line: str | None
    ways: tuple[Succession, ...]

    @property
    def best(self) -> Succession:
        """The way that serves the most wanted days; of equals, the first."""
        return max(self.ways, key=lambda way: len(way.sowings))


def kind_named(catalogue: Catalogue, name: str) -> Kind:
    """Find the one kind of a name that is sown anew each time.

    Raises
    ------
    FaultsFoundError
        When nothing has that name, several kinds do, or it is no kind to sow in succession.
    """
    ((crop, kinds),) = found_crops(catalogue, name)
    sown = [kind for kind in kinds if kind.perennial is None and kind.green_manure is None]
    if not sown:
        what = f"{crop.name} is not sown again and again: it stays for years, or is only dug in."
        raise FaultsFoundError([Finding("succession", what, "Name a kind that is sown each year.")])
    if len(sown) > 1:
        what = f"there are several kinds of {crop.name}."
        remedy = f"Name one of them: {', '.join(kind.id for kind in sown)}."
        raise FaultsFoundError([Finding("succession", what, remedy)])
    return sown[0]


def successions(opened: Opened, kind: Kind, wished: Wished, day: date, seed: int) -> Successions:
    """Find when to sow a kind so that it comes ready evenly, by every way it may be started.

    Where no days are given, the season of the first line of the table that it serves is taken, from
    today on; else a year from today.

    Parameters
    ----------
    opened, kind, wished
        The garden, what is sown, and when it is wanted.
    day, seed
        Nothing is sown before this day; the seed of every random draw.

    Raises
    ------
    FaultsFoundError
        When the days wanted are out of order, past, or beyond the two years looked over.
    """
    garden, horizon = opened.garden, horizon_from(day)
    line = None if wished.first_day or wished.last_day else _line_of(garden, kind)
    wish = _wish(wished, line, kind, day, horizon)
    weather = planning_weather(garden, horizon, seed)
    return Successions(kind, wish, line.name if line else None, _ways(garden, wish, kind, weather))


def _ways(
    garden: Garden, wish: SuccessionWish, kind: Kind, weather: GrowingWeather
) -> tuple[Succession, ...]:
    covers = sorted({is_covered(bed) for bed in garden.beds}) or [False]
    horizon = horizon_from(wish.not_before)
    tried: list[tuple[Method, bool]] = [
        (method, cover)
        for method in kind.methods
        for cover in covers
        if kind.likes_cover or not cover
    ]
    tried = tried or [(method, False) for method in kind.methods]
    return tuple(
        succession(kind, method, wish, weather, horizon, under_cover=cover)
        for method, cover in tried
    )


def _line_of(garden: Garden, kind: Kind) -> TableLine | None:
    """Give the first line of the table that a kind's main food serves."""
    food = main_giving(kind).food
    return next((line for line in garden.household.table if food in line.foods), None)


def _wish(
    wished: Wished, line: TableLine | None, kind: Kind, day: date, horizon: Horizon
) -> SuccessionWish:
    first, last = _season(line, day) if line else (day, day + timedelta(DAYS_A_YEAR - 1))
    first = wished.first_day or first
    last = wished.last_day or max(last, first)
    every = wished.interval_days or usual_interval_days(kind)
    faults = []
    if last < first:
        faults.append(Finding("until", f"{last} is before {first}.", "Give a later day."))
    if first < day:
        faults.append(Finding("from", f"{first} is past on {day}.", "Give a day to come."))
    if last > horizon.last_day:
        what = f"{last} lies beyond the two years that are looked over."
        faults.append(Finding("until", what, f"Give a day up to {horizon.last_day}."))
    if not LEAST_DAYS <= every <= MOST_DAYS:
        what = f"{every} days between harvests are not reckoned with."
        faults.append(Finding("every", what, f"Give {LEAST_DAYS} to {MOST_DAYS} days."))
    if faults:
        raise FaultsFoundError(faults)
    return SuccessionWish(first, last, every, day)


def _season(line: TableLine, day: date) -> tuple[date, date]:
    """Give the first and last day of a line's season that is not yet over, from today on."""
    if line.first is None or line.last is None:
        return day, day + timedelta(DAYS_A_YEAR - 1)
    last = _next(line.last, day)
    first = _next(line.first, last - timedelta(DAYS_A_YEAR - 1))
    return max(first, day), last


def _next(when: MonthDay, day: date) -> date:
    """Give the next time a day of the year comes round, on a day or after it."""
    here = _in_year(when, day.year)
    return here if here >= day else _in_year(when, day.year + 1)


def _in_year(when: MonthDay, year: int) -> date:
    """Give a day of the year in one year; 29 February counts as the 28th where there is none."""
    leap = (when.month, when.day) == (2, 29) and not _is_leap(year)
    return date(year, when.month, 28 if leap else when.day)


def _is_leap(year: int) -> bool:
    return (date(year, 3, 1) - timedelta(1)).day == 29  # noqa: PLR2004 - the leap day


def closing_up(found: Succession) -> str:
    """Tell how sowings that are even in harvest lie in spring and in summer; empty if they do not.

    As in: 14 days apart in harvest are 21 days apart in April and 9 in June.
    """
    spaced: Sequence[tuple[int, date]] = found.spaced
    if not spaced:
        return ""
    widest = max(spaced, key=lambda one: one[0])
    closest = min(reversed(spaced), key=lambda one: one[0])
    every = found.wish.interval_days
    if widest[0] == closest[0]:
        return f"{every} days apart in harvest are {widest[0]} days apart in sowing."
    return (
        f"{every} days apart in harvest are {widest[0]} days apart when sown in {widest[1]:%B} and"
        f" {closest[0]} in {closest[1]:%B}."
    )


def meets(found: Succession) -> tuple[str, ...]:
    """Tell for each sowing but the last how it meets the next: overlap, gap, and the odds."""
    told = []
    for (one, after), between in zip(pairwise(found.sowings), found.between, strict=True):
        if (after.wanted_on - one.wanted_on).days > found.wish.interval_days:
            told.append("then a time without")
            continue
        words = f"{between.overlap_days} days together" if between.overlap_days else "no overlap"
        bare = round(10 * between.bare)
        if bare:
            years = f"{bare} year{'s' if bare > 1 else ''} in 10"
            words += f"; nothing to pick in between in {years}"
            words += f", up to {between.bare_days} days" if between.bare_days else ""
        told.append(words)
    return (*told, "") if found.sowings else ()
