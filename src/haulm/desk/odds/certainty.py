"""Plan for a chosen certainty: so much ground to each food that its promise holds in bad years."""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from math import log
from statistics import NormalDist

from haulm.desk.garden.opening import Opened
from haulm.desk.odds.certainty_told import sure_promises, told_how_sure
from haulm.desk.odds.living import Setting, odds_in, setting_for
from haulm.forecast.records import PlanOdds
from haulm.forecast.safety import SURE, counted_share, recounted, yield_spread
from haulm.measure.errors import InterruptedPlanError
from haulm.notebook.table_lines import LEAST_YEARS_IN_10, MOST_YEARS_IN_10
from haulm.plan.records import Plan
from haulm.planner.counted import (
    FoodYear,
    Shares,
    all_sowings,
    food_year,
    sure_foods,
    sure_lines,
    year_of,
)
from haulm.planner.make import make_counted, make_plan
from haulm.planner.question import (
    Before,
    Effort,
    PlanQuestion,
    Progress,
    StopPlanningError,
    Watcher,
)
from haulm.planner.solve import EFFORTS

ROUNDS, REPEATS = 5, 5
"""How often the shares counted on are set anew before a plan is made in earnest, and after."""

AIM = 0.01
"""How much surer than asked a promise is aimed at [1], since a trial can flatter by so much."""
NEAR_ENOUGH = 0.04
"""A promise surer than asked by no more than this is left alone [1]."""

IN_VAIN_FROM, IN_VAIN = 0.5, 0.05
"""A food counted for less than this share of what it was first is given up where its promise came
nearer by less than this share of what its yield's spread alone would bring it [1]: it is lost whole
in those years, to frost or disease, and more ground does not help."""

NARROWEST = 0.05
"""No yield is taken to spread less than this [1]."""

ROUND_SEASONS, REPEAT_SEASONS, FRESH_SEASONS = 1000, 2000, 4000
SEARCH_RUNS, FRESH_RUNS = 400, 1000
"""Runs of weather those seasons have, where the record is too short to give its own years."""

FRESH = 1_000_003
"""What is added to the seed for the seasons that the plan never saw."""

LEAST_CERTAIN, MOST_CERTAIN = LEAST_YEARS_IN_10 / 10, MOST_YEARS_IN_10 / 10
"""Between these a plan can be made for a certainty [1]."""

SEARCHED, MADE = 0.35, 0.85
"""The share of the way that is done when the shares are found, and when the plan is made [1]."""

SEARCHING = "finding how much may be counted on"
"""The step that is told while shares are looked for."""

_deviate = NormalDist().inv_cdf


@dataclass(frozen=True, slots=True)
class Sure:
    """A plan made for a certainty, with the odds of seasons it never saw."""

    plan: Plan
    odds: PlanOdds


@dataclass(frozen=True, slots=True)
class Trials:
    """In what plans are tried: the seasons of the search, and fresh ones that no plan ever saw."""

    search: Setting
    fresh: Setting


@dataclass(frozen=True, slots=True)
class _Attempt:
    """One plan tried: what it counted on, and how often its promises held."""

    plan: Plan
    shares: Shares
    odds: PlanOdds


def plan_as_asked(
    question: PlanQuestion, opened: Opened, effort: Effort, watch: Watcher | None = None
) -> Plan:
    """Make the plan that a question asks for: for the certainty of its lines, else of means.

    Raises
    ------
    AuditFailedError, InterruptedPlanError
        As any plan.
    """
    if not sure_lines(question):
        return make_plan(question, effort, watch)
    return plan_surely(question, trials_for(question, opened), effort, watch).plan


def trials_for(question: PlanQuestion, opened: Opened) -> Trials:
    """Set the trials of every plan that answers a question."""
    return Trials(
        setting_for(question, opened, question.seed, SEARCH_RUNS),
        setting_for(question, opened, question.seed + FRESH, FRESH_RUNS),
    )


