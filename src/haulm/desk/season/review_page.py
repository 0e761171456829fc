"""A year's review as its page shows it: reckoned once, its charts drawn."""

from collections import defaultdict
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from haulm.desk.season.review import Reviewed, ReviewWish, review_of
from haulm.desk.season.review_odds import ReviewOdds, odds_of_review
from haulm.measure.units import show_mass
from haulm.season.review_records import FoodReview, WeekCame
from haulm.sheets.page.season_band import SeasonBand, season_band

SEED = 1
MOST_DRAWN = 9


@dataclass(frozen=True, slots=True, eq=False)
class LookedBack:
    """A review and what many seasons say of its weeks."""

    reviewed: Reviewed
    odds: ReviewOdds


@dataclass(frozen=True, slots=True)
class Drawn:
    """One food's season drawn, with its name."""

    food: str
    name: str
    svg: str


def looked_back(path: Path, day: date, year: int | None) -> LookedBack:
    """Look back on a year and live its plan through many seasons.

    Raises
    ------
    FaultsFoundError
        When no plan was kept that reaches into the year, or the garden has faults.
    """
    reviewed = review_of(path, day, ReviewWish(year=year))
    return LookedBack(reviewed, odds_of_review(reviewed, SEED))


def seasons_drawn(found: LookedBack) -> tuple[Drawn, ...]:
    """Draw the seasons of the foods that the plan had most of."""
    review, names = found.reviewed.review, found.reviewed.names
    foods = [one for one in review.foods if one.planned_kg > 0 and one.food in found.odds.picked_kg]
    return tuple(
        Drawn(one.food, names.get(one.food, one.food), _drawn(found, one))
        for one in foods[:MOST_DRAWN]
    )


def _drawn(found: LookedBack, one: FoodReview) -> str:
    reviewed = found.reviewed
    span, units = reviewed.review.span, reviewed.units
    low, _, high = found.odds.picked_kg[one.food].tolist()
    planned: dict[int, float] = defaultdict(float)
    for planting in reviewed.plan.plantings:
        for pick in planting.picks:
            if pick.food == one.food:
                planned[pick.week] += pick.kg
    came: dict[int, float] = defaultdict(float)
    for picked in reviewed.review.picked:
        if picked.food == one.food:
            came[span.horizon.week_of(picked.day)] += picked.kg
    serving = {line.line for line in reviewed.season.lines if one.food in line.foods}
    without = frozenset(
        week.week - span.first_week
        for line in reviewed.review.lines
        if line.line in serving
        for week in line.weeks
        if week.came is WeekCame.WITHOUT
    )
    band = SeasonBand(
        span.first_day,
        low,
        high,
        _summed(planned, span.weeks),
        None if one.picked_kg is None else _summed(came, span.weeks),
        without,
    )
    name = reviewed.names.get(one.food, one.food)
    came_words = "not written" if one.picked_kg is None else show_mass(one.picked_kg, units)
    told = (
        f"planned {show_mass(one.planned_kg, units)}, 8 seasons in 10"
        f" {show_mass(low[-1], units)} to {show_mass(high[-1], units)}, picked {came_words};"
        f" weeks without: {len(without)}"
    )
    return season_band(one.food, band, f"{name}: {told}", "")


def _summed(kg: dict[int, float], weeks: range) -> list[float]:
    total, found = 0.0, []
    for week in weeks:
        total += kg.get(week, 0.0)
        found.append(total)
    return found
