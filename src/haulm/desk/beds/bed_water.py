"""A garden's beds and the weather over them, as the water balance asks for them."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from enum import IntEnum

import numpy as np
from numpy.typing import NDArray

from haulm.catalogue.records import Catalogue
from haulm.desk.beds.ground import is_covered
from haulm.desk.beds.weather import RUNS
from haulm.ground.records import Bed, Watered
from haulm.measure.day_words import long_day
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.notebook.garden import Garden
from haulm.plan.records import Plan, Planting
from haulm.season.ahead import DayAhead
from haulm.site.calendar import days_from
from haulm.site.records import DailyRecord, Place, Seasons, Weather
from haulm.site.seasons import seasons_from
from haulm.water.crops import crop_water
from haulm.water.figures import water_figures
from haulm.water.gauge import gauge_rain_mm
from haulm.water.records import Climate, Patch, WaterBed
from haulm.water.reference import Air, ReferenceUse, reference_use
from haulm.water.soils import soil_middle
from haulm.water.stages import warm_progress

SEED = 1
FULL_GROUND = ((1, 1), (7, 1))
"""The midwinter day on which ground is taken to hold all it can: north and south, month and day."""

DAYS_AFTER = 21
"""So long after the last day asked about the weather goes on [d]."""


Sources = NDArray[np.int64]


class From(IntEnum):
    """Where a day's weather comes from."""

    DRAWN = 0
    RECORD = 1
    GAUGE = 2
    TOLD = 3


@dataclass(frozen=True, slots=True)
class RainTold:
    """What a gauge says by day [mm], and what was told of the days ahead."""

    gauge_mm: Mapping[date, float] = field(default_factory=dict)
    ahead: tuple[DayAhead, ...] = ()


