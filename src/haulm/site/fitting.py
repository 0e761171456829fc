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
WET_DAY_BASE_MM = 2.0
WET_DAY_BY_RAIN = 0.03
WET_DAY_BY_WARMTH = 0.2
RAIN_SHAPE = 0.8
CENTRE_SPREAD_C = 2.6
CENTRE_SPREAD_BY_COLD = 0.1
SPAN_SPREAD = 0.4
WET_CENTRE_C = -1.0
WET_CENTRE_BY_COLD = 0.1
WET_SPAN = 0.7
COUPLING = 0.3
COUPLING_BY_COLD = 0.0
CENTRE_MEMORY = 0.7
SPAN_MEMORY = 0.3

_MONTH_NAMES = tuple(name for name in month_name if name)
_ENOUGH_DAYS = 20
_LEAST_SPAN_C = 0.5
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
    centre = (record.tmin_c + record.tmax_c) / 2.0
    span = np.maximum(record.tmax_c - record.tmin_c, _LEAST_SPAN_C)
    read = np.isfinite(centre)
    _refuse_thin_months(record, np.bincount(month[read], minlength=MONTHS_A_YEAR))

    rain = _fit_rain(record.rain_mm, month)
    wet = np.zeros(month.size, dtype=np.bool_) if rain is None else record.rain_mm >= WET_DAY_MM
    share = np.zeros(MONTHS_A_YEAR) if rain is None else rain.wet_share
    wet_centre, wet_span = _wet_differences(centre, span, wet, month)

    daily_centre = through_monthly_means(_by_month(np.nanmean, centre, month))
    daily_span = through_monthly_means(_by_month(np.nanmean, span, month))
    dry_factor = 1.0 / (1.0 - share + share * wet_span)
    factor = np.where(wet, (dry_factor * wet_span)[month], dry_factor[month])
    shock = centre - daily_centre[calendar.slot] - wet_centre[month] * (wet - share[month])
    stretch = np.log(span / (daily_span[calendar.slot] * factor))

    centre_spread = _by_month(np.nanstd, shock, month)
    span_spread = _by_month(np.nanstd, stretch, month)
    shock = (shock - _by_month(np.nanmean, shock, month)[month]) / centre_spread[month]
    stretch = (stretch - _by_month(np.nanmean, stretch, month)[month]) / span_spread[month]
    coupling = np.clip(_by_month(np.nanmean, shock * stretch, month), -0.95, 0.95)
    own = (stretch - coupling[month] * shock) / np.sqrt(1.0 - coupling[month] ** 2)
    years = read.sum() / DAYS_A_YEAR
    return WeatherModel(
        origin=f"fitted to {years:.1f} years read at {place.name} ({record.origin})",
        centre_c=daily_centre,
        span_c=daily_span,
        centre_spread_c=_through_middles(centre_spread),
        span_spread=_through_middles(span_spread),
        wet_centre_c=wet_centre,
        wet_span=wet_span,
        coupling=coupling,
        centre_memory=_memory(shock),
        span_memory=_memory(own),
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
    How much days differ is judged, by least squares on the records under
    tests/truth/data/weather (39° N, 50° N, 48° N and 38° S): the centre's spread grows with the
    cold of the month, and a wet day brings the more rain the wetter and the warmer the month. The
    chance of a wet day after a dry one is 0.75 of the share of wet days, and 0.25 more after a
    wet one: Geng, Penning de Vries & Supit, *Agricultural and Forest Meteorology* 36 (1986)
    363-376. In the tropics, where days differ less than this, the spread is too wide.
    """
    _refuse_odd_normals(normals)
    tmin, tmax = np.array(normals.tmin_c), np.array(normals.tmax_c)
    rain_mm = np.array(normals.rain_mm, dtype=np.float64)
    centre = (tmin + tmax) / 2.0
    cold = centre.max() - centre

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
        centre_c=through_monthly_means(centre),
        span_c=through_monthly_means(tmax - tmin),
        centre_spread_c=_through_middles(CENTRE_SPREAD_C + CENTRE_SPREAD_BY_COLD * cold),
        span_spread=np.full(DAYS_A_YEAR, SPAN_SPREAD),
        wet_centre_c=WET_CENTRE_C + WET_CENTRE_BY_COLD * cold,
        wet_span=np.full(MONTHS_A_YEAR, WET_SPAN),
        coupling=COUPLING + COUPLING_BY_COLD * cold,
        centre_memory=CENTRE_MEMORY,
        span_memory=SPAN_MEMORY,
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
    totals = np.bincount(_MONTH_OF_SLOT, weights=values, minlength=MONTHS_A_YEAR)
    return np.asarray(totals / np.array(MONTH_LENGTHS))


def _through_middles(values: Months) -> Year:
    """Join mid-month values by straight lines round the year, shape (365,)."""
    days = np.arange(DAYS_A_YEAR) + 0.5
    return np.asarray(np.interp(days, _MIDDLES, values, period=DAYS_A_YEAR))


def _by_month(
    measure: Callable[[NDArray[np.float64]], np.float64],
    values: NDArray[np.float64],
    month: NDArray[np.int64],
) -> Months:
    return np.array([measure(values[month == number]) for number in range(MONTHS_A_YEAR)])


def _memory(values: NDArray[np.float64]) -> float:
    """Correlate each day with the next, over the days where both were read."""
    pairs = values[1:] * values[:-1]
    return float(np.clip(np.nanmean(pairs), -0.95, 0.95))


def _wet_differences(
    centre: NDArray[np.float64],
    span: NDArray[np.float64],
    wet: NDArray[np.bool_],
    month: NDArray[np.int64],
) -> tuple[Months, Months]:
    """Compare wet days with dry ones month by month: centre [°C] and span [share]."""
    centre_c, share = np.zeros(MONTHS_A_YEAR), np.ones(MONTHS_A_YEAR)
    read = np.isfinite(centre)
    for number in range(MONTHS_A_YEAR):
        rainy, dry = read & wet & (month == number), read & ~wet & (month == number)
        if min(rainy.sum(), dry.sum()) >= _ENOUGH_DAYS:
            centre_c[number] = centre[rainy].mean() - centre[dry].mean()
            share[number] = span[rainy].mean() / span[dry].mean()
    return centre_c, share


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
