"""Take in what is told of the coming days: typed, or from a table of days or of hours."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, fields, replace
from datetime import date, datetime, time
from pathlib import Path

from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.measure.units import Units, parse_rain_mm, parse_temperature_c
from haulm.notebook.ahead import read_ahead, read_hours, write_ahead, write_hours
from haulm.notebook.file import open_notebook
from haulm.notebook.values import EARLIEST_YEAR, LATEST_YEAR
from haulm.season.ahead import DayAhead, HourTold, can_be, check_ahead
from haulm.site.readers.table import Table, table_of
from haulm.site.readers.text import read_text

TYPED = "typed"
MOST_HUMID = 100.0
BARE_UNITS: Mapping[Units, Mapping[str, str]] = {
    "metric": {"temperature": "°C", "rain": "mm"},
    "us": {"temperature": "°F", "rain": "in"},
}
"""What a number without a unit is taken for: the units of the garden."""

COLUMN_UNITS: Mapping[str, tuple[str, str]] = {
    "min_c": ("tmin", "°C"), "min_f": ("tmin", "°F"),
    "max_c": ("tmax", "°C"), "max_f": ("tmax", "°F"),
    "rain_mm": ("rain", "mm"), "rain_in": ("rain", "in"),
    "rain_odds": ("odds", "%"), "humid_hours": ("humid", ""),
}  # fmt: skip
"""The columns of a table of days: which field each fills, and its unit."""

HOUR_COLUMNS = ("day", "time", "temperature_c", "temperature_f", "humidity")


@dataclass(frozen=True, slots=True)
class TypedAhead:
    """What was typed of one day; a field is empty where nothing was typed.

    A number without a unit is in the garden's units; ``odds`` is in per cent, ``humid`` in hours.
    """

    day: str
    tmin: str = ""
    tmax: str = ""
    rain: str = ""
    odds: str = ""
    humid: str = ""


@dataclass(frozen=True, slots=True)
class TakenAhead:
    """How much of a table was taken: days, and hours."""

    days: int
    hours: int


def ahead_of(path: Path, first: date) -> tuple[DayAhead, ...]:
    """Give what was told of a day and of those after it.

    Raises
    ------
    FaultsFoundError
        When the path is no notebook.
    """
    with open_notebook(path) as notebook:
        return read_ahead(notebook, first)


def hours_of(path: Path, first: date) -> tuple[HourTold, ...]:
    """Give temperature and humidity by the hour, as told, from a day on.

    Raises
    ------
    FaultsFoundError
        When the path is no notebook.
    """
    with open_notebook(path) as notebook:
        return read_hours(notebook, first)


def tell_ahead(path: Path, typed: TypedAhead, units: Units, at: datetime) -> DayAhead:
    """Write down what was typed of a day, and give it as it was understood.

    Parameters
    ----------
    path
        The notebook.
    typed, units
        What was typed, and the garden's units.
    at
        The time, with its zone.

    Raises
    ------
    FaultsFoundError
        With everything in it that does not fit; nothing is written then.
    """
    told = read_typed(typed, units, at, TYPED)
    with open_notebook(path, writing=True) as notebook:
        write_ahead(notebook, [told])
    return told


def tell_days(path: Path, days: tuple[DayAhead, ...]) -> None:
    """Write down what was told of several days.

    Raises
    ------
    FaultsFoundError
        With everything in it that cannot be; nothing is written then.
    """
    found = [finding for one in days for finding in check_ahead(one)]
    if found:
        raise FaultsFoundError(found)
    with open_notebook(path, writing=True) as notebook:
        write_ahead(notebook, days)


def read_typed(typed: TypedAhead, units: Units, at: datetime, origin: str) -> DayAhead:
    """Read what was typed of a day.

    Raises
    ------
    FaultsFoundError
        With everything in it that does not fit, at once.
    """
    found: list[Finding] = []
    day = _day(typed.day, found)
    bare = BARE_UNITS[units]
    figures = {
        "tmin_c": _read(typed.tmin, "min", found, parse_temperature_c, bare["temperature"]),
        "tmax_c": _read(typed.tmax, "max", found, parse_temperature_c, bare["temperature"]),
        "rain_mm": _read(typed.rain, "rain", found, parse_rain_mm, bare["rain"]),
        "rain_odds": _share(typed.odds, found),
        "humid_hours": _read(typed.humid.removesuffix("h"), "humid", found, _number),
    }
    if day is not None and not found:
        told = DayAhead(day, at, **figures, origin=origin)
        found.extend(check_ahead(told))
        if not found:
            return told
    raise FaultsFoundError(found)


def load_ahead(path: Path, table: Path, at: datetime) -> TakenAhead:
    """Take a table of days, or of hours, into a notebook: all of it, or none where a row is faulty.

    A table of days has the column ``day`` and any of ``min_c``, ``max_c``, ``rain_mm`` (or
    ``min_f``, ``max_f``, ``rain_in``), ``rain_odds`` [%] and ``humid_hours``. A table of hours has
    ``day``, ``time``, ``temperature_c`` (or ``temperature_f``) and ``humidity`` [%].

    Raises
    ------
    FaultsFoundError
        With every fault of every row; lines are counted from 1, and nothing is written.
    """
    cells = table_of(read_text(table), table.name)
    heads = tuple(head.strip().casefold() for head in cells.header)
    days: list[DayAhead] = []
    hours: list[HourTold] = []
    found: list[Finding] = list(_unknown(heads, table.name))
    if found:
        raise FaultsFoundError(found)
    for line, row in _rows(cells, heads):
        try:
            if "humidity" in heads:
                hours.append(_hour(row))
            else:
                days.append(_row_of_day(row, at, table.name))
        except FaultsFoundError as error:
            found += [
                replace(one, where=f"{table.name}, line {line}, {one.where}")
                for one in error.findings
            ]
    if not found and not days and not hours:
        found.append(Finding(table.name, "it has no rows.", "Give one line a day or an hour."))
    if found:
        raise FaultsFoundError(found)
    with open_notebook(path, writing=True) as notebook:
        write_ahead(notebook, days)
        write_hours(notebook, hours)
    return TakenAhead(len(days), len(hours))


def _rows(cells: Table, heads: tuple[str, ...]) -> Iterator[tuple[int, dict[str, str]]]:
    for line, row in cells.rows:
        yield line, dict(zip(heads, row, strict=False))


def _unknown(heads: tuple[str, ...], origin: str) -> Iterator[Finding]:
    """Tell what is wrong with a table's header: a column is never guessed."""
    where = f"{origin}, header"
    hourly = "humidity" in heads
    known = HOUR_COLUMNS if hourly else ("day", *COLUMN_UNITS)
    if "day" not in heads:
        yield Finding(where, "there is no column “day”.", f"Known are {', '.join(known)}.")
    for head in heads:
        if head not in known:
            what = f"the column “{head}” is not known."
            yield Finding(where, what, f"Name it one of {', '.join(known)}, or leave it out.")
        elif heads.count(head) > 1:
            yield Finding(where, f"two columns are named “{head}”.", "Leave one of them out.")
    told = [COLUMN_UNITS[head][0] for head in heads if head in COLUMN_UNITS and not hourly]
    degrees = [head for head in heads if head.startswith("temperature_")]
    if hourly and ("time" not in heads or len(degrees) != 1):
        what = "a table of hours has day, time, one temperature_c or temperature_f, and humidity."
        yield Finding(where, what, "Mend the header.")
    if len(set(told)) < len(told):
        yield Finding(where, "one quantity stands in two units.", "Leave one of them out.")


