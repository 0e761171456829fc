"""The weather as plants meet it: warmth, frost, chill, light and soil, in the open and covered."""

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import date, timedelta

import numpy as np
from numpy.typing import NDArray

from haulm.catalogue.emergence import Emergence
from haulm.catalogue.records import Basis
from haulm.growing.days import Days, next_day_of, sums_from_daily
from haulm.growing.emergence import rate_a_day
from haulm.growing.rules import growing_rules
from haulm.site.cover import under_cover as seasons_under_cover
from haulm.site.day_length import day_length_h
from haulm.site.degree_days import single_sine
from haulm.site.records import Place, Seasons
from haulm.site.soil_warmth import soil_temperature_c

MIDWINTER_NORTH = (12, 21)
MIDSUMMER_NORTH = (6, 21)


@dataclass(frozen=True, slots=True, eq=False)
class Surroundings:
    """Air and soil around a plant, shape (runs, days) [°C].

    ``soil_day_c`` is of bare ground at 5 cm: the site's estimate, warmed by the sun on long days.
    ``soil_c`` is the same averaged over the week that begins with each day (over what is left of
    the run at its end).
    """

    tmin_c: NDArray[np.float64]
    tmax_c: NDArray[np.float64]
    mean_c: NDArray[np.float64]
    soil_day_c: NDArray[np.float64]
    soil_c: NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class GrowingWeather:
    """Many runs of weather, with what all kinds share worked out once.

    Attributes
    ----------
    place, seasons
        Where, and the runs of weather in the open.
    day_length_h
        Day length of each day, shape (days,) [h].
    lengthening
        Whether days lengthen, from midwinter to midsummer, shape (days,).
    open_air, covered
        What surrounds a plant in the open, and under a tunnel or glass.
    """

    place: Place
    seasons: Seasons
    day_length_h: NDArray[np.float64]
    lengthening: NDArray[np.bool_]
    open_air: Surroundings
    covered: Surroundings
    _sums: dict[tuple[str, float, float, bool], NDArray[np.float64]] = field(default_factory=dict)
    _next: dict[tuple[str, float, bool], Days] = field(default_factory=dict)

    def column_of(self, day: date) -> int:
        """Count the days from the first day of the weather to a day (may lie outside it)."""
        return (day - self.seasons.first_day).days

    def day_of(self, column: int) -> date:
        """Give a column's day; beyond the weather's end, the last day there is weather for."""
        return self.seasons.first_day + timedelta(days=min(int(column), self.seasons.days - 1))

    def around(self, *, under_cover: bool) -> Surroundings:
        """Choose the surroundings in the open or under cover."""
        return self.covered if under_cover else self.open_air

    def degree_day_sums(
        self, base_c: float, upper_c: float, *, under_cover: bool
    ) -> NDArray[np.float64]:
        """Add up degree-days before each day, shape (runs, days + 1) [°C d]; kept once made."""
        around = self.around(under_cover=under_cover)
        return self._sums_once(
            ("degree days", base_c, upper_c, under_cover),
            lambda: single_sine(around.tmin_c, around.tmax_c, base_c, upper_c),
        )

    def chill_sums(self, *, under_cover: bool) -> NDArray[np.float64]:
        """Count chill days before each day, shape (runs, days + 1) [d]; kept once made."""
        rules = growing_rules()
        low, high = rules.chill_low_c.value, rules.chill_high_c.value
        mean = self.around(under_cover=under_cover).mean_c
        return self._sums_once(
            ("chill", low, high, under_cover),
            lambda: ((mean >= low) & (mean <= high)).astype(np.float64),
        )

    def emergence_sums(
        self, table: Emergence, least_c: float, *, under_cover: bool
    ) -> NDArray[np.float64]:
        """Add up seed's way to emergence before each day, shape (runs, days + 1) [1]; kept."""
        soil = self.around(under_cover=under_cover).soil_day_c
        own = float(table.basis is Basis.PUBLISHED)
        return self._sums_once(
            (f"emergence of {table.table}", least_c, own, under_cover),
            lambda: rate_a_day(table, least_c, soil),
        )

    def next_frost(self, threshold_c: float, *, under_cover: bool) -> Days:
        """Find the next day with a minimum at or under a threshold, shape (runs, days + 1)."""
        tmin = self.around(under_cover=under_cover).tmin_c
        return self._next_once(("frost", threshold_c, under_cover), lambda: tmin <= threshold_c)

    def next_long_day(self, hours: float) -> Days:
        """Find the next lengthening day at least so long, shape (days + 1,)."""
        return self._next_once(
            ("long day", hours, False),
            lambda: self.lengthening & (self.day_length_h >= hours),
        )

    def next_midwinter(self) -> Days:
        """Find the next midwinter day, shape (days + 1,)."""
        month_day = MIDSUMMER_NORTH if self.place.southern else MIDWINTER_NORTH
        return self._next_once(
            ("midwinter", 0.0, False),
            lambda: np.array([(day.month, day.day) == month_day for day in _dates(self.seasons)]),
        )

    def _sums_once(
        self,
        key: tuple[str, float, float, bool],
        daily: Callable[[], NDArray[np.float64]],
    ) -> NDArray[np.float64]:
        if key not in self._sums:
            self._sums[key] = sums_from_daily(daily())
        return self._sums[key]

    def _next_once(
        self, key: tuple[str, float, bool], holds: Callable[[], NDArray[np.bool_]]
    ) -> Days:
        if key not in self._next:
            self._next[key] = next_day_of(holds())
        return self._next[key]


