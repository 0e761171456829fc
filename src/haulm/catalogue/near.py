"""Finding things of the catalogue by name, and the near name where there is none."""

from collections.abc import Iterable, Mapping
from difflib import get_close_matches
from typing import TypeVar

from haulm.catalogue.records import Catalogue, Crop, Food, Kind

Named = TypeVar("Named", Crop, Food, Kind)


def near_names(word: str, known: Iterable[str]) -> tuple[str, ...]:
    """Give up to three known names that a word may be a slip for, nearest first.

    Case is passed over; a known name of which the word is a whole word counts as near.
    """
    by_plain = {_plain(name): name for name in known}
    plain = _plain(word)
    close = get_close_matches(plain, by_plain, n=3, cutoff=0.6)
    within = [name for name in by_plain if plain in name.replace("/", " ").split()]
    return tuple(by_plain[name] for name in dict.fromkeys([*close, *within]))[:3]


def find_kind(catalogue: Catalogue, word: str) -> Kind | None:
    """Find a kind by its id or its name, whatever the case; None when there is none."""
    return _find(catalogue.kinds, word)


def find_food(catalogue: Catalogue, word: str) -> Food | None:
    """Find a food by its id or its name, whatever the case; None when there is none."""
    return _find(catalogue.foods, word)


def find_crop(catalogue: Catalogue, word: str) -> Crop | None:
    """Find a crop by its id or its name, whatever the case; None when there is none."""
    return _find(catalogue.crops, word)


def _find(table: Mapping[str, Named], word: str) -> Named | None:
    plain = _plain(word)
    for id_, named in table.items():
        if plain in {_plain(id_), _plain(named.name)}:
            return named
    return None


def _plain(word: str) -> str:
    return " ".join(word.casefold().replace("_", " ").split())
