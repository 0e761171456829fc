"""Plain daily tables: a header, then one line a day."""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from math import nan
from pathlib import Path

from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding, Grade, faults
from haulm.site.readers.likely import LikelyUnits, likely_units
from haulm.site.readers.readings import Reading, lines_of, record_from
from haulm.site.readers.table import Table, places_of, table_of, untold_units
from haulm.site.readers.text import read_text
from haulm.site.records import DailyRecord

MM_AN_INCH = 25.4
MISSING = frozenset({"", "na", "n/a", "nan", "null", "none", "-", "--", "m", "missing"})
MISSING_NUMBERS = frozenset({-9999.0, -999.0, -999.9, -99.9, -99.99, 9999.0, 999.9})
_ISO_DATE = re.compile(r"(\d{4})-?(\d{2})-?(\d{2})(?:[T ].*)?")
_SHOWN = 3


@dataclass(slots=True)
class _Oddities:
    """What could not be read, by line, gathered while reading."""

    dates: dict[int, str] = field(default_factory=dict)
    figures: dict[int, str] = field(default_factory=dict)
    widths: list[int] = field(default_factory=list)
    commas: list[int] = field(default_factory=list)
    codes: list[int] = field(default_factory=list)


def read_daily_csv(
    path: Path, columns: Mapping[str, str] | None = None
) -> tuple[DailyRecord, tuple[Finding, ...]]:
    """Read a plain daily table.

    Comma, semicolon, tab and bar are known as delimiters, point and comma as decimal marks, and
    dates by ISO 8601 (2027-03-01 or 20270301). An empty cell, a word such as ``NA`` and a code
    such as -9999 count as not read. The rain may be left out.

    Parameters
    ----------
    path
        The file, UTF-8.
    columns
        Our names (date, tmin_c, tmax_c, rain_mm, or tmin_f, tmax_f, rain_in for °F and inches)
        to the file's own column names; None to recognise usual headers, where a temperature
        without a unit is taken as °C and rain as mm, with a warning.

    Returns
    -------
    The record, and the warnings and notes.

    Raises
    ------
    FaultsFoundError
        With every fault at once; lines are counted from 1.
    """
    origin = path.name
    table = table_of(read_text(path), origin)
    places, findings = places_of(table.header, columns, origin)
    if faults(findings):
        raise FaultsFoundError(findings)
    odd = _Oddities()
    readings = _readings(table, places, odd)
    if columns is None:
        findings += _unlikely(readings, untold_units(table.header), origin)
    return record_from(readings, origin, findings + _told(odd, len(table.header), origin))


@dataclass(frozen=True, slots=True)
class Guess:
    """What a table without units is taken for: the columns by quantity, and the likely units.

    ``columns`` has the table's own name for date, tmin, tmax and, where it is there, rain.
    """

    columns: dict[str, str]
    units: LikelyUnits


def guess_units(text: str, origin: str) -> Guess | None:
    """Guess the units of a table whose columns are known and whose header tells no unit.

    None where a unit stands beside every column, and where the columns are not known.
    """
    try:
        table = table_of(text, origin)
        places, findings = places_of(table.header, None, origin)
    except FaultsFoundError:
        return None
    if faults(findings) or not untold_units(table.header):
        return None
    columns = {name.split("_")[0]: table.header[place] for name, place in places.items()}
    return Guess(columns, likely_units(_readings(table, places, _Oddities())))


def _unlikely(readings: list[Reading], untold: frozenset[str], origin: str) -> list[Finding]:
    """Refuse to take for °C or mm, where no unit stands, what looks like °F or inches."""
    units, findings = likely_units(readings), []
    where = f"{origin}, header"
    if units.why_degrees and untold & {"tmin", "tmax"}:
        what = (
            f"no unit stands beside the temperatures, and they look like °F: {units.why_degrees}."
        )
        remedy = (
            "Say which they are: tmin_f and tmax_f, or tmin_c and tmax_c, in [weather.columns]."
        )
        findings.append(Finding(where, what, remedy))
    if units.why_depth and "rain" in untold:
        what = f"no unit stands by the rain, and it looks like inches: {units.why_depth}."
        remedy = "Say which it is: rain_in, or rain_mm, in [weather.columns]."
        findings.append(Finding(where, what, remedy))
    return findings


