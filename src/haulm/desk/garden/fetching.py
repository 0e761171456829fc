"""Fetch a daily record for a garden's place from an open public service, when a grower says so."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path

from haulm.desk.garden.asking import Ask, ask_patiently
from haulm.desk.garden.uploads import load_record
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding, Grade
from haulm.notebook.file import open_notebook
from haulm.site.readers.power import FIRST_YEAR, SERVICE, is_power, power_address

USUAL_YEARS = 30
"""So many years tell odds well, and hold little of a colder climate that is gone [years]."""

PLACE = "--from and --to"


@dataclass(frozen=True, slots=True)
class Network:
    """What fetching needs of the world: what asks, and what waits so many seconds."""

    ask: Ask
    wait: Callable[[float], None]


@dataclass(frozen=True, slots=True)
class Fetched:
    """A record fetched: first and last year, the copy kept beside the notebook, what was noticed.

    ``asked`` is False where the copy was there already and nothing was sent anywhere.
    """

    first: int
    last: int
    copy: Path
    asked: bool
    findings: tuple[Finding, ...]


def years_to_fetch(first: int | None, last: int | None, today: date) -> tuple[int, int]:
    """Give the years to ask for: those told, or the thirty whole years before this one.

    Raises
    ------
    FaultsFoundError
        When they are not in order, or the service has no such years.
    """
    last = today.year - 1 if last is None else last
    first = max(FIRST_YEAR, last - USUAL_YEARS + 1) if first is None else first
    if not FIRST_YEAR <= first <= last <= today.year:
        what = f"{first} to {last} are no years of the service."
        remedy = f"Give years from {FIRST_YEAR} to {today.year}, the earlier one first."
        raise FaultsFoundError([Finding(PLACE, what, remedy)])
    return first, last


def fetch_record(path: Path, years: tuple[int, int], network: Network, at: datetime) -> Fetched:
    """Fetch a garden's record, keep a copy beside the notebook, and make it the garden's weather.

    What is sent is the garden's latitude and longitude to a tenth of a degree, and the years; to
    nobody but the service. A copy that is there already is taken instead, and nothing is sent.

    Parameters
    ----------
    path
        The notebook.
    years
        First and last year, as :func:`years_to_fetch` gives them.
    network
        What asks and waits.
    at
        The time, by which the change is listed in the history.

    Raises
    ------
    FaultsFoundError
        When the service cannot be reached or refuses, or what it gave is no record; the weather
        is then as it was.
    """
    latitude_deg, longitude_deg = place_sent(path)
    first, last = years
    where = f"{latitude_deg:.1f}_{longitude_deg:.1f}".replace("-", "m")
    copy = path.with_name(f"{path.stem}_power_{where}_{first}_{last}.csv")
    asked = not copy.is_file()
    if asked:
        address = power_address(latitude_deg, longitude_deg, first, last)
        content = ask_patiently(address, network.ask, network.wait, SERVICE)
        if not is_power(content.decode("utf-8", "replace")):
            what = "what it gave is not in its documented form."
            raise FaultsFoundError([Finding(SERVICE, what, "Try again later.")])
    else:
        content = copy.read_bytes()
    findings = load_record(path, copy.name, content, None, at)
    if asked:
        # Only what could be read is kept: a broken answer is asked for again.
        copy.write_bytes(content)
    else:
        what = "the copy beside the notebook was taken, and nothing was sent."
        findings = (Finding(copy.name, what, "Delete it to ask again.", Grade.NOTE), *findings)
    return Fetched(first, last, copy, asked, findings)


def place_sent(path: Path) -> tuple[float, float]:
    """Give what would be sent of a garden's place: latitude and longitude to a tenth [°].

    Raises
    ------
    FaultsFoundError
        When the notebook cannot be read, or its place is faulty.
    """
    if path.suffix == ".toml":
        what = "a record is fetched into a notebook."
        raise FaultsFoundError([Finding(path.name, what, f"haulm import {path.name} makes one.")])
    with open_notebook(path) as notebook:
        place = notebook.document().place
    latitude_deg, longitude_deg = round(float(place.latitude), 1), round(float(place.longitude), 1)
    if not (abs(latitude_deg) <= 90 and abs(longitude_deg) <= 180):  # noqa: PLR2004
        what = "latitude or longitude cannot be."
        raise FaultsFoundError([Finding("the place", what, "Mend it first.")])
    return latitude_deg, longitude_deg
