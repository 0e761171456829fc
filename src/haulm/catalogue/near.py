"""Finding things of the catalogue by name."""

from collections.abc import Mapping
from typing import TypeVar

from haulm.catalogue.records import Catalogue, Crop, Food, Kind

Named = TypeVar("Named", Crop, Food, Kind)


def find_crop(catalogue: Catalogue, word: str) -> Crop | None:
    """Find a crop by its id or its name, whatever the case; None when there is none."""
    return _find(catalogue.crops, word)


def find_kind(catalogue: Catalogue, word: str) -> Kind | None:
    """Find a kind by its id or its name, whatever the case; None when there is none."""
    return _find(catalogue.kinds, word)


def find_food(catalogue: Catalogue, word: str) -> Food | None:
    """Find a food by its id or its name, whatever the case; None when there is none."""
    return _find(catalogue.foods, word)


def _find(table: Mapping[str, Named], word: str) -> Named | None:
    """Find by id or name, case and spaces passed over."""
    plain = _plain(word)
    for id_, named in table.items():
        if plain in {_plain(id_), _plain(named.name)}:
            return named
    return None


def _plain(word: str) -> str:
    """Bring a word to the form in which names are compared."""
    return " ".join(word.casefold().split())
