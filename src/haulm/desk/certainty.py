"""Plan for a chosen certainty: so much ground to each food that its promise holds in bad years."""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

from haulm.desk.living import Setting, odds_in, setting_for
from haulm.desk.opening import Opened, open_garden
from haulm.desk.question import ask
from haulm.forecast.records import PlanOdds
from haulm.forecast.rules import forecast_rules
from haulm.forecast.safety import counted_share, recounted, yield_spread
from haulm.growing.records import Sowing, SowingFood
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.measure.weeks import WEEKS_A_YEAR, Horizon
from haulm.plan.records import Certainty, Plan, Planting
from haulm.planner.make import make_plan
from haulm.planner.question import Effort, PlanQuestion, Watcher
from haulm.planner.solve import EFFORTS

ROUNDS, REPEATS = 4, 2
"""How often the shares counted on are set anew before a plan is made in earnest, and after."""

NEAR_ENOUGH = 0.03
"""A promise this near to the certainty wanted is left alone [1]: twice what a trial can tell."""

TRIAL_SEASONS, FRESH_SEASONS = 1000, 4000
FRESH = 1_000_003
"""What is added to the seed for the seasons that the plan never saw."""

LEAST_CERTAIN, MOST_CERTAIN = 0.5, 0.95
"""Between these a plan can be made for a certainty [1]; a thousand seasons tell little beyond."""


FoodYear = tuple[str, int]
"""A food, and the year of the plan in which it is lifted."""


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
class Priced:
    """What a certainty costs.

    Attributes
    ----------
    certainty
        Share of years in which promises are to hold [1].
    sure
        The plan made for it, and its odds.
    ground_share
        Share of the beds' square metres and weeks that it uses [1].
    work_h
        Hours of work in all [h].
    plantings
        How many plantings are made.
    promised_kg, short_kg
        By line of the table: what is promised, and what it falls short of what is wanted [kg].
    gap_weeks
        How many line-weeks of the table are short.
    """

    certainty: float
    sure: Sure
    ground_share: float
    work_h: float
    plantings: int
    promised_kg: Mapping[str, float]
    short_kg: Mapping[str, float]
    gap_weeks: int


def price_of_certainty(
    path: Path,
    day: date,
    certainties: Sequence[float],
    effort: Effort,
    seed: int,
    watch: Watcher | None = None,
) -> tuple[Opened, tuple[Priced, ...]]:
    """Plan a garden for several certainties, and tell what each costs; nothing is kept.

    Raises
    ------
    FaultsFoundError
        When the garden's data has faults, or a certainty is out of bounds.
    """
    wrong = [c for c in certainties if not LEAST_CERTAIN <= c <= MOST_CERTAIN]
    if wrong:
        what = f"{10 * wrong[0]:g} years in 10 cannot be planned for."
        remedy = f"Ask for {10 * LEAST_CERTAIN:g} to {10 * MOST_CERTAIN:g}."
        raise FaultsFoundError([Finding("certainty", what, remedy)])
    opened = open_garden(path)
    question = ask(opened.garden, opened.catalogue, day, seed).question
    tried = trials_for(question, opened)
    return opened, tuple(
        _priced(plan_surely(question, tried, certainty, effort, watch), certainty)
        for certainty in certainties
    )


def _priced(sure: Sure, certainty: float) -> Priced:
    """Add up what a sure plan takes and promises."""
    plan = sure.plan
    promised: dict[str, float] = defaultdict(float)
    short: dict[str, float] = defaultdict(float)
    for row in plan.table:
        promised[row.line] += row.fresh_kg + row.stored_kg
        short[row.line] += row.short_kg
    used = sum(
        p.area_m2 * (min(p.until_week, plan.horizon.weeks) - max(p.from_week, 0))
        for p in plan.plantings
    )
    least_kg = forecast_rules().empty_kg.value
    return Priced(
        certainty=certainty,
        sure=sure,
        ground_share=used / (sum(bed.area_m2 for bed in plan.beds) * plan.horizon.weeks),
        work_h=sum(hours.asked_h for hours in plan.hours),
        plantings=len(plan.plantings),
        promised_kg=dict(promised),
        short_kg=dict(short),
        gap_weeks=sum(row.short_kg > least_kg for row in plan.table),
    )


