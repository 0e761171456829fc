"""A garden's beds and the weather over them, as the water balance asks for them."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from haulm.catalogue.records import Catalogue
from haulm.desk.beds.ground import is_covered
from haulm.desk.beds.weather import RUNS
from haulm.ground.records import Bed, Watered
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.notebook.garden import Garden
from haulm.plan.records import Plan, Planting
from haulm.site.calendar import days_from
from haulm.site.records import DailyRecord, Place, Seasons
from haulm.site.seasons import seasons_from
from haulm.water.crops import crop_water
from haulm.water.figures import water_figures
from haulm.water.records import Climate, Patch, WaterBed
from haulm.water.reference import Air, ReferenceUse, reference_use
from haulm.water.soils import soil_middle
from haulm.water.stages import warm_progress

SEED = 1
FULL_GROUND = ((1, 1), (7, 1))
"""The midwinter day on which ground is taken to hold all it can: north and south, month and day."""

DAYS_AFTER = 21
"""So long after the last day asked about the weather goes on [d]."""


@dataclass(frozen=True, slots=True, eq=False)
class WaterWeather:
    """The weather that a garden's water is reckoned through.

    Attributes
    ----------
    seasons
        The runs of weather; days of the record stand in every run.
    climate, use
        The same as the balance takes it, and how the reference use was come by.
    true_until
        The first day that is not the record's own; the runs' first day where none is.
    """

    seasons: Seasons
    climate: Climate
    use: ReferenceUse
    true_until: date

    def column(self, day: date) -> int:
        """Count the days from the first day of the weather to a day."""
        return (day - self.seasons.first_day).days


def water_weather(garden: Garden, day: date, until: date) -> WaterWeather:
    """Draw or replay the weather from the midwinter before a day until another.

    Up to the day the record's own days stand in every run, as far as it reaches without a gap.

    Raises
    ------
    FaultsFoundError
        When the garden's weather has no rain.
    """
    first_day = midwinter_before(garden.place, day)
    days = (until - first_day).days + DAYS_AFTER
    seasons = seasons_from(garden.weather, garden.place, first_day, days, RUNS, SEED)
    _refuse_rainless(seasons)
    seasons, true_until = _with_true_days(seasons, garden.weather, day)
    return _water_weather(seasons, garden.place, true_until)


def water_weather_in(seasons: Seasons, place: Place, day: date, until: date) -> WaterWeather:
    """Cut the weather for water, from the midwinter before a day until another, out of runs.

    Raises
    ------
    FaultsFoundError
        When the runs have no rain, or begin after that midwinter.
    """
    first_day = midwinter_before(place, day)
    if first_day < seasons.first_day:
        what = f"the runs of weather begin after {first_day.isoformat()}."
        raise FaultsFoundError([Finding("weather", what, "Begin them earlier.")])
    _refuse_rainless(seasons)
    days = slice(
        (first_day - seasons.first_day).days, (until - seasons.first_day).days + DAYS_AFTER
    )
    cut = Seasons(
        seasons.origin,
        first_day,
        seasons.tmin_c[:, days],
        seasons.tmax_c[:, days],
        seasons.rain_mm[:, days],
    )
    return _water_weather(cut, place, first_day)


def _refuse_rainless(seasons: Seasons) -> None:
    """Refuse runs of weather without rain."""
    if np.isnan(seasons.rain_mm).any():
        what = "the weather record has no rain, so how much water the beds want is not known."
        raise FaultsFoundError([Finding("weather", what, "Load a record with rain.")])


def _water_weather(seasons: Seasons, place: Place, true_until: date) -> WaterWeather:
    """Work out what the air takes in runs of weather."""
    calendar = days_from(seasons.first_day, seasons.days)
    air = Air(
        latitude_deg=place.latitude_deg,
        height_m=place.height_m,
        day_of_year=calendar.day_of_year,
        tmin_c=seasons.tmin_c,
        tmax_c=np.maximum(seasons.tmax_c, seasons.tmin_c),
    )
    use = reference_use(air)
    humidity = use.least_humidity_pct.mean(axis=0)
    climate = Climate(seasons.rain_mm, use.use_mm, humidity, use.wind_m_s)
    return WaterWeather(seasons, climate, use, true_until)


def midwinter_before(place: Place, day: date) -> date:
    """Give the last day at or before another on which ground is taken to hold all it can."""
    month, first = FULL_GROUND[place.southern]
    this_year = date(day.year, month, first)
    return this_year if this_year <= day else date(day.year - 1, month, first)


def _with_true_days(seasons: Seasons, weather: object, day: date) -> tuple[Seasons, date]:
    """Put the record's own days, up to a day, into every run; they end at the first gap."""
    if not isinstance(weather, DailyRecord) or weather.first_day > seasons.first_day:
        return seasons, seasons.first_day
    at = (seasons.first_day - weather.first_day).days
    count = min(max((day - seasons.first_day).days, 0), max(weather.tmin_c.size - at, 0))
    read = [values[at : at + count] for values in (weather.tmin_c, weather.tmax_c, weather.rain_mm)]
    gaps = np.flatnonzero(np.isnan(read).any(axis=0)) if count else np.empty(0)
    count = int(gaps[0]) if gaps.size else count
    if not count:
        return seasons, seasons.first_day
    changed = []
    for runs, values in zip((seasons.tmin_c, seasons.tmax_c, seasons.rain_mm), read, strict=True):
        with_true = runs.copy()
        with_true[:, :count] = values[:count]
        changed.append(with_true)
    true = Seasons(seasons.origin, seasons.first_day, *changed)
    return true, seasons.first_day + timedelta(days=count)


