"""What many seasons say of a plan over the weeks of a review: how wide its promises were."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from haulm.catalogue.records import Picking
from haulm.desk.odds.living import dealt_in, setting_in
from haulm.desk.planning.plans import Made
from haulm.desk.season.review import Reviewed
from haulm.desk.season.review_plan import made_then
from haulm.forecast.coming import comings
from haulm.forecast.luck import draw_luck
from haulm.forecast.odds import TENTHS
from haulm.forecast.records import Coming, Floats, Luck
from haulm.forecast.rules import forecast_rules
from haulm.forecast.trial import live_through
from haulm.season.review_records import LineReview, Review, ReviewSpan

SEASONS = 500
"""Seasons that a plan is lived through for its review: a share of them is known to 2 in 100."""

Tenths = tuple[float, float, float]
"""What 1, 5 and 9 seasons in 10 are below [kg]."""


@dataclass(frozen=True, slots=True, eq=False)
class ReviewOdds:
    """What many seasons, drawn when nobody knew this one, say of a plan over a review's weeks.

    Attributes
    ----------
    seasons
        How many.
    foods_kg, beds_kg
        What is picked of each food, and from each bed [kg].
    picked_kg
        By food, what is picked up to the end of each week of the span, shape (3, weeks) [kg].
    eaten_kg
        By line of the table, what is eaten in each season, shape (seasons,) [kg].
    promised_kg
        By line, what the plan means to serve [kg].
    wants
        By line, what each season wants against what was told, shape (seasons,) [1].
    """

    seasons: int
    foods_kg: Mapping[str, Tenths]
    beds_kg: Mapping[str, Tenths]
    picked_kg: Mapping[str, Floats]
    eaten_kg: Mapping[str, Floats]
    promised_kg: Mapping[str, float]
    wants: Mapping[str, Floats]

    def held_odds(self, line: str) -> float:
        """Give the share of seasons in which the promise to a line holds [1]."""
        share = forecast_rules().held_share.value
        asked = self.promised_kg[line] * np.minimum(1.0, self.wants[line])
        return float(np.mean(self.eaten_kg[line] >= share * asked))


@dataclass(frozen=True, slots=True)
class Verdict:
    """How the year stands beside what the plan had promised.

    Attributes
    ----------
    held, known, promised
        Promises held, those of which the diary says whether they were, and all there were.
    expected
        How many of those known hold in the mean of many seasons.
    worse_share
        The share of seasons in which less of those lines is eaten [1]: a lucky year has nearly all.
    """

    held: int
    known: int
    promised: int
    expected: float
    worse_share: float


def review_odds(made: Made, span: ReviewSpan, seed: int, seasons: int = SEASONS) -> ReviewOdds:
    """Live a plan through many seasons, and sum up the weeks of a span."""
    plan = made.plan
    setting = setting_in(made.begun_from, made.catalogue, plan, seed)
    come = comings(plan, setting.kinds, setting.weather)
    luck = draw_luck(dealt_in(setting, plan, come), seasons, seed)
    trial = live_through(plan, come, setting.household, luck)
    weeks = slice(span.first_week, span.until_week)
    picked = {food: np.cumsum(kg[:, weeks], axis=1) for food, kg in trial.lifted.items()}
    promised = dict.fromkeys(trial.wanted, 0.0)
    for row in plan.table:
        if span.has(row.week):
            promised[row.line] += row.fresh_kg + row.stored_kg
    return ReviewOdds(
        seasons=seasons,
        foods_kg={food: _tenths(kg[:, -1]) for food, kg in picked.items()},
        beds_kg={bed.id: _tenths(_of_bed(made, bed.id, span, (come, luck))) for bed in plan.beds},
        picked_kg={food: np.quantile(kg, TENTHS, axis=0) for food, kg in picked.items()},
        eaten_kg={
            line: (trial.fresh[line] + trial.stored[line])[:, weeks].sum(axis=1)
            for line in trial.wanted
        },
        promised_kg=promised,
        wants={line: _wants(trial.wanted[line], luck.wants[line], weeks) for line in promised},
    )


def odds_of_review(reviewed: Reviewed, seed: int, seasons: int = SEASONS) -> ReviewOdds:
    """Live the plan that a review counts by through many seasons."""
    return review_odds(made_then(reviewed), reviewed.review.span, seed, seasons)


def _wants(wanted: Floats, drawn: Floats, weeks: slice) -> Floats:
    """Give what each season wants of a line against what was told [1]."""
    told = (wanted[:, weeks] / drawn[:, weeks]).sum(axis=1)
    asked = wanted[:, weeks].sum(axis=1)
    share: Floats = np.divide(asked, told, out=np.ones_like(told), where=told > 0)
    return share


def _tenths(kg: NDArray[np.float64]) -> Tenths:
    low, middle, high = np.quantile(kg, TENTHS)
    return float(low), float(middle), float(high)


def _of_bed(
    made: Made, bed: str, span: ReviewSpan, lived: tuple[tuple[Coming, ...], Luck]
) -> Floats:
    """Give what is picked from a bed in each season, by what each planting gives [kg]."""
    come, luck = lived
    whole = np.zeros(luck.seasons)
    for planting in made.plan.plantings:
        if planting.bed != bed:
            continue
        mine = {one.food: one for one in come if one.planting == planting.id}
        for pick in planting.picks:
            if span.has(pick.week) and pick.food in mine:
                whole += pick.kg * _given(mine[pick.food], luck)
    return whole


def _given(one: Coming, luck: Luck) -> Floats:
    """Give the share of its mean that a planting gives in each season, cut short or not [1]."""
    share = luck.yields[one.planting, one.food] * one.whole[luck.run]
    if one.picking is Picking.SPREAD and one.span_weeks > 0:
        weeks = np.clip(one.until_week - one.first_week, 0, one.span_weeks)
        usual = max(float(np.median(weeks)), 1.0)
        share = share * weeks[luck.run] / usual
    given: Floats = np.asarray(share)
    return given


def verdict(found: Review, odds: ReviewOdds) -> Verdict:
    """Say how many promises were held, and in how many seasons less would have been eaten."""
    share = forecast_rules().held_share.value
    promised = [line for line in found.lines if line.promised_kg > 0]
    known = [line for line in promised if line.eaten_kg is not None]

    def held(line: LineReview) -> bool:
        return (line.eaten_kg or 0.0) >= share * line.promised_kg

    eaten = sum(line.eaten_kg or 0.0 for line in known)
    drawn = sum((odds.eaten_kg[line.line] for line in known), start=np.zeros(odds.seasons))
    return Verdict(
        held=sum(held(line) for line in known),
        known=len(known),
        promised=len(promised),
        expected=sum(odds.held_odds(line.line) for line in known),
        worse_share=float(np.mean(drawn < eaten)) if known else 0.0,
    )


def as_data(reviewed: Reviewed, odds: ReviewOdds) -> Mapping[str, object]:
    """Give what many seasons say of a review's weeks as plain data."""
    return {
        "seasons": odds.seasons,
        "foods_8_in_10_kg": {food: (kg[0], kg[2]) for food, kg in odds.foods_kg.items()},
        "beds_8_in_10_kg": {bed: (kg[0], kg[2]) for bed, kg in odds.beds_kg.items()},
        "verdict": verdict(reviewed.review, odds),
    }
