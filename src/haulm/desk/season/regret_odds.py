"""In how many of many years a change would have paid, so that none plans on last year's weather."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from haulm.desk.odds.living import dealt_in, setting_in
from haulm.desk.planning.plans import Made
from haulm.forecast.coming import comings
from haulm.forecast.luck import draw_luck
from haulm.forecast.records import Coming, Floats
from haulm.forecast.trial import live_through
from haulm.growing.records import Sowing
from haulm.plan.pins import Pin, PinRule
from haulm.plan.records import Plan
from haulm.planner.change_records import Change
from haulm.planner.make import make_plan
from haulm.planner.question import PlanQuestion
from haulm.planner.solve import EFFORTS
from haulm.planner.true_year import Stood, TrueYear, as_stood, stood_sowings
from haulm.season.review_rules import review_rules

SEASONS = 150
"""Seasons that a change is lived through: a share of them is known to 4 in 100."""


@dataclass(frozen=True, slots=True)
class Paid:
    """In what share of seasons a change pays [1]; what it brings in their mean [weighted kg]."""

    share: float
    mean_kg: float


class ManyYears:
    """A plan held as it was planned, lived through many seasons, and so again with one change."""

    def __init__(
        self, made: Made, question: PlanQuestion, year: TrueYear, seed: int, seasons: int = SEASONS
    ) -> None:
        self._question = question
        plain = tuple(
            Stood(one.sowing, one.bed, one.planned_m2, one.planned_m2) for one in year.stood
        )
        self._year = TrueYear(year.first_week, year.until_week, plain)
        self._really = {one.sowing.id for one in question.standing}
        base = self._named(make_plan(as_stood(question, self._year), EFFORTS["quick"]))
        self._setting = setting_in(made.begun_from, made.catalogue, base, seed)
        self._seed, self._seasons = seed, seasons
        self._come = comings(base, self._setting.kinds, self._setting.weather)
        self._short = self._live(base, self._come)

    def paid(self, change: Change) -> Paid | None:
        """Say how often a change would have paid; None where the plan had no room for it."""
        sowing = self._sowing(change)
        gone = frozenset({change.out} if change.out else ())
        held = as_stood(self._question, self._year, gone)
        if sowing is not None:
            room = _room_m2(held, sowing, change.bed)
            area = min(change.area_m2, room)
            if area < self._question.least_patch_m2:
                return None
            keep = Pin(
                PinRule.KEEP, sowing.kind, change.bed, sowing.method, sowing.sow_on, round(area, 6)
            )
            held = replace(held, sowings=(sowing,), pins=(keep,))
        plan = self._named(make_plan(held, EFFORTS["quick"]))
        new = replace(plan, plantings=tuple(p for p in plan.plantings if p.id == "added"))
        come = [one for one in self._come if one.planting != change.out]
        come += comings(new, self._setting.kinds, self._setting.weather)
        saved = self._short - self._live(plan, come)
        pays_kg = review_rules().pays_kg.value
        return Paid(float(np.mean(saved > pays_kg)), float(saved.mean()))

    def _sowing(self, change: Change) -> Sowing | None:
        """Give the sowing that comes, as it was planned."""
        if not change.sowing:
            return None
        stood = stood_sowings(self._question, self._year)
        if change.sowing in stood:
            return stood[change.sowing][0]
        return next(s for s in self._question.sowings if s.id == change.sowing)

    def _named(self, plan: Plan) -> Plan:
        """Name every planting by its sowing, so that chance deals the same to it in every plan."""
        return replace(
            plan,
            plantings=tuple(
                replace(
                    p, id=p.sowing if p.standing else "added", standing=p.sowing in self._really
                )
                for p in plan.plantings
            ),
        )

    def _live(self, plan: Plan, come: Sequence[Coming]) -> Floats:
        """Live a plan through the seasons, and give what each was short of [weighted kg]."""
        luck = draw_luck(dealt_in(self._setting, plan, come), self._seasons, self._seed)
        trial = live_through(plan, come, self._setting.household, luck)
        weights = self._question.prices.priority_weight
        short = np.zeros(self._seasons)
        for appetite in self._question.appetites:
            short += weights[appetite.priority - 1] * trial.short(appetite.line).sum(axis=1)
        return short


def _room_m2(question: PlanQuestion, sowing: Sowing, bed: str) -> float:
    """Give the ground that a bed has free in all of a sowing's weeks [m²]."""
    area = next(one.area_m2 for one in question.beds if one.id == bed)
    weeks = range(max(0, sowing.ground_from_week), sowing.ground_until_week)
    here = [one for one in question.standing if one.bed == bed]
    held = [
        sum(
            one.area_m2
            for one in here
            if one.sowing.ground_from_week <= week < one.sowing.ground_until_week
        )
        for week in weeks
    ]
    return area - max(held, default=0.0)
