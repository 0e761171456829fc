"""What a bed could take when it comes free, in the order of what the table is short of."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from haulm.catalogue.records import Catalogue, Kind
from haulm.desk.beds.ground import (
    bed_grounds,
    closed_ground,
    family_of_crop,
    is_covered,
    kept_off,
    too_dark,
)
from haulm.desk.beds.weather import planning_weather
from haulm.desk.garden.opening import Opened
from haulm.ground.records import Bed, Closure
from haulm.growing.follow_on import FollowOn, follow_ons
from haulm.household.records import Wanted
from haulm.larder.keeping import keep_rules
from haulm.larder.records import KeepRule
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.measure.near import near_names
from haulm.measure.weeks import Horizon, horizon_from, monday_of
from haulm.plan.records import Plan, Planting

SHORT_M2 = 1e-6
SHORT_KG = 0.05
"""A week of the table that is short of less is not looked at [kg]."""


@dataclass(frozen=True, slots=True)
class Due:
    """A planting that the plan has for the bed later on: its name, day and ground [m²]."""

    name: str
    on: date
    area_m2: float


@dataclass(frozen=True, slots=True)
class Freed:
    """Ground of a bed that comes free.

    Attributes
    ----------
    bed, name
        The bed.
    on
        The day from which on it is free.
    area_m2
        How much of it holds nothing then, what the plan sows there later not counted [m²].
    after
        What is cleared then, by the plan.
    due
        What the plan has for the bed from then on, in order.
    others
        Other days on which ground of it comes free by the plan.
    """

    bed: str
    name: str
    on: date
    area_m2: float
    after: tuple[str, ...]
    due: tuple[Due, ...]
    others: tuple[date, ...]


@dataclass(frozen=True, slots=True)
class Follower:
    """A kind that could follow.

    Attributes
    ----------
    kind, name
        What.
    start
        When and how, with its odds.
    foods
        The names of what it gives.
    on_table
        Whether a line of the table asks for any of it.
    reaches_kg
        What the plan leaves short in the weeks and lines that it could serve [kg]; None where no
        plan is kept.
    lines
        The names of those lines, the shortest of all first; of every line it serves without a plan.
    free_again
        The day by which its ground is free again.
    spare_m2
        Ground that it could have until then without touching anything of the plan [m²].
    instead_of
        Where that is less than the smallest patch, the first planting of the plan that is due
        before then; else None.
    """

    kind: str
    name: str
    start: FollowOn
    foods: tuple[str, ...]
    on_table: bool
    reaches_kg: float | None
    lines: tuple[str, ...]
    free_again: date
    spare_m2: float
    instead_of: Due | None


@dataclass(frozen=True, slots=True)
class FollowOns:
    """What could follow on a bed's free ground, and the families kept off it with the reason."""

    freed: Freed
    followers: tuple[Follower, ...]
    kept_off: tuple[tuple[str, str], ...]


def follow(
    opened: Opened, plan: Plan | None, bed: str, day: date, free: date | None, seed: int
) -> FollowOns:
    """Find what a bed could take when it comes free.

    Parameters
    ----------
    opened, plan
        The garden, and the plan that is kept; None where there is none.
    bed
        The bed, by id or name.
    day
        The day that counts as today: no tray is sown before its week.
    free
        The day it comes free; None for the next on which the plan clears something there, or today
        without a plan.
    seed
        The seed of every random draw.

    Raises
    ------
    FaultsFoundError
        When there is no such bed, or the day lies before today or beyond a year from it.
    """
    garden, catalogue = opened.garden, opened.catalogue
    there = _bed_named(garden.beds, bed)
    horizon = horizon_from(day)
    plantings = [one for one in plan.plantings if one.bed == there.id] if plan else []
    freed = _freed(there, plantings, day, free, opened)
    held = _Rest(opened, there, plantings, freed, horizon)
    weather = planning_weather(garden, horizon, seed)
    families = family_of_crop(catalogue)
    table = _Table(opened, plan, horizon)
    ground = _Ground(there, plantings, freed, garden.least_patch_m2)
    followers: list[Follower] = []
    wanted = garden.kinds_wanted
    dark = too_dark(garden, catalogue.kinds.values())
    for kind in catalogue.kinds.values():
        if (wanted and kind.id not in wanted) or (there.id, kind.id) in dark:
            continue
        starts = follow_ons(
            kind,
            families[kind.crop],
            weather,
            horizon,
            horizon.week_of(freed.on),
            under_cover=is_covered(there),
        )
        followers += [
            _follower(kind, start, ground, table, catalogue)
            for start in starts
            if held.allows(kind.crop, start)
        ]
    ordered = sorted(
        followers,
        key=lambda one: (
            -round(one.reaches_kg or 0.0, 1),
            not one.on_table,
            one.instead_of is not None,
            one.start.ready_by,
            one.kind,
        ),
    )
    return FollowOns(freed, tuple(ordered), held.told())


