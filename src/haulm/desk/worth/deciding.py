"""The last day to decide: until when each choice of the year may wait, and what waiting costs."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from haulm.catalogue.records import Catalogue
from haulm.desk.planning.plans import Made
from haulm.desk.planning.question import OnOffer, ask, on_offer, portions_kg
from haulm.desk.season.seed import stock_worth
from haulm.growing.records import Sowing
from haulm.growing.sowings import Planned
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.measure.weeks import DAYS_A_WEEK, WEEKS_A_YEAR
from haulm.notebook.garden import Garden
from haulm.plan.records import Plan
from haulm.planner.counted import as_counted
from haulm.planner.make import make_plan
from haulm.planner.one_choice import all_else_held, open_plantings
from haulm.planner.question import PlanQuestion
from haulm.planner.solve import EFFORTS

NOTICED_KG = 0.1
"""Less than this over the whole plan is no loss that a table would notice [kg]."""


@dataclass(frozen=True, slots=True)
class Deciding:
    """What decisions are reckoned from, small enough to hand to another process.

    Attributes
    ----------
    question, plan
        The plan that is kept, and the question it answers.
    day
        The day that counts as today.
    stock_in_hand
        Planting stock in hand by kind, old seed as the fresh that it is worth [units].
    portion_kg
        An adult's usual portion of each line of the table, as lifted [kg].
    """

    question: PlanQuestion
    plan: Plan
    day: date
    stock_in_hand: Mapping[str, float]
    portion_kg: Mapping[str, float]

    @property
    def monday(self) -> date:
        """The Monday of next week."""
        return self.plan.horizon.monday(self.now + 1)

    @property
    def now(self) -> int:
        """The week of the plan that holds today."""
        return self.plan.horizon.week_of(self.day)

    @property
    def until(self) -> int:
        """The week before which a choice has to begin to be looked at: a year from today."""
        return self.now + WEEKS_A_YEAR


@dataclass(frozen=True, slots=True)
class Pending:
    """A choice that can still be made: whether, when and on how much ground to sow a kind.

    Attributes
    ----------
    kind, name
        The kind, and its name.
    weeks
        The weeks of the plan in which it may be started in this season, until not counted; what is
        sown of the kind in another season is another choice.
    planned_on
        The day of the first sowing planned; None where the plan sows none of it.
    area_m2
        The ground that the plan gives it [m²].
    sow_days
        The days on which it may be started, from today on, in order.
    buy, stock_unit
        Planting stock the plan asks for beyond what is in hand [units]; what it may keep back of
        its own harvest is not taken off.
    """

    kind: str
    name: str
    weeks: tuple[int, int]
    planned_on: date | None
    area_m2: float
    sow_days: tuple[date, ...]
    buy: float
    stock_unit: str


@dataclass(frozen=True, slots=True)
class Delay:
    """What it costs to wait until a day: the table's loss over the whole plan.

    ``lines`` gives (name, kg) of the lines that lose, the most first [kg].
    """

    until: date
    kg: float
    portions: float
    lines: tuple[tuple[str, float], ...]


@dataclass(frozen=True, slots=True)
class Decision:
    """Until when one choice may wait.

    Attributes
    ----------
    pending
        The choice.
    decide_by
        The last day on which it is not all lost: the Monday of a week in which it may be started,
        today where that is this week's; None where nothing is lost by leaving it.
    free_until
        Waiting until this day costs nothing; None where nothing is ever lost.
    delays
        What waiting costs, by the days asked about, in order; the last is that of never.
    solved
        How many plans were made and audited for it.
    anew
        What is lost without it if everything else is planned anew; None where that was not asked.
    """

    pending: Pending
    decide_by: date | None
    free_until: date | None
    delays: tuple[Delay, ...]
    solved: int
    anew: Delay | None = None

    @property
    def never(self) -> Delay:
        """What is lost if it is left out."""
        return self.delays[-1]

    @property
    def week_kg(self) -> float:
        """What each week's wait costs, from the day on which it begins to, until all is lost [kg].

        0 where nothing is lost before the last day.
        """
        if self.decide_by is None or self.free_until is None:
            return 0.0
        weeks = (self.decide_by - self.free_until).days / DAYS_A_WEEK
        before = max((one.kg for one in self.delays if one.until <= self.decide_by), default=0.0)
        return before / weeks if weeks > 0 else 0.0

    def can_wait(self, day: date) -> bool:
        """Say whether it can be left alone until a day without any loss."""
        return self.free_until is None or self.free_until >= day


def deciding_for(
    made: Made,
    day: date,
    offer: Callable[[Garden, Catalogue, date, int, Planned], OnOffer] = on_offer,
) -> Deciding:
    """Gather what decisions about a kept plan are reckoned from.

    A plan made to be sure is asked as it was made: with so much of each mean as it counted on.

    Raises
    ------
    FaultsFoundError
        When the plan does not reach the day, or the garden no longer offers what it plants.
    """
    plan, garden, catalogue = made.plan, made.begun_from, made.catalogue
    if not plan.horizon.first_day <= day <= plan.horizon.last_day:
        what = f"it does not reach {day}."
        raise FaultsFoundError([Finding("the plan kept", what, "Plan again as of that day.")])
    seed = plan.solver.seed
    offered = offer(garden, catalogue, plan.made_on, seed, made.planned)
    asked = ask(garden, catalogue, plan.made_on, seed, offer=offered).question
    question = as_counted(asked, plan.certainty)
    there = {sowing.id for sowing in question.sowings}
    if any(not one.standing and one.sowing not in there for one in plan.plantings):
        what = "the garden or the catalogue has changed since it was made."
        raise FaultsFoundError([Finding("the plan kept", what, "Plan again, then ask.")])
    in_hand = stock_worth(garden, catalogue, day, plan)
    portions = portions_kg(catalogue)
    by_line = {line.id: portions[line.foods[0]] for line in garden.household.table}
    return Deciding(question, plan, day, in_hand, by_line)


def pending_choices(deciding: Deciding) -> tuple[Pending, ...]:
    """List the choices still open: kinds planned and not yet sown, then those a short line lacks.

    The soonest planned first; then what the plan leaves out but could reach a week in which a line
    of the table it serves runs short, by the day it could be started.
    """
    reaching = _reaching_short(deciding)
    planned, left = [], []
    for season in _seasons(deciding):
        pending = _pending(deciding, season)
        if pending.weeks[0] >= deciding.until:
            continue
        if pending.planned_on is not None:
            planned.append(pending)
        elif any(map(reaching, season)):
            left.append(pending)
    return (
        *sorted(planned, key=lambda one: (one.planned_on or deciding.day, one.kind)),
        *sorted(left, key=lambda one: (one.sow_days[0], one.kind)),
    )


def _seasons(deciding: Deciding) -> Iterator[list[Sowing]]:
    """Give the sowings still to come, kind by kind and season by season: runs of its windows."""
    week_of = deciding.plan.horizon.week_of
    by_kind: dict[str, list[Sowing]] = {}
    for sowing in sorted(deciding.question.sowings, key=lambda one: one.window.first_day):
        if week_of(sowing.sow_on) >= deciding.now:
            by_kind.setdefault(sowing.kind, []).append(sowing)
    for sowings in by_kind.values():
        season: list[Sowing] = []
        for sowing in sowings:
            if season and sowing.window.first_day > max(s.window.last_day for s in season):
                yield season
                season = []
            season.append(sowing)
        yield season


def _pending(deciding: Deciding, season: Sequence[Sowing]) -> Pending:
    kind, week_of = season[0].kind, deciding.plan.horizon.week_of
    days = tuple(sorted({sowing.sow_on for sowing in season}))
    weeks = (week_of(days[0]), week_of(days[-1]) + 1)
    planned = open_plantings(deciding.plan, kind, *weeks)
    needed = sum(planting.stock for planting in planned)
    return Pending(
        kind=kind,
        name=deciding.question.names.get(kind, kind),
        weeks=weeks,
        planned_on=min((planting.sow_on for planting in planned), default=None),
        area_m2=sum(planting.area_m2 for planting in planned),
        sow_days=days,
        buy=max(0.0, needed - deciding.stock_in_hand.get(kind, 0.0)),
        stock_unit=season[0].stock_unit,
    )


def _reaching_short(deciding: Deciding) -> Callable[[Sowing], bool]:
    """Make what tells whether a sowing's food could be eaten in a week that is short of it."""
    question = deciding.question
    short: dict[str, set[int]] = {}
    foods = {appetite.line: appetite.foods for appetite in question.appetites}
    for one in deciding.plan.table:
        if one.short_kg > NOTICED_KG:
            for food in foods.get(one.line, ()):
                short.setdefault(food, set()).add(one.week)
    kept = {(rule.kind, rule.food): rule for rule in question.keep_rules}

    def reaches(sowing: Sowing) -> bool:
        for given in sowing.foods:
            lacking = short.get(given.food, set())
            fresh = {week for week, share in given.week_shares if share > 0}
            rule = kept.get((sowing.kind, given.food))
            span = range(rule.wait_weeks, len(rule.sound)) if rule else range(0)
            if lacking & fresh or any(week + age in lacking for week in fresh for age in span):
                return True
        return False

    return reaches


