"""The regret ledger: what one thing done otherwise would have brought, in the year as it came."""

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date
from enum import StrEnum

from haulm.desk.season.regret_odds import ManyYears, Paid
from haulm.desk.season.review import Reviewed
from haulm.desk.season.review_plan import made_then
from haulm.desk.season.true_ready import ReadyBy, ReadyFood, ready_foods
from haulm.desk.season.true_year import Assumed, TrueQuestion, true_question
from haulm.growing.records import Sowing
from haulm.plan.pins import Pin, PinRule
from haulm.plan.records import Plan
from haulm.planner.change_records import Change, Tried, Wish
from haulm.planner.make import make_plan
from haulm.planner.one_change import one_change, spared_kg
from haulm.planner.question import PlanQuestion, Progress, Watcher
from haulm.planner.records import Fed
from haulm.planner.solve import EFFORTS
from haulm.planner.true_year import as_it_came, as_stood, stood_sowings
from haulm.season.review_rules import review_rules

SEED = 1
MINUTES_AN_HOUR = 60


class Turn(StrEnum):
    """What a change does."""

    MORE = "more"
    WITHOUT = "without"
    LARGER = "larger"
    SMALLER = "smaller"
    EARLIER = "earlier"
    LATER = "later"
    INSTEAD = "instead"


@dataclass(frozen=True, slots=True)
class GapFilled:
    """Weeks a line of the table went without in the year as it stood, and those filled of them."""

    line: str
    without: int
    filled: int


@dataclass(frozen=True, slots=True)
class Regret:
    """One thing that, done otherwise, would have fed the table better in the year as it came.

    Attributes
    ----------
    turn, change
        What it is.
    kind, sow_on
        What would have been sown, and when; empty and None where nothing would.
    out_kind, out_on, out_m2
        What would have been left out or changed, when it was to be sown, its ground [m²].
    gain_kg
        By how much the audited plan with it is better than the one without [weighted kg].
    fed
        By line, what more would have come to table, and what less [kg].
    gaps
        Weeks filled, by line, and weeks emptied where below nought.
    minutes
        Work more, or less where below nought [minutes].
    assumed
        How the yield of what would have come is known; None where nothing would.
    ready
        What the days of what would have come are taken from; None where nothing would, or where
        they lie outside the year and are the plan's own.
    paid
        In how many of many years it would have paid; None where the plan had no room for it, as it
        knew nothing of what was lost.
    """

    turn: Turn
    change: Change
    kind: str
    sow_on: date | None
    out_kind: str
    out_on: date | None
    out_m2: float
    gain_kg: float
    fed: Fed
    gaps: tuple[GapFilled, ...]
    minutes: float
    assumed: Assumed | None
    ready: ReadyBy | None
    paid: Paid | None


@dataclass(frozen=True, slots=True)
class Regrets:
    """The regret ledger of a year.

    Attributes
    ----------
    question
        The year's question, its sowings left out: for names, weeks and units.
    short_kg
        What the table lacks over the plan's weeks with all as it truly stood, eaten and put by as
        well as could be [kg].
    best_short_kg
        What it lacks by the best plan that hindsight found [kg].
    bound_kg
        By how much less the year could have cost at most, whatever had been sown [weighted kg].
    best_gain_kg
        By how much less it costs by that plan [weighted kg].
    regrets
        The single changes that would have paid most.
    tried
        How many changes there were and how many were solved.
    assumed
        How every kind's yield in the true year is known.
    ready
        By food, what the days of what was not weighed are taken from.
    """

    question: PlanQuestion
    short_kg: float
    best_short_kg: float
    bound_kg: float
    best_gain_kg: float
    regrets: tuple[Regret, ...]
    tried: Tried
    assumed: tuple[Assumed, ...]
    ready: tuple[ReadyFood, ...]


def regrets_of(
    reviewed: Reviewed, wish: Wish | None = None, watch: Watcher | None = None
) -> Regrets:
    """Reckon the regret ledger of a year: every figure is the difference of two audited plans.

    Parameters
    ----------
    reviewed
        The review.
    wish
        How many changes are wanted, and how many may be solved.
    watch
        Told of each step; may raise ``StopPlanningError``.

    Raises
    ------
    FaultsFoundError
        When the garden can no longer be asked about as of the plan's day.
    AuditFailedError
        When a plan does not survive its re-adding; nothing of it is told.
    """
    wish = wish or Wish(review_rules().regret_kg.value)
    made = made_then(reviewed)

    def tell(step: str, done: float) -> None:
        if watch is not None:
            watch(Progress(step, None, None, done))

    tell("the year as it came", 0.0)
    asked = true_question(reviewed, made)
    base = make_plan(as_stood(asked.question, asked.year), EFFORTS["quick"])
    tell("one thing done otherwise", 0.1)
    tried = one_change(
        asked.question,
        asked.year,
        wish,
        lambda done: tell("one thing done otherwise", 0.1 + 0.4 * done),
    )
    tell("the same in many years", 0.5)
    years = ManyYears(made, asked.question, asked.year, SEED)
    ledger = _Ledger(reviewed, asked, base)
    found = []
    for number, change in enumerate(tried.changes):
        tell("the same in many years", 0.5 + 0.25 * number / len(tried.changes))
        regret = ledger.regret(change)
        if regret.gain_kg > wish.least_kg:
            found.append(replace(regret, paid=years.paid(change)))
    tell("the best with hindsight", 0.75)
    came = as_it_came(asked.question, asked.year)
    best = make_plan(came, EFFORTS["quick"])
    gain = max(0.0, _cost(base) - _cost(best), *(one.gain_kg for one in found))
    return Regrets(
        question=replace(came, sowings=(), standing=()),
        short_kg=_short(base),
        best_short_kg=min(_short(base), _short(best)),
        bound_kg=max(gain, _cost(base) - best.solver.bound),
        best_gain_kg=gain,
        regrets=tuple(sorted(found, key=lambda one: -one.gain_kg)),
        tried=tried,
        assumed=asked.assumed,
        ready=ready_foods(asked.ready_by),
    )


