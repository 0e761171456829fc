"""Fitting the weather generator to a daily record, or to twelve monthly normals."""

from calendar import month_name
from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.site.calendar import DAYS_A_YEAR, MONTH_LENGTHS, days_from
from haulm.site.records import DailyRecord, MonthlyNormals, Place
from haulm.site.weather_model import Months, RainModel, WeatherModel, Year

WET_DAY_MM = 0.2
MONTHS_A_YEAR = 12
# What normals cannot tell, judged from the records under tests/truth/data/weather (°C, mm).
WET_DAY_BASE_MM = 1.5
WET_DAY_BY_RAIN = 0.045
WET_DAY_BY_WARMTH = 0.13
RAIN_SHAPE = 0.81
# Of minimum and maximum in turn: the spread of days, and how it grows by each degree of the
# month's span and by each degree it is colder than the warmest month.
SPREAD_C = np.array([1.35, 0.0])
SPREAD_BY_SPAN = np.array([0.09, 0.38])
SPREAD_BY_COLD = np.array([0.14, 0.08])
MEMORY = np.array([[0.40, 0.38], [0.01, 0.59]])
WET_PUSH = np.array([0.41, -0.28])
# No month of the four records holds more than 0.85 of a day's departure over to the next.
STRONGEST_MEMORY = 0.95
_APART = 1e-6
"""Minima and maxima that differ by less than this share tell one thing, not two [1]."""
# Scaled from the records' mean (0.47, 0.17, 0.55) so that a day's own spread comes to 1.
CHANCE = np.array([[0.51, 0.19], [0.19, 0.63]])

_MONTH_NAMES = tuple(name for name in month_name if name)
_ENOUGH_DAYS = 20
_LEAST_SPREAD_C = 0.1
_MIDDLES = np.cumsum(MONTH_LENGTHS) - np.array(MONTH_LENGTHS) / 2.0
_MONTH_OF_SLOT = np.repeat(np.arange(MONTHS_A_YEAR), MONTH_LENGTHS)


def fit_record(record: DailyRecord, place: Place) -> WeatherModel:
    """Fit the generator to a daily record.

    Parameters
    ----------
    record
        At least 20 days read in every month of the year; a few years give better spreads.
    place
        Where it was read.

    Raises
    ------
    FaultsFoundError
        If some month of the year has fewer than 20 days with both temperatures.
    """
    calendar = days_from(record.first_day, record.tmin_c.size)
    month = calendar.month - 1
    both_c = np.stack([record.tmin_c, record.tmax_c], axis=1)
    read = np.all(np.isfinite(both_c), axis=1)
    _refuse_thin_months(record, np.bincount(month[read], minlength=MONTHS_A_YEAR))

    rain = _fit_rain(record.rain_mm, month)
    share = np.zeros(MONTHS_A_YEAR) if rain is None else rain.wet_share
    wet = np.zeros(month.size)
    if rain is not None:
        wet = np.where(np.isnan(record.rain_mm), np.nan, record.rain_mm >= WET_DAY_MM)
    mean_c = _columns(through_monthly_means, _by_month(np.mean, both_c, read, month))
    away_c = both_c - mean_c[calendar.slot]
    by_month = np.maximum(_by_month(np.std, away_c, read, month), _LEAST_SPREAD_C)
    spread_c = _columns(_through_middles, by_month)
    states = away_c / spread_c[calendar.slot]
    memory, wet_push, chance = _fit_days(states, wet - share[month], month)
    years = read.sum() / DAYS_A_YEAR
    return WeatherModel(
        origin=f"fitted to {years:.1f} years read at {place.name} ({record.origin})",
        mean_c=mean_c,
        spread_c=spread_c,
        memory=memory,
        wet_push=wet_push,
        chance=chance,
        rain=rain,
    )


