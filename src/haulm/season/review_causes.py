"""Why what was picked parts from what was planned, in parts that add up."""

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from haulm.plan.records import Planting
from haulm.plan.state import GONE, Became, Noted, speaks_of
from haulm.season.records import STARTED, Entry, EntryKind, Measured, key_of
from haulm.season.review_records import Cause, Parted, Picked, Season

ENDED: Mapping[Became, Cause] = {
    Became.FAILED: Cause.LOST,
    Became.NOT_SOWN: Cause.NOT_SOWN,
    Became.CLEARED: Cause.CLEARED,
}


@dataclass(frozen=True, slots=True)
class Fared:
    """How one planting fared, by all that was written of it.

    Attributes
    ----------
    planting, key
        It, and its lasting name.
    entries
        The entries that name it.
    area_m2
        Its ground as written [m²]; None where nobody wrote it.
    gone
        The note that ended it; None where none did.
    late
        Whether it was begun later than its week.
    """

    planting: Planting
    key: str
    entries: tuple[Entry, ...]
    area_m2: float | None
    gone: Noted | None
    late: bool

    @property
    def troubled(self) -> bool:
        """Whether a pest or disease was seen on it."""
        return any(entry.kind is EntryKind.TROUBLE for entry in self.entries)


def fared(season: Season) -> tuple[Fared, ...]:
    """Sum up how every planting of a plan fared."""
    by_key: dict[str, list[Entry]] = defaultdict(list)
    for entry in season.entries:
        if entry.about.planting:
            by_key[entry.about.planting].append(entry)
    by_place: dict[tuple[str, str], list[Noted]] = defaultdict(list)
    for note in season.notes:
        by_place[note.kind or "", note.bed or ""].append(note)
    return tuple(
        _fared(planting, by_key[key_of(planting)], by_place[planting.kind, planting.bed])
        for planting in season.plan.plantings
    )


def _fared(planting: Planting, entries: Sequence[Entry], notes: Sequence[Noted]) -> Fared:
    mine = [note for note in notes if speaks_of(note, planting)]
    told = [
        entry.amount.number
        for entry in entries
        if entry.kind in STARTED
        and entry.amount is not None
        and entry.amount.measured is Measured.SQUARE_METRES
    ]
    return Fared(
        planting,
        key_of(planting),
        tuple(entries),
        told[-1] if told else None,
        next((note for note in mine if note.what in GONE), None),
        any(note.what is Became.LATE for note in mine),
    )


def parted(
    season: Season, all_fared: Sequence[Fared], picked: Sequence[Picked]
) -> tuple[Parted, ...]:
    """Say why what was picked parts from what was planned, planting by planting and food by food.

    Of a planting that was picked, what its ground was larger or smaller than planned comes first,
    at the plan's own yield: planned · (ground / planned ground − 1). All the rest is laid to the
    one thing that was written of it, and to its yield where nothing was. So the parts of a food add
    up exactly to what was picked of it less what was planned.
    """
    came: dict[tuple[str, str], float] = defaultdict(float)
    beside: dict[tuple[str, str, str], float] = defaultdict(float)
    known = {one.key for one in all_fared}
    for one in picked:
        if one.key in known:
            came[one.key, one.food] += one.kg
        else:
            beside[one.food, one.kind, one.bed] += one.kg
    found = [
        part
        for one in all_fared
        for food in sorted(foods_of(one.planting, season) | {f for k, f in came if k == one.key})
        for part in _parts(one, food, season, came.get((one.key, food)))
    ]
    found += [
        Parted(Cause.BESIDE, food, kind, bed, "", kg) for (food, kind, bed), kg in beside.items()
    ]
    return tuple(part for part in found if part.kg)


def foods_of(planting: Planting, season: Season) -> set[str]:
    """Name the foods that a planting was to be picked of in the span."""
    return {pick.food for pick in planting.picks if season.span.has(pick.week)}


def planned_kg(planting: Planting, food: str, season: Season) -> float:
    """Give what was to be picked of a planting's food in the span [kg]."""
    return sum(
        pick.kg for pick in planting.picks if pick.food == food and season.span.has(pick.week)
    )


def _parts(one: Fared, food: str, season: Season, came_kg: float | None) -> Iterator[Parted]:
    planned = planned_kg(one.planting, food, season)

    def part(cause: Cause, kg: float) -> Parted:
        return Parted(cause, food, one.planting.kind, one.planting.bed, one.planting.id, kg)

    if came_kg is None:
        yield part(_why_nothing(one, season), -planned)
        return
    rest = came_kg - planned
    if one.area_m2 is not None and not one.planting.standing and one.planting.area_m2 > 0:
        more = planned * (one.area_m2 / one.planting.area_m2 - 1)
        rest -= more
        yield part(Cause.AREA, more)
    yield part(_why_otherwise(one, rest), rest)


def _why_nothing(one: Fared, season: Season) -> Cause:
    """Say why nothing was picked of a planting."""
    if one.gone is not None:
        return ENDED.get(one.gone.what, Cause.NOT_PICKED)
    if one.entries:
        return Cause.NOT_PICKED
    return Cause.REPLANNED if one.key in season.replaced else Cause.NOT_WRITTEN


def _why_otherwise(one: Fared, rest_kg: float) -> Cause:
    """Say to what the rest is laid: what is more than planned is nobody's misfortune."""
    if rest_kg >= 0:
        return Cause.YIELD
    if one.gone is not None:
        return ENDED.get(one.gone.what, Cause.YIELD)
    if one.troubled:
        return Cause.TROUBLE
    return Cause.LATE if one.late else Cause.YIELD
