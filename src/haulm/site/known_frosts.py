"""Weather drawn towards what a grower knows: the usual days of the garden's frosts."""

from calendar import month_abbr
from dataclasses import dataclass, replace
from datetime import date
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.site.calendar import DAYS_A_YEAR, MONTH_LENGTHS, days_from
from haulm.site.doubt import without_doubt
from haulm.site.figures import air_figure
from haulm.site.frost import FROST_C, odds_over
from haulm.site.halves import FIRST_HALF_DAYS, Halves, halves_of, season_start
from haulm.site.height import with_temperatures
from haulm.site.records import DailyRecord, KnownFrosts, MonthlyNormals, Place, SomeWeather

MID_SPRING = 105
"""Day of the season on which the shift of spring is whole: 15 April, or 14 October south."""
NEVER_IN_SPRING, NEVER_IN_AUTUMN = -1.0, 366.0
"""Where the middle year has no frost: earlier than any day of spring, later than any of autumn."""

_YEAR = 2026
_HALVINGS = 14
_ROUNDS = 3
_MIDDLES: NDArray[np.float64] = np.cumsum(MONTH_LENGTHS) - np.array(MONTH_LENGTHS) / 2.0
_WHICH = {"last_frost": "last frost of spring", "first_frost": "first frost of autumn"}


@dataclass(frozen=True, slots=True)
class Shift:
    """How far nights are shifted in mid-spring and mid-autumn [°C]; a wave joins the two."""

    spring_c: float = 0.0
    autumn_c: float = 0.0

    def over(self, days: NDArray[np.float64]) -> NDArray[np.float64]:
        """Give the shift on days of the season, counted from 0 after midwinter [°C]."""
        mean_c, half_c = (self.spring_c + self.autumn_c) / 2, (self.spring_c - self.autumn_c) / 2
        turn = 2 * np.pi * (days - MID_SPRING) / DAYS_A_YEAR
        return np.asarray(mean_c + half_c * np.cos(turn))

    def __add__(self, other: "Shift") -> "Shift":
        return Shift(self.spring_c + other.spring_c, self.autumn_c + other.autumn_c)


def with_known_frosts(weather: SomeWeather, place: Place, known: KnownFrosts) -> SomeWeather:
    """Shift the nights of weather until its middle frosts fall on the days that are known.

    Minima are shifted most in the middle of the season the day is of, and less and less towards
    the other; where only one day is known the other season's middle is left as it is. Days, rain
    and the spread between years stay. What was in doubt before is settled by the day.

    Parameters
    ----------
    weather, place
        What is known else, and where: a record long or short, or normals.
    known
        The middle days.

    Raises
    ------
    FaultsFoundError
        If a day lies in the wrong half of the year, or asks for nights more than 6 °C colder or
        warmer than the weather has.

    Notes
    -----
    Judged, and tried on the four records under tests/truth/data/weather: where the grid's last
    frost was six weeks late, its autumn was right to the day, so that a shift for the whole year
    would have spoilt it. ``docs/climate.md`` has the figures.
    """
    spring = _season_day(known.last_spring, place)
    autumn = _season_day(known.first_autumn, place)
    _refuse_wrong_half(known, spring, autumn)
    if spring is None and autumn is None:
        return weather
    weather = without_doubt(weather)
    if isinstance(weather, MonthlyNormals):
        shift = _shift_of_normals(weather, place, spring, autumn)
    else:
        shift = _shift_of(halves_of(weather, place, seed=1), spring, autumn)
    _refuse_too_far(known, shift)
    return _shifted(weather, place, shift, f"{weather.origin}; {_told(known, shift)}")


@lru_cache(maxsize=32)
def _shift_of_normals(
    normals: MonthlyNormals, place: Place, spring: int | None, autumn: int | None
) -> Shift:
    """Find the shift for normals, whose drawn days differ a little otherwise once shifted."""
    shift = Shift()
    for _ in range(_ROUNDS):
        drawn = halves_of(_shifted(normals, place, shift, normals.origin), place, seed=1)
        shift += _shift_of(drawn, spring, autumn)
        if abs(shift.spring_c) + abs(shift.autumn_c) > 2 * air_figure("furthest_shift_c"):
            break
    return shift


def _shift_of(halves: Halves, spring: int | None, autumn: int | None) -> Shift:
    """Find the shift by halving, first for the one season, then for the other, and so again."""
    spring_c = autumn_c = 0.0
    for _ in range(_ROUNDS if spring is not None and autumn is not None else 1):
        if spring is not None:
            spring_c = _halved(halves, autumn_c, spring, in_spring=True)
        if autumn is not None:
            autumn_c = _halved(halves, spring_c, autumn, in_spring=False)
    return Shift(spring_c, autumn_c)


