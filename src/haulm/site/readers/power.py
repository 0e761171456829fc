"""Daily files of NASA's POWER service: means of a grid's cell, for any place on earth.

Layout: POWER Daily API, comma-separated form (power.larc.nasa.gov/docs/services/api/temporal/daily;
a stored header and the sister pages of that documentation were read). A header between
``-BEGIN HEADER-`` and ``-END HEADER-`` names the place, the mean height of the cell, the value that
stands for nothing read (-999), and each parameter with its unit; then follow the columns ``YEAR``,
``MO`` and ``DY``, or ``YEAR`` and ``DOY``, and one for each parameter: ``T2M_MIN`` and ``T2M_MAX``
[°C] and ``PRECTOTCORR`` [mm a day]. Values come from the MERRA-2 reanalysis, half a degree of
latitude by five eighths of longitude.
"""

import csv
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from math import nan
from pathlib import Path

from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding, Grade
from haulm.site.readers.readings import Reading, lines_of, record_from
from haulm.site.readers.text import read_text
from haulm.site.records import DailyRecord

SERVICE = "NASA POWER"
FIRST_YEAR = 1981
PARAMETERS = ("T2M_MIN", "T2M_MAX", "PRECTOTCORR")
LIMITS = (
    "these are means of a cell some 50 km across out of a weather model, no station's readings: "
    "frost hollows, coasts and hills within it are smoothed away, clear nights are often too mild, "
    "and rain is spread over more and lighter days."
)
_ADDRESS = "https://power.larc.nasa.gov/api/temporal/daily/point"
_BEGIN, _END = "-BEGIN HEADER-", "-END HEADER-"
_UNITS = {"T2M_MIN": ("C",), "T2M_MAX": ("C",), "PRECTOTCORR": ("mm/day", "mm day-1", "mm")}
_FILL = re.compile(r"missing.*:\s*(-?\d+(?:\.\d+)?)\s*$", re.IGNORECASE)
_HEIGHT = re.compile(r"elevation.*=\s*(-?\d+(?:\.\d+)?)\s*m", re.IGNORECASE)
_PLACE = re.compile(
    r"location:?.*?latitude\s+(-?\d+(?:\.\d+)?).*?longitude\s+(-?\d+(?:\.\d+)?)", re.IGNORECASE
)
_UNIT = re.compile(r"\(([^()]*)\)\s*$")
_USUAL_FILL = -999.0


@dataclass(slots=True)
class _Header:
    """What the header says: line on which the columns stand, counted from 0, and the rest."""

    columns_at: int
    fill: float = _USUAL_FILL
    height_m: float | None = None
    place: str = ""
    units: dict[str, str] = field(default_factory=dict)


def power_address(latitude_deg: float, longitude_deg: float, first: int, last: int) -> str:
    """Give the address that asks the service for a place's whole years, as CSV.

    Degrees are rounded to a tenth, some 10 km: no more is needed to choose the cell.
    """
    return (
        f"{_ADDRESS}?parameters={','.join(PARAMETERS)}&community=AG"
        f"&longitude={longitude_deg:.1f}&latitude={latitude_deg:.1f}"
        f"&start={first}0101&end={last}1231&format=CSV"
    )


def is_power(text: str) -> bool:
    """Whether a text begins as the service's files do."""
    return text.lstrip().startswith(_BEGIN)


def read_power(path: Path) -> tuple[DailyRecord, tuple[Finding, ...]]:
    """Read a file of the service; days it could not tell count as not read.

    Returns
    -------
    The record, with the height of the cell where the header tells it, and warnings and notes, the
    first of which says what means of a cell are good for.

    Raises
    ------
    FaultsFoundError
        With every fault at once; lines are counted from 1.
    """
    lines = read_text(path).splitlines()
    header = _header_of(lines, path.name)
    readings, findings = _readings(lines, header, path.name)
    limits = Finding(path.name, LIMITS, "A station's record from near by tells more.", Grade.NOTE)
    record, told = record_from(readings, path.name, [limits, *findings])
    origin = f"{SERVICE}, means of a cell some 50 km across{header.place} ({path.name})"
    return replace(record, origin=origin, height_m=header.height_m), told


def _header_of(lines: Sequence[str], origin: str) -> _Header:
    """Read the header; its end and the units of what is read must be there."""
    ends = [number for number, line in enumerate(lines) if line.strip() == _END]
    if not ends or ends[0] + 1 >= len(lines):
        what = "the header has no end, so the file is cut short."
        raise FaultsFoundError([Finding(origin, what, "Fetch the file again.")])
    header = _Header(ends[0] + 1)
    for line in lines[: ends[0]]:
        if found := _FILL.search(line):
            header.fill = float(found[1])
        if found := _HEIGHT.search(line):
            header.height_m = float(found[1])
        if found := _PLACE.search(line):
            header.place = f" at latitude {float(found[1]):g}, longitude {float(found[2]):g}"
        name = line.split(maxsplit=1)[0] if line.strip() else ""
        if name in PARAMETERS and (unit := _UNIT.search(line.strip())):
            header.units[name] = unit[1].strip()
    odd = [
        Finding(
            origin,
            f"{name} is in {unit}, not in {_UNITS[name][0]}.",
            "Fetch it in the community AG, which gives °C and mm a day.",
        )
        for name, unit in header.units.items()
        if unit not in _UNITS[name]
    ]
    if odd:
        raise FaultsFoundError(odd)
    return header


def _readings(
    lines: Sequence[str], header: _Header, origin: str
) -> tuple[list[Reading], list[Finding]]:
    """Read the days below the header."""
    columns = [name.strip() for name in lines[header.columns_at].split(",")]
    missing = [name for name in ("YEAR", "T2M_MIN", "T2M_MAX") if name not in columns]
    if missing or not ({"MO", "DY"} <= set(columns) or "DOY" in columns):
        what = f"the columns are {', '.join(columns)}; days, T2M_MIN and T2M_MAX are needed."
        raise FaultsFoundError([Finding(origin, what, "Ask for daily values of these two.")])
    readings, broken = [], []
    for number, cells in enumerate(
        csv.reader(lines[header.columns_at + 1 :]), start=header.columns_at + 2
    ):
        if not cells:
            continue
        try:
            row = dict(zip(columns, cells, strict=True))
            readings.append(
                Reading(
                    number,
                    _day(row),
                    _value(row["T2M_MIN"], header.fill),
                    _value(row["T2M_MAX"], header.fill),
                    _value(row.get("PRECTOTCORR", str(header.fill)), header.fill),
                )
            )
        except ValueError:
            broken.append(number)
    if not broken:
        return readings, []
    what = "the line does not have the layout of the header."
    return readings, [Finding(f"{origin}, {lines_of(broken)}", what, "Fetch the file again.")]


def _day(row: Mapping[str, str]) -> date:
    """Read a day, given by month and day or by the day of the year."""
    if "DOY" in row:
        year, number = int(row["YEAR"]), int(row["DOY"])
        day = date(year, 1, 1) + timedelta(days=number - 1)
        if number < 1 or day.year != year:
            raise ValueError
        return day
    return date(int(row["YEAR"]), int(row["MO"]), int(row["DY"]))


def _value(cell: str, fill: float) -> float:
    """Read a value; what stands for nothing read is NaN."""
    value = float(cell)
    return nan if value == fill else value
