"""What a plan loses to drought, watered one way or another, in the weather it is lived through."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum

import numpy as np

from haulm.catalogue.records import Absent, Catalogue, Water
from haulm.desk.beds.bed_water import WaterWeather, water_beds, water_weather_in
from haulm.forecast.records import Coming, Floats
from haulm.growing.weather import GrowingWeather
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.measure.weeks import DAYS_A_WEEK, WEEKS_A_YEAR
from haulm.notebook.garden import Garden
from haulm.plan.records import Plan
from haulm.site.records import Seasons
from haulm.water.balance_tables import balance_tables
from haulm.water.figures import water_figures
from haulm.water.records import Tank, Watering
from haulm.water.season_use import SeasonUse, Stay, left_by_thirst, season_use

WITHOUT = ("rooting_m", "depletion_fraction", "kc_middle", "kc_end")
"""The figures of a kind without which its water cannot be reckoned."""


class WateredHow(StrEnum):
    """How a garden is watered through the seasons."""

    USUAL = "usual"
    TANKS = "tanks"
    NONE = "none"


Whole = tuple[str, int]
"""A planting, and the plan's year of a perennial's picking; -1 for what is grown once."""


@dataclass(frozen=True, slots=True, eq=False)
class Thirst:
    """What drought leaves of a plan's plantings.

    Attributes
    ----------
    left
        By planting and year: share of its yield in every run of weather, shape (runs,) [1].
    unknown
        Kinds whose water nobody knows: they are taken as watered.
    """

    left: Mapping[Whole, Floats]
    unknown: tuple[str, ...]

    def of(self, coming: Coming) -> Floats:
        """Give what drought leaves of one coming in every run of weather [1]."""
        for year in (-1, coming.year):
            if (coming.planting, year) in self.left:
                return self.left[coming.planting, year]
        return np.ones(1)


def thirsting(comings: Sequence[Coming], thirst: Thirst) -> tuple[Coming, ...]:
    """Give the comings of a garden that thirsts so."""
    return tuple(replace(coming, watered=thirst.of(coming)) for coming in comings)


class Drought:
    """The water of a plan's beds through runs of weather, watered one way or another.

    Catalogue yields are means of gardens that were watered when due, so that is what every other
    way is held against: watered as usual, nothing is lost.

    Raises
    ------
    FaultsFoundError
        When the weather has no rain.
    """

    def __init__(
        self, garden: Garden, catalogue: Catalogue, plan: Plan, weather: GrowingWeather
    ) -> None:
        self._garden = garden
        self.unknown = tuple(
            sorted({p.kind for p in plan.plantings if _lacking(catalogue.kinds[p.kind].water)})
        )
        known = replace(
            plan, plantings=tuple(p for p in plan.plantings if p.kind not in self.unknown)
        )
        unlike, self._run = _unlike(weather.seasons)
        self._water = water_weather_in(
            unlike, garden.place, plan.horizon.first_day, plan.horizon.last_day
        )
        beds = water_beds(garden, catalogue, known, self._water)
        self._tables = balance_tables(beds, self._water.climate)
        self._stays = _stays(known, catalogue, self._tables.labels, self._water)
        usual = water_figures().usual_yield_response.value
        kinds = {p.id: p.kind for p in known.plantings}
        told = [
            catalogue.kinds[kinds[planting]].water.yield_response for planting, _ in self._stays
        ]
        self._response = np.array([one.value if one else usual for one in told])
        self._watered: SeasonUse | None = None

    def thirst(self, how: WateredHow) -> Thirst:
        """Tell what drought leaves of every planting."""
        if how is WateredHow.USUAL or not self._stays:
            return Thirst({}, self.unknown)
        if self._watered is None:
            self._watered = self._use(Watering(when_due=True))
        if how is WateredHow.NONE:
            thirsty = self._use(Watering())
        else:
            thirsty = self._use(Watering(when_due=True, tanks=tanks_of(self._garden)))
        left = left_by_thirst(self._watered, thirsty, self._response)[:, self._run]
        return Thirst(dict(zip(self._stays, left, strict=True)), self.unknown)

    def _use(self, watering: Watering) -> SeasonUse:
        """Reckon what the stays take."""
        return season_use(self._tables, self._water.climate, watering, tuple(self._stays.values()))


def tanks_of(garden: Garden) -> tuple[Tank, ...]:
    """Give a garden's rain tanks.

    Raises
    ------
    FaultsFoundError
        When it has none.
    """
    if not garden.tanks:
        what = "the garden has no rain tank, so it cannot be watered from one."
        raise FaultsFoundError([Finding("tank", what, "Add a [[tank]], or choose another way.")])
    return garden.tanks


def _lacking(water: Water) -> bool:
    """Say whether a figure is missing without which a kind's water cannot be reckoned."""
    return any(isinstance(getattr(water, name), Absent) for name in WITHOUT)


def _unlike(seasons: Seasons) -> tuple[Seasons, np.ndarray]:
    """Give the runs that differ, each once, and for every run which of them it is."""
    _, first, again = np.unique(
        np.hstack([seasons.tmin_c[:, ::DAYS_A_WEEK], seasons.rain_mm]),
        axis=0,
        return_index=True,
        return_inverse=True,
    )
    once = Seasons(
        seasons.origin,
        seasons.first_day,
        seasons.tmin_c[first],
        seasons.tmax_c[first],
        seasons.rain_mm[first],
    )
    return once, again.reshape(-1)


def _stays(
    plan: Plan, catalogue: Catalogue, labels: Sequence[tuple[str, str]], water: WaterWeather
) -> dict[Whole, Stay]:
    """Give the days over which each planting's thirst is counted: all, or a perennial's by year."""
    rows = {patch: row for row, (_, patch) in enumerate(labels) if patch}
    days = water.climate.use_mm.shape[1]
    start = water.column(plan.horizon.first_day)
    stays = {}
    for planting in plan.plantings:
        if planting.id not in rows:
            continue
        first = max(water.column(planting.in_ground_from), 0)
        until = min(water.column(planting.clear_by), days)
        if catalogue.kinds[planting.kind].perennial is None:
            stays[planting.id, -1] = Stay(rows[planting.id], first, until)
            continue
        for year in range(-(-plan.horizon.weeks // WEEKS_A_YEAR)):
            from_day = start + year * WEEKS_A_YEAR * DAYS_A_WEEK
            stays[planting.id, year] = Stay(
                rows[planting.id],
                max(first, from_day),
                min(until, from_day + WEEKS_A_YEAR * DAYS_A_WEEK),
            )
    return {whole: stay for whole, stay in stays.items() if stay.first_day < stay.until_day}
