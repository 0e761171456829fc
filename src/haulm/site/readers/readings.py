"""Days as they were read, checked against each other and laid out as one record."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import groupby, pairwise
from math import isnan, nan

import numpy as np

from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding, Grade, faults
from haulm.site.records import DailyRecord

COLDEST_C, WARMEST_C = -90.0, 60.0
WETTEST_MM = 2000.0
FIRST_YEAR = 1700
WARMEST_MEAN_C = 48.0
IN_FAHRENHEIT = "If the file is in °F, give its columns as tmin_f and tmax_f in [weather.columns]."
_MANY_SWAPPED_SHARE = 0.2
_MANY_SWAPPED = 5
_NAMED = 5


@dataclass(frozen=True, slots=True)
class Reading:
    """One day as it was read: its line in the file, and NaN for what was not read."""

    line: int
    day: date
    tmin_c: float
    tmax_c: float
    rain_mm: float

    def says_the_same(self, other: "Reading") -> bool:
        """Whether two readings of one day agree in every figure."""
        pairs = (
            (self.tmin_c, other.tmin_c),
            (self.tmax_c, other.tmax_c),
            (self.rain_mm, other.rain_mm),
        )
        return all(one == two or (isnan(one) and isnan(two)) for one, two in pairs)


def record_from(
    readings: Sequence[Reading], origin: str, found: Iterable[Finding] = ()
) -> tuple[DailyRecord, tuple[Finding, ...]]:
    """Check readings and lay them out day by day.

    Parameters
    ----------
    readings
        In any order.
    origin
        The file's name, for the record and the findings.
    found
        What was noticed before; faults among it stop the work here, together with new ones.

    Returns
    -------
    The record, and everything noticed that does not stop the work.

    Raises
    ------
    FaultsFoundError
        With every fault at once.
    """
    findings = list(found)
    if not readings and not faults(findings):
        findings.append(
            Finding(origin, "no day with a figure was found.", "Save the record again.")
        )
    findings += _too_early(readings, origin)
    findings += _impossible(readings, origin)
    findings += _duplicates(readings, origin)
    findings += _swapped(readings, origin)
    if faults(findings):
        raise FaultsFoundError(findings)
    ordered = sorted(readings, key=lambda reading: reading.day)
    if any(later.day < earlier.day for earlier, later in pairwise(readings)):
        findings.append(Finding(origin, "the days were not in order and were sorted.", "", _NOTE))
    findings += _gaps(ordered, origin)
    record = _laid_out(ordered, origin)
    findings += _unread(record, origin)
    return record, tuple(findings)


_NOTE, _WARNING = Grade.NOTE, Grade.WARNING


def lines_of(lines: Sequence[int]) -> str:
    """Name some lines of a file: ``line 4``, ``lines 4, 7 and 9``, ``lines 1, 2 and 8 more``."""
    if len(lines) == 1:
        return f"line {lines[0]}"
    if len(lines) <= _NAMED:
        head = ", ".join(str(line) for line in lines[:-1])
        return f"lines {head} and {lines[-1]}"
    head = ", ".join(str(line) for line in lines[:_NAMED])
    return f"lines {head} and {len(lines) - _NAMED} more"


def _too_early(readings: Sequence[Reading], origin: str) -> list[Finding]:
    """Find days of a year before anybody kept a thermometer: a slip in the year."""
    early = [reading.line for reading in readings if reading.day.year < FIRST_YEAR]
    if not early:
        return []
    what = f"the year lies before {FIRST_YEAR}, when nobody read a thermometer daily."
    return [Finding(f"{origin}, {lines_of(early)}", what, "Mend the year.")]


def _impossible(readings: Sequence[Reading], origin: str) -> list[Finding]:
    """Find temperatures and rain that no place has."""
    findings = []
    odd = [
        reading.line
        for reading in readings
        if any(
            not COLDEST_C <= value <= WARMEST_C
            for value in (reading.tmin_c, reading.tmax_c)
            if not isnan(value)
        )
    ]
    if odd:
        findings.append(
            Finding(
                f"{origin}, {lines_of(odd)}",
                f"a temperature is under −{-COLDEST_C:g} or over {WARMEST_C:g} °C.",
                f"Mend it or leave it empty. {IN_FAHRENHEIT} Tenths of a degree must be turned "
                "into degrees first.",
            )
        )
    warm = [reading.tmax_c for reading in readings if not isnan(reading.tmax_c)]
    if warm and not odd and sum(warm) / len(warm) > WARMEST_MEAN_C:
        findings.append(
            Finding(
                origin,
                f"the maxima average {sum(warm) / len(warm):.0f} °C, which no place has.",
                IN_FAHRENHEIT,
            )
        )
    rain = [reading.line for reading in readings if not _possible_rain(reading.rain_mm)]
    if rain:
        findings.append(
            Finding(
                f"{origin}, {lines_of(rain)}",
                f"rain is under 0 or over {WETTEST_MM:g} mm.",
                "Mend it or leave it empty.",
            )
        )
    return findings


def _possible_rain(rain_mm: float) -> bool:
    """Whether a day's rain is possible, or was not read."""
    return isnan(rain_mm) or 0.0 <= rain_mm <= WETTEST_MM


