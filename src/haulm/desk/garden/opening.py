"""Open a garden, whichever of its two forms a path names."""

from dataclasses import dataclass, replace
from datetime import date
from functools import cache, lru_cache
from pathlib import Path

from haulm.catalogue.loader import load_catalogue
from haulm.catalogue.own import Own, with_own
from haulm.catalogue.records import Catalogue
from haulm.measure.findings import Finding
from haulm.notebook.diary import Wanted, read_diary
from haulm.notebook.file import open_notebook
from haulm.notebook.garden import Garden
from haulm.notebook.names import KnownNames, known_names
from haulm.notebook.toml_reader import read_garden_toml
from haulm.season.found import found_in_beds
from haulm.season.records import Entry, EntryKind

TOML = ".toml"
TROUBLES = Wanted(kinds=frozenset({EntryKind.TROUBLE}))


@dataclass(frozen=True, slots=True)
class Opened:
    """A garden and what was noticed on opening it, with its catalogue: haulm's and its own.

    ``notebook`` is the path of its notebook, or None when it was read from garden.toml.
    """

    garden: Garden
    catalogue: Catalogue
    findings: tuple[Finding, ...]
    notebook: Path | None


def open_garden(path: Path) -> Opened:
    """Open a garden from its notebook or from garden.toml.

    A disease of the soil that the notebook's diary says was seen in a bed stands with what was
    found there.

    Raises
    ------
    FaultsFoundError
        With every fault in the garden at once.
    """
    known = usual_names()
    if path.suffix.lower() == TOML:
        garden, findings = read_garden_toml(path, known)
        return Opened(garden, catalogue_of(garden), findings, None)
    with open_notebook(path) as notebook:
        garden, findings = notebook.garden(known)
        entries = read_diary(notebook, TROUBLES).entries
    garden = _with_found(garden, entries)
    return Opened(garden, catalogue_of(garden), findings, path)


def _with_found(garden: Garden, entries: tuple[Entry, ...]) -> Garden:
    """Give a garden whose beds know of diseases of the soil that the diary says were seen there."""
    found = found_in_beds(entries, load_catalogue().diseases) if entries else {}
    if not found:
        return garden
    beds = tuple(
        replace(bed, found=tuple(dict.fromkeys((*bed.found, *found.get(bed.id, ())))))
        for bed in garden.beds
    )
    return replace(garden, beds=beds)


def catalogue_of(garden: Garden) -> Catalogue:
    """Give a garden's catalogue: haulm's, with what the household has of its own."""
    return _catalogue_with(garden.own)


def names_of(garden: Garden) -> KnownNames:
    """Give the names of a garden's catalogue, gathered once for each catalogue."""
    return _names_with(garden.own)


@cache
def usual_names() -> KnownNames:
    """Give the names of haulm's catalogue, gathered once."""
    return known_names(load_catalogue())


@lru_cache(maxsize=8)
def _names_with(own: Own) -> KnownNames:
    return known_names(_catalogue_with(own))


@lru_cache(maxsize=8)
def _catalogue_with(own: Own) -> Catalogue:
    """Put a household's own into haulm's catalogue; it was checked when its garden was read."""
    return with_own(load_catalogue(), own)[0]


def day_for(garden: Garden | Path, given: date | None, today: date) -> date:
    """Give the day that counts as today.

    Parameters
    ----------
    garden
        The garden, or the path of its notebook or garden.toml.
    given
        The day that was asked for; it goes before all others.
    today
        The true day; it counts unless the garden, being invented, has a day of its own.

    Raises
    ------
    FaultsFoundError
        With every fault in the garden at once, where it has to be opened.
    """
    if given is not None:
        return given
    opened = open_garden(garden).garden if isinstance(garden, Path) else garden
    return opened.today or today
