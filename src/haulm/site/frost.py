"""When frosts end in spring and begin in autumn, with odds."""

from dataclasses import replace
from datetime import date, timedelta
from math import copysign, hypot
from statistics import NormalDist
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from haulm.measure.errors import LabelsDifferError
from haulm.site.halves import FIRST_HALF_DAYS, Halves, halves_of, season_start, seasons_read
from haulm.site.records import FrostOdds, Place, Weather

FROST_C = 0.0
YEARS_TO_COUNT = 10
LEAST_SPREAD_D = 10.5
USUAL_ODDS = (0.1, 0.3, 0.5, 0.7, 0.9)
_FEWEST_DATES = 2
_SPRING = (0.0, FIRST_HALF_DAYS - 1.0)
_AUTUMN = (float(FIRST_HALF_DAYS), 365.0)

Which = Literal["last_spring", "first_autumn"]


def frost_odds(
    weather: Weather,
    place: Place,
    threshold_c: float,
    odds: tuple[float, ...] = USUAL_ODDS,
    seed: int = 1,
) -> FrostOdds:
    """Give the odds of the last frost of spring and the first of autumn.

    The two-part way of the national services: first the share of years that freeze at all, then
    the dates among those that do, so that odds hold over all years. Seasons run from midwinter
    to midwinter and are cut at midsummer. Ten or more years of record are counted; three to nine
    give a mean date and a spread, taken no smaller than 10.5 days; fewer, and normals, are drawn
    by the generator.

    Parameters
    ----------
    weather, place
        What is known, and where.
    threshold_c
        A frost is a daily minimum at or under this [°C], as read in a screen at 1.2 to 2 m; a
        clear night is colder by a few degrees on the ground.
    odds
        Shares of years, each above 0 and under 1 [1].
    seed
        Seed of the generator, where it is used.

    Raises
    ------
    FaultsFoundError
        If the weather known is too little to fit the generator to.

    Notes
    -----
    NOAA National Climatic Data Center, glossary entry "Last Freeze/Frost Probability". Quantiles
    of counted years are Hyndman & Fan's definition 8, *American Statistician* 50 (1996) 361-365.
    The least spread of 10.5 days is a usual standard deviation of frost dates at one place (judged;
    no source was read).
    """
    halves, doubt_c = halves_of(weather, place, seed), weather.doubt_c
    told = odds_over(halves, threshold_c, odds)
    if not doubt_c:
        return told
    # A frost of a garden so much colder is one at a threshold so much higher.
    colder, warmer = (odds_over(halves, threshold_c + way * doubt_c, (0.5,)) for way in (1, -1))
    return replace(
        told,
        last_spring=_widened(told.last_spring, odds, colder.last_spring, warmer.last_spring),
        first_autumn=_widened(told.first_autumn, odds, colder.first_autumn, warmer.first_autumn),
        how=f"{told.how}; widened, for the weather may be off by {doubt_c:.1f} °C",
    )


def odds_over(halves: Halves, threshold_c: float, odds: tuple[float, ...]) -> FrostOdds:
    """Give the odds of frost over half-years at hand, as :func:`frost_odds` does."""
    last, spring_share = _dates(halves.after_midwinter, threshold_c, last=True)
    first, autumn_share = _dates(halves.after_midsummer, threshold_c, last=False)
    first = first + FIRST_HALF_DAYS
    years = min(seasons_read(halves.after_midwinter), seasons_read(halves.after_midsummer))
    counted = years >= YEARS_TO_COUNT
    how = halves.how or _how(years, counted=counted)
    return FrostOdds(
        threshold_c=threshold_c,
        years=years,
        share_of_years_with_frost=_share_of_years(
            halves.after_midwinter, halves.after_midsummer, threshold_c
        ),
        odds=odds,
        last_spring=tuple(
            _quantile(last, 1.0 - share / spring_share, _SPRING, counted=counted)
            if share < spring_share
            else None
            for share in odds
        ),
        first_autumn=tuple(
            _quantile(first, share / autumn_share, _AUTUMN, counted=counted)
            if share < autumn_share
            else None
            for share in odds
        ),
        frost_free_days=_frost_free_days(last, first),
        how=how,
    )


