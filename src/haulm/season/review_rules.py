"""The review's own figures, read from their data file."""

from dataclasses import dataclass
from functools import cache

from haulm.catalogue.records import Figure
from haulm.catalogue.room_figures import room_figures


@dataclass(frozen=True, slots=True)
class ReviewRules:
    """When a week of the table counts as fed, and how long what is picked lasts in the kitchen.

    Each field is a figure of ``data/review.toml``, where its unit, basis and meaning stand.
    """

    fed_share: Figure
    fresh_weeks: Figure


@cache
def review_rules() -> ReviewRules:
    """Read the rules' figures."""
    return ReviewRules(**room_figures("haulm.season", "review.toml"))
