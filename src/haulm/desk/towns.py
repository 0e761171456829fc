"""Towns of the world by name, so that a place can be told without degrees.

The towns are those of GeoNames with 15,000 people or more: see ``data/README.md``.
"""

import lzma
import unicodedata
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.measure.near import near_names

USUAL_LIMIT = 8


@dataclass(frozen=True, slots=True)
class Town:
    """A town: its country's English name, its state where told, latitude and longitude [°].

    ``region`` is the state of a town in the United States, empty elsewhere.
    """

    name: str
    country: str
    latitude_deg: float
    longitude_deg: float
    region: str = ""


def towns_like(words: str, limit: int = USUAL_LIMIT) -> tuple[Town, ...]:
    """Find towns by the start of their name, accents and capitals making no difference.

    Towns called just so come first, by their own or another name (as Wien for Vienna), then those
    whose own name starts so, those with another name that does, and those with a later word that
    does (as York for New York); the larger first in each. What follows a comma narrows by the
    start of the country or state.

    Parameters
    ----------
    words
        What was typed; nothing at all finds nothing.
    limit
        How many towns at most.
    """
    typed, _, within = (folded(part).strip() for part in words.partition(","))
    if not typed:
        return ()
    ranks: tuple[list[int], ...] = ([], [], [], [])
    for number, (own, others) in enumerate(_names()):
        if own == typed or f"\t{typed}\t" in others:
            ranks[0].append(number)
        elif own.startswith(typed):
            ranks[1].append(number)
        elif f"\t{typed}" in others:
            ranks[2].append(number)
        elif f" {typed}" in own:
            ranks[3].append(number)
    towns = (_towns()[number] for rank in ranks for number in rank)
    found = [town for town in towns if _lies_in(town, within)]
    return tuple(found[:limit])


def town_named(name: str, country: str) -> Town:
    """Give the largest town of a name in a country, accents and capitals making no difference.

    Raises
    ------
    FaultsFoundError
        When the country has no such town on the list; near names are told.
    """
    wanted, land = folded(name).strip(), folded(country).strip()
    here = [town for town in _towns() if folded(town.country) == land]
    for town in here:
        if folded(town.name) == wanted:
            return town
    near = near_names(name, [town.name for town in here])
    remedy = "Choose a larger town near you, or give latitude and longitude."
    if near:
        remedy = f"Did you mean {', '.join(near)}? {remedy}"
    what = f"no town called “{name}” in “{country}” is on the list."
    raise FaultsFoundError([Finding("the place", what, remedy, place=("first", "place_name"))])


def folded(name: str) -> str:
    """Take the accents off a name and make it small."""
    split = unicodedata.normalize("NFKD", name.casefold())
    return "".join(letter for letter in split if not unicodedata.combining(letter))


def _lies_in(town: Town, within: str) -> bool:
    """Tell whether a town's country or state starts so; nothing asked is always so."""
    return any(folded(land).startswith(within) for land in (town.country, town.region) if land)


@cache
def _lines() -> tuple[tuple[str, ...], ...]:
    """Read the list once: name, country, state, latitude, longitude, other names; largest first."""
    packed = (files("haulm.desk") / "data" / "towns.tsv.xz").read_bytes()
    return tuple(tuple(line.split("\t")) for line in lzma.decompress(packed).decode().splitlines())


@cache
def _towns() -> tuple[Town, ...]:
    """Make the towns, the largest first."""
    return tuple(
        Town(name, country, float(latitude), float(longitude), region)
        for name, country, region, latitude, longitude, *_ in _lines()
    )


@cache
def _names() -> tuple[tuple[str, str], ...]:
    """Fold each town's own name, and its other names, each between tabs."""
    return tuple(
        (folded(name), folded("\t".join(["", *others, ""])))
        for name, _, _, _, _, *others in _lines()
    )
