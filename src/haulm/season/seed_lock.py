"""Seed locked from the kitchen: what was put by to plant, and what the plan keeps back."""

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from math import ceil

from haulm.measure.day_words import long_day
from haulm.measure.findings import Finding, Grade
from haulm.measure.units import Units, show_mass
from haulm.season.ledger import left_kg
from haulm.season.ledger_records import Ledger, LedgerLot
from haulm.season.records import STARTS, EntryKind, Purpose

ENOUGH = 0.995
"""Seed is short where less than this share of what the plan keeps back is there."""


@dataclass(frozen=True, slots=True)
class SeedWanted:
    """A planting to come whose stock may be taken from the household's own store.

    Attributes
    ----------
    food, kind
        What is planted.
    kg
        How much of it the whole planting takes, sound on the day [kg].
    plants
        How many plants that makes.
    on
        The day it is planted.
    back_kg
        How much of it the plan keeps back from store, the rest being bought [kg].
    since
        What was put by before this day is not meant for it.
    """

    food: str
    kind: str
    kg: float
    plants: int
    on: date
    back_kg: float = 0.0
    since: date = date.min


@dataclass(frozen=True, slots=True)
class Kitchen:
    """The ledger as the kitchen may use it.

    ``ledger`` has what is to be eaten alone, without what is kept back of it; ``kept_kg`` says how
    much is kept back of each lot, sound today [kg]; ``told`` what has become of the seed.
    """

    ledger: Ledger
    kept_kg: Mapping[str, float]
    told: tuple[Finding, ...]


def kitchen_of(
    ledger: Ledger,
    wanted: Sequence[SeedWanted],
    day: date,
    units: Units,
    names: Mapping[str, str],
) -> Kitchen:
    """Take seed out of the ledger: neither eat-first nor safe use may ever name it.

    What the plan keeps back comes first out of what was put by to plant; the rest out of the lots
    to be eaten that keep longest. What was eaten of seed is told until the day it is planted.

    Parameters
    ----------
    ledger
        The books.
    wanted
        What the plan keeps back for plantings that are still to come.
    day
        Today.
    units, names
        In which weights are told, and display names by id.
    """
    kept: dict[str, float] = {}
    told = list(_eaten_seed(ledger, wanted, day, units, names))
    lots = {lot.id: lot for lot in ledger.lots if lot.purpose is Purpose.EAT}
    for seed in wanted:
        left = seed.back_kg - sum(_sound_on(lot, seed.on) for lot in _seed_lots(ledger, seed))
        for lot in _may_give(lots.values(), seed):
            base = min(_base_for(lot, left, seed.on), lot.base_kg)
            if base <= 0:
                continue
            share = lot.share_on(day)
            kept[lot.id] = kept.get(lot.id, 0.0) + min(base * share, left_kg(lot, day))
            left -= base * lot.share_on(seed.on)
            lots[lot.id] = replace(
                lot,
                base_kg=lot.base_kg - base,
                most_kg=max(0.0, lot.most_kg - base * share),
            )
        if left > seed.back_kg * (1 - ENOUGH) and _was_put_by(ledger, seed):
            told.append(_short(seed, left, units, names))
    found = tuple(lots[lot.id] for lot in ledger.lots if lot.id in lots)
    by_id = {lot.id: lot for lot in found}
    return Kitchen(Ledger(found, ledger.worth_knowing, by_id), kept, tuple(told))


def _seed_lots(ledger: Ledger, seed: SeedWanted) -> Iterator[LedgerLot]:
    return (lot for lot in ledger.lots if lot.purpose is Purpose.PLANT and _is_of(lot, seed))


def _is_of(lot: LedgerLot, seed: SeedWanted) -> bool:
    same = lot.food == seed.food and lot.kind in (None, seed.kind)
    return same and lot.put_by >= seed.since


def _was_put_by(ledger: Ledger, seed: SeedWanted) -> bool:
    """Whether the lot is there that seed was to be kept back from; else it is still to come."""
    return any(_is_of(lot, seed) for lot in ledger.lots)


def _may_give(lots: Collection[LedgerLot], seed: SeedWanted) -> list[LedgerLot]:
    """Give the lots that seed may be kept back from, what keeps longest first."""
    fits = [lot for lot in lots if _is_of(lot, seed)]
    return sorted(fits, key=lambda lot: (lot.kind is None, -lot.share_on(seed.on), lot.id))


def _sound_on(lot: LedgerLot, day: date) -> float:
    return min(lot.base_kg * lot.share_on(day), lot.most_kg)


def _base_for(lot: LedgerLot, kg: float, day: date) -> float:
    """Give how much of a lot, as put by, has to be kept for so much sound on a day [kg]."""
    share = lot.share_on(day)
    return max(0.0, kg) / share if share > 0 else 0.0


def _eaten_seed(
    ledger: Ledger,
    wanted: Sequence[SeedWanted],
    day: date,
    units: Units,
    names: Mapping[str, str],
) -> Iterator[Finding]:
    """Tell what was eaten of seed, as plants that will be lacking and until when to buy them."""
    for lot in ledger.lots:
        if lot.purpose is not Purpose.PLANT:
            continue
        eaten = [move for move in lot.moves if move.kind is EntryKind.EATEN]
        if not eaten:
            continue
        kg = sum(move.kg for move in eaten)
        name = names.get(lot.food, lot.food)
        where = f"{name} put by to plant on {long_day(lot.put_by)}"
        coming = [one for one in wanted if _is_of(lot, one) and one.on >= day]
        if coming:
            seed = min(coming, key=lambda one: one.on)
            plants = min(seed.plants, ceil(seed.plants * kg / seed.kg)) if seed.kg else 0
            what = (
                f"you have eaten seed for {plants} of {seed.plants} plants"
                f" ({show_mass(kg, units)})."
            )
            yield Finding(where, what, f"Buy or spare by {long_day(seed.on)}.", Grade.FAULT)
        elif not any(move.day > eaten[-1].day for move in lot.moves if move.kind in STARTS):
            what = f"you have eaten {show_mass(kg, units)} of it."
            yield Finding(where, what, "Spare as much of another lot, or buy it.", Grade.FAULT)


def _short(seed: SeedWanted, left: float, units: Units, names: Mapping[str, str]) -> Finding:
    name = names.get(seed.kind, seed.kind)
    plants = min(seed.plants, ceil(seed.plants * left / seed.kg))
    return Finding(
        f"seed of {name}",
        f"the plan keeps back {show_mass(seed.back_kg, units)} for {seed.plants} plants;"
        f" what lies there falls short by {show_mass(left, units)}, or {plants} plants.",
        f"Buy or spare by {long_day(seed.on)}.",
        Grade.WARNING,
    )
