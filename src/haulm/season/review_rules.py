"""The review's own figures, read from their data file."""

from dataclasses import dataclass
from functools import cache

from haulm.catalogue.records import Figure
from haulm.catalogue.room_figures import room_figures


@dataclass(frozen=True, slots=True)
class ReviewRules:
    """When a week of the table counts as fed, a year as lucky, a regret as worth planning for.

    Each field is a figure of ``data/review.toml``, where its unit, basis and meaning stand.
    """

    fed_share: Figure
    fresh_weeks: Figure
    near_weeks: Figure
    winter_plan_days: Figure
    look_back_days: Figure
    lucky_share: Figure
    unlucky_share: Figure
    noticed_kg: Figure
    told_kg: Figure
    regret_kg: Figure
    pays_kg: Figure
    often_share: Figure


@cache
def review_rules() -> ReviewRules:
    """Read the rules' figures."""
    return ReviewRules(**room_figures("haulm.season", "review.toml"))
