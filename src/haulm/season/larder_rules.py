"""The larder's own figures, read from their data file."""

from dataclasses import dataclass
from functools import cache

from haulm.catalogue.records import Figure
from haulm.catalogue.room_figures import room_figures


@dataclass(frozen=True, slots=True)
class LarderRules:
    """When books and counts part, when a store is looked through, what the strip tells.

    Each field is a figure of ``data/larder.toml``, where its unit, basis and meaning stand.
    """

    near_share: Figure
    near_kg: Figure
    pieces_weighed: Figure
    life_left: Figure
    check_lost_share: Figure
    check_least_days: Figure
    soft_days: Figure
    freely_share: Figure
    look_back_weeks: Figure
    least_weeks: Figure
    pace_near: Figure
    past_told_weeks: Figure


@cache
def larder_rules() -> LarderRules:
    """Read the rules' figures."""
    return LarderRules(**room_figures("haulm.season", "larder.toml"))
