"""What every check of the audit reads: a plan and its question, indexed, and words to speak in."""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import TypeVar

from haulm.growing.records import Sowing, SowingFood
from haulm.measure.findings import Finding
from haulm.measure.weeks import WEEKS_A_YEAR
from haulm.plan.records import Plan, Planting
from haulm.planner.question import BedGround, PlanQuestion

Label = TypeVar("Label")
AREA_M2 = 1e-6
"""Ground is re-added to this [m²]."""
KG = 1e-4
"""Food is re-added to a tenth of a gram [kg]."""
MINUTES = 0.1
"""Work is re-added to six seconds [minutes]."""
REMEDY = "Do not plant by this plan: make it again, and report the fault if it comes back."


@dataclass(frozen=True, slots=True)
class Books:
    """A plan and its question, with sowings and beds by id, and words for what is wrong.

    Where the plan was made for a certainty, ``question`` and the sowings hold of each yield what
    is counted on; ``asked`` is the question as it was put, of means.
    """

    plan: Plan
    question: PlanQuestion
    asked: PlanQuestion
    sowings: Mapping[str, Sowing]
    standing: Mapping[str, Sowing]
    beds: Mapping[str, BedGround]

    def name(self, thing: str) -> str:
        """Give a thing's display name."""
        return self.question.names.get(thing, thing)

    def week(self, week: int) -> str:
        """Name a week of the horizon."""
        return self.plan.horizon.label(week)

    def wrong(self, where: str, what: str) -> Finding:
        """State a disagreement."""
        return Finding(where, what, REMEDY)

    def sowing_of(self, planting: Planting) -> Sowing | None:
        """Give the sowing a planting came from; None where there is none to choose."""
        return (self.standing if planting.standing else self.sowings).get(planting.sowing)

    def food_of(self, planting: Planting, food: str) -> SowingFood | None:
        """Give what a planting's sowing says of a food; None where it gives no such food."""
        sowing = self.sowing_of(planting)
        foods = sowing.foods if sowing else ()
        return next((each for each in foods if each.food == food), None)

    def counted_on(self, food: SowingFood) -> float:
        """Give the share of a food's mean yield that the plan counts on [1]; all, where untold."""
        told = self.plan.certainty.counted if self.plan.certainty else ()
        last = self.plan.horizon.weeks - 1
        year = sorted((0, food.first_week, last))[1] // WEEKS_A_YEAR
        return next((s for name, when, s in told if (name, when) == (food.food, year)), 1.0)

    def broken_by(self, rule: str, *things: str) -> float:
        """Add up what the plan says it broke of a rule; each thing must be told by id or name."""
        total = 0.0
        for broken in self.plan.broken:
            told = f"{broken.where} {broken.sentence}".casefold()
            said = all(
                thing.casefold() in told or self.name(thing).casefold() in told for thing in things
            )
            if said and rule in broken.rule.replace("_", " ").replace("-", " ").casefold():
                total += broken.amount
        return total


def open_books(plan: Plan, question: PlanQuestion) -> Books:
    """Index a plan and its question, each yield taken for what the plan counts on."""
    beds = {bed.id: bed for bed in question.beds}
    books = _indexed(plan, question, question, beds)
    if plan.certainty is None:
        return books
    counted = replace(
        question,
        sowings=tuple(_counted_on(books, sowing) for sowing in question.sowings),
        standing=tuple(
            replace(each, sowing=_counted_on(books, each.sowing)) for each in question.standing
        ),
    )
    return _indexed(plan, counted, question, beds)


def _indexed(
    plan: Plan, question: PlanQuestion, asked: PlanQuestion, beds: Mapping[str, BedGround]
) -> Books:
    standing = {each.sowing.id: each.sowing for each in question.standing}
    sowings = {sowing.id: sowing for sowing in question.sowings}
    return Books(plan, question, asked, sowings, standing, beds)


def _counted_on(books: Books, sowing: Sowing) -> Sowing:
    """Take a sowing's yields for what the plan counts on."""
    foods = tuple(
        replace(food, yield_kg_m2=food.yield_kg_m2 * books.counted_on(food))
        for food in sowing.foods
    )
    return replace(sowing, foods=foods)


def add_up(pairs: Iterable[tuple[Label, float]]) -> dict[Label, float]:
    """Add figures by label."""
    sums: dict[Label, float] = defaultdict(float)
    for key, value in pairs:
        sums[key] += value
    return dict(sums)
