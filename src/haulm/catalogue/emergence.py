"""How soon seed comes up and how much of it does, by the temperature of the soil."""

import tomllib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from importlib.resources.abc import Traversable
from typing import Any

from haulm.catalogue.loader import load_catalogue
from haulm.catalogue.records import Basis, Source
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.measure.near import near_names

FILE = "emergence.toml"
MOST = {"most_c": "most_source"}
_TABLE_FIELDS = {
    "at_c", "days", "none_at_c", "source", "most_c", "most_source", "share_at_c", "share",
    "share_source", "note",
}  # fmt: skip
_CROP_FIELDS = {"table", "basis", "note", "most_c", "most_source"}


@dataclass(frozen=True, slots=True)
class Emergence:
    """How seed of a crop comes up in moist soil held at one temperature.

    Attributes
    ----------
    at_c, days
        Soil temperatures, rising [°C], and the days from sowing to emergence at each [d].
    none_at_c
        Temperatures at which little or none came up [°C].
    most_c
        The greatest soil temperature for seed [°C]; None where none is known.
    share_at_c, share
        Soil temperatures, rising [°C], and the share of seed that gives normal seedlings [1].
    table
        The vegetable whose table it is.
    basis
        *published* where the table is the crop's own, *judged* where it is that of near kin.
    sources
        Ids of the texts it was read in.
    note
        What a reader should know of it.
    """

    at_c: tuple[float, ...]
    days: tuple[float, ...]
    none_at_c: tuple[float, ...]
    most_c: float | None
    share_at_c: tuple[float, ...]
    share: tuple[float, ...]
    table: str
    basis: Basis
    sources: tuple[str, ...]
    note: str = ""


@cache
def load_emergence() -> Mapping[str, Emergence]:
    """Load the tables that come with haulm, by crop; read once, then kept.

    Raises
    ------
    FaultsFoundError
        When the file has faults.
    """
    folder = files("haulm.catalogue") / "data"
    return read_emergence(folder / FILE, load_catalogue().sources)


def emergence_of(crop: str) -> Emergence | None:
    """Give how a crop's seed comes up; None where no table is known."""
    return load_emergence().get(crop)


def read_emergence(file: Traversable, sources: Mapping[str, Source]) -> dict[str, Emergence]:
    """Read the tables of a file, by crop.

    Raises
    ------
    FaultsFoundError
        With every fault found: lists that do not go together, temperatures out of order, days of
        nothing, shares above 1, sources and tables that are not known.
    """
    told = tomllib.loads(file.read_text(encoding="utf-8"))
    tables, crops = told.get("tables", {}), told.get("crops", {})
    faults = [
        *(found for name, table in tables.items() for found in _table_faults(name, table, sources)),
        *(found for crop, entry in crops.items() for found in _crop_faults(crop, entry, tables)),
        *(
            found
            for crop, entry in crops.items()
            for found in _source_faults(f"{FILE}, crops, {crop}", entry, sources, MOST)
        ),
    ]
    if faults:
        raise FaultsFoundError(faults)
    return {crop: _emergence(entry, tables[entry["table"]]) for crop, entry in crops.items()}


def _emergence(entry: Mapping[str, Any], table: Mapping[str, Any]) -> Emergence:
    own = entry if "most_c" in entry else table
    names = (table["source"], own.get("most_source"), table.get("share_source"))
    return Emergence(
        at_c=_floats(table["at_c"]),
        days=_floats(table["days"]),
        none_at_c=_floats(table.get("none_at_c", ())),
        most_c=own.get("most_c"),
        share_at_c=_floats(table.get("share_at_c", ())),
        share=_floats(table.get("share", ())),
        table=entry["table"],
        basis=Basis(entry["basis"]),
        sources=tuple(name for name in names if name is not None),
        note="; ".join(part for part in (entry.get("note"), table.get("note")) if part),
    )


def _floats(values: Sequence[float]) -> tuple[float, ...]:
    return tuple(float(value) for value in values)


def _table_faults(
    name: str, table: Mapping[str, Any], sources: Mapping[str, Source]
) -> Iterator[Finding]:
    where = f"{FILE}, tables, {name}"
    yield from _unknown_fields(where, table, _TABLE_FIELDS)
    for key, values, least, most in (
        ("at_c", "days", 0.0, float("inf")),
        ("share_at_c", "share", -1e-9, 1.0),
    ):
        at, figures = table.get(key, []), table.get(values, [])
        if len(at) != len(figures) or (key == "at_c" and not at):
            what = f"{key} and {values} do not go together."
            yield Finding(where, what, "Give a figure for each temperature.")
        if list(at) != sorted(set(at)):
            yield Finding(where, f"{key} is out of order.", "Let the temperatures rise.")
        if not all(least < figure <= most for figure in figures):
            yield Finding(where, f"{values} holds what cannot be.", "Correct it.")
    both = set(table.get("at_c", [])) & set(table.get("none_at_c", []))
    if both:
        what = f"at {min(both):g} °C seed both comes up and does not."
        yield Finding(where, what, "Take the temperature out of one list.")
    yield from _source_faults(where, table, sources, {"days": "source", "share": "share_source"})
    yield from _source_faults(where, table, sources, MOST)


def _source_faults(
    where: str, table: Mapping[str, Any], sources: Mapping[str, Source], named: Mapping[str, str]
) -> Iterator[Finding]:
    for key, what in named.items():
        if (key in table) != (what in table):
            yield Finding(where, f"{key} and {what} come together.", f"Name the {what}.")
        elif what in table and table[what] not in sources:
            yield Finding(where, f"no source “{table[what]}” is known.", "Add it to sources.toml.")


def _crop_faults(
    crop: str, entry: Mapping[str, Any], tables: Mapping[str, Any]
) -> Iterator[Finding]:
    where = f"{FILE}, crops, {crop}"
    yield from _unknown_fields(where, entry, _CROP_FIELDS)
    name = entry.get("table", "")
    if name not in tables:
        near = near_names(name, tables)
        remedy = f"Is {' or '.join(near)} meant?" if near else "Add the table."
        yield Finding(where, f"no table “{name}” is there.", remedy)
    if entry.get("basis") not in {Basis.PUBLISHED.value, Basis.JUDGED.value}:
        what = "its basis is neither published nor judged."
        yield Finding(where, what, "Its own table is published, that of near kin judged.")
    elif entry["basis"] == Basis.JUDGED.value and not entry.get("note"):
        yield Finding(where, "why that table stands in is not said.", "Add a note.")


def _unknown_fields(where: str, table: Mapping[str, Any], known: set[str]) -> Iterator[Finding]:
    for name in sorted(set(table) - known):
        yield Finding(where, f"no such field: {name}.", "Take it out.")