def _row_of_day(row: Mapping[str, str], at: datetime, origin: str) -> DayAhead:
    told = {
        field: f"{row[head]} {unit}".strip() if row.get(head) else ""
        for head, (field, unit) in COLUMN_UNITS.items()
        if row.get(head)
    }
    return read_typed(TypedAhead(row.get("day", ""), **told), "metric", at, origin)


def _hour(row: Mapping[str, str]) -> HourTold:
    found: list[Finding] = []
    day = _day(row.get("day", ""), found)
    hour = _hour_of(row.get("time", ""), found)
    head = "temperature_c" if "temperature_c" in row else "temperature_f"
    unit = "°C" if head == "temperature_c" else "°F"
    degrees = _read(row.get(head, ""), "temperature", found, parse_temperature_c, unit)
    humidity = _read(row.get("humidity", "").removesuffix("%"), "humidity", found, _number)
    for value, name in ((degrees, "temperature"), (humidity, "humidity")):
        if value is None and not found:
            found.append(Finding(name, "nothing is written.", "Leave the hour out."))
    if humidity is not None and not 0.0 <= humidity <= MOST_HUMID:
        found.append(Finding("humidity", f"{humidity:g} % cannot be.", "Write 0 to 100."))
    if degrees is not None and not can_be("tmin_c", degrees):
        found.append(Finding("temperature", f"{degrees:g} °C cannot be.", "Look at the number."))
    if found or day is None or hour is None or degrees is None or humidity is None:
        raise FaultsFoundError(found)
    return HourTold(day, hour, degrees, humidity)


def _day(text: str, found: list[Finding]) -> date | None:
    try:
        day = date.fromisoformat(text.strip())
    except ValueError:
        day = None
    if day is None or not EARLIEST_YEAR <= day.year <= LATEST_YEAR:
        what = f"“{text}” is no day." if text else "the day is missing."
        found.append(
            Finding("day", what, "Write year, month and day, as in 2027-05-03.", place=("day",))
        )
        return None
    return day


def _hour_of(text: str, found: list[Finding]) -> int | None:
    """Read a time of day to the hour it lies in."""
    try:
        return time.fromisoformat(text.strip().zfill(5)).hour
    except ValueError:
        found.append(Finding("time", f"“{text}” is no time of day.", "Write it as in 06:00."))
        return None


def _read(
    text: str,
    name: str,
    found: list[Finding],
    parse: Callable[[str, str], float],
    bare: str = "",
) -> float | None:
    """Read one figure; a bare number is given its unit first. None where nothing was typed."""
    text = text.strip()
    if not text:
        return None
    if bare and _is_number(text):
        text = f"{text} {bare}"
    try:
        return parse(text, name)
    except FaultsFoundError as error:
        found.extend(replace(one, place=(name,)) for one in error.findings)
        return None


def _share(text: str, found: list[Finding]) -> float | None:
    """Read odds in per cent."""
    percent = _read(text.strip().removesuffix("%"), "odds", found, _number)
    return None if percent is None else percent / 100.0


def _is_number(text: str) -> bool:
    try:
        float(text.replace("−", "-").replace(",", "."))
    except ValueError:
        return False
    return True


def _number(text: str, where: str) -> float:
    """Read a plain number.

    Raises
    ------
    FaultsFoundError
        When it is none.
    """
    if not _is_number(text):
        raise FaultsFoundError([Finding(where, f"“{text}” is no number.", "Write a number.")])
    return float(text.replace("−", "-").replace(",", "."))


def typed_ahead_fields() -> tuple[str, ...]:
    """List the names of what can be typed of a day."""
    return tuple(field.name for field in fields(TypedAhead))
