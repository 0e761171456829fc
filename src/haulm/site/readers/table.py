"""A daily table's layout: delimiter, decimal mark, and which column holds what."""

import csv
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding, Grade, faults

DELIMITERS = (",", ";", "\t", "|")
COLUMNS = ("date", "tmin_c", "tmax_c", "rain_mm", "tmin_f", "tmax_f", "rain_in")
_UNITLESS = {
    "date": ("date", "day", "time", "datum", "fecha"),
    "tmin": (
        "tmin", "t_min", "min", "mintemp", "min_temp", "tempmin", "temp_min", "minimum",
        "minimum_temperature", "temperature_min", "temp_low", "low", "tn",
    ),
    "tmax": (
        "tmax", "t_max", "max", "maxtemp", "max_temp", "tempmax", "temp_max", "maximum",
        "maximum_temperature", "temperature_max", "temp_high", "high", "tx",
    ),
    "rain": ("rain", "rainfall", "prcp", "precip", "precipitation", "rr", "regen"),
}  # fmt: skip
_UNITS = {
    "c": "c", "degc": "c", "deg_c": "c", "celsius": "c",
    "f": "f", "degf": "f", "deg_f": "f", "fahrenheit": "f",
    "mm": "mm", "in": "in", "inch": "in", "inches": "in",
}  # fmt: skip
_METRIC = {"tmin": "c", "tmax": "c", "rain": "mm"}


@dataclass(frozen=True, slots=True)
class Table:
    """A file's cells: the header, and its rows with their line numbers, counted from 1."""

    header: tuple[str, ...]
    rows: tuple[tuple[int, tuple[str, ...]], ...]


def table_of(text: str, origin: str) -> Table:
    """Cut text into cells by the delimiter that its header holds most often.

    Empty lines, and lines that begin with ``#``, are passed over.

    Raises
    ------
    FaultsFoundError
        If there is no line, or a quotation mark that is never closed swallows the file.
    """
    lines = ["" if line.lstrip().startswith("#") else line for line in text.splitlines()]
    header_line = next((line for line in lines if line.strip()), "")
    delimiter = max(DELIMITERS, key=header_line.count)
    reader = csv.reader(lines, delimiter=delimiter)
    try:
        rows = [
            (reader.line_num, tuple(cell.strip() for cell in cells))
            for cells in reader
            if any(cell.strip() for cell in cells)
        ]
    except csv.Error:
        what = "a cell has no end."
        remedy = "Look for a quotation mark that is not closed."
        where = f"{origin}, line {reader.line_num}"
        raise FaultsFoundError([Finding(where, what, remedy)]) from None
    if not rows:
        raise FaultsFoundError([Finding(origin, "the file is empty.", "Save the record again.")])
    return Table(header=rows[0][1], rows=tuple(rows[1:]))


def places_of(
    header: Sequence[str], columns: Mapping[str, str] | None, origin: str
) -> tuple[dict[str, int], list[Finding]]:
    """Find which column holds what.

    Parameters
    ----------
    header
        The file's own column names.
    columns
        Our names (date, tmin_c, tmax_c, rain_mm, or tmin_f, tmax_f, rain_in) to the file's; None
        to recognise usual ones.
    origin
        The file's name, for the findings.

    Returns
    -------
    Our names to positions, and what was found; nothing can be read if there is a fault in it.
    """
    if columns is None:
        places, findings = _recognised(header, origin)
    else:
        places, findings = _mapped(header, columns, origin)
    if faults(findings):
        return places, findings
    told = ", ".join(name for name in header if name)
    for quantity in ("date", "tmin", "tmax"):
        known = [name for name in places if name.split("_")[0] == quantity]
        if not known:
            findings.append(
                Finding(
                    f"{origin}, header",
                    f"no column for {_WORDS[quantity]} was found among: {told}.",
                    "Say which column it is in [weather.columns].",
                )
            )
    return places, findings


_WORDS = {"date": "the date", "tmin": "the daily minimum", "tmax": "the daily maximum"}


def _mapped(
    header: Sequence[str], columns: Mapping[str, str], origin: str
) -> tuple[dict[str, int], list[Finding]]:
    """Look up the columns that the map names."""
    places: dict[str, int] = {}
    findings = []
    told = ", ".join(name for name in header if name)
    for ours, theirs in columns.items():
        if ours not in COLUMNS:
            what = f"“{ours}” is no quantity that is read; known are {', '.join(COLUMNS)}."
            findings.append(Finding("[weather.columns]", what, "Use one of these names."))
        elif header.count(theirs) != 1:
            count = "no column" if theirs not in header else "more than one column"
            what = f"{count} is named “{theirs}”; the file has: {told}."
            findings.append(Finding(f"{origin}, header", what, "Mend [weather.columns]."))
        else:
            places[ours] = header.index(theirs)
    return places, findings + _twice(places, origin)


def _recognised(header: Sequence[str], origin: str) -> tuple[dict[str, int], list[Finding]]:
    """Recognise columns by usual names, and tell which of them name no unit."""
    where = f"{origin}, header"
    if any(name.lower().endswith("_attributes") for name in header):
        what = "this layout does not tell its units, which may be tenths."
        return {}, [
            Finding(where, what, "Fetch the station's .dly file, or give [weather.columns].")
        ]
    places: dict[str, int] = {}
    findings, unitless = [], []
    for position, name in enumerate(header):
        quantity, unit = _our_name(name)
        if quantity is None:
            continue
        if unit is None and quantity in _METRIC:
            unitless.append(name)
        ours = "_".join(part for part in (quantity, unit or _METRIC.get(quantity)) if part)
        if ours in places:
            what = f"two columns could be {ours}: “{header[places[ours]]}” and “{name}”."
            findings.append(Finding(where, what, "Say which it is in [weather.columns]."))
        places.setdefault(ours, position)
    findings += _twice(places, origin)
    if unitless:
        what = f"no unit stands beside {', '.join(unitless)}; °C and mm are taken."
        remedy = "If that is wrong, give them as tmin_f, tmax_f, rain_in in [weather.columns]."
        findings.append(Finding(where, what, remedy, Grade.WARNING))
    return places, findings


def untold_units(header: Sequence[str]) -> frozenset[str]:
    """List what stands in a header without a unit: tmin, tmax, rain."""
    told = [_our_name(name) for name in header]
    return frozenset(quantity for quantity, unit in told if quantity in _METRIC and unit is None)


def _twice(places: Mapping[str, int], origin: str) -> list[Finding]:
    """Refuse one quantity in two units."""
    pairs = (("tmin_c", "tmin_f"), ("tmax_c", "tmax_f"), ("rain_mm", "rain_in"))
    return [
        Finding(
            f"{origin}, header",
            f"both {metric} and {other} are there.",
            "Say in [weather.columns] which to use.",
        )
        for metric, other in pairs
        if metric in places and other in places
    ]


def _our_name(name: str) -> tuple[str | None, str | None]:
    """Recognise the quantity and the unit of a header such as ``Tmin (°F)``."""
    plain = re.sub(r"[^a-z]+", "_", name.lower().replace("°", "")).strip("_")
    for quantity, names in _UNITLESS.items():
        if plain in names:
            return quantity, None
        for usual in names:
            unit = _UNITS.get(plain.removeprefix(f"{usual}_")) if plain != usual else None
            if f"{quantity}_{unit}" in COLUMNS:
                return quantity, unit
    return None, None