def frost_date(
    odds: FrostOdds, place: Place, year: int, which: Which, odds_value: float
) -> date | None:
    """Give the calendar date of a frost at one of its odds.

    Parameters
    ----------
    odds, place
        From :func:`frost_odds`, and where.
    year
        The year in which the season starts: south of the equator the autumn of season 2027 falls
        in 2028.
    which
        ``"last_spring"`` or ``"first_autumn"``.
    odds_value
        One of ``odds.odds`` [1].

    Returns
    -------
    The date, or None where too few years freeze.

    Raises
    ------
    LabelsDifferError
        If ``odds`` was not asked for at ``odds_value``.
    """
    if odds_value not in odds.odds:
        told = ", ".join(f"{value:g}" for value in odds.odds)
        message = f"frost dates are known at odds {told}, not at {odds_value:g}"
        raise LabelsDifferError(message)
    dates = odds.last_spring if which == "last_spring" else odds.first_autumn
    day = dates[odds.odds.index(odds_value)]
    return None if day is None else season_start(place, year) + timedelta(days=round(day))


def _widened(
    days: tuple[float | None, ...],
    odds: tuple[float, ...],
    colder: tuple[float | None, ...],
    warmer: tuple[float | None, ...],
) -> tuple[float | None, ...]:
    """Widen days by what the middle one moves within the weather's doubt, as two bells add up.

    ``colder`` and ``warmer`` hold the middle days of a garden colder and warmer by the doubt.
    """
    known = [(day, share) for day, share in zip(days, odds, strict=True) if day is not None]
    if colder[0] is None or warmer[0] is None or not known:
        return days
    deviation_d = abs(colder[0] - warmer[0]) / 2.0
    middle = min(known, key=lambda one: abs(one[1] - 0.5))[0]
    half = _SPRING if middle < FIRST_HALF_DAYS else _AUTUMN
    widened: list[float | None] = []
    for day, share in zip(days, odds, strict=True):
        if day is None or day == middle:
            widened.append(day)
            continue
        away = hypot(day - middle, deviation_d * NormalDist().inv_cdf(share))
        widened.append(min(max(middle + copysign(away, day - middle), half[0]), half[1]))
    return tuple(widened)


def _dates(
    half: NDArray[np.float64], threshold_c: float, *, last: bool
) -> tuple[NDArray[np.float64], float]:
    """Find each season's last or first frost, NaN without one, and the share of seasons with one.

    A half nobody read counts neither way.
    """
    frost = half <= threshold_c
    days = np.arange(half.shape[1])
    found = np.where(frost, days, -1).max(axis=1) if last else frost.argmax(axis=1)
    freezes = frost.any(axis=1)
    share = float(freezes.sum() / max(seasons_read(half), 1))
    return np.where(freezes, found, np.nan), share


def _share_of_years(
    spring: NDArray[np.float64], autumn: NDArray[np.float64], threshold_c: float
) -> float:
    """Give the share of seasons read in both halves in which it froze in either."""
    whole = np.isfinite(spring).any(axis=1) & np.isfinite(autumn).any(axis=1)
    freezes = np.any(spring <= threshold_c, axis=1) | np.any(autumn <= threshold_c, axis=1)
    return float(np.mean(freezes[whole] if whole.any() else freezes))


def _quantile(
    dates: NDArray[np.float64], share: float, half: tuple[float, float], *, counted: bool
) -> float | None:
    """Give the day before which a share of the dates lie; None with fewer than two dates."""
    known = dates[np.isfinite(dates)]
    if known.size < _FEWEST_DATES:
        return None
    if counted:
        return float(np.quantile(known, share, method="median_unbiased"))
    spread = max(float(known.std(ddof=1)), LEAST_SPREAD_D)
    day = float(known.mean()) + spread * NormalDist().inv_cdf(share)
    # A bell has no ends, a half-year has.
    return min(max(day, half[0]), half[1])


def _frost_free_days(last: NDArray[np.float64], first: NDArray[np.float64]) -> float | None:
    """Give the median length between frosts, if at least half the seasons have both."""
    between = first - last - 1.0
    known = between[np.isfinite(between)]
    if known.size < max(_FEWEST_DATES, between.size / 3.0):
        return None
    return float(np.median(known))


def _how(years: int, *, counted: bool) -> str:
    """Say how a record's odds were worked out."""
    if counted:
        return f"counted over {years} years of record"
    return (
        f"mean date over {years} years of record with a normal spread of at least "
        f"{LEAST_SPREAD_D:g} days, since so few years do not show the spread"
    )
