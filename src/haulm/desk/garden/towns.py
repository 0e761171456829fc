"""Towns of the world by name, so that a place can be told without degrees.

The towns are those of GeoNames with 15,000 people or more: see ``data/README.md``.
"""

import lzma
import unicodedata
from bisect import bisect_left
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from itertools import islice

from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.measure.near import near_names

USUAL_LIMIT = 8
CALLED_SO, OWN_NAME, OTHER_NAME, LATER_WORD = range(4)
"""How a name was matched, the nearest first."""


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
    index = _index()
    best: dict[int, int] = {}
    for name, rank, number in islice(index, bisect_left(index, (typed,)), None):
        if not name.startswith(typed):
            break
        called_so = name == typed and rank != LATER_WORD
        best[number] = min(best.get(number, LATER_WORD), CALLED_SO if called_so else rank)
    in_order = sorted(best, key=lambda number: (best[number], number))
    found = (town for number in in_order if _lies_in(town := _towns()[number], within))
    return tuple(islice(found, limit))


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
def _index() -> tuple[tuple[str, int, int], ...]:
    """List every folded name that finds a town, with its rank and the town's number, in order."""
    entries = set()
    for number, (name, _, _, _, _, *others) in enumerate(_lines()):
        own = folded(name)
        entries.add((own, OWN_NAME, number))
        entries.update((folded(other), OTHER_NAME, number) for other in others)
        starts = (at + 1 for at, letter in enumerate(own) if letter == " ")
        entries.update((own[start:], LATER_WORD, number) for start in starts)
    return tuple(sorted(entries))