def decide(deciding: Deciding, pending: Pending) -> Decision:
    """Find until when a choice may wait, by planning it again with its early sowings taken out.

    All else is held as planned, in bed, week and area; what is eaten, when, and what is put by is
    free. Each such plan is solved to the proven best and audited. What waiting costs is what the
    table then lacks beside the plan in which every day to come is still open. Since less is on
    offer the longer one waits, the cost never falls: so the day it begins on and the day it ends on
    are found by halving, and only the days on the way are asked.
    """
    monday = deciding.plan.horizon.monday
    stops = [deciding.plan.horizon.week_of(day) for day in pending.sow_days]
    asked = _Asked(deciding, pending)
    total = asked.lost(pending.weeks[1])
    if total <= NOTICED_KG:
        return Decision(pending, None, None, asked.delays(), asked.solved)
    free = _last(stops, lambda week: asked.lost(week) <= NOTICED_KG)
    by = _last(stops, lambda week: asked.lost(week) < total - NOTICED_KG)
    until, ends = (max(monday(week), deciding.day) for week in (free, max(by, free)))
    return Decision(pending, ends, until, asked.delays(), asked.solved)


class _Asked:
    """Plans made for one choice, by the week before which its sowings are taken out."""

    def __init__(self, deciding: Deciding, pending: Pending) -> None:
        self._deciding = deciding
        self._pending = pending
        self._short: dict[int, dict[str, float]] = {}
        self._first = pending.weeks[0]
        self.solved = 0

    def short(self, week: int) -> dict[str, float]:
        """Plan with what is left from a week on, and give by line what is short [kg]."""
        if week not in self._short:
            deciding = self._deciding
            kind, weeks = self._pending.kind, self._pending.weeks
            question = all_else_held(deciding.question, deciding.plan, kind, weeks, week)
            plan = make_plan(question, EFFORTS["quick"])
            self.solved += 1
            self._short[week] = short_by_line(plan)
        return self._short[week]

    def lost(self, week: int) -> float:
        """Give what the table lacks in all if nothing is sown before a week [kg]."""
        return sum(self.short(week).values()) - sum(self.short(self._first).values())

    def delays(self) -> tuple[Delay, ...]:
        """Tell what it costs to wait until each week asked about, in order."""
        monday, open_ = self._deciding.plan.horizon.monday, self.short(self._first)
        later = [week for week in sorted(self._short) if week > self._first]
        return tuple(
            lost_beside(self._deciding, open_, self.short(week), monday(week)) for week in later
        )