def trials_for(question: PlanQuestion, opened: Opened) -> Trials:
    """Set the trials of every plan that answers a question."""
    return Trials(
        setting_for(question, opened, question.seed),
        setting_for(question, opened, question.seed + FRESH),
    )


def plan_surely(
    question: PlanQuestion,
    tried: Trials,
    certainty: float,
    effort: Effort,
    watch: Watcher | None = None,
) -> Sure:
    """Make a plan whose promises hold in so many years.

    Each food is counted for a share of its mean yield: at first the lognormal's own, then set anew
    by living a quick plan through a thousand seasons, food by food, a few times over. The plan made
    in earnest is then lived through seasons that it never saw.

    Parameters
    ----------
    question
        What is asked.
    tried
        In what seasons it is tried, as from :func:`trials_for`.
    certainty
        Share of years in which promises are to hold [1].
    effort, watch
        As for any plan.

    Raises
    ------
    AuditFailedError, InterruptedPlanError
        As any plan.
    """
    search = _Search(question, tried.search, certainty)
    counted = {crop: counted_share(s, certainty) for crop, s in search.spreads.items()}
    for number in range(ROUNDS):
        plan = plan_counting(question, counted, certainty, EFFORTS["quick"], watch)
        counted = search.again(plan, counted, number)
    plan = plan_counting(question, counted, certainty, effort, watch)
    for number in range(ROUNDS, ROUNDS + REPEATS):
        better = search.again(plan, counted, number)
        if better == counted:
            break
        counted = better
        plan = plan_counting(question, counted, certainty, effort, watch)
    return Sure(plan, odds_in(tried.fresh, plan, FRESH_SEASONS, question.seed + FRESH))


class _Search:
    """Looks for the shares counted on under which every promise holds often enough."""

    def __init__(self, question: PlanQuestion, setting: Setting, certainty: float) -> None:
        self._setting = setting
        self._certainty = certainty
        self._seed = question.seed
        self.spreads = spreads_of(question)

    def again(
        self, plan: Plan, counted: Mapping[FoodYear, float], number: int
    ) -> dict[FoodYear, float]:
        """Set the shares anew after living through a plan; the same where all is well enough."""
        odds = odds_in(self._setting, plan, TRIAL_SEASONS, self._seed + number)
        held = {
            crop: share
            for crop, share in held_by_food(plan, odds).items()
            if abs(share - self._certainty) > NEAR_ENOUGH
        }
        return recounted(counted, held, self._certainty, self.spreads)


def plan_counting(
    question: PlanQuestion,
    counted: Mapping[FoodYear, float],
    certainty: float,
    effort: Effort,
    watch: Watcher | None,
) -> Plan:
    """Make a plan that counts each food for a share of its mean; what it expects stays the mean.

    Raises
    ------
    AuditFailedError, InterruptedPlanError
        As any plan.
    """
    careful = replace(
        question,
        sowings=tuple(_counting(sowing, counted, question) for sowing in question.sowings),
        standing=tuple(
            replace(stand, sowing=_counting(stand.sowing, counted, question))
            for stand in question.standing
        ),
    )
    plan = make_plan(careful, effort, watch)
    shares = {
        sowing.id: {food.food: counted[_food_year(food, question)] for food in sowing.foods}
        for sowing in _all_sowings(question)
    }
    return replace(
        plan,
        plantings=tuple(_expecting(p, shares[p.sowing]) for p in plan.plantings),
        certainty=Certainty(
            certainty, tuple((food, year, share) for (food, year), share in sorted(counted.items()))
        ),
    )


