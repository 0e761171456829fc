"""The catalogue read from its files: one for each crop, and one each for what crops share."""

import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cache
from importlib.resources import files
from importlib.resources.abc import Traversable
from typing import Any, TypeVar

from haulm.catalogue.caution_records import Caution
from haulm.catalogue.figure_reading import is_figure
from haulm.catalogue.placed import Place, Placed, merged, parse_placed, place_of, way_known
from haulm.catalogue.reading import Table, read_record, with_names
from haulm.catalogue.records import Catalogue, Crop, Disease, Family, Food, Kind, Source
from haulm.catalogue.soundness import crossings
from haulm.catalogue.standing_in import fill_from_kin
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding

R = TypeVar("R")
T = TypeVar("T", Crop, Food, Kind)

#: Parts of a kind held by name: a kind that names any of them has those only, each filled from
#: the shared one of the same name.
_HELD_BY_NAME = ("methods", "phases", "givings", "keeping", "years", "care")


@dataclass(frozen=True, slots=True)
class CatalogueRead:
    """A catalogue, and where it stands in its files.

    ``tables`` holds, for each id of a crop, kind, food, family, disease, caution or source, every
    table of that id as parsed.
    """

    catalogue: Catalogue
    tables: Mapping[str, Sequence[Placed]]

    def place(self, way: str) -> Place | None:
        """Find the line that a way speaks of: an id and names of keys, parted by commas."""
        return _place(self.tables, way)


@cache
def load_catalogue() -> Catalogue:
    """Load the catalogue that comes with haulm; read once, then kept.

    Raises
    ------
    FaultsFoundError
        When its files have faults; every one is listed with its file, line and field.
    """
    return load_with_places().catalogue


@cache
def load_with_places() -> CatalogueRead:
    """Load the catalogue that comes with haulm, and where each figure stands in its files.

    Raises
    ------
    FaultsFoundError
        As `load_catalogue`.
    """
    return read_with_places(files("haulm.catalogue") / "data")


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
    return read_with_places(folder).catalogue


def read_with_places(folder: Traversable) -> CatalogueRead:
    """Read a catalogue as `read_catalogue` does, and keep where each figure stands.

    Raises
    ------
    FaultsFoundError
        With every fault found in any of the files.
    """
    reader = _Reader()
    crops = [reader.crop(reader.parsed(file), file.name) for file in reader.crop_files(folder)]
    kinds, unfilled = fill_from_kin({id_: table for ids in crops for id_, table in ids.items()})
    reader.findings.extend(unfilled)
    catalogue = Catalogue(
        crops=reader.crops,
        kinds=reader.kinds(kinds),
        foods=reader.foods,
        families=reader.shared(Family, folder / "families.toml"),
        diseases=reader.shared(Disease, folder / "diseases.toml"),
        cautions=reader.shared(Caution, folder / "cautions.toml"),
        sources=reader.shared(Source, folder / "sources.toml"),
    )
    if not reader.findings:
        reader.findings.extend(
            _with_place(finding, _place(reader.tables, finding.where))
            for finding in crossings(catalogue)
        )
    if reader.findings:
        raise FaultsFoundError(reader.findings)
    return CatalogueRead(catalogue, reader.tables)


def fill_from_shared(shared: Table, own: Table) -> dict[str, Any]:
    """Fill a kind's tables from those its crop shares, the kind's own figures going first.

    Methods, phases, givings and forms of keeping are held by name: a kind that names any has those
    only, each filled from the shared one of that name. A figure is taken whole, never mixed.
    """
    filled = merged(shared, own)
    for name, value in own.items():
        base = shared.get(name, {})
        if _taken_whole(value) or _taken_whole(base):
            filled[name] = value
        elif name in _HELD_BY_NAME:
            filled[name] = _each_filled(base, value)
        else:
            filled[name] = fill_from_shared(base, value)
    return filled


def _taken_whole(value: object) -> bool:
    return not isinstance(value, Mapping) or is_figure(value)


def _each_filled(base: Table, own: Table) -> dict[str, Any]:
    """Fill each table held by name from the shared one of its name."""
    filled = {
        name: fill_from_shared(base.get(name, {}), entry) if isinstance(entry, Mapping) else entry
        for name, entry in own.items()
    }
    return Placed(filled, own.place, (own,)) if isinstance(own, Placed) else filled