def plan_surely(
    question: PlanQuestion,
    tried: Trials,
    effort: Effort,
    watch: Watcher | None = None,
) -> Sure:
    """Make a plan whose promises hold in as many years as each line of the table asks.

    Each food is counted for a share of its mean yield: at first the lognormal's own, then set anew
    by living a quick plan through a thousand seasons, food by food, a few times over. The plan made
    in earnest is mended likewise, its patches kept, and then lived through seasons that it never
    saw; what does not hold there as often as it should is told.

    Parameters
    ----------
    question
        What is asked; at least one appetite has a certainty.
    tried
        In what seasons it is tried, as from :func:`trials_for`.
    effort, watch
        As for any plan. Whoever stops it keeps the best plan so far, tried as any other.

    Raises
    ------
    AuditFailedError, InterruptedPlanError
        As any plan.
    """
    search = _Search(question, tried.search, watch)
    try:
        search.run(effort)
    except StopPlanningError:
        search.stopped = True
    except InterruptedPlanError:
        if not (search.stopped and search.attempts):
            raise
    plan = search.best()
    odds = odds_in(tried.fresh, plan, FRESH_SEASONS, question.seed + FRESH)
    return Sure(told_how_sure(plan, odds, question, stopped=search.stopped), odds)


class _Search:
    """Looks for the shares counted on under which every promise holds often enough."""

    def __init__(self, question: PlanQuestion, setting: Setting, watch: Watcher | None) -> None:
        self._question = question
        self._setting = setting
        self._watch = watch
        self._sure = sure_foods(question)
        self._wanted = dict(sure_lines(question))
        self._spreads = spreads_of(question)
        self.attempts: list[_Attempt] = []
        self.stopped = False
        self._seconds = 0.0
        self._earnest = 0
        self._seasons = ROUND_SEASONS
        self._first: dict[FoodYear, tuple[float, float]] = {}
        self._in_vain: set[FoodYear] = set()

    def run(self, effort: Effort) -> None:
        """Search, make the plan in earnest, and mend it."""
        shares: Shares = {
            key: counted_share(spread, self._sure[key[0]])
            for key, spread in self._spreads.items()
            if key[0] in self._sure
        }
        start: tuple[Before, ...] = ()
        for number in range(ROUNDS):
            done = SEARCHED * number / ROUNDS, SEARCHED * (number + 1) / ROUNDS
            self._try(shares, EFFORTS["quick"], start, self._telling(*done, SEARCHING))
            again = self._again(self.attempts[-1])
            if again == shares:
                break
            shares, start = again, patches_of(self.attempts[-1].plan)
        self._earnest, self._seasons = len(self.attempts), REPEAT_SEASONS
        self._try(shares, effort, (), self._telling(SEARCHED, MADE))
        mending = replace(effort, rounds=0)
        for number in range(REPEATS):
            again = self._again(self.attempts[-1])
            if again == self.attempts[-1].shares:
                break
            start = patches_of(self.attempts[-1].plan)
            first, last = (MADE + (1 - MADE) * part / REPEATS for part in (number, number + 1))
            self._try(again, mending, start, self._telling(first, last, SEARCHING))

    def best(self) -> Plan:
        """Give the plan whose promises fell short least: of those in earnest, where there are any.

        Raises
        ------
        InterruptedPlanError
            When there is none yet.
        """
        if not self.attempts:
            message = "planning was stopped before there was a plan"
            raise InterruptedPlanError(message)
        earnest = self.attempts[self._earnest :] if self._earnest else []
        # The last quick plan counts on what the most trials have found.
        best = min(earnest or self.attempts[-1:], key=lambda attempt: self._shortfall(attempt.odds))
        return replace(best.plan, solver=replace(best.plan.solver, seconds=self._seconds))

    def _try(
        self, shares: Shares, effort: Effort, start: Sequence[Before], watch: Watcher | None
    ) -> None:
        """Make a plan and live it through the seasons of the search."""
        plan = make_counted(self._question, shares, effort, watch, start)
        self._seconds += plan.solver.seconds
        # The plans in earnest are tried in the same seasons, so that they can be told apart.
        seed = self._question.seed + (self._earnest or len(self.attempts))
        odds = odds_in(self._setting, plan, self._seasons, seed)
        self.attempts.append(_Attempt(plan, shares, odds))
        if self.stopped:
            raise StopPlanningError

    def _telling(self, first: float, last: float, words: str = "") -> Watcher | None:
        """Tell a plan's progress as part of the whole way; the distance to the best at last."""
        if self._watch is None:
            return None
        return _Telling(self, self._watch, first, last, words)

    def _shortfall(self, odds: PlanOdds) -> float:
        """Add up by how many standard deviations promises fell short of what is wanted [1].

        Lines whose food was given up are left out: no plan of the search could help them.
        """
        lost = {food for food, _year in self._in_vain}
        lines = {a.line for a in self._question.appetites if lost.intersection(a.foods)}
        return sum(
            max(0.0, _off(promise.held, self._wanted[promise.line]))
            for promise in sure_promises(odds, self._wanted)
            if promise.line not in lines
        )

    def _again(self, tried: _Attempt) -> Shares:
        """Set the shares anew after a trial; the same where all is well enough."""
        moved = dict(tried.shares)
        held = least_sure(tried.plan, tried.odds, self._wanted)
        self._give_up(tried.shares, held)
        moved |= {key: self._first[key][0] for key in self._in_vain}
        for certainty in sorted({wanted for _, wanted in held.values()}):
            off = {
                key: share
                for key, (share, wanted) in held.items()
                if wanted == certainty
                and key not in self._in_vain
                and not 0 <= share - wanted <= NEAR_ENOUGH
            }
            again = recounted(tried.shares, off, certainty + AIM, self._spreads)
            moved |= {key: again[key] for key in off if key in again}
        return moved

    def _give_up(self, shares: Shares, held: Mapping[FoodYear, tuple[float, float]]) -> None:
        """Give up the foods that are no surer for being counted for much less than at first."""
        for key, (share, wanted) in held.items():
            if key not in shares:
                continue
            off = _off(share, wanted)
            first, off_then = self._first.setdefault(key, (shares[key], off))
            cut = shares[key] / first
            if off > 0 and cut < IN_VAIN_FROM:
                nearer = log(1 / cut) / max(self._spreads[key], NARROWEST)
                if off_then - off < IN_VAIN * nearer:
                    self._in_vain.add(key)


