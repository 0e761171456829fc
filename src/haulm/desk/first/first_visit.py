"""A stranger's first words made into a garden: what was typed is read, every fault at once."""

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import TypeVar

from haulm.desk.first.first_garden import FirstAnswers, first_garden
from haulm.desk.garden.editing import write_first
from haulm.desk.garden.towns import Town, folded, towns_like
from haulm.desk.garden.usual_days import month_day_from
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.measure.units import Units, parse_area_m2, parse_dimensions_m, parse_length_m

T = TypeVar("T")
MOST_TOWNS = 8
PART = "first"
_US_WORDS = ("ft", "foot", "feet", "yd", "yard", "acre", "'", "′")
PLACE_NAME, UNITS = "place_name", "units"
_TIMES = re.compile(r"[x×*]|\bby\b", re.IGNORECASE)
_BARE = re.compile(r"[\d\s.,x×*]+(?:by[\d\s.,]+)?", re.IGNORECASE)
_DEGREES = re.compile(
    r"([-−+]?)\s*(\d+(?:[.,]\d+)?)\s*°?\s*(?:(\d+(?:[.,]\d+)?)\s*['′]\s*)?([NSEW]?)", re.IGNORECASE
)
_MINUTES = 60.0
_BARE_UNITS: Mapping[Units, tuple[str, str]] = {"metric": (" m2", " m"), "us": (" sq ft", " ft")}


@dataclass(frozen=True, slots=True)
class FirstRead:
    """What was read of a stranger's answers.

    Attributes
    ----------
    answers
        The answers; None where something has to be mended or chosen first.
    findings
        What cannot be read; each finding's place is ("first", the field).
    towns
        The towns that the name typed may mean, where it may mean several.
    """

    answers: FirstAnswers | None
    findings: tuple[Finding, ...] = ()
    towns: tuple[Town, ...] = ()


def read_first(typed: Mapping[str, str]) -> FirstRead:
    """Read the first page's fields: place_name, town, latitude_deg, longitude_deg, adults and more.

    Degrees that were typed are taken before a town; ``town`` holds one chosen from a list, as
    :func:`town_key` writes it. A bare size of the ground is in the units chosen; where none
    are chosen, they are those that the ground was typed in.
    """
    findings: list[Finding] = []
    towns: tuple[Town, ...] = ()

    def taken(read: Callable[[], T], otherwise: T) -> T:
        try:
            return read()
        except FaultsFoundError as error:
            findings.extend(error.findings)
            return otherwise

    units: Units = taken(lambda: _units(typed), "metric")
    town: Town | None = None
    if typed.get("latitude_deg") or typed.get("longitude_deg"):
        town = taken(lambda: _by_degrees(typed), None)
    elif chosen := town_from(typed.get("town", "")):
        town = chosen
    else:
        towns = taken(lambda: towns_meant(typed.get(PLACE_NAME, "")), ())
        town = towns[0] if len(towns) == 1 else None
    adults = taken(lambda: _count(typed, "adults", "the adults"), 0)
    children = taken(lambda: _count(typed, "children", "the children"), 0)
    ground = taken(lambda: ground_m2(typed.get("ground_m2", ""), units), 0.0)
    height = taken(lambda: _height(typed), None)
    last_frost = taken(
        lambda: month_day_from(typed.get("last_frost", ""), "the last frost", (PART, "last_frost")),
        None,
    )
    if findings or town is None:
        return FirstRead(None, tuple(findings), towns if len(towns) > 1 else ())
    return FirstRead(
        FirstAnswers(
            town.name,
            town.latitude_deg,
            town.longitude_deg,
            adults,
            children,
            ground,
            units,
            height,
            last_frost,
        )
    )


def begin(path: Path, answers: FirstAnswers) -> None:
    """Make the notebook of a first garden.

    Raises
    ------
    FaultsFoundError
        With every answer that cannot be, or where there is a notebook already; nothing is written.
    """
    write_first(path, first_garden(answers))


def towns_meant(words: str) -> tuple[Town, ...]:
    """Give the one town that a name can mean, or the several to choose from, the larger first.

    Raises
    ------
    FaultsFoundError
        When no town on the list is called so.
    """
    if not words.strip():
        raise _fault(PLACE_NAME, "the place", "it is not given.", "Name the town near you.")
    found = towns_like(words, MOST_TOWNS)
    exact = [town for town in found if folded(words).strip() in _names(town)]
    if exact:
        return tuple(exact)
    if not found:
        what = f"no town called “{words}” is on the list."
        remedy = "Name a larger town near you, or give latitude and longitude."
        raise _fault(PLACE_NAME, "the place", what, remedy)
    return found


