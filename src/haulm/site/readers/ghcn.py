"""The public station formats of the Global Historical Climatology Network, daily.

Layout: M. J. Menne and others, "Global Historical Climatology Network - Daily (GHCN-Daily)",
version 3, NOAA National Centers for Environmental Information, readme.txt section III (fixed
width: identifier in columns 1-11, year 12-15, month 16-17, element 18-21, then for each of 31
days a value of five columns and a measurement, a quality and a source flag) and
readme-by_station.txt (comma separated: identifier, day as YYYYMMDD, element, value, the three
flags, hour of observation). Temperatures stand in tenths of a degree and rain in tenths of a
millimetre; -9999 is not read; a quality flag tells a value that failed a check.
"""

import csv
import re
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import date
from math import nan
from pathlib import Path

from haulm.measure.findings import Finding, Grade
from haulm.site.readers.readings import Reading, lines_of, record_from
from haulm.site.readers.text import read_text
from haulm.site.records import DailyRecord

ELEMENTS = ("TMIN", "TMAX", "PRCP")
NOT_READ = -9999
_FIXED_LINE = re.compile(r"[A-Z]{2}[A-Z0-9_-]{9}\d{6}[A-Z0-9]{4}.*")
_STATION_LINE = re.compile(r'"?[A-Z]{2}[A-Z0-9_-]{9}"?,"?\d{8}"?,"?[A-Z0-9]{4}"?,.*')
_FIRST_DAY_COLUMN = 21
_DAY_COLUMNS = 8
_DAYS = 31


@dataclass(slots=True)
class _Gathered:
    """Values by day and element with their lines, and what was odd."""

    values: dict[date, dict[str, tuple[int, float]]] = field(
        default_factory=lambda: defaultdict(dict)
    )
    flagged: int = 0
    broken: list[int] = field(default_factory=list)
    twice: list[int] = field(default_factory=list)
    stations: set[str] = field(default_factory=set)

    def add(self, line: int, day: date, element: str, tenths: int, quality: str) -> None:
        """Take one value, unless it was not read or failed a check."""
        if tenths == NOT_READ:
            return
        if quality.strip():
            self.flagged += 1
            return
        if element in self.values[day]:
            self.twice.append(line)
        self.values[day][element] = (line, tenths / 10.0)


def is_ghcn_daily(text: str) -> bool:
    """Whether a text's first line has one of the two layouts."""
    first = text.split("\n", 1)[0].rstrip("\r")
    return bool(_FIXED_LINE.fullmatch(first) or _STATION_LINE.fullmatch(first))


def read_ghcn_daily(path: Path) -> tuple[DailyRecord, tuple[Finding, ...]]:
    """Read a station's file in either public layout, unpacked.

    Returns
    -------
    The record of minimum, maximum and rain, and the warnings and notes; values that failed a
    check of the service count as not read, and are counted.

    Raises
    ------
    FaultsFoundError
        With every fault at once; lines are counted from 1.
    """
    text = read_text(path)
    gathered = _Gathered()
    lines = text.splitlines()
    if lines and _FIXED_LINE.fullmatch(lines[0]):
        _gather_fixed(lines, gathered)
    else:
        _gather_by_station(lines, gathered)
    readings = list(_readings(gathered))
    return record_from(readings, path.name, _told(gathered, path.name))


def _gather_fixed(lines: list[str], gathered: _Gathered) -> None:
    """Gather a file of the fixed-width layout."""
    for number, line in enumerate(lines, start=1):
        if not line.strip():
            continue
        if not _FIXED_LINE.fullmatch(line):
            gathered.broken.append(number)
            continue
        gathered.stations.add(line[:11])
        element = line[17:21]
        if element in ELEMENTS:
            _gather_month(line, number, element, gathered)


def _gather_month(line: str, number: int, element: str, gathered: _Gathered) -> None:
    """Gather the days of one line of the fixed-width layout."""
    padded = line.ljust(_FIRST_DAY_COLUMN + _DAYS * _DAY_COLUMNS)
    for day in range(1, _DAYS + 1):
        start = _FIRST_DAY_COLUMN + (day - 1) * _DAY_COLUMNS
        value = padded[start : start + 5]
        try:
            tenths = int(value) if value.strip() else NOT_READ
            if tenths != NOT_READ:
                when = date(int(line[11:15]), int(line[15:17]), day)
                gathered.add(number, when, element, tenths, padded[start + 6])
        except ValueError:
            # A value that is no number, or stands on a day the month does not have.
            gathered.broken.append(number)
            return


def _gather_by_station(lines: list[str], gathered: _Gathered) -> None:
    """Gather a file of the comma-separated layout."""
    for number, cells in enumerate(csv.reader(lines), start=1):
        if not cells:
            continue
        try:
            station, stamp, element, value, _, quality, *_ = cells
            when = date(int(stamp[:4]), int(stamp[4:6]), int(stamp[6:]))
            gathered.stations.add(station)
            if element in ELEMENTS:
                gathered.add(number, when, element, int(value), quality)
        except ValueError:
            gathered.broken.append(number)


def _readings(gathered: _Gathered) -> Iterator[Reading]:
    """Put each day's values together."""
    for day, values in gathered.values.items():
        yield Reading(
            line=min(line for line, _ in values.values()),
            day=day,
            tmin_c=values.get("TMIN", (0, nan))[1],
            tmax_c=values.get("TMAX", (0, nan))[1],
            rain_mm=values.get("PRCP", (0, nan))[1],
        )


def _told(gathered: _Gathered, origin: str) -> list[Finding]:
    """Tell what was odd in the file."""
    findings = []
    if len(gathered.stations) > 1:
        what = f"{len(gathered.stations)} stations stand in one file."
        findings.append(Finding(origin, what, "Keep the lines of one station."))
    if gathered.broken:
        where = f"{origin}, {lines_of(gathered.broken)}"
        what = "the line does not have the layout of GHCN-Daily."
        findings.append(Finding(where, what, "Fetch the file again."))
    if gathered.twice:
        where = f"{origin}, {lines_of(sorted(set(gathered.twice)))}"
        what = "a day's value stands there a second time."
        findings.append(Finding(where, what, "Keep one of the two."))
    if gathered.flagged:
        what = f"{gathered.flagged} values failed a check of the service and count as not read."
        findings.append(Finding(origin, what, "", Grade.NOTE))
    return findings