def lost_beside(
    deciding: Deciding, before: Mapping[str, float], after: Mapping[str, float], until: date
) -> Delay:
    """Tell what one plan lacks more than another, each by line of the table [kg]."""
    by_line = {line: kg - before.get(line, 0.0) for line, kg in after.items()}
    names, portions = deciding.question.names, deciding.portion_kg
    losing = sorted(
        ((names.get(line, line), kg) for line, kg in by_line.items() if kg > NOTICED_KG),
        key=lambda one: (-one[1], one[0]),
    )
    return Delay(
        until=until,
        kg=max(0.0, sum(by_line.values())),
        portions=max(0.0, sum(kg / portions[line] for line, kg in by_line.items())),
        lines=tuple(losing),
    )


def _last(weeks: Sequence[int], holds: Callable[[int], bool]) -> int:
    """Find the last week up to which something holds; it holds in the first."""
    low, high = 0, len(weeks) - 1
    while low < high:
        middle = (low + high + 1) // 2
        low, high = (middle, high) if holds(weeks[middle]) else (low, middle - 1)
    return weeks[low]


def short_by_line(plan: Plan) -> dict[str, float]:
    """Add up what a plan leaves short, by line of the table [kg]."""
    short: dict[str, float] = {}
    for week in plan.table:
        short[week.line] = short.get(week.line, 0.0) + week.short_kg
    return short
