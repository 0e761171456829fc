"""Tables that know where in which file each of their keys stands."""

import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from haulm.catalogue.lines import Path, key_lines


class TomlText:
    """The text of a TOML file; where its keys stand is read only when somebody asks."""

    def __init__(self, name: str, text: str) -> None:
        self.name = name
        self.text = text

    @cached_property
    def lines(self) -> Mapping[Path, int]:
        """The line of every key."""
        return key_lines(self.text)


@dataclass(frozen=True, slots=True)
class Place:
    """Where a key stands: a file, and the way to it there."""

    file: TomlText
    path: Path = ()

    @property
    def line(self) -> int:
        """The line in the file, counted from 1."""
        return self.file.lines.get(self.path, 1)

    def __str__(self) -> str:
        return f"{self.file.name}, line {self.line}"


class Placed(dict[str, Any]):
    """A table as parsed, with the place of itself and of each of its keys.

    Attributes
    ----------
    place
        Where the table begins.
    layers
        The tables as parsed that it is put together from, the last going first; none for a table
        that is as it was parsed itself.
    whose
        The id of the kind that a figure is borrowed from; empty for a crop's own.
    """

    __slots__ = ("layers", "place", "whose")

    def __init__(
        self,
        values: Mapping[str, Any],
        place: Place,
        made_of: "Sequence[Placed]" = (),
        whose: str = "",
    ) -> None:
        super().__init__(values)
        self.place = place
        self.layers: tuple[Placed, ...] = tuple(
            layer for table in made_of for layer in table.layers or (table,)
        )
        self.whose = whose

    @property
    def key_places(self) -> Mapping[str, Place]:
        """Where each key stands; a table put together from several files has places in each."""
        return {
            key: Place(layer.place.file, (*layer.place.path, key))
            for layer in self.layers or (self,)
            for key in layer
        }


def parse_placed(text: str, file: str) -> Placed:
    """Parse a TOML text into tables with places.

    Raises
    ------
    tomllib.TOMLDecodeError
        When the text is not TOML.
    """
    return _placed_table(tomllib.loads(text), (), TomlText(file, text))


def merged(base: Mapping[str, Any], over: Mapping[str, Any]) -> dict[str, Any]:
    """Lay a table over another: its keys go first, and every key keeps its place."""
    values = {**base, **over}
    tables = [table for table in (base, over) if isinstance(table, Placed)]
    if not tables:
        return values
    return Placed(values, tables[-1].place, tables, tables[-1].whose)


def place_of(table: Mapping[str, Any], way: str) -> Place | None:
    """Find where the last known key on a way stands; None in a table that has no places."""
    return _followed(table, way)[1] if isinstance(table, Placed) else None


def way_known(table: Mapping[str, Any], way: str) -> int:
    """Count the letters of a way that a table knows: the more, the likelier it is the one meant."""
    return _followed(table, way)[0] if isinstance(table, Placed) else 0


def _followed(table: Placed, way: str) -> tuple[int, Place]:
    """Follow a way as far as it leads: the letters used of it, and the place reached."""
    best = (0, table.place)
    if not way:
        return best
    key_places = table.key_places
    for key in sorted(table, key=len, reverse=True):
        if way == key or way.startswith(f"{key}, "):
            used, place = len(key), key_places.get(key, table.place)
            inner = table[key]
            if isinstance(inner, Placed) and len(way) > used:
                more, deeper = _followed(inner, way[used + 2 :])
                return (used + 2 + more, deeper) if more else (used, place)
            return used, place
    for key, inner in table.items():
        if isinstance(inner, Placed) and key in key_places:
            best = max(best, _followed(inner, way), key=lambda found: found[0])
    return best


def _placed(value: Any, path: Path, file: TomlText) -> Any:  # noqa: ANN401 -- a TOML value may be anything
    if isinstance(value, list):
        return [_placed(entry, (*path, n), file) for n, entry in enumerate(value)]
    return _placed_table(value, path, file) if isinstance(value, dict) else value


def _placed_table(table: Mapping[str, Any], path: Path, file: TomlText) -> Placed:
    inner = {key: _placed(entry, (*path, key), file) for key, entry in table.items()}
    return Placed(inner, Place(file, path))
