"""Fetch the coming days for a garden's place from an open public service, when a grower says so."""

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from haulm.desk.garden.asking import ask_patiently
from haulm.desk.garden.fetching import Network, place_sent
from haulm.measure.units import parse_length_m
from haulm.notebook.ahead import write_ahead, write_hours
from haulm.notebook.file import open_notebook
from haulm.season.point_forecast import SERVICE, forecast_address, read_forecast


@dataclass(frozen=True, slots=True)
class PlaceAsked:
    """What is sent of a garden's place: degrees to a hundredth, the height in whole metres."""

    latitude_deg: float
    longitude_deg: float
    height_m: float | None

    def words(self) -> str:
        """Say what is sent."""
        height = "" if self.height_m is None else f", height {round(self.height_m)} m"
        return f"latitude {self.latitude_deg:.2f}, longitude {self.longitude_deg:.2f}{height}"


@dataclass(frozen=True, slots=True)
class FetchedAhead:
    """What was fetched: so many days and hours."""

    days: int
    hours: int


def place_asked(path: Path) -> PlaceAsked:
    """Give what would be sent of a garden's place.

    Raises
    ------
    FaultsFoundError
        When the notebook cannot be read, or its place is faulty.
    """
    place_sent(path)
    with open_notebook(path) as notebook:
        place = notebook.document().place
    height_m = None if place.height is None else parse_length_m(place.height, "the height")
    return PlaceAsked(round(float(place.latitude), 2), round(float(place.longitude), 2), height_m)


def fetch_ahead(path: Path, network: Network, at: datetime) -> FetchedAhead:
    """Fetch the coming days for a garden and write them down.

    One request is made; what is sent is what :func:`place_asked` gives, to nobody but the service.

    Parameters
    ----------
    path
        The notebook.
    network
        What asks and waits.
    at
        The time, with its zone.

    Raises
    ------
    FaultsFoundError
        When the service cannot be reached or refuses, or what it gave cannot be read; nothing is
        written then.
    """
    asked = place_asked(path)
    address = forecast_address(asked.latitude_deg, asked.longitude_deg, asked.height_m)
    content = ask_patiently(address, network.ask, network.wait, SERVICE)
    found = read_forecast(content.decode("utf-8", "replace"), asked.longitude_deg, at)
    with open_notebook(path, writing=True) as notebook:
        write_ahead(notebook, found.days)
        write_hours(notebook, found.hours)
    return FetchedAhead(len(found.days), len(found.hours))