def town_label(town: Town) -> str:
    """Name a town with its state and country, as it is offered."""
    return ", ".join(part for part in (town.name, town.region, town.country) if part)


def town_key(town: Town) -> str:
    """Write a town so that a form can send it back: latitude, longitude, name."""
    return f"{town.latitude_deg:g} {town.longitude_deg:g} {town.name}"


def town_from(key: str) -> Town | None:
    """Read back what :func:`town_key` wrote; None for anything else."""
    parts = key.split(maxsplit=2)
    try:
        latitude, longitude, name = parts
        return Town(name, "", float(latitude), float(longitude))
    except ValueError:
        return None


def ground_m2(text: str, units: Units) -> float:
    """Read how much ground there is [m²]: an area, or length × width.

    Raises
    ------
    FaultsFoundError
        When it is neither.
    """
    field, spoken = "ground_m2", "the ground"
    if not text:
        raise _fault(field, spoken, "it is not given.", "Write it as in 40 m2 or 4 x 10 m.")
    sides = _TIMES.search(text)
    if _BARE.fullmatch(text):
        text += _BARE_UNITS[units][sides is not None]
    try:
        if sides:
            width, length = parse_dimensions_m(text, spoken)
            return max(width, 0.0) * max(length, 0.0)
        return parse_area_m2(text, spoken)
    except FaultsFoundError as error:
        raise _placed(error, field) from None


def degrees_from(text: str, field: str, spoken: str) -> float:
    """Read degrees, as in ``47.4``, ``-33,9``, ``47.4 N`` or ``33° 52' S`` [°].

    Raises
    ------
    FaultsFoundError
        When it is no such number.
    """
    found = _DEGREES.fullmatch(text.strip())
    if not text or found is None:
        what = f"“{text}” is not degrees." if text else "it is not given."
        raise _fault(field, spoken, what, "Write it as in 47.4, or -33.9 for south or west.")
    sign, whole, minutes, side = found.groups()
    size = float(whole.replace(",", ".")) + float((minutes or "0").replace(",", ".")) / _MINUTES
    return -size if sign in {"-", "−"} or side.upper() in {"S", "W"} else size


def _by_degrees(typed: Mapping[str, str]) -> Town:
    findings: list[Finding] = []
    read = []
    for field, spoken in (("latitude_deg", "the latitude"), ("longitude_deg", "the longitude")):
        try:
            read.append(degrees_from(typed.get(field, ""), field, spoken))
        except FaultsFoundError as error:
            findings.extend(error.findings)
    if findings:
        raise FaultsFoundError(findings)
    return Town(typed.get(PLACE_NAME, ""), "", read[0], read[1])


def _names(town: Town) -> set[str]:
    """Give every way to write a town out: alone, and with its state or country."""
    return {
        folded(", ".join(part for part in parts if part))
        for parts in (
            (town.name,),
            (town.name, town.country),
            (town.name, town.region),
            (town.name, town.region, town.country),
        )
    }


def _units(typed: Mapping[str, str]) -> Units:
    units: tuple[Units, ...] = ("metric", "us")
    for one in units:
        if typed.get(UNITS) == one:
            return one
    ground = typed.get("ground_m2", "").casefold()
    if any(word in ground for word in _US_WORDS):
        return "us"
    if any(letter.isalpha() for letter in ground.replace("x", "")):
        return "metric"
    what = "Neither is chosen, and the ground is given without a unit."
    raise _fault(UNITS, "the units", what, "Choose one.")


def _count(typed: Mapping[str, str], field: str, spoken: str) -> int:
    text = typed.get(field, "")
    if text.isdecimal() and len(text) <= len("9999"):
        return int(text)
    what = f"“{text}” is no number of people." if text else "they are not counted."
    raise _fault(field, spoken, what, "Write a whole number, 0 for none.")


def _height(typed: Mapping[str, str]) -> float | None:
    text = typed.get("height_m", "")
    if not text:
        return None
    try:
        return parse_length_m(text, "the height")
    except FaultsFoundError as error:
        raise _placed(error, "height_m") from None


def _fault(field: str, spoken: str, what: str, remedy: str) -> FaultsFoundError:
    return FaultsFoundError([Finding(spoken, what, remedy, place=(PART, field))])


def _placed(error: FaultsFoundError, field: str) -> FaultsFoundError:
    return FaultsFoundError(
        [Finding(one.where, one.what, one.remedy, place=(PART, field)) for one in error.findings]
    )