def fit_normals(normals: MonthlyNormals, place: Place) -> WeatherModel:
    """Fit the generator to twelve monthly normals; what they cannot tell is taken as usual.

    Parameters
    ----------
    normals
        Monthly means of daily minimum, maximum and month's rain.
    place
        Where they hold.

    Raises
    ------
    FaultsFoundError
        If there are not twelve of each, or a month's minimum is not under its maximum, or rain
        is under 0.

    Notes
    -----
    How much days differ is judged: rounded least squares and means over the records under
    tests/truth/data/weather (39° N, 50° N, 47° N and 38° S). Days differ more in months of long
    spans and in cold ones; a wet day brings the more rain the wetter and the warmer the month
    (chosen between their least squares and a plausible 1.5 mm in dry cold).
    The chance of a wet day after a dry one is 0.75 of the share of wet days, and 0.25 more after a
    wet one: Geng, Penning de Vries & Supit, *Agricultural and Forest Meteorology* 36 (1986)
    363-376 (figures from memory). Against those records the middle frost dates come out within
    10 days, but 30 days late for the spring of the mild maritime one; in the tropics, where days
    differ little, the spread is too wide.
    """
    _refuse_odd_normals(normals)
    tmin, tmax = np.array(normals.tmin_c), np.array(normals.tmax_c)
    rain_mm = np.array(normals.rain_mm, dtype=np.float64)
    centre = (tmin + tmax) / 2.0
    cold = centre.max() - centre
    spread_c = SPREAD_C + np.outer(tmax - tmin, SPREAD_BY_SPAN) + np.outer(cold, SPREAD_BY_COLD)

    a_wet_day_mm = WET_DAY_BASE_MM + WET_DAY_BY_RAIN * rain_mm
    a_wet_day_mm += WET_DAY_BY_WARMTH * np.maximum(centre, 0.0)
    share = np.clip(rain_mm / np.array(MONTH_LENGTHS) / a_wet_day_mm, 0.001, 0.9)
    rain = RainModel(
        wet_after_dry=0.75 * share,
        wet_after_wet=0.25 + 0.75 * share,
        shape=np.full(MONTHS_A_YEAR, RAIN_SHAPE),
        scale_mm=rain_mm / np.array(MONTH_LENGTHS) / share / RAIN_SHAPE,
    )
    return WeatherModel(
        origin=(
            f"fitted to monthly normals for {place.name} ({normals.origin}); "
            "how much days differ is judged, not read"
        ),
        mean_c=_columns(through_monthly_means, np.stack([tmin, tmax], axis=1)),
        spread_c=_columns(_through_middles, spread_c),
        memory=np.tile(MEMORY, (MONTHS_A_YEAR, 1, 1)),
        wet_push=np.tile(WET_PUSH, (MONTHS_A_YEAR, 1)),
        chance=np.tile(np.linalg.cholesky(CHANCE), (MONTHS_A_YEAR, 1, 1)),
        rain=rain,
    )


def through_monthly_means(means: Months) -> Year:
    """Draw a year of 365 days, straight between mid-months, whose monthly means are those given.

    The knots are solved for, since a line through the means themselves would flatten the peaks.
    """
    weights = np.stack([_through_middles(row) for row in np.eye(MONTHS_A_YEAR)])
    to_means = np.stack([_slot_means(row) for row in weights])
    return np.asarray(np.linalg.solve(to_means.T, means) @ weights)


def _slot_means(values: Year) -> Months:
    """Average a year of 365 days by month."""
    totals = np.bincount(_MONTH_OF_SLOT, weights=values, minlength=MONTHS_A_YEAR)
    return np.asarray(totals / np.array(MONTH_LENGTHS))


def _through_middles(values: Months) -> Year:
    """Join mid-month values by straight lines round the year, shape (365,)."""
    days = np.arange(DAYS_A_YEAR) + 0.5
    return np.asarray(np.interp(days, _MIDDLES, values, period=DAYS_A_YEAR))


def _columns(draw_year: Callable[[Months], Year], values: NDArray[np.float64]) -> Year:
    """Turn monthly columns into columns of a year of days, shape (365, 2)."""
    return np.stack([draw_year(column) for column in values.T], axis=1)


def _by_month(
    measure: Callable[..., NDArray[np.float64]],
    values: NDArray[np.float64],
    read: NDArray[np.bool_],
    month: NDArray[np.int64],
) -> NDArray[np.float64]:
    """Measure each column over the days read in each month of the year, shape (12, 2)."""
    numbers = range(MONTHS_A_YEAR)
    return np.stack([measure(values[read & (month == number)], axis=0) for number in numbers])


def _fit_days(
    states: NDArray[np.float64], wetness: NDArray[np.float64], month: NDArray[np.int64]
) -> tuple[NDArray[np.float64], NDArray[np.float64], NDArray[np.float64]]:
    """Explain each day by the day before and by rain, month by month, by least squares.

    Gives memory (12, 2, 2), the push of a wet day (12, 2), and the lower triangle (12, 2, 2) of
    what is left to chance; the usual ones for a month with too few days after
    a day that was read as well.
    """
    causes = np.column_stack([states[:-1], wetness[1:]])
    known = np.all(np.isfinite(causes), axis=1) & np.all(np.isfinite(states[1:]), axis=1)
    memory = np.tile(MEMORY, (MONTHS_A_YEAR, 1, 1))
    push = np.tile(WET_PUSH, (MONTHS_A_YEAR, 1))
    chance = np.tile(np.linalg.cholesky(CHANCE), (MONTHS_A_YEAR, 1, 1))
    for number in range(MONTHS_A_YEAR):
        here = known & (month[1:] == number)
        if here.sum() < _ENOUGH_DAYS:
            continue
        weights = np.linalg.lstsq(causes[here], states[1:][here], rcond=_APART)[0]
        rest = states[1:][here] - causes[here] @ weights
        memory[number], push[number] = _fading(weights[:2].T), weights[2]
        chance[number] = np.linalg.cholesky(np.cov(rest.T) + 1e-9 * np.eye(2))
    return memory, push, chance


