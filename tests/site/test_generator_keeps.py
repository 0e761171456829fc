"""Drawn weather held against every record it can be fitted to: what it keeps, and how closely.

The table of it stands in docs/climate.md; ``HAULM_WRITE_PAGES=1`` before the command renews it.
"""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from haulm.site.generator import draw, fit_record
from haulm.site.halves import Halves, drawn_halves, halves_of
from haulm.site.records import DailyRecord, Seasons
from pages import kept, table
from stations import PLACES, Values, read_real
from weather_statistics import (
    frost_days,
    lag_one,
    mean_spells_d,
    monthly_means,
    monthly_spreads,
    wet_share,
)

PAGE = Path(__file__).parents[2] / "docs" / "climate.md"
BEGIN, END = "<!-- drawn weather: made by its test -->", "<!-- end of drawn weather -->"
RUNS = 80
CHANCE = (2.5, 97.5)
RAINY = ("baltimore", "fulda", "seattle")


@dataclass(frozen=True)
class Pair:
    """A record and weather drawn from the model fitted to it, over the same days."""

    record: DailyRecord
    drawn: Seasons
    halves: Halves
    drawn_halves: Halves


@cache
def pair(name: str) -> Pair:
    """Fit to one record and draw."""
    record, place = read_real(name), PLACES[name]
    drawn = draw(
        fit_record(record, place),
        record.first_day,
        record.tmin_c.size,
        RUNS,
        11,
    )
    return Pair(record, drawn, halves_of(record, place, 1), drawn_halves(record, place, 11))


def spread_by_chance(values: Values, size: int) -> Values:
    """Give the spreads that so few years show, out of many: what chance alone makes of them."""
    rng = np.random.default_rng(5)
    return np.array([rng.choice(values, size).std(ddof=1) for _ in range(1000)])


@pytest.mark.parametrize("name", PLACES)
@pytest.mark.parametrize("which", ["tmin_c", "tmax_c"])
def test_means_of_every_month_are_kept(name: str, which: str) -> None:
    """Each month's mean of minima and of maxima is kept to 0.3 °C."""
    one = pair(name)
    read, drawn = getattr(one.record, which), getattr(one.drawn, which)
    first = one.record.first_day
    np.testing.assert_allclose(monthly_means(drawn, first), monthly_means(read, first), atol=0.3)


@pytest.mark.parametrize("name", PLACES)
@pytest.mark.parametrize("which", ["tmin_c", "tmax_c"])
def test_spreads_of_every_month_are_kept(name: str, which: str) -> None:
    """In each month days differ among themselves as they did on record, within 20 in 100, and
    within 4 in 100 over the year; Seattle's months of four years are the hardest.
    """
    one = pair(name)
    read, drawn = getattr(one.record, which), getattr(one.drawn, which)
    first = one.record.first_day
    ratio = monthly_spreads(drawn, first) / monthly_spreads(read, first)
    assert ratio.min() > 0.83
    assert ratio.max() < 1.2
    assert ratio.mean() == pytest.approx(1.0, abs=0.04)


@pytest.mark.parametrize("name", PLACES)
@pytest.mark.parametrize("which", ["tmin_c", "tmax_c"])
def test_each_day_goes_with_the_day_before(name: str, which: str) -> None:
    """The correlation of a day with the day before is kept to 0.03."""
    one = pair(name)
    read, drawn = getattr(one.record, which), getattr(one.drawn, which)
    first = one.record.first_day
    assert lag_one(drawn, first) == pytest.approx(lag_one(read, first), abs=0.03)


@pytest.mark.parametrize("name", RAINY)
def test_wet_days_and_spells_are_kept(name: str) -> None:
    """As many days are wet, to 2 in 100; wet and dry spells last as long, to 10 in 100."""
    one = pair(name)
    assert wet_share(one.drawn.rain_mm) == pytest.approx(wet_share(one.record.rain_mm), abs=0.02)
    np.testing.assert_allclose(
        mean_spells_d(one.drawn.rain_mm), mean_spells_d(one.record.rain_mm), rtol=0.1
    )


