"""The look-out's own figures, read from their data file."""

from dataclasses import dataclass
from functools import cache

from haulm.catalogue.records import Figure
from haulm.catalogue.room_figures import room_figures


@dataclass(frozen=True, slots=True)
class WatchFigures:
    """How far forecasts err, and when what is seen is worth a word.

    Each field is a figure of ``data/watch.toml``, where its unit, basis and meaning stand.
    """

    forecast_min_error_c: Figure
    garden_min_error_c: Figure
    later_night_error_c: Figure
    cover_from: Figure
    cover_not_enough: Figure
    fleece_edges_share: Figure
    harden_days: Figure
    late_blight_latent_days: Figure
    haulm_lift_after_days: Figure
    dry_day_mm: Figure
    dry_day_odds: Figure
    dry_window_days: Figure
    ready_by_odds: Figure
    thin_stand: Figure
    failed_stand: Figure
    seen_lasts_days: Figure
    named_odds: Figure
    sure_odds: Figure
    safe_odds: Figure
    nights_ahead: Figure
    cover_by_h: Figure
    blight_back_days: Figure
    blight_ahead_days: Figure
    blight_look_days: Figure
    blight_likely: Figure
    haulm_dead: Figure
    lifted_share: Figure
    lift_ahead_days: Figure
    lift_late_days: Figure
    look_again_days: Figure
    sowing_asked_days: Figure
    sow_again_days: Figure
    seen_again_days: Figure
    seen_bad_days: Figure
    trays_late_days: Figure
    clears_late_days: Figure
    told_lasts_days: Figure


@cache
def watch_figures() -> WatchFigures:
    """Read the look-out's figures."""
    return WatchFigures(**room_figures("haulm.season", "watch.toml"))