NOTHING_TOLD = RainTold()


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
        The first day whose weather is not known, or the day asked of; the runs' first day where
        none is.
    rain_from, air_from
        Where the rain and the warmth of each day come from, a `From` each, shape (days,).
    """

    seasons: Seasons
    climate: Climate
    use: ReferenceUse
    true_until: date
    rain_from: Sources
    air_from: Sources

    def column(self, day: date) -> int:
        """Count the days from the first day of the weather to a day."""
        return (day - self.seasons.first_day).days


def water_weather(
    garden: Garden, day: date, until: date, told: RainTold = NOTHING_TOLD
) -> WaterWeather:
    """Draw or replay the weather from the midwinter before a day until another.

    Up to the day what is known stands in every run: rain by the gauge, else by the record; warmth
    by the record. From the day on, what was told of the days ahead does.

    Parameters
    ----------
    garden
        The garden.
    day, until
        The day asked of, and the first day that is not asked about.
    told
        What the gauge says, and what was told of the days ahead.

    Raises
    ------
    FaultsFoundError
        When the garden's weather has no rain.
    """
    first_day = midwinter_before(garden.place, day)
    days = (until - first_day).days + DAYS_AFTER
    seasons = seasons_from(garden.weather, garden.place, first_day, days, RUNS, SEED)
    _refuse_rainless(seasons)
    known = _Known(seasons, day)
    known.by_record(garden.weather)
    known.by_gauge(told.gauge_mm)
    true_until = known.true_until()
    known.by_what_is_told(told.ahead)
    return replace(
        _water_weather(known.seasons(), garden.place, true_until),
        rain_from=known.rain_from,
        air_from=known.air_from,
    )


def water_weather_in(seasons: Seasons, place: Place, day: date, until: date) -> WaterWeather:
    """Cut the weather for water, from the midwinter before a day until another, out of runs.

    Raises
    ------
    FaultsFoundError
        When the runs have no rain, or begin after that midwinter.
    """
    first_day = midwinter_before(place, day)
    if first_day < seasons.first_day:
        what = f"the runs of weather begin after {long_day(first_day)}."
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
    drawn = np.full(seasons.days, From.DRAWN)
    return WaterWeather(seasons, climate, use, true_until, drawn, drawn)


def midwinter_before(place: Place, day: date) -> date:
    """Give the last day at or before another on which ground is taken to hold all it can."""
    month, first = FULL_GROUND[place.southern]
    this_year = date(day.year, month, first)
    return this_year if this_year <= day else date(day.year - 1, month, first)


class _Known:
    """Puts what is known of the weather into every run, day by day."""

    def __init__(self, seasons: Seasons, day: date) -> None:
        self._seasons = seasons
        self._at = (day - seasons.first_day).days
        self._tmin_c = seasons.tmin_c.copy()
        self._tmax_c = seasons.tmax_c.copy()
        self._rain_mm = seasons.rain_mm.copy()
        self._beside_mm: NDArray[np.float64] | None = None
        self.rain_from: Sources = np.full(seasons.days, From.DRAWN)
        self.air_from: Sources = np.full(seasons.days, From.DRAWN)

    def seasons(self) -> Seasons:
        """Give the runs with what is known."""
        was = self._seasons
        return Seasons(was.origin, was.first_day, self._tmin_c, self._tmax_c, self._rain_mm)

    def true_until(self) -> date:
        """Give the first day up to the day asked of whose rain or warmth is not known."""
        unknown = (self.rain_from[: self._at] == 0) | (self.air_from[: self._at] == 0)
        known = int(unknown.argmax()) if unknown.any() else self._at
        return self._seasons.first_day + timedelta(days=known)

    def by_record(self, weather: Weather) -> None:
        """Take the record's own days up to the day; one nobody read stays drawn."""
        if not isinstance(weather, DailyRecord):
            return
        ahead = (weather.first_day - self._seasons.first_day).days
        first = max(ahead, 0)
        until = min(self._at, ahead + weather.tmin_c.size)
        if until <= first:
            return
        here, there = slice(first, until), slice(first - ahead, until - ahead)
        low, high, rain = (
            values[there] for values in (weather.tmin_c, weather.tmax_c, weather.rain_mm)
        )
        air, wet = np.isfinite(low) & np.isfinite(high), np.isfinite(rain)
        days = np.arange(first, until)
        self._tmin_c[:, days[air]], self._tmax_c[:, days[air]] = low[air], high[air]
        self._rain_mm[:, days[wet]] = rain[wet]
        self.air_from[days[air]] = self.rain_from[days[wet]] = From.RECORD
        self._beside_mm = np.full(self._at, np.nan)
        self._beside_mm[here] = rain

    def by_gauge(self, gauge_mm: Mapping[date, float]) -> None:
        """Take what the gauge says before the record's rain, for it stood in the garden itself."""
        first = self._seasons.first_day
        readings = {
            (day - first).days: mm for day, mm in gauge_mm.items() if (day - first).days <= self._at
        }
        gap = round(water_figures().gauge_days.value)
        rain = gauge_rain_mm(readings, self._at, gap, self._beside_mm)
        told = np.flatnonzero(np.isfinite(rain))
        self._rain_mm[:, told] = rain[told]
        self.rain_from[told] = From.GAUGE

    def by_what_is_told(self, ahead: Iterable[DayAhead]) -> None:
        """Take what was told of the days from the day asked of on."""
        for told in ahead:
            column = (told.day - self._seasons.first_day).days
            if not self._at <= column < self._seasons.days:
                continue
            rain = _told_rain(told, self._rain_mm[:, column])
            if rain is not None:
                self._rain_mm[:, column] = rain
                self.rain_from[column] = From.TOLD
            if told.tmin_c is not None and told.tmax_c is not None:
                self._tmin_c[:, column], self._tmax_c[:, column] = told.tmin_c, told.tmax_c
                self.air_from[column] = From.TOLD


def _told_rain(told: DayAhead, drawn_mm: NDArray[np.float64]) -> NDArray[np.float64] | None:
    """Give the rain of each run on a day of which it was told; None where it was not [mm].

    With odds, it rains in that share of the runs, in those that were drawn the wettest: what was
    told where an amount was, else what they drew.
    """
    if told.rain_odds is None:
        return None if told.rain_mm is None else np.full(drawn_mm.size, told.rain_mm)
    wet = round(told.rain_odds * drawn_mm.size)
    rains = np.argsort(-drawn_mm, kind="stable")[:wet]
    some = drawn_mm[drawn_mm > 0]
    # A drawn run without rain that is to have some gets the middle of those that have.
    least = float(np.median(some)) if some.size else 1.0
    rain = np.zeros(drawn_mm.size)
    rain[rains] = np.maximum(drawn_mm[rains], least) if told.rain_mm is None else told.rain_mm
    return rain


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