@pytest.mark.parametrize("name", RAINY)
def test_rain_of_the_year_is_kept(name: str) -> None:
    """The year's rain is kept to 4 in 100."""
    one = pair(name)
    assert one.drawn.rain_mm.mean() == pytest.approx(one.record.rain_mm.mean(), rel=0.04)


@pytest.mark.parametrize("name", RAINY)
@pytest.mark.parametrize("last", [True, False])
def test_frost_dates_and_their_spread_are_kept(name: str, *, last: bool) -> None:
    """The mean frost day is kept to 6 days, and the spread of the years on record is one that so
    few drawn years show by chance 19 times in 20.
    """
    one = pair(name)
    halves = ("after_midwinter", "after_midsummer")[not last]
    read = frost_days(getattr(one.halves, halves), last=last)
    drawn = frost_days(getattr(one.drawn_halves, halves), last=last)
    assert drawn.mean() == pytest.approx(read.mean(), abs=6)
    low, high = np.percentile(spread_by_chance(drawn, read.size), CHANCE)
    assert low <= read.std(ddof=1) <= high


@pytest.mark.parametrize("half", ["after_midwinter", "after_midsummer"])
def test_a_place_all_but_free_of_frost_stays_so(half: str) -> None:
    """At Melbourne one or two half-years in ten froze; of those drawn a tenth to a quarter do."""
    one = pair("melbourne")
    drawn = getattr(one.drawn_halves, half)
    share = frost_days(drawn, last=True).size / drawn.shape[0]
    assert 0.05 <= share <= 0.25


def year_spread(values: Values, first_day: date) -> float:
    """Give the mean of the months' spreads."""
    return float(monthly_spreads(values, first_day).mean())


def rows_of(name: str) -> list[str]:
    """Write a record's line of the table: read, and drawn in brackets."""
    one, first = pair(name), pair(name).record.first_day
    cells = [name.capitalize()]
    off = [
        np.abs(
            monthly_means(getattr(one.drawn, which), first)
            - monthly_means(getattr(one.record, which), first)
        ).max()
        for which in ("tmin_c", "tmax_c")
    ]
    cells.append(f"{max(off):.1f} °C")
    measures: tuple[Callable[[Values, date], float], ...] = (year_spread, lag_one)
    for measure in measures:
        for which in ("tmin_c", "tmax_c"):
            read, drawn = (measure(getattr(data, which), first) for data in (one.record, one.drawn))
            cells.append(f"{read:.2f} ({drawn:.2f})")
    rains = (one.record.rain_mm, one.drawn.rain_mm)
    if name in RAINY:
        cells.append("{:.2f} ({:.2f})".format(*(wet_share(rain) for rain in rains)))
        spells = [mean_spells_d(rain) for rain in rains]
        cells += [f"{spells[0][at]:.1f} ({spells[1][at]:.1f})" for at in (0, 1)]
    else:
        cells += ["not read"] * 3
    for half, last in (("after_midwinter", True), ("after_midsummer", False)):
        dates = [frost_days(getattr(h, half), last=last) for h in (one.halves, one.drawn_halves)]
        cells.append(
            f"{dates[0].std(ddof=1):.0f} ({dates[1].std(ddof=1):.0f})"
            if dates[0].size > 2
            else "too few"
        )
    return cells


def written() -> str:
    """Write the table of all records."""
    heads = [
        "record",
        "months' means off by at most",
        "spread of minima [°C]",
        "of maxima",
        "minima with the day before",
        "maxima",
        "wet days",
        "wet spell [d]",
        "dry spell",
        "spread of last frosts [d]",
        "of first frosts",
    ]
    return table(heads, [rows_of(name) for name in PLACES])


def test_the_page_shows_what_was_measured() -> None:
    """docs/climate.md holds the table of what drawn weather keeps, as this run measures it."""
    text = PAGE.read_text(encoding="utf-8")
    head, _, rest = text.partition(BEGIN)
    _, _, tail = rest.partition(END)
    shown = written()
    assert shown in kept(PAGE, f"{head}{BEGIN}\n{shown}\n{END}{tail}")
