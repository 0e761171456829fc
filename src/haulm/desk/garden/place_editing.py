"""Change where a garden lies and what weather it is planned by, as typed and dropped on a page."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from haulm.desk.first.first_visit import degrees_from
from haulm.desk.garden.editing import Change, Parts, change_garden, faults_of, mark_of
from haulm.desk.garden.uploads import MOST_RECORD_BYTES
from haulm.desk.garden.usual_days import month_day_from, written_day
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding, Grade
from haulm.site.readers.plain import guess_units
from haulm.site.readers.table import table_of

IN_GARDEN = ("name", "units")
IN_PLACE = ("latitude", "longitude", "height", "soil")
FROST_DAYS = {"last_frost": "the last frost", "first_frost": "the first frost"}
WEATHER_HEIGHT = "weather_height"
ROWS_SHOWN = 5
_DEPTHS = {"mm": "millimetres", "in": "inches"}
LEAST_COLUMNS = 3


@dataclass(frozen=True, slots=True)
class Sample:
    """The columns of a table whose names are not known, and its first rows."""

    columns: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


def place_as_stored(parts: Parts) -> dict[str, str]:
    """Give the fields of the place's form as they were typed, and the marks of their parts."""
    garden, place, weather = parts["garden"][0], parts["place"][0], _weather(parts)
    stored = {key: _text(garden.get(key)) for key in IN_GARDEN}
    stored |= {key: _text(place.get(key)) for key in IN_PLACE}
    stored |= {key: written_day(_text(place.get(key))) for key in FROST_DAYS}
    stored[WEATHER_HEIGHT] = _text(weather.get("height"))
    marks = {"seen_garden": garden, "seen_place": place, "seen_weather": weather}
    return stored | {key: mark_of(part) for key, part in marks.items()}


def save_place(path: Path, parts: Parts, typed: Mapping[str, str], at: datetime) -> None:
    """Write a garden's name, units and place as typed; what the form does not show stays.

    Raises
    ------
    ChangedElsewhereError
        When either was changed since the form was drawn; nothing is written.
    FaultsFoundError
        With every fault; :func:`place_faults` gives them by field.
    """
    findings: list[Finding] = []
    degrees: dict[str, object] = {}
    for key in ("latitude", "longitude"):
        try:
            degrees[key] = degrees_from(typed[key], key, f"the {key}")
        except FaultsFoundError as error:
            findings += [
                Finding(one.where, one.what, one.remedy, place=("place", key))
                for one in error.findings
            ]
    days: dict[str, object] = {}
    for key, spoken in FROST_DAYS.items():
        try:
            days[key] = month_day_from(typed[key], spoken, ("place", key)) or ""
        except FaultsFoundError as error:
            findings += error.findings
    if findings:
        raise FaultsFoundError(findings)
    garden = _merged(parts["garden"][0], {key: typed[key] for key in IN_GARDEN})
    place = _merged(parts["place"][0], {key: typed[key] for key in IN_PLACE} | degrees | days)
    weather = _merged(_weather(parts), {"height": typed[WEATHER_HEIGHT]})
    changes = [
        Change("garden", typed["seen_garden"], garden),
        Change("place", typed["seen_place"], place),
    ]
    if weather != _weather(parts):
        changes.append(Change("weather", typed["seen_weather"], weather))
    change_garden(path, changes, at)


def place_faults(error: FaultsFoundError) -> dict[str, Finding]:
    """Give the faults in what was typed by the field they lie in."""
    in_weather = faults_of(error, "weather")
    height = {WEATHER_HEIGHT: in_weather["height"]} if "height" in in_weather else {}
    return dict(faults_of(error, "garden")) | dict(faults_of(error, "place")) | height


def place_sent_by(parts: Parts) -> tuple[str, str] | None:
    """Say what fetching would send of a place, degrees to a tenth; None if it is faulty."""
    try:
        latitude, longitude = (
            f"{float(str(parts['place'][0][key])):.1f}" for key in ("latitude", "longitude")
        )
    except (KeyError, ValueError):
        return None
    return latitude, longitude


def use_grid(path: Path, seen: str, at: datetime) -> None:
    """Take the climate of the world's grid in place of the weather there is.

    Raises
    ------
    ChangedElsewhereError
        When the weather was changed since it was looked at.
    FaultsFoundError
        When the grid knows no climate there.
    """
    change_garden(path, [Change("weather", seen, {"grid": True})], at)


def sample_of(name: str, data: bytes) -> Sample | None:
    """Show a file's columns and first rows, to be asked which is which; None if it is no table."""
    if len(data) > MOST_RECORD_BYTES or b"\0" in data:
        return None
    try:
        table = table_of(data.decode("utf-8-sig"), name)
    except (UnicodeDecodeError, FaultsFoundError):
        return None
    distinct = tuple(dict.fromkeys(column for column in table.header if column))
    if len(distinct) < LEAST_COLUMNS or len(distinct) != len(table.header):
        return None
    return Sample(distinct, tuple(cells for _line, cells in table.rows[:ROWS_SHOWN]))


def guess_of(name: str, data: bytes) -> tuple[dict[str, str], Finding] | None:
    """Guess the columns and units of a table whose header tells none, to be confirmed.

    Gives the fields of the columns' form, and the question; None where nothing is to be asked.
    """
    if len(data) > MOST_RECORD_BYTES or sample_of(name, data) is None:
        return None
    guess = guess_units(data.decode("utf-8-sig"), name)
    if guess is None:
        return None
    units = guess.units
    degrees, depth = "°F" if units.degrees == "f" else "°C", _DEPTHS[units.depth]
    why = "; ".join(reason for reason in (units.why_degrees, units.why_depth) if reason)
    rain = f", rain in {depth}" if "rain" in guess.columns else ""
    what = f"no unit stands in its header. By its figures they are {degrees}{rain}"
    asked = Finding(
        name, f"{what}{f' ({why})' if why else ''}.", "Look, and read it so.", Grade.WARNING
    )
    return {**guess.columns, "degrees": units.degrees, "depth": units.depth}, asked


def columns_from(typed: Mapping[str, str]) -> dict[str, str]:
    """Name the columns that were chosen as a record's reader knows them.

    ``date``, ``tmin``, ``tmax`` and ``rain`` hold a column's name, empty where there is none;
    ``degrees`` is c or f, ``depth`` mm or in.
    """
    degrees = "f" if typed.get("degrees") == "f" else "c"
    depth = "in" if typed.get("depth") == "in" else "mm"
    named = {
        "date": typed.get("date", ""),
        f"tmin_{degrees}": typed.get("tmin", ""),
        f"tmax_{degrees}": typed.get("tmax", ""),
        f"rain_{depth}": typed.get("rain", ""),
    }
    return {ours: theirs for ours, theirs in named.items() if theirs}


def _weather(parts: Parts) -> Mapping[str, object]:
    """Give the weather's part; empty where there is none."""
    return parts["weather"][0] if parts["weather"] else {}


def _merged(part: Mapping[str, object], typed: Mapping[str, object]) -> dict[str, object]:
    """Put what was typed over a part; a field left empty takes its key out."""
    whole = dict(part) | dict(typed)
    return {key: value for key, value in whole.items() if value != ""}


def _text(value: object) -> str:
    return "" if value is None else str(value)
