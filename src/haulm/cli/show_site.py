"""Show a place's climate and the needs of its table on a terminal."""

from calendar import month_abbr
from datetime import date, timedelta

from haulm.cli.show import findings, line, table
from haulm.desk.table.needs import Needs
from haulm.larder.records import NeedSum, SumStep
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.measure.near import near_names
from haulm.measure.units import (
    NOT_KNOWN,
    Units,
    show_area,
    show_mass,
    show_rain,
    show_temperature,
)
from haulm.notebook.garden import Garden
from haulm.site.chill import season_months
from haulm.site.records import FrostOdds, Place
from haulm.site.spread import Spread
from haulm.site.summary import SiteSummary

FAHRENHEIT_A_CELSIUS = 9 / 5
"""Degrees of Fahrenheit in one of Celsius, as steps, not as temperatures [1]."""


def climate(summary: SiteSummary, garden: Garden) -> None:
    """Print a place's climate, with the years it rests on."""
    units: Units = garden.units
    line(f"Rests on: {summary.origin}")
    table(
        ("month", ">lowest", ">highest", ">rain (8 years in 10)"),
        (
            (
                month_abbr[month.month],
                show_temperature(month.tmin_c.middle, units),
                show_temperature(month.tmax_c.middle, units),
                rain(month.rain_mm, units),
            )
            for month in summary.months
        ),
    )
    for odds in (summary.frost, summary.hard_frost):
        line("")
        frost(odds, garden.place, units)
    line("")
    line(
        f"Hardiness zone {summary.zone}: each winter's lowest is "
        f"{show_temperature(summary.extreme_minimum_c, units)} on average."
    )
    for base_c, warmth in summary.warmth.items():
        averaged = degree_days(base_c, summary.warmth_by_averaging[base_c], units)
        line(f"Degree-days a year above {degree_days(base_c, warmth, units)}")
        line(f"  by the day's mean, as many tables have it: {averaged.partition(': ')[2]}")
    months = season_months(garden.place)
    between = f"{show_temperature(0.0, units)} to {show_temperature(7.2, units)}"
    line(
        f"Chill, {month_abbr[months[0]]} to {month_abbr[months[-1]]}: "
        f"{chill(summary.chill_hours)} hours from {between}; "
        f"{chill(summary.chill_units)} Utah units."
    )
    line(f"Rain a year: {rain(summary.rain_mm, units)}")
    if summary.ten_hours is not None:
        last, first = summary.ten_hours
        line(f"Days are shorter than ten hours from {day_month(last)} to {day_month(first)}.")
    (longest, longest_h), (shortest, shortest_h) = summary.longest_day, summary.shortest_day
    line(
        f"Longest day {day_month(longest)}, {longest_h:.1f} h; "
        f"shortest {day_month(shortest)}, {shortest_h:.1f} h."
    )


def frost(odds: FrostOdds, place: Place, units: Units) -> None:
    """Print when frosts of one threshold end and begin, at each of the odds."""
    line(
        f"Frost of {show_temperature(odds.threshold_c, units)} or colder: "
        f"{odds.share_of_years_with_frost:.0%} of years ({odds.how})."
    )
    table(
        ("odds", ">a later last frost in spring", ">an earlier first frost in autumn"),
        (
            (years_in_ten(share), season_day(place, last), season_day(place, first))
            for share, last, first in zip(
                odds.odds, odds.last_spring, odds.first_autumn, strict=True
            )
        ),
    )


def years_in_ten(share: float) -> str:
    """Write a share of years in whole years of ten."""
    years = round(share * 10)
    return f"{years} year{'' if years == 1 else 's'} in 10"


def season_day(place: Place, days: float | None) -> str:
    """Write a day counted from midwinter as a day of the calendar; none where too few freeze."""
    if days is None:
        return "too few frosts"
    start = date(2027, 7, 1) if place.southern else date(2027, 1, 1)
    return day_month(start + timedelta(days=round(days)))


def day_month(when: date) -> str:
    """Write a day of any year."""
    return f"{when.day} {when:%b}"


def rain(figure: Spread | None, units: Units) -> str:
    """Write a depth of rain with what 8 years in 10 lie between."""
    if figure is None:
        return NOT_KNOWN
    middle, low, high = (
        show_rain(depth, units) for depth in (figure.middle, figure.low, figure.high)
    )
    return f"{middle} ({low} to {high})"


def degree_days(base_c: float, figure: Spread, units: Units) -> str:
    """Write degree-days above a base, with what 8 years in 10 lie between."""
    size = FAHRENHEIT_A_CELSIUS if units == "us" else 1.0
    middle, low, high = (round(days * size) for days in (figure.middle, figure.low, figure.high))
    return f"{show_temperature(base_c, units)}: {middle} ({low} to {high})"


def chill(figure: Spread) -> str:
    """Write hours or units of chill, with what 8 years in 10 lie between."""
    return f"{figure.middle:.0f} ({figure.low:.0f} to {figure.high:.0f})"


def needs(found: Needs, wanted: str | None) -> None:
    """Print what each line needs by each kind, or one line's whole sums."""
    units: Units = found.units
    if wanted is not None:
        for total in sums_of(found, wanted):
            whole_sum(total, found, units)
        return
    table(
        ("line", "kind", ">to lift", ">ground", ">plants", ">to start"),
        (
            (
                found.names[total.line],
                found.names[total.kind],
                show_mass(total.lifted_kg, units),
                show_area(total.area_m2, units),
                str(total.plants),
                f"{total.stock:.0f} {total.stock_unit}s",
            )
            for total in found.sums
        ),
        title="Each line served for a middle year by one kind alone, as far as that kind can",
    )
    findings(found.findings)
    line("haulm need --line NAME shows the whole sum, step by step.")


def sums_of(found: Needs, wanted: str) -> list[NeedSum]:
    """Choose a line's sums by its id or name.

    Raises
    ------
    FaultsFoundError
        When the table has no such line.
    """
    names = {total.line: found.names[total.line] for total in found.sums}
    chosen = [
        total
        for total in found.sums
        if wanted.lower() in {total.line.lower(), names[total.line].lower()}
    ]
    if chosen:
        return chosen
    near = near_names(wanted, names.values())
    remedy = f"Did you mean {', '.join(near)}?" if near else f"It has: {', '.join(names.values())}."
    raise FaultsFoundError([Finding("--line", f"the table has no line called {wanted}.", remedy)])


def whole_sum(total: NeedSum, found: Needs, units: Units) -> None:
    """Print one sum, step by step."""
    line(
        f"{found.names[total.line]}: {found.names[total.kind]}, "
        f"{show_area(total.area_m2, units)}, {total.plants} plants"
    )
    table(
        ("step", "arithmetic", ">result"),
        (
            (
                step.what,
                step.arithmetic,
                result(step, total.stock_unit),
            )
            for step in total.steps
        ),
    )
    line("")


def result(step: SumStep, stock_unit: str) -> str:
    """Write a step's result with its unit; counts whole, measures to three figures."""
    figure = f"{step.value:.0f}" if step.value >= 100 else f"{step.value:.3g}"  # noqa: PLR2004
    if step.unit == "1":
        return figure
    return f"{figure} {step.unit}{'s' if step.unit == stock_unit and step.value != 1 else ''}"