def _fading(memory: NDArray[np.float64]) -> NDArray[np.float64]:
    """Hold a memory that would never fade: of a few even days it would grow without end."""
    strength = float(np.abs(np.linalg.eigvals(memory)).max())
    return memory if strength <= STRONGEST_MEMORY else memory * (STRONGEST_MEMORY / strength)


def _fit_rain(rain_mm: NDArray[np.float64], month: NDArray[np.int64]) -> RainModel | None:
    """Fit the rain; None if some month has fewer than 20 days on which it was read."""
    read = np.isfinite(rain_mm)
    if np.bincount(month[read], minlength=MONTHS_A_YEAR).min() < _ENOUGH_DAYS:
        return None
    wet = rain_mm >= WET_DAY_MM
    after_dry, after_wet = np.zeros(MONTHS_A_YEAR), np.zeros(MONTHS_A_YEAR)
    shape, mean_mm = np.ones(MONTHS_A_YEAR), np.zeros(MONTHS_A_YEAR)
    pair = read[1:] & read[:-1]
    for number in range(MONTHS_A_YEAR):
        here = pair & (month[1:] == number)
        dry_before, wet_before = here & ~wet[:-1], here & wet[:-1]
        # One half is added to each count, so that a month without a shower on record still can
        # have one (Krichevsky & Trofimov's estimate of a share).
        after_dry[number] = (wet[1:][dry_before].sum() + 0.5) / (dry_before.sum() + 1.0)
        after_wet[number] = (wet[1:][wet_before].sum() + 0.5) / (wet_before.sum() + 1.0)
        shape[number] = _gamma_shape(rain_mm[wet & (month == number)])
        mean_mm[number] = rain_mm[read & (month == number)].mean()
    share = after_dry / (1.0 + after_dry - after_wet)
    return RainModel(after_dry, after_wet, shape, mean_mm / share / shape)


def _gamma_shape(amounts_mm: NDArray[np.float64]) -> float:
    """Estimate a gamma shape by Thom's approximation to the greatest likelihood.

    H. C. S. Thom, "A note on the gamma distribution", *Monthly Weather Review* 86 (1958) 117-122.
    """
    if amounts_mm.size < _ENOUGH_DAYS:
        return RAIN_SHAPE
    unevenness = np.log(amounts_mm.mean()) - np.log(amounts_mm).mean()
    if unevenness <= 0.0:
        return RAIN_SHAPE
    return float((1.0 + np.sqrt(1.0 + 4.0 * unevenness / 3.0)) / (4.0 * unevenness))


def _refuse_thin_months(record: DailyRecord, days_read: NDArray[np.int64]) -> None:
    """Name every month of the year in which too few days were read."""
    findings = [
        Finding(
            record.origin,
            f"only {count} days of {name} were read; at least {_ENOUGH_DAYS} are needed.",
            "Use a record of a whole year or more, or give twelve monthly normals instead.",
        )
        for name, count in zip(_MONTH_NAMES, days_read, strict=True)
        if count < _ENOUGH_DAYS
    ]
    if findings:
        raise FaultsFoundError(findings)


def _refuse_odd_normals(normals: MonthlyNormals) -> None:
    """Name every month whose normals cannot be."""
    findings = []
    rows = {"minimum": normals.tmin_c, "maximum": normals.tmax_c, "rain": normals.rain_mm}
    for name, values in rows.items():
        if len(values) != MONTHS_A_YEAR or not np.all(np.isfinite(values)):
            findings.append(
                Finding(
                    f"monthly normals, {name}",
                    f"{np.isfinite(values).sum()} months are given.",
                    "Give twelve figures, January first.",
                )
            )
    if findings:
        raise FaultsFoundError(findings)
    for name, low, high, rain in zip(_MONTH_NAMES, *rows.values(), strict=True):
        if low >= high:
            findings.append(
                Finding(
                    f"monthly normals, {name}",
                    f"the mean minimum {low:g} °C is not under the mean maximum {high:g} °C.",
                    "Check whether the two rows are swapped.",
                )
            )
        if rain < 0.0:
            findings.append(
                Finding(f"monthly normals, {name}", f"rain is {rain:g} mm.", "Give 0 mm or more.")
            )
    if findings:
        raise FaultsFoundError(findings)
