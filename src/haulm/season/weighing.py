"""The weighing told whole: where what was picked of each food went, and what nobody told."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from haulm.season.bookkeeping import from_store
from haulm.season.curing import Hung, curings
from haulm.season.larder_rules import larder_rules
from haulm.season.ledger_records import OUT
from haulm.season.records import Entry, EntryKind, as_kg

NOTHING_KG = 0.005
WEIGHED = OUT | {EntryKind.PICKED, EntryKind.PUT_BY}
"""The entries that a weighing adds up."""


@dataclass(frozen=True, slots=True)
class Weighing:
    """What became of a food as it was picked [kg].

    picked = put by + eaten fresh + hanging + dried and trimmed + given + thrown + not told.

    Attributes
    ----------
    food
        What it is.
    picked_kg
        What was picked or lifted.
    put_by_kg, fresh_kg
        What of it was put by, and eaten without having been in store.
    hanging_kg, dried_kg
        What hangs to cure still, and what went between hung and put by.
    given_kg, thrown_kg
        What was given away, and thrown out, without having been in store.
    unweighed
        How many entries of it tell no weight, so that they are not in these sums.
    may_have_dried_kg
        What usually goes in drying and trimming of what was put by, lowest and highest, where
        nothing was written as hung; None where that does not apply.
    """

    food: str
    picked_kg: float = 0.0
    put_by_kg: float = 0.0
    fresh_kg: float = 0.0
    hanging_kg: float = 0.0
    dried_kg: float = 0.0
    given_kg: float = 0.0
    thrown_kg: float = 0.0
    unweighed: int = 0
    may_have_dried_kg: tuple[float, float] | None = None

    @property
    def told_kg(self) -> float:
        """All that is told of where it went [kg]."""
        return (
            self.put_by_kg
            + self.fresh_kg
            + self.hanging_kg
            + self.dried_kg
            + self.given_kg
            + self.thrown_kg
        )

    @property
    def untold_kg(self) -> float:
        """What nobody told [kg]; under 0 where more went somewhere than was picked."""
        return self.picked_kg - self.told_kg

    @property
    def parts(self) -> bool:
        """Whether picking and books part by more than a weighing may be off."""
        rules = larder_rules()
        most = max(self.picked_kg, self.told_kg)
        return abs(self.untold_kg) > max(rules.near_kg.value, rules.near_share.value * most)


def weigh_whole(
    entries: Iterable[Entry],
    hung: Sequence[Hung],
    piece_kg: Mapping[str, float],
    since: date,
) -> tuple[Weighing, ...]:
    """Add up where what was picked since a day went, food by food; the most untold first.

    What was hung before that day is left out with what was put by of it.

    Parameters
    ----------
    entries
        The diary's entries, corrections worked in, each with its food named.
    hung
        What was hung to cure.
    piece_kg
        What a piece of each food weighs [kg].
    since
        The first day counted.
    """
    earlier = {one.id for one in hung if one.begun < since}
    found: dict[str, Weighing] = {}
    for entry in entries:
        about = entry.about
        counts = entry.kind in WEIGHED and entry.day >= since and about.lot not in earlier
        if not counts or not about.food or (entry.kind in OUT and from_store(entry)):
            continue
        before = found.get(about.food, Weighing(about.food))
        found[about.food] = _with(before, entry, piece_kg.get(about.food))
    for one in hung:
        if one.begun >= since:
            found[one.food] = _with_hung(found.get(one.food, Weighing(one.food)), one)
    cured = {one.food for one in hung if one.begun >= since}
    told = (one if one.food in cured else _may_have_dried(one) for one in found.values())
    return tuple(sorted(told, key=lambda one: (-abs(one.untold_kg), one.food)))


def _with(sum_: Weighing, entry: Entry, piece_kg: float | None) -> Weighing:
    kg = as_kg(entry.amount, piece_kg)
    if kg is None:
        return replace(sum_, unweighed=sum_.unweighed + 1)
    match entry.kind:
        case EntryKind.PICKED:
            return replace(sum_, picked_kg=sum_.picked_kg + kg)
        case EntryKind.PUT_BY:
            return replace(sum_, put_by_kg=sum_.put_by_kg + kg)
        case EntryKind.EATEN:
            return replace(sum_, fresh_kg=sum_.fresh_kg + kg)
        case EntryKind.GIVEN:
            return replace(sum_, given_kg=sum_.given_kg + kg)
        case _:
            return replace(sum_, thrown_kg=sum_.thrown_kg + kg)


def _with_hung(sum_: Weighing, one: Hung) -> Weighing:
    """Count a batch: hanging until something was put by of it, then what went meanwhile."""
    if one.kg is None:
        return replace(sum_, unweighed=sum_.unweighed + 1)
    if not one.put_by_kg:
        return replace(sum_, hanging_kg=sum_.hanging_kg + one.kg)
    return replace(sum_, dried_kg=sum_.dried_kg + max(0.0, one.kg - one.put_by_kg))


def _may_have_dried(sum_: Weighing) -> Weighing:
    """Say what may have gone in drying where nobody wrote that it was hung."""
    curing = curings().get(sum_.food)
    if curing is None or sum_.put_by_kg <= NOTHING_KG or sum_.untold_kg <= NOTHING_KG:
        return sum_
    low, high = curing.lost.low or curing.lost.value, curing.lost.high or curing.lost.value
    put_by = sum_.put_by_kg
    return replace(
        sum_, may_have_dried_kg=(put_by * low / (1.0 - low), put_by * high / (1.0 - high))
    )
