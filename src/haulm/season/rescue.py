"""Sprouted food found in a count: what of it can still be eaten, planted, or kept another way."""

import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cache
from importlib.resources import files

from haulm.catalogue.figures import Basis
from haulm.season.ledger_records import LedgerLot
from haulm.season.records import Entry, EntryKind

NOTHING_KG = 0.005
SEEN_DAYS = 400
"""A trouble seen so long ago still bars planting: it was on the plants that the lot came from."""


@dataclass(frozen=True, slots=True)
class Way:
    """What sprouted food of one kind is good for, in words.

    ``not_after`` are troubles after which none is planted; ``basis`` and ``source`` say what the
    rest stands on.
    """

    eat: str
    plant: str
    keep: str
    not_after: tuple[str, ...]
    basis: Basis
    source: str = ""


@dataclass(frozen=True, slots=True)
class Rescue:
    """Sprouted food that lies aside.

    Attributes
    ----------
    lot, kg
        The lot, and how much of it was found sprouted and is not gone yet [kg].
    way
        What it is good for; None where nobody has told.
    barred
        Troubles seen on its kind, with the day, for which none of it is to be planted.
    """

    lot: LedgerLot
    kg: float
    way: Way | None
    barred: tuple[tuple[str, date], ...]


@cache
def rescue_ways() -> Mapping[str, Way]:
    """Read what sprouted food is good for, by food."""
    text = files("haulm.season").joinpath("data", "rescue.toml").read_text(encoding="utf-8")
    return {
        food: Way(
            entry["eat"],
            entry["plant"],
            entry["keep"],
            tuple(entry["not_after"]),
            Basis(entry["basis"]),
            entry.get("source", ""),
        )
        for food, entry in tomllib.loads(text).items()
    }


def rescues(lots: Iterable[LedgerLot], entries: Iterable[Entry], day: date) -> tuple[Rescue, ...]:
    """Say what to do with what counts found sprouted and nobody has eaten, given or thrown.

    Parameters
    ----------
    lots
        All lots in the books.
    entries
        The diary's entries, for the troubles seen.
    day
        Today.
    """
    troubles = [
        entry
        for entry in entries
        if entry.kind is EntryKind.TROUBLE and day - entry.day <= timedelta(days=SEEN_DAYS)
    ]
    found = []
    for lot in lots:
        last = lot.counts[-1] if lot.counts else None
        if last is None or last.lost_kg <= 0:
            continue
        kg = last.sprouted_kg * lot.aside_kg / last.lost_kg
        if kg > NOTHING_KG:
            way = rescue_ways().get(lot.food)
            crop = (lot.kind or lot.food).partition("/")[0]
            barred = troubles_on(crop, way.not_after, troubles) if way else ()
            found.append(Rescue(lot, kg, way, barred))
    return tuple(found)


def troubles_on(
    crop: str, not_after: Iterable[str], troubles: Iterable[Entry]
) -> tuple[tuple[str, date], ...]:
    """Find the troubles seen on a crop after which none of it is planted, each with its day.

    Parameters
    ----------
    crop
        The crop's id.
    not_after
        Words of the troubles that bar planting.
    troubles
        The entries of the diary that tell of a trouble.
    """
    words = tuple(not_after)
    seen = {}
    for entry in troubles:
        about = entry.about
        of = (about.kind or (about.planting or "").partition(":")[0]).partition("/")[0]
        trouble = (about.trouble or "").casefold()
        if of == crop and any(word in trouble for word in words):
            seen[about.trouble or ""] = entry.day
    return tuple(seen.items())
