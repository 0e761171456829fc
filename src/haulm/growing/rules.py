"""The growing rules' own figures, read from their data file."""

from dataclasses import dataclass
from functools import cache

from haulm.catalogue.records import Figure
from haulm.catalogue.room_figures import room_figures


@dataclass(frozen=True, slots=True)
class GrowingRules:
    """How sure a window must be, how far it looks ahead, how a start is raised and counted.

    Each field is a figure of ``data/rules.toml``, where its unit, basis and meaning stand.
    """

    certainty_warmth: Figure
    certainty_cooled: Figure
    certainty_frost: Figure
    young_weeks: Figure
    certainty_ready: Figure
    soil_mean_days: Figure
    soil_depth_m: Figure
    setting_out_over_base_c: Figure
    setting_out_under_germination_c: Figure
    coming_up_degree_days: Figure
    coming_up_tubers_degree_days: Figure
    longest_up_weeks: Figure
    sow_again_wait: Figure
    bare_soil_gain_c: Figure
    bare_soil_gain_from_h: Figure
    bare_soil_gain_full_h: Figure
    longest_weeks: Figure
    least_spread_share: Figure
    raising_warmth_c: Figure
    tray_share_of_start_work: Figure
    yield_half_spread: Figure
    chill_low_c: Figure
    chill_high_c: Figure
    sowing_spacing_least_weeks: Figure
    sowing_spacing_most_weeks: Figure
    storer_sowings: Figure
    quick_span_weeks: Figure
    succession_most_weeks: Figure
    follow_on_wait_weeks: Figure


@cache
def growing_rules() -> GrowingRules:
    """Read the rules' figures."""
    return GrowingRules(**room_figures("haulm.growing", "rules.toml"))
