"""The catalogue read from its files: one for each crop, and one each for what crops share."""

import tomllib
from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from importlib.resources.abc import Traversable
from typing import Any, TypeVar

from haulm.catalogue.reading import Table, read_record
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
    shelves = sorted((folder / "crops").iterdir(), key=lambda file: file.name)
    for file in (file for file in shelves if file.name.endswith(".toml")):
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
    crop = read_record(Crop, table.get("crop", {}), f"{file}, crop", findings)
    if crop is None:
        return
    if crop.id in crops:
        findings.append(Finding(f"{file}, crop", f"“{crop.id}” is there twice.", "Rename one."))
    crops[crop.id] = crop
    for id_, own in table.get("foods", {}).items():
        where = f"{file}, foods, {id_}"
        food = read_record(Food, {**own, "id": id_, "crop": crop.id}, where, findings)
        if food is not None:
            if id_ in foods:
                findings.append(Finding(where, "another crop gives this food.", "Rename one."))
            foods[id_] = food
    for name, own in table.get("kinds", {}).items():
        id_ = f"{crop.id}/{name}"
        filled = fill_from_shared(table.get("shared", {}), own)
        kind = read_record(
            Kind, {**filled, "id": id_, "crop": crop.id}, f"{file}, kinds, {name}", findings
        )
        if kind is not None:
            kinds[id_] = kind


def _read_shared(record: type[R], file: Traversable, findings: list[Finding]) -> dict[str, R]:
    read = {
        id_: read_record(record, {**own, "id": id_}, f"{file.name}, {id_}", findings)
        for id_, own in _parse(file, findings).items()
    }
    return {id_: entry for id_, entry in read.items() if entry is not None}


def _parse(file: Traversable, findings: list[Finding]) -> Table:
    try:
        return tomllib.loads(file.read_text(encoding="utf-8"))
    except (OSError, UnicodeDecodeError, tomllib.TOMLDecodeError) as error:
        findings.append(Finding(file.name, f"cannot be read: {error}.", "Mend the file."))
        return {}
