"""Curing: what hangs, when it is likely done and how that is told, what was put by of it."""

import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date, timedelta
from functools import cache
from importlib.resources import files
from typing import Any

from haulm.catalogue.figures import Basis, Figure
from haulm.season.records import Entry, EntryKind, as_kg

CureDays = tuple[int, int, int]
"""Days that curing takes: at the least, usually, at the most."""


@dataclass(frozen=True, slots=True)
class Curing:
    """How a food cures: the test for done, what it asks, how to trim it.

    ``load_kg_m2`` is what a square metre of rack takes [kg/m²]; ``lost`` the share of weight that
    goes in drying and trimming [1].
    """

    done: str
    asks: str
    trim: str
    load_kg_m2: Figure
    lost: Figure


@dataclass(frozen=True, slots=True)
class Hung:
    """What was hung to cure.

    Attributes
    ----------
    id
        The entry that says so.
    food, kind, store
        What and where; None where it was not told.
    begun
        The day it was hung.
    kg
        How much [kg]; None where it was not weighed.
    done_on
        The days on which it is done at the soonest, usually, and at the latest; None where nobody
        knows how long it takes.
    ended
        The day it was taken down; None while it hangs.
    put_by_kg
        What was put by of it [kg].
    """

    id: str
    food: str
    kind: str | None
    store: str | None
    begun: date
    kg: float | None
    done_on: tuple[date, date, date] | None
    ended: date | None = None
    put_by_kg: float = 0.0

    @property
    def gone_kg(self) -> float | None:
        """What went in drying and trimming [kg]; None where that cannot be told."""
        if self.kg is None or self.ended is None or not self.put_by_kg:
            return None
        return self.kg - self.put_by_kg


@cache
def curings() -> Mapping[str, Curing]:
    """Read how foods cure, by food."""
    text = files("haulm.season").joinpath("data", "curing.toml").read_text(encoding="utf-8")
    return {
        food: Curing(
            entry["done"],
            entry["asks"],
            entry["trim"],
            _figure(entry["load_kg_m2"]),
            _figure(entry["lost"]),
        )
        for food, entry in tomllib.loads(text).items()
    }


def _figure(entry: Mapping[str, Any]) -> Figure:
    return Figure(**{**entry, "value": float(entry["value"]), "basis": Basis(entry["basis"])})


def hung(
    entries: Iterable[Entry],
    days: Mapping[tuple[str, str | None], CureDays],
    piece_kg: Mapping[str, float],
) -> tuple[Hung, ...]:
    """Follow what was hung to cure from the day it was hung until it was put by.

    An entry *cured* hangs a food; one that names that entry as its lot takes it down. Put by naming
    it as its lot, or put by of the same food while just one such hangs, it is taken down too.

    Parameters
    ----------
    entries
        The diary's entries, corrections worked in.
    days
        How long each kind of a food takes, by food and kind; under None, of any kind.
    piece_kg
        What a piece of each food weighs [kg].
    """
    found: dict[str, Hung] = {}
    hanging: set[str] = set()
    for entry in sorted(entries, key=lambda one: (one.day, one.written_at)):
        about = entry.about
        if entry.kind is EntryKind.CURED and about.lot is None and about.food is not None:
            found[entry.id] = _begun(entry, days, piece_kg)
            hanging.add(entry.id)
        elif entry.kind is EntryKind.CURED and about.lot in found:
            found[about.lot] = replace(found[about.lot], ended=entry.day)
            hanging.discard(about.lot)
        elif entry.kind is EntryKind.PUT_BY:
            of = _put_by_of(entry, found, hanging)
            if of is not None:
                kg = as_kg(entry.amount, piece_kg.get(of.food)) or 0.0
                found[of.id] = replace(of, ended=of.ended or entry.day, put_by_kg=of.put_by_kg + kg)
                hanging.discard(of.id)
    return tuple(found.values())


def rack_m2(one: Hung) -> float | None:
    """Give the rack that something hung takes [m²]; None where that is not known."""
    curing = curings().get(one.food)
    return one.kg / curing.load_kg_m2.value if curing and one.kg is not None else None


def _begun(
    entry: Entry,
    days: Mapping[tuple[str, str | None], CureDays],
    piece_kg: Mapping[str, float],
) -> Hung:
    about = entry.about
    food = about.food or ""
    takes = days.get((food, about.kind)) or days.get((food, None))
    soonest, usual, latest = (entry.day + timedelta(days=one) for one in takes or (0, 0, 0))
    return Hung(
        id=entry.id,
        food=food,
        kind=about.kind,
        store=about.store,
        begun=entry.day,
        kg=as_kg(entry.amount, piece_kg.get(food)),
        done_on=(soonest, usual, latest) if takes else None,
    )


def _put_by_of(entry: Entry, found: Mapping[str, Hung], hanging: Iterable[str]) -> Hung | None:
    """Find what was put by: what it names, or the one that hangs of that food."""
    about = entry.about
    if about.lot is not None:
        return found.get(about.lot)
    hangs = [
        one
        for one in map(found.__getitem__, hanging)
        if one.food == about.food
        and one.begun <= entry.day
        and (about.kind is None or one.kind is None or one.kind == about.kind)
    ]
    return hangs[0] if len(hangs) == 1 else None