def _bed_named(beds: Sequence[Bed], wanted: str) -> Bed:
    for bed in beds:
        if wanted.casefold() in {bed.id.casefold(), bed.name.casefold()}:
            return bed
    names = [bed.id for bed in beds]
    near = near_names(wanted, names) or names
    what = f"there is no bed called {wanted}."
    raise FaultsFoundError([Finding("bed", what, f"Name one of {', '.join(near)}.")])


def _freed(
    bed: Bed, plantings: Sequence[Planting], day: date, free: date | None, opened: Opened
) -> Freed:
    """Find the ground that comes free, and what the plan has for it."""
    monday = monday_of(day)
    cleared = sorted({one.clear_by for one in plantings if one.clear_by >= monday})
    on = monday_of(free) if free else next(iter(cleared), monday)
    if not monday <= on <= monday + timedelta(days=365):
        what = f"{on} is past, or more than a year away."
        raise FaultsFoundError([Finding("free", what, f"Give a day from {day} on.")])
    if plantings:
        held = sum(one.area_m2 for one in plantings if one.in_ground_from < on < one.clear_by)
    else:
        held = sum(one.area_m2 for one in opened.garden.standing if one.bed == bed.id)
    names = {kind.id: kind.name for kind in opened.catalogue.kinds.values()}
    return Freed(
        bed=bed.id,
        name=bed.name,
        on=on,
        area_m2=max(0.0, bed.outline.area_m2 - held),
        after=tuple(names.get(one.kind, one.kind) for one in plantings if one.clear_by == on),
        due=tuple(
            Due(names.get(one.kind, one.kind), one.in_ground_from, one.area_m2)
            for one in sorted(plantings, key=lambda one: (one.in_ground_from, one.id))
            if one.in_ground_from >= on
        ),
        others=tuple(one for one in cleared if one != on),
    )


class _Rest:
    """Which families a bed's past, its plan and its diseases let onto its ground."""

    def __init__(
        self,
        opened: Opened,
        bed: Bed,
        plantings: Sequence[Planting],
        freed: Freed,
        horizon: Horizon,
    ) -> None:
        self._catalogue = opened.catalogue
        self._horizon = horizon
        self._freed = freed
        self._closed = [c for c in closed_ground(opened.garden, self._catalogue) if c.bed == bed.id]
        grounds = bed_grounds(opened.garden, self._catalogue)
        past = next(ground.last_year_of_family for ground in grounds if ground.id == bed.id)
        self._past = dict(past)
        families = family_of_crop(self._catalogue)
        self._stood: list[tuple[str, date, date]] = [
            (one.family, one.in_ground_from, one.clear_by) for one in plantings
        ]
        if not plantings:
            self._stood += [
                (families[self._catalogue.kinds[one.kind].crop], one.sown_on, freed.on)
                for one in opened.garden.standing
                if one.bed == bed.id
            ]
        self._kept_off: dict[str, str] = {}

    def allows(self, crop: str, start: FollowOn) -> bool:
        """Say whether a start may stand there; remember what keeps its family off."""
        family = start.sowing.family
        set_year = start.sowing.set_on.year
        for closure in self._closed:
            if closure.keeps_off(self._freed.bed, family, crop) and closure.until_year > set_year:
                self._kept_off[kept_off(closure, self._catalogue)] = self._closed_told(closure)
                return False
        gap = round(self._catalogue.families[family].rotation_gap_years.value)
        years = self._too_near(start, gap)
        if years:
            name = self._catalogue.families[family].name
            rests = f"{gap} year{'' if gap == 1 else 's'}"
            there = ", ".join(str(year) for year in sorted(years))
            self._kept_off[name] = f"it rests {rests} from a bed, and is there in {there}"
        return not years

    def _too_near(self, start: FollowOn, gap: int) -> set[int]:
        """Give the years in which its family is cleared from the bed too soon before or after.

        What stands there with it is one stand with it.
        """
        cleared = self._horizon.monday(start.sowing.ground_until_week)
        family, years = start.sowing.family, set()
        past = self._past.get(family)
        if past is not None and cleared.year - past < gap:
            years.add(past)
        for other, begun, ended in self._stood:
            apart = ended <= start.sowing.set_on or begun >= cleared
            if other == family and apart and abs(cleared.year - ended.year) < gap:
                years.add(ended.year)
        return years

    def told(self) -> tuple[tuple[str, str], ...]:
        """Give what is kept off, in order, with the reason."""
        return tuple(sorted(self._kept_off.items()))

    def _closed_told(self, closure: Closure) -> str:
        disease = self._catalogue.diseases[closure.disease].name
        return f"{disease} closes the bed to it until {closure.until_year}"