def _counting(sowing: Sowing, counted: Mapping[FoodYear, float], question: PlanQuestion) -> Sowing:
    """Count a sowing's foods for a share of their means."""
    foods = []
    for food in sowing.foods:
        share = counted[_food_year(food, question)]
        foods.append(
            replace(
                food,
                yield_kg_m2=food.yield_kg_m2 * share,
                yield_low_kg_m2=food.yield_low_kg_m2 * share,
                yield_high_kg_m2=food.yield_high_kg_m2 * share,
            )
        )
    return replace(sowing, foods=tuple(foods))


def _expecting(planting: Planting, shares: Mapping[str, float]) -> Planting:
    """Give back what a planting gives in the mean of years; say how much of it is counted on."""
    expects = tuple(
        replace(
            told,
            kg=told.kg / shares[told.food],
            low_kg=told.low_kg / shares[told.food],
            high_kg=told.high_kg / shares[told.food],
        )
        for told in planting.expects
    )
    said = tuple(
        f"{shares[told.food]:.2f} of the mean yield is counted on, so that it holds in bad years"
        for told in planting.expects[:1]
    )
    return replace(planting, expects=expects, sum=(*planting.sum, *said))


def _all_sowings(question: PlanQuestion) -> tuple[Sowing, ...]:
    """Give every sowing of a question, standing ones too."""
    return (*question.sowings, *(stand.sowing for stand in question.standing))


def _food_year(food: SowingFood, question: PlanQuestion) -> FoodYear:
    """Say in which of the plan's years a sowing gives a food."""
    return food.food, year_of(food.first_week, question.horizon)


def year_of(week: int, horizon: Horizon) -> int:
    """Give the year of the plan that a week lies in, the first for what lies before it."""
    return min(max(week, 0), horizon.weeks - 1) // WEEKS_A_YEAR


def spreads_of(question: PlanQuestion) -> dict[FoodYear, float]:
    """Give the widest spread of each food's yield in each year, over its sowings [1]."""
    spreads: dict[FoodYear, float] = defaultdict(float)
    for sowing in _all_sowings(question):
        for food in sowing.foods:
            spread = yield_spread(food.yield_low_kg_m2, food.yield_high_kg_m2)
            key = _food_year(food, question)
            spreads[key] = max(spreads[key], spread)
    return dict(spreads)


def held_by_food(plan: Plan, odds: PlanOdds) -> dict[FoodYear, float]:
    """Give, for each food and the year it is lifted in, how often its least sure promise held.

    What lies in hand when the plan is made is not counted: nothing can be sown for it.
    """
    least_kg = forecast_rules().empty_kg.value
    promised = {(p.line, p.year): p.held for p in odds.promises if p.promised_kg > least_kg}
    put_by = {lot.id: lot.put_by_week for lot in plan.lots if not lot.in_hand}
    held: dict[FoodYear, float] = {}
    for helping in plan.helpings:
        share = promised.get((helping.line, year_of(helping.week, plan.horizon)))
        lifted = helping.week if helping.lot is None else put_by.get(helping.lot)
        if share is None or lifted is None or helping.kg <= 0:
            continue
        key = helping.food, year_of(lifted, plan.horizon)
        held[key] = min(held.get(key, 1.0), share)
    return held


def as_data(priced: Sequence[Priced]) -> list[dict[str, object]]:
    """Give the prices as plain data, the plans left out."""
    return [
        {
            "certainty": price.certainty,
            "ground_share": price.ground_share,
            "work_h": price.work_h,
            "plantings": price.plantings,
            "gap_weeks": price.gap_weeks,
            "promised_kg": dict(price.promised_kg),
            "short_kg": dict(price.short_kg),
            "promises": price.sure.odds.promises,
            "counted": price.sure.plan.certainty,
        }
        for price in priced
    ]