def _short(plan: Plan) -> float:
    return sum(row.short_kg for row in plan.table)


def _cost(plan: Plan) -> float:
    return plan.solver.objective


class _Ledger:
    """Solves changes of a year as it stood, each audited, and sets them against it."""

    def __init__(self, reviewed: Reviewed, asked: TrueQuestion, base: Plan) -> None:
        self._span = reviewed.review.span
        self._asked = asked
        self._base = base
        self._stood = stood_sowings(asked.question, asked.year)
        self._offered = {s.id: s for s in as_it_came(asked.question, asked.year).sowings}
        self._assumed = {(one.kind, one.food): one for one in asked.assumed}

    def regret(self, change: Change) -> Regret:
        """Solve one change and say what it would have brought."""
        plan = make_plan(self.question(change), EFFORTS["quick"])
        comes, goes = self._sowing(change), self._stood.get(change.out)
        area = sum(p.area_m2 for p in plan.plantings if not p.standing)
        spared = spared_kg(self._asked.question, goes[1]) if goes else 0.0
        changed = replace(change, area_m2=area)
        return Regret(
            turn=_turn(changed, comes, goes[0] if goes else None, goes[1].area_m2 if goes else 0),
            change=changed,
            kind=comes.kind if comes else "",
            sow_on=comes.sow_on if comes else None,
            out_kind=goes[0].kind if goes else "",
            out_on=goes[0].sow_on if goes else None,
            out_m2=goes[1].area_m2 if goes else 0.0,
            gain_kg=_cost(self._base) - _cost(plan) + spared,
            fed=_fed(self._base, plan),
            gaps=self._gaps(plan),
            minutes=MINUTES_AN_HOUR * (_hours(plan) - _hours(self._base)),
            assumed=self._assumed.get((comes.kind, comes.foods[0].food)) if comes else None,
            ready=self._ready_by(comes),
            paid=None,
        )

    def _ready_by(self, comes: Sowing | None) -> ReadyBy | None:
        """Say what the days of what comes are taken from; a weighed patch has them by its diary."""
        if comes is None:
            return None
        food = comes.foods[0].food
        told = self._asked.ready_by.get((comes.id, food))
        stood = self._stood.get(comes.id)
        if told is None and stood and any(one.food == food for one in stood[1].foods):
            return ReadyBy.DIARY
        return told

    def question(self, change: Change) -> PlanQuestion:
        """Put the year as it stood with one change; the bed of what comes is settled."""
        gone = frozenset({change.out} if change.out else ())
        held = as_stood(self._asked.question, self._asked.year, gone)
        comes = self._sowing(change)
        if comes is None:
            return held
        only = Pin(PinRule.ONLY_IN, comes.kind, beds=(change.bed,))
        return replace(held, sowings=(comes,), pins=(only,))

    def _sowing(self, change: Change) -> Sowing | None:
        if not change.sowing:
            return None
        if change.sowing in self._stood:
            return self._stood[change.sowing][0]
        return self._offered[change.sowing]

    def _gaps(self, plan: Plan) -> tuple[GapFilled, ...]:
        """Count the weeks of the span that each line goes without, before and after."""
        before, after = self._without(self._base), self._without(plan)
        return tuple(
            GapFilled(line, len(before[line]), len(before[line]) - len(after[line]))
            for line in sorted(before.keys() | after.keys())
            if len(before[line]) != len(after[line])
        )

    def _without(self, plan: Plan) -> Mapping[str, set[int]]:
        share = review_rules().fed_share.value
        found: dict[str, set[int]] = defaultdict(set)
        for row in plan.table:
            had = row.fresh_kg + row.stored_kg
            if self._span.has(row.week) and row.wanted_kg > 0 and had < share * row.wanted_kg:
                found[row.line].add(row.week)
        return found


def _hours(plan: Plan) -> float:
    return sum(week.asked_h for week in plan.hours)


def _fed(before: Plan, after: Plan) -> Fed:
    """Give by line what more comes to table by one plan than by another [kg], most first."""
    kg: dict[str, float] = defaultdict(float)
    for sign, plan in ((1.0, before), (-1.0, after)):
        for row in plan.table:
            kg[row.line] += sign * row.short_kg
    least_kg = review_rules().told_kg.value
    told = [(line, more) for line, more in kg.items() if abs(more) >= least_kg]
    return tuple(sorted(told, key=lambda one: (-one[1], one[0])))


def _turn(change: Change, comes: Sowing | None, goes: Sowing | None, out_m2: float) -> Turn:
    if comes is None:
        return Turn.WITHOUT
    if goes is None:
        return Turn.MORE
    if comes.id == goes.id:
        return Turn.LARGER if change.area_m2 > out_m2 else Turn.SMALLER
    if comes.kind != goes.kind:
        return Turn.INSTEAD
    return Turn.EARLIER if comes.sow_on < goes.sow_on else Turn.LATER


def as_data(found: Regrets) -> Mapping[str, object]:
    """Give the regret ledger as plain data."""
    return {
        "short_kg": found.short_kg,
        "best_short_kg": found.best_short_kg,
        "best_gain_kg": found.best_gain_kg,
        "bound_kg": found.bound_kg,
        "changes_possible": found.tried.possible,
        "changes_solved": found.tried.solved,
        "all_known": found.tried.all_known,
        "regrets": found.regrets,
        "assumed": found.assumed,
        "ready": found.ready,
    }
