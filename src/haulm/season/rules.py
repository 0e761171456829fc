"""The season's own figures, read from their data file."""

from dataclasses import dataclass
from functools import cache

from haulm.catalogue.records import Figure
from haulm.catalogue.room_figures import room_figures


@dataclass(frozen=True, slots=True)
class SeasonRules:
    """How far records move what is taken as usual, and when what is written is news to a plan.

    Each field is a figure of ``data/rules.toml``, where its unit, basis and meaning stand.
    """

    own_share: Figure
    year_share: Figure
    count_strength: Figure
    alike: Figure
    ready_own_days: Figure
    ready_year_days: Figure
    work_own_spread: Figure
    work_job_spread: Figure
    ask_beyond: Figure
    keeping_own_share: Figure
    few_records: Figure
    few_weight: Figure
    one_piece_least: Figure
    one_piece_most: Figure
    start_off_days: Figure
    meant_within_days: Figure
    few_weeks: Figure
    seed_fresh: Figure
    seed_age_strength: Figure
    seed_discard: Figure
    seed_thicker: Figure
    cleared_early_days: Figure
    started_late_days: Figure
    seed_late_days: Figure
    seed_early_days: Figure
    picked_over_days: Figure
    ready_surely: Figure
    slip_rain_mm: Figure
    slip_water_mm: Figure
    slip_times: Figure
    slip_work_h: Figure


@cache
def season_rules() -> SeasonRules:
    """Read the rules' figures."""
    return SeasonRules(**room_figures("haulm.season", "rules.toml"))