@dataclass(frozen=True, slots=True)
class _Telling:
    """Tells one plan of a search to whoever watches the whole of it."""

    search: _Search
    watch: Watcher
    first: float
    last: float
    words: str

    def __call__(self, progress: Progress) -> None:
        """Pass a step on, as part of the whole way."""
        done = self.first + (self.last - self.first) * progress.done
        near = (None, None) if self.words else (progress.objective, progress.bound)
        try:
            self.watch(Progress(self.words or progress.step, *near, done))
        except StopPlanningError:
            self.search.stopped = True
            raise


def patches_of(plan: Plan) -> tuple[Before, ...]:
    """Give the patches that a plan plants anew."""
    return tuple(Before(p.sowing, p.bed, p.area_m2) for p in plan.plantings if not p.standing)


def _off(held: float, wanted: float) -> float:
    """Say by how many standard deviations a promise lies short of the certainty wanted [1]."""
    return float(_deviate(wanted) - _deviate(min(max(held, 1 - SURE), SURE)))


def spreads_of(question: PlanQuestion) -> dict[FoodYear, float]:
    """Give the widest spread of each food's yield in each year, over its sowings [1]."""
    spreads: dict[FoodYear, float] = defaultdict(float)
    for sowing in all_sowings(question):
        for food in sowing.foods:
            spread = yield_spread(food.yield_low_kg_m2, food.yield_high_kg_m2)
            key = food_year(food, question.horizon)
            spreads[key] = max(spreads[key], spread)
    return dict(spreads)


def least_sure(
    plan: Plan, odds: PlanOdds, wanted: Mapping[str, float]
) -> dict[FoodYear, tuple[float, float]]:
    """Give, for each food and the year it is lifted in, how often its least sure promise held.

    What lies in hand when the plan is made is not counted: nothing can be sown for it.

    Parameters
    ----------
    plan, odds
        The plan, and what seasons say of it.
    wanted
        The share of years asked, by line that is to be sure [1].

    Returns
    -------
    mapping
        The share of seasons in which it held, and the share that its line asks [1]; of several
        lines, that which lies shortest of what it asks.
    """
    promised = {(p.line, p.year): p.held for p in sure_promises(odds, wanted)}
    put_by = {lot.id: lot.put_by_week for lot in plan.lots if not lot.in_hand}
    held: dict[FoodYear, tuple[float, float]] = {}
    for helping in plan.helpings:
        share = promised.get((helping.line, year_of(helping.week, plan.horizon)))
        lifted = helping.week if helping.lot is None else put_by.get(helping.lot)
        if share is None or lifted is None or helping.kg <= 0:
            continue
        key = helping.food, year_of(lifted, plan.horizon)
        found = share, wanted[helping.line]
        held[key] = max(held.get(key, found), found, key=lambda pair: _off(*pair))
    return held