@dataclass
class _Reader:
    """Reads file after file, gathering what they hold and all that is wrong with them."""

    findings: list[Finding] = field(default_factory=list)
    tables: dict[str, list[Placed]] = field(default_factory=dict)
    crops: dict[str, Crop] = field(default_factory=dict)
    foods: dict[str, Food] = field(default_factory=dict)
    files: dict[str, str] = field(default_factory=dict)

    def crop(self, table: Placed, file: str) -> dict[str, Placed]:
        """Read a crop and its foods, and give the tables of its kinds by id, not yet read."""
        for name in sorted(set(table) - {"crop", "foods", "shared", "kinds"}):
            self._told(Finding(f"{file}, {name}", "no such table.", "Take it out."), table, file)
        crop = self._read(Crop, table.get("crop", {}), {}, f"{file}, crop")
        if crop is None:
            return {}
        self._shelve(crop, self.crops, f"{file}, crop", table)
        for name, own in self._named(table, "foods", file).items():
            where = f"{file}, foods, {name}"
            food = self._read(Food, own, {"id": name, "crop": crop.id}, where)
            self._shelve(food, self.foods, where, table)
        shared = self._named(table, "shared", file)
        kinds: dict[str, Placed] = {}
        for name, own in self._named(table, "kinds", file).items():
            id_ = f"{crop.id}/{name}"
            filled = fill_from_shared(shared, own) if isinstance(own, Mapping) else own
            if isinstance(filled, Placed):
                kinds[id_] = filled
                self.files[id_] = f"{file}, kinds, {name}"
            else:
                self._read(Kind, filled, {}, f"{file}, kinds, {name}")
        return kinds

    def kinds(self, tables: Mapping[str, Placed]) -> dict[str, Kind]:
        """Read the kinds of every crop."""
        read: dict[str, Kind] = {}
        for id_, table in tables.items():
            where = self.files[id_]
            kind = self._read(Kind, table, {"id": id_, "crop": id_.rpartition("/")[0]}, where)
            self._shelve(kind, read, where, table)
        return read

    def shared(self, record: type[R], file: Traversable) -> dict[str, R]:
        """Read a file whose every table is one record, its name the id."""
        read = {
            id_: self._read(record, own, {"id": id_}, f"{file.name}, {id_}")
            for id_, own in self.parsed(file).items()
        }
        return {id_: entry for id_, entry in read.items() if entry is not None}

    def crop_files(self, folder: Traversable) -> list[Traversable]:
        """List the crops' files by name."""
        try:
            there = [file for file in (folder / "crops").iterdir() if file.name.endswith(".toml")]
        except OSError as error:
            remedy = "Put the folder there."
            self.findings.append(Finding("crops", f"cannot be read: {error}.", remedy))
            return []
        return sorted(there, key=lambda file: file.name)

    def parsed(self, file: Traversable) -> Placed:
        """Parse one file; empty, with a finding, where it cannot be read."""
        try:
            return parse_placed(file.read_text(encoding="utf-8"), file.name)
        except (OSError, UnicodeDecodeError, tomllib.TOMLDecodeError) as error:
            self.findings.append(Finding(file.name, f"cannot be read: {error}.", "Mend the file."))
            return parse_placed("", file.name)

    def _named(self, table: Placed, name: str, file: str) -> Table:
        """Give one of a file's tables of tables; empty, with a finding, where it is none."""
        named = table.get(name, {})
        if isinstance(named, Mapping):
            return named
        finding = Finding(f"{file}, {name}", "a table is needed here.", "Write it as one.")
        self._told(finding, table, file)
        return {}

    def _shelve(self, thing: T | None, shelf: dict[str, T], where: str, table: Placed) -> None:
        """Put a thing on its shelf; tell when its id stands there already."""
        if thing is None:
            return
        if thing.id in shelf:
            finding = Finding(where, f"“{thing.id}” is there already.", "Rename one.")
            self._told(finding, table, table.place.file.name)
        shelf[thing.id] = thing

    def _read(
        self, record: type[R], table: Table, names: Mapping[str, str], where: str
    ) -> R | None:
        """Read one record; collect its faults and give None where there are any."""
        try:
            named = with_names(table, names)
            read = read_record(record, named, where)
        except FaultsFoundError as error:
            for finding in error.findings:
                self._told(finding, table, where)
            return None
        if isinstance(named, Placed):
            self.tables.setdefault(str(named.get("id")), []).append(named)
        return read

    def _told(self, finding: Finding, table: Table, before: str) -> None:
        """Collect a finding with the line of the table that it speaks of."""
        way = finding.where.removeprefix(before).removeprefix(", ")
        self.findings.append(_with_place(finding, place_of(table, way)))


def _with_place(finding: Finding, place: Place | None) -> Finding:
    """Add to a finding the file and line it speaks of."""
    if place is None:
        return finding
    named = finding.where.partition(", ")[0] == place.file.name
    told = f"line {place.line}" if named else str(place)
    return replace(finding, where=f"{finding.where} ({told})")


def _place(tables: Mapping[str, Sequence[Placed]], where: str) -> Place | None:
    """Find the line that a way speaks of: the id of a thing, and names of keys within it."""
    ids = [id_ for id_ in tables if where == id_ or where.startswith(f"{id_}, ")]
    ways = [(table, where[len(id_) + 2 :]) for id_ in ids for table in tables[id_]]
    if not ways:
        return None
    return place_of(*max(ways, key=lambda way: way_known(*way)))