def water_beds(
    garden: Garden, catalogue: Catalogue, plan: Plan, weather: WaterWeather
) -> tuple[WaterBed, ...]:
    """Give every bed with all that the plan puts on it, in the grower's order.

    A planting's season runs from the day it is in the ground to the day its ground is free, by the
    warmth of the middle of all runs above its kind's base.
    """
    mean_c = ((weather.seasons.tmin_c + weather.seasons.tmax_c) / 2).mean(axis=0)
    wetted = wetted_shares()
    return tuple(
        WaterBed(
            id=bed.id,
            area_m2=bed.outline.area_m2,
            soil=soil_middle(bed.soil or garden.place.soil),
            patches=tuple(
                _patch(planting, catalogue, weather, mean_c)
                for planting in plan.plantings
                if planting.bed == bed.id and planting.clear_by > planting.in_ground_from
            ),
            covered=is_covered(bed),
            mulch_share=bed.mulch_share,
            wetted=wetted[bed.watered],
        )
        for bed in planned_beds(garden, plan)
    )


def planned_beds(garden: Garden, plan: Plan) -> tuple[Bed, ...]:
    """Give the garden's beds that the plan knows."""
    known = {bed.id for bed in plan.beds}
    return tuple(bed for bed in garden.beds if bed.id in known)


def wetted_shares() -> Mapping[Watered, float]:
    """Give the share of the ground that each way of watering wets [1]."""
    figures = water_figures()
    return {
        Watered.CAN: figures.wetted_by_can.value,
        Watered.HOSE: figures.wetted_by_hose.value,
        Watered.DRIP: figures.wetted_by_drip.value,
    }


def _patch(
    planting: Planting, catalogue: Catalogue, weather: WaterWeather, mean_c: np.ndarray
) -> Patch:
    """Give a planting as the balance knows it."""
    kind = catalogue.kinds[planting.kind]
    first, until = weather.column(planting.in_ground_from), weather.column(planting.clear_by)
    # Before and after the weather's days the same day of another year stands in.
    columns = np.arange(first, until)
    within = np.where(columns < 0, columns % 365, columns)
    within = np.where(within >= mean_c.size, within % 365, within)
    warmth = np.maximum(mean_c[within] - kind.warmth.base_c.value, 0.0)
    return Patch(
        planting.id, planting.area_m2, first, until, warm_progress(warmth), crop_water(kind.water)
    )
