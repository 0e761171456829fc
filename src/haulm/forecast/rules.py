"""The forecast's own figures, read from their data file."""

from dataclasses import dataclass
from functools import cache

from haulm.catalogue.records import Figure
from haulm.catalogue.room_figures import room_figures


@dataclass(frozen=True, slots=True)
class ForecastRules:
    """How the luck of a season is shared out, and when a promise is held.

    Each field is a figure of ``data/rules.toml``, where its unit, basis and meaning stand.
    """

    year_share: Figure
    crop_share: Figure
    failure_share: Figure
    nothing_before_share: Figure
    keeping_spread: Figure
    appetite_spread: Figure
    appetite_week_spread: Figure
    held_share: Figure
    empty_kg: Figure
    together_from: Figure
    blight_mean_c: Figure
    blight_rain_mm: Figure
    blight_least_c: Figure
    blight_days: Figure
    blight_delay_days: Figure
    blight_nothing_before_share: Figure
    blight_spread_days: Figure
    least_own_variance: Figure
    lost_share: Figure


@cache
def forecast_rules() -> ForecastRules:
    """Read the rules' figures."""
    return ForecastRules(**room_figures("haulm.forecast", "rules.toml"))
