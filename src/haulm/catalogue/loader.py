"""The catalogue read from its files: one for each crop, and one each for what crops share."""

import tomllib
from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from importlib.resources.abc import Traversable
from typing import Any, TypeVar

from haulm.catalogue.reading import Table, read_record, with_names
from haulm.catalogue.records import (
    Catalogue,
    Caution,
    Crop,
    Disease,
    Family,
    Food,
    Kind,
    Source,
)
from haulm.catalogue.soundness import crossings
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding

R = TypeVar("R")
T = TypeVar("T", Crop, Food, Kind)

#: Parts of a kind held by name: a kind that names any of them has those only, each filled from
#: the shared one of the same name.
_HELD_BY_NAME = ("methods", "phases", "givings", "keeping")


@cache
def load_catalogue() -> Catalogue:
    """Load the catalogue that comes with haulm; read once, then kept.

    Raises
    ------
    FaultsFoundError
        When its files have faults; every one is listed with its file and field.
    """
    return read_catalogue(files("haulm.catalogue") / "data")


def read_catalogue(folder: Traversable) -> Catalogue:
    """Read a catalogue from a folder of files.

    Parameters
    ----------
    folder
        Holds ``sources.toml``, ``families.toml``, ``diseases.toml``, ``cautions.toml`` and the
        folder ``crops`` with one file for each crop.

    Raises
    ------
    FaultsFoundError
        With every fault found in any of the files.
    """
    findings: list[Finding] = []
    crops: dict[str, Crop] = {}
    foods: dict[str, Food] = {}
    kinds: dict[str, Kind] = {}
    for file in _crop_files(folder, findings):
        _read_crop(_parse(file, findings), file.name, (crops, foods, kinds), findings)
    catalogue = Catalogue(
        crops=crops,
        kinds=kinds,
        foods=foods,
        families=_read_shared(Family, folder / "families.toml", findings),
        diseases=_read_shared(Disease, folder / "diseases.toml", findings),
        cautions=_read_shared(Caution, folder / "cautions.toml", findings),
        sources=_read_shared(Source, folder / "sources.toml", findings),
    )
    if not findings:
        findings.extend(crossings(catalogue))
    if findings:
        raise FaultsFoundError(findings)
    return catalogue


def fill_from_shared(shared: Table, own: Table) -> dict[str, Any]:
    """Fill a kind's tables from those its crop shares, the kind's own figures going first.

    Methods, phases, givings and forms of keeping are held by name: a kind that names any has those
    only, each filled from the shared one of that name. A figure is taken whole, never mixed.
    """
    filled = dict(shared)
    for name, value in own.items():
        base = shared.get(name, {})
        if not isinstance(value, Mapping) or not isinstance(base, Mapping) or "value" in value:
            filled[name] = value
        elif name in _HELD_BY_NAME:
            filled[name] = {
                key: fill_from_shared(base.get(key, {}), entry) for key, entry in value.items()
            }
        else:
            filled[name] = fill_from_shared(base, value)
    return filled


def _read_crop(
    table: Table,
    file: str,
    shelves: tuple[dict[str, Crop], dict[str, Food], dict[str, Kind]],
    findings: list[Finding],
) -> None:
    """Read one crop's file onto the three shelves: crops, foods, kinds."""
    crops, foods, kinds = shelves
    findings.extend(
        Finding(f"{file}, {name}", "no such table.", "Take it out.")
        for name in sorted(set(table) - {"crop", "foods", "shared", "kinds"})
    )
    crop = _read(Crop, table.get("crop", {}), {}, f"{file}, crop", findings)
    if crop is None:
        return
    _shelve(crop, crops, f"{file}, crop", findings)
    for id_, own in _named(table, "foods", file, findings).items():
        where = f"{file}, foods, {id_}"
        food = _read(Food, own, {"id": id_, "crop": crop.id}, where, findings)
        _shelve(food, foods, where, findings)
    shared = _named(table, "shared", file, findings)
    for name, own in _named(table, "kinds", file, findings).items():
        where = f"{file}, kinds, {name}"
        filled = fill_from_shared(shared, own) if isinstance(own, Mapping) else own
        ids = {"id": f"{crop.id}/{name}", "crop": crop.id}
        _shelve(_read(Kind, filled, ids, where, findings), kinds, where, findings)


def _named(table: Table, name: str, file: str, findings: list[Finding]) -> Table:
    """Give one of a file's tables of tables; empty, with a finding, where it is none."""
    named = table.get(name, {})
    if isinstance(named, Mapping):
        return named
    findings.append(Finding(f"{file}, {name}", "a table is needed here.", "Write it as one."))
    return {}


def _shelve(thing: T | None, shelf: dict[str, T], where: str, findings: list[Finding]) -> None:
    """Put a thing on its shelf; tell when its id stands there already."""
    if thing is None:
        return
    if thing.id in shelf:
        findings.append(Finding(where, f"“{thing.id}” is there already.", "Rename one."))
    shelf[thing.id] = thing


def _read(
    record: type[R], table: Table, names: Mapping[str, str], where: str, findings: list[Finding]
) -> R | None:
    """Read one record; collect its faults and give None where there are any."""
    try:
        return read_record(record, with_names(table, names), where)
    except FaultsFoundError as error:
        findings.extend(error.findings)
        return None


def _read_shared(record: type[R], file: Traversable, findings: list[Finding]) -> dict[str, R]:
    """Read a file whose every table is one record, its name the id."""
    read = {
        id_: _read(record, own, {"id": id_}, f"{file.name}, {id_}", findings)
        for id_, own in _parse(file, findings).items()
    }
    return {id_: entry for id_, entry in read.items() if entry is not None}


def _crop_files(folder: Traversable, findings: list[Finding]) -> list[Traversable]:
    """List the crops' files by name."""
    try:
        files_there = [file for file in (folder / "crops").iterdir() if file.name.endswith(".toml")]
    except OSError as error:
        findings.append(Finding("crops", f"cannot be read: {error}.", "Put the folder there."))
        return []
    return sorted(files_there, key=lambda file: file.name)


def _parse(file: Traversable, findings: list[Finding]) -> Table:
    """Parse one file; empty, with a finding, where it cannot be read."""
    try:
        return tomllib.loads(file.read_text(encoding="utf-8"))
    except (OSError, UnicodeDecodeError, tomllib.TOMLDecodeError) as error:
        findings.append(Finding(file.name, f"cannot be read: {error}.", "Mend the file."))
        return {}