def growing_weather(seasons: Seasons, place: Place) -> GrowingWeather:
    """Work out what all kinds share of a place's runs of weather.

    The runs should begin as long before the plan as anything that stands was started, and reach
    as far past its end as the longest wait for a food (60 weeks each way).
    """
    dates = _dates(seasons)
    days_of_year = np.array([day.timetuple().tm_yday for day in dates])
    hours = day_length_h(place.latitude_deg, days_of_year)
    return GrowingWeather(
        place=place,
        seasons=seasons,
        day_length_h=hours,
        lengthening=np.array([_days_lengthen(day, southern=place.southern) for day in dates]),
        open_air=_surroundings(seasons, hours),
        covered=_surroundings(seasons_under_cover(seasons), hours),
    )


def _dates(seasons: Seasons) -> list[date]:
    return [seasons.first_day + timedelta(days=column) for column in range(seasons.days)]


def _days_lengthen(day: date, *, southern: bool) -> bool:
    north = (day.month, day.day) > MIDWINTER_NORTH or (day.month, day.day) <= MIDSUMMER_NORTH
    return north != southern


def _surroundings(seasons: Seasons, hours: NDArray[np.float64]) -> Surroundings:
    rules = growing_rules()
    gain_from_h, gain_full_h = rules.bare_soil_gain_from_h.value, rules.bare_soil_gain_full_h.value
    sun = np.clip((hours - gain_from_h) / (gain_full_h - gain_from_h), 0, 1)
    soil = soil_temperature_c(seasons.tmin_c, seasons.tmax_c, rules.soil_depth_m.value)
    soil_day = soil + rules.bare_soil_gain_c.value * sun
    return Surroundings(
        tmin_c=seasons.tmin_c,
        tmax_c=seasons.tmax_c,
        mean_c=(seasons.tmin_c + seasons.tmax_c) / 2,
        soil_day_c=soil_day,
        soil_c=_mean_ahead(soil_day, round(rules.soil_mean_days.value)),
    )


def _mean_ahead(daily: NDArray[np.float64], span: int) -> NDArray[np.float64]:
    """Average each day with those after it, over a span or what is left of it."""
    sums = sums_from_daily(daily)
    days = daily.shape[1]
    ends = np.minimum(np.arange(days) + span, days)
    counts = ends - np.arange(days)
    mean: NDArray[np.float64] = (sums[:, ends] - sums[:, :-1]) / counts
    return mean