def _duplicates(readings: Sequence[Reading], origin: str) -> list[Finding]:
    """Find days that stand there more than once."""
    findings = []
    by_day = sorted(readings, key=lambda reading: (reading.day, reading.line))
    for day, group in groupby(by_day, key=lambda reading: reading.day):
        first, *others = group
        if not others:
            continue
        where = f"{origin}, {lines_of([first.line, *(other.line for other in others)])}"
        if all(first.says_the_same(other) for other in others):
            what = f"{day} stands there more than once with the same figures; it counts once."
            findings.append(Finding(where, what, "", _NOTE))
        else:
            what = f"{day} stands there more than once with different figures."
            findings.append(Finding(where, what, "Keep the line that is right."))
    return findings


def _swapped(readings: Sequence[Reading], origin: str) -> list[Finding]:
    """Find days whose minimum lies above the maximum: a few, or the columns."""
    swapped = [reading.line for reading in readings if reading.tmin_c > reading.tmax_c]
    if not swapped:
        return []
    where = f"{origin}, {lines_of(swapped)}"
    if len(swapped) >= max(_MANY_SWAPPED, _MANY_SWAPPED_SHARE * len(readings)):
        return [
            Finding(
                where,
                f"the minimum lies above the maximum on {len(swapped)} of {len(readings)} days: "
                "are the columns swapped?",
                "Check which column is which.",
            )
        ]
    return [
        Finding(
            where,
            "the minimum lies above the maximum; the day counts as not read.",
            "Mend the line.",
            _WARNING,
        )
    ]


def _gaps(ordered: Sequence[Reading], origin: str) -> list[Finding]:
    """Tell the runs of days that have no line at all."""
    runs = [
        (earlier.day + timedelta(days=1), later.day - timedelta(days=1))
        for earlier, later in pairwise(ordered)
        if (later.day - earlier.day).days > 1
    ]
    if not runs:
        return []
    missing = sum((last - first).days + 1 for first, last in runs)
    total = (ordered[-1].day - ordered[0].day).days + 1
    named = [str(first) if first == last else f"{first} to {last}" for first, last in runs[:_NAMED]]
    more = f" and {len(runs) - _NAMED} more gaps" if len(runs) > _NAMED else ""
    return [
        Finding(
            origin,
            f"{missing} of {total} days are missing ({', '.join(named)}{more}); "
            "they count as not read, never as 0.",
            "Add them if you have them.",
            _WARNING,
        )
    ]


def _laid_out(ordered: Sequence[Reading], origin: str) -> DailyRecord:
    """Lay readings in order out day by day, NaN where nothing was read."""
    first_day = ordered[0].day
    values = np.full((3, (ordered[-1].day - first_day).days + 1), np.nan)
    for reading in ordered:
        swapped = reading.tmin_c > reading.tmax_c
        values[:, (reading.day - first_day).days] = (
            nan if swapped else reading.tmin_c,
            nan if swapped else reading.tmax_c,
            reading.rain_mm,
        )
    return DailyRecord(origin, first_day, *values)


def _unread(record: DailyRecord, origin: str) -> list[Finding]:
    """Count what was not read on days that have a line or lie in a gap."""
    findings = []
    days = record.tmin_c.size
    rows = (("minimum", record.tmin_c), ("maximum", record.tmax_c), ("rain", record.rain_mm))
    for name, values in rows:
        count = int(np.isnan(values).sum())
        if count == days:
            grade = _NOTE if name == "rain" else Grade.FAULT
            remedy = "" if name == "rain" else "Give a record with daily minima and maxima."
            findings.append(Finding(origin, f"no {name} was read on any day.", remedy, grade))
        elif count:
            what = f"no {name} was read on {count} of {days} days."
            findings.append(Finding(origin, what, "", _NOTE))
    if faults(findings):
        raise FaultsFoundError(findings)
    return findings