def _readings(table: Table, places: Mapping[str, int], odd: _Oddities) -> list[Reading]:
    """Read the rows that can be read, and note the others."""
    readings = []
    for line, cells in table.rows:
        if len(cells) > len(table.header) or len(cells) <= max(places.values()):
            odd.widths.append(line)
            continue
        day = _day(cells[places["date"]])
        if day is None:
            odd.dates[line] = cells[places["date"]]
            continue
        figures = {
            name: _figure(cells[place], line, odd)
            for name, place in places.items()
            if name != "date"
        }
        readings.append(
            Reading(
                line=line,
                day=day,
                tmin_c=figures.get("tmin_c", _celsius(figures.get("tmin_f", nan))),
                tmax_c=figures.get("tmax_c", _celsius(figures.get("tmax_f", nan))),
                rain_mm=figures.get("rain_mm", figures.get("rain_in", nan) * MM_AN_INCH),
            )
        )
    return readings


def _day(cell: str) -> date | None:
    """Read an ISO date; None for anything else."""
    found = _ISO_DATE.fullmatch(cell)
    if found is None:
        return None
    try:
        return date(*(int(part) for part in found.groups()))
    except ValueError:
        return None


def _figure(cell: str, line: int, odd: _Oddities) -> float:
    """Read a figure, NaN where there is none."""
    if cell.lower() in MISSING:
        return nan
    if re.fullmatch(r"[-+−]?\d*,\d+", cell):
        odd.commas.append(line)
        cell = cell.replace(",", ".")
    try:
        value = float(cell.replace("−", "-"))
    except ValueError:
        odd.figures[line] = cell
        return nan
    if value in MISSING_NUMBERS:
        odd.codes.append(line)
        return nan
    return value


def _celsius(fahrenheit: float) -> float:
    """Turn °F into °C."""
    return (fahrenheit - 32.0) * 5.0 / 9.0


def _told(odd: _Oddities, width: int, origin: str) -> list[Finding]:
    """Tell what could not be read."""
    findings = []
    if odd.widths:
        findings.append(
            Finding(
                f"{origin}, {lines_of(odd.widths)}",
                f"the number of cells is not the header's {width}.",
                "Mend the lines; if figures have decimal commas, part the cells by semicolons.",
            )
        )
    if odd.dates:
        findings.append(
            Finding(
                f"{origin}, {lines_of(list(odd.dates))}",
                f"no day of the calendar: {_shown(odd.dates)}.",
                "Write dates as year-month-day, such as 2027-03-01.",
            )
        )
    if odd.figures:
        findings.append(
            Finding(
                f"{origin}, {lines_of(list(odd.figures))}",
                f"no figure: {_shown(odd.figures)}.",
                "Write a number, or leave the cell empty if nothing was read.",
            )
        )
    if odd.commas:
        what = "decimal commas were read as decimal points."
        where = f"{origin}, from line {odd.commas[0]}"
        findings.append(Finding(where, what, "", Grade.NOTE))
    if odd.codes:
        lines = sorted(set(odd.codes))
        what = "a code such as -9999 counts as not read."
        findings.append(Finding(f"{origin}, {lines_of(lines)}", what, "", Grade.NOTE))
    return findings


def _shown(cells: Mapping[int, str]) -> str:
    """Show the first few cells that could not be read."""
    distinct = list(dict.fromkeys(cells.values()))
    more = f" and {len(distinct) - _SHOWN} more" if len(distinct) > _SHOWN else ""
    return ", ".join(f"“{cell}”" for cell in distinct[:_SHOWN]) + more