class _Table:
    """What the table is short of by the plan, and which of it a start could reach."""

    def __init__(self, opened: Opened, plan: Plan | None, horizon: Horizon) -> None:
        garden, kinds = opened.garden, opened.catalogue.kinds.values()
        self._lines = garden.household.table
        self._rules: dict[tuple[str, str], list[KeepRule]] = {}
        for rule in keep_rules([k for k in kinds if k.perennial is None], garden.stores):
            self._rules.setdefault((rule.kind, rule.food), []).append(rule)
        self._short: dict[str, dict[int, float]] = {}
        self.planned = plan is not None
        self.horizon = horizon
        for one in plan.table if plan else ():
            if plan is not None and one.short_kg > SHORT_KG:
                week = horizon.week_of(plan.horizon.monday(one.week))
                self._short.setdefault(one.line, {})[week] = one.short_kg

    def serves(self, start: FollowOn) -> list[tuple[str, float]]:
        """Give (line, kg short that it could reach) for every line it serves, the most first."""
        found = []
        for line in self._lines:
            weeks: set[int] = set()
            given = [food for food in start.sowing.foods if food.food in line.foods]
            for food in given:
                ready = {week for week, share in food.week_shares if share > 0}
                if line.wanted is not Wanted.KEPT:
                    weeks |= ready
                if line.wanted is not Wanted.FRESH:
                    rules = self._rules.get((start.sowing.kind, food.food), ())
                    weeks |= _kept_weeks(ready, rules)
            if given:
                short = self._short.get(line.id, {})
                found.append((line.name, sum(kg for week, kg in short.items() if week in weeks)))
        return sorted(found, key=lambda one: (-one[1], one[0]))


def _kept_weeks(ready: Iterable[int], rules: Iterable[KeepRule]) -> set[int]:
    """Give the weeks in which food put by in some weeks can still be eaten."""
    return {
        week + age
        for rule in rules
        for week in ready
        for age in range(rule.wait_weeks, len(rule.sound))
    }


class _Ground:
    """The bed's ground through time, as the plan holds it."""

    def __init__(self, bed: Bed, plantings: Sequence[Planting], freed: Freed, least: float) -> None:
        self._area_m2 = bed.outline.area_m2
        self._plantings = plantings
        self._freed = freed
        self._least_m2 = least

    def spare_m2(self, first: date, until: date) -> float:
        """Give the ground that nothing of the plan holds from one day until another [m²]."""
        if not self._plantings:
            return self._freed.area_m2
        here = [p for p in self._plantings if p.in_ground_from < until and p.clear_by > first]
        starts = {first, *(max(first, p.in_ground_from) for p in here)}
        held = (
            sum(p.area_m2 for p in here if p.in_ground_from <= day < p.clear_by) for day in starts
        )
        return max(0.0, self._area_m2 - max(held))

    def instead_of(self, spare_m2: float, until: date) -> Due | None:
        """Give what the plan has there first, where there is no room beside it."""
        if spare_m2 >= self._least_m2 - SHORT_M2:
            return None
        return next((due for due in self._freed.due if due.on < until), None)


def _follower(
    kind: Kind, start: FollowOn, ground: _Ground, table: _Table, catalogue: Catalogue
) -> Follower:
    served = table.serves(start)
    reached = [(name, kg) for name, kg in served if kg > SHORT_KG]
    free_again = table.horizon.monday(start.sowing.ground_until_week)
    spare = ground.spare_m2(start.sowing.set_on, free_again)
    return Follower(
        kind=kind.id,
        name=kind.name,
        start=start,
        foods=tuple(catalogue.foods[food.food].name for food in start.sowing.foods),
        on_table=bool(served),
        reaches_kg=sum(kg for _, kg in reached) if table.planned else None,
        lines=tuple(name for name, _ in (reached or served)),
        free_again=free_again,
        spare_m2=spare,
        instead_of=ground.instead_of(spare, free_again),
    )