def _halved(halves: Halves, other_c: float, wanted: int, *, in_spring: bool) -> float:
    """Halve the span of shifts until the middle frost of one season falls on the day wanted."""
    # A little beyond what is allowed, so that what is not allowed is seen to be so.
    coldest_c, warmest_c = (sign * (air_figure("furthest_shift_c") + 1.0) for sign in (-1, 1))
    for _ in range(_HALVINGS):
        middle_c = (coldest_c + warmest_c) / 2
        shift = Shift(middle_c, other_c) if in_spring else Shift(other_c, middle_c)
        later = _middle(halves, shift, in_spring=in_spring) > wanted
        # Warmth brings the last frost forward and puts the first one off.
        if later is in_spring:
            coldest_c = middle_c
        else:
            warmest_c = middle_c
    return (coldest_c + warmest_c) / 2


def _middle(halves: Halves, shift: Shift, *, in_spring: bool) -> float:
    """Give the middle day of one season's frost under a shift."""
    width = halves.after_midwinter.shape[1]
    days = np.arange(width, dtype=np.float64)
    shifted = replace(
        halves,
        after_midwinter=halves.after_midwinter + shift.over(days),
        after_midsummer=halves.after_midsummer + shift.over(days + FIRST_HALF_DAYS),
    )
    odds = odds_over(shifted, FROST_C, (0.5,))
    if in_spring:
        return NEVER_IN_SPRING if odds.last_spring[0] is None else odds.last_spring[0]
    return NEVER_IN_AUTUMN if odds.first_autumn[0] is None else odds.first_autumn[0]


def _shifted(weather: SomeWeather, place: Place, shift: Shift, origin: str) -> SomeWeather:
    """Shift the minima of weather."""
    if isinstance(weather, DailyRecord):
        days = np.asarray(days_from(weather.first_day, weather.tmin_c.size).slot, dtype=np.float64)
    else:
        days = _MIDDLES
    midwinter = (season_start(place, _YEAR) - date(_YEAR, 1, 1)).days
    tmin_c = np.asarray(weather.tmin_c) + shift.over((days - midwinter) % DAYS_A_YEAR)
    return with_temperatures(weather, tmin_c, np.asarray(weather.tmax_c), origin, 0.0)


def _season_day(known: tuple[int, int] | None, place: Place) -> int | None:
    """Count a day of the year from midwinter."""
    if known is None:
        return None
    month, day = known
    # A 29 February counts as the 28th: a season has no leap day.
    start = season_start(place, _YEAR)
    when = date(_YEAR, month, min(day, MONTH_LENGTHS[month - 1]))
    return (when - start).days % DAYS_A_YEAR


def _refuse_wrong_half(known: KnownFrosts, spring: int | None, autumn: int | None) -> None:
    """Refuse a last frost after midsummer and a first one before it."""
    findings = []
    if spring is not None and spring >= FIRST_HALF_DAYS:
        findings.append(_wrong_half("last_frost", known.last_spring, "before"))
    if autumn is not None and autumn < FIRST_HALF_DAYS:
        findings.append(_wrong_half("first_frost", known.first_autumn, "after"))
    if findings:
        raise FaultsFoundError(findings)


def _wrong_half(key: str, day: tuple[int, int] | None, side: str) -> Finding:
    what = f"the {_WHICH[key]} must fall {side} midsummer, and {_written(day)} does not."
    remedy = "Write month and day, as in 05-10 for 10 May; south of the equator, as in 10-05."
    return Finding("the place", what, remedy, place=("place", key))


def _refuse_too_far(known: KnownFrosts, shift: Shift) -> None:
    """Refuse days that the weather given cannot be drawn to."""
    most_c = air_figure("furthest_shift_c")
    findings = []
    for key, day, shift_c in (
        ("last_frost", known.last_spring, shift.spring_c),
        ("first_frost", known.first_autumn, shift.autumn_c),
    ):
        if day is not None and abs(shift_c) > most_c:
            way = "warmer" if shift_c > 0 else "colder"
            what = (
                f"for a {_WHICH[key]} about {_written(day)} the nights would have to be more than "
                f"{most_c:g} °C {way} than the weather given has them."
            )
            remedy = "Look at the day, and at where the garden lies; or load a record from nearer."
            findings.append(Finding("the place", what, remedy, place=("place", key)))
    if findings:
        raise FaultsFoundError(findings)


def _told(known: KnownFrosts, shift: Shift) -> str:
    """Say in words what was shifted and why."""
    told = []
    for day, shift_c, season, word in (
        (known.last_spring, shift.spring_c, "spring", "last"),
        (known.first_autumn, shift.autumn_c, "autumn", "first"),
    ):
        if day is not None:
            told.append(
                f"nights of {season} {abs(shift_c):.1f} °C ({abs(shift_c) * 1.8:.1f} °F)"
                f" {'colder' if shift_c < 0 else 'warmer'}, so that the middle {word} frost is "
                f"{_written(day)}, as the grower knows it"
            )
    return "; ".join(told)


def _written(day: tuple[int, int] | None) -> str:
    return "" if day is None else f"{day[1]} {month_abbr[day[0]]}"
