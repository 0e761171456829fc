"""The water room's own figures, read from their data file."""

from dataclasses import dataclass
from functools import cache

from haulm.catalogue.records import Figure
from haulm.catalogue.room_figures import room_figures
from haulm.water.records import WateringMeans


@dataclass(frozen=True, slots=True)
class WaterFigures:
    """What holds for every crop and bed: the drying top of the soil, light rain, ways of watering.

    Each field is a figure of ``data/water.toml``, where its unit, basis and meaning stand.
    """

    evaporating_depth_m: Figure
    bare_coefficient: Figure
    light_rain_share: Figure
    wind_m_s: Figure
    wetted_by_rain: Figure
    wetted_by_can: Figure
    wetted_by_hose: Figure
    wetted_by_drip: Figure
    mulch_relief: Figure
    root_start_m: Figure
    under_cover_use_share: Figure
    can_l: Figure
    us_can_l: Figure
    gauge_days: Figure
    good_rain_mm: Figure
    slight_loss: Figure
    dry_days_sandy: Figure
    dry_days_loamy: Figure
    dry_days_clayey: Figure
    roof_share: Figure
    usual_stage_initial: Figure
    usual_stage_growth: Figure
    usual_stage_middle: Figure
    usual_stage_late: Figure
    basal_start: Figure
    basal_less: Figure
    usual_height_m: Figure
    usual_yield_response: Figure
    soon_days: Figure
    can_begun: Figure
    told_from_l: Figure
    alike_mm: Figure


@cache
def water_figures() -> WaterFigures:
    """Read the water room's figures; read once, then kept."""
    return WaterFigures(**room_figures("haulm.water", "water.toml"))


def usual_means(*, us: bool = False) -> WateringMeans:
    """Give what a garden is watered with where it tells nothing: a large can, and no more known."""
    figures = water_figures()
    return WateringMeans((figures.us_can_l if us else figures.can_l).value)
