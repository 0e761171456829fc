"""Settling by hand: a grower's choice about one planting, as the pins to write and to take out.

A move is written as two pins, one after the other: one that forbids the old place or week, and one
that keeps the new. A later choice about the same planting takes the place of an earlier one.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass, replace
from datetime import date
from enum import StrEnum
from math import inf
from typing import Any

from haulm.desk.garden.applying import Change, mark_of
from haulm.ground.closures import last_closure
from haulm.growing.records import Sowing
from haulm.measure.errors import ChangedElsewhereError
from haulm.measure.weeks import monday_of
from haulm.plan.pins import PinRule
from haulm.plan.records import Planting
from haulm.planner.question import BedGround, PlanQuestion
from haulm.planner.rules.closed_beds import open_to
from haulm.planner.rules.least_patch import least_patch_m2
from haulm.planner.rules.sun import sunny_enough

PIN = "pin"
KEYS = ("kind", "bed", "method", "week")
"""What says where and when a pin speaks of; a key that is left out speaks of any."""

PinPart = Mapping[str, Any]
"""A pin as typed."""

Spot = tuple[str | None, str | None, str | None, date | None]
"""Where and when: kind, bed, method and the Monday of the week; None for any."""


class Choice(StrEnum):
    """What a grower may settle about a planting."""

    KEEP = "keep"
    AREA = "area"
    WEEK = "week"
    BED = "bed"
    NOT_HERE = "not-here"
    NOT_AT_ALL = "not-at-all"


class Against(StrEnum):
    """What keeps a planting from another bed."""

    COVER = "cover"
    CLOSED = "closed"
    DARK = "dark"
    SMALL = "small"
    THERE = "there"


@dataclass(frozen=True, slots=True)
class BedOffer:
    """Another bed for a planting, or what stands against it.

    Attributes
    ----------
    bed
        The bed.
    area_m2
        The ground the planting would have there: its own, or all of a smaller bed [m²].
    against
        Why it cannot go there; None where it can.
    until_year
        The year in which a closed bed opens again.
    crop_alone
        Whether it is closed to the crop alone, and not to its family.
    least_m2
        The smallest patch of it worth having there [m²].
    """

    bed: BedGround
    area_m2: float
    against: Against | None = None
    until_year: int | None = None
    crop_alone: bool = False
    least_m2: float = 0.0


def settle(
    planting: Planting,
    choice: Choice,
    value: str,
    pins: Sequence[PinPart],
    plantings: Iterable[Planting],
    *,
    room_m2: float = inf,
) -> tuple[Change, ...]:
    """Turn a choice about a planting into changes of the garden's pins.

    Parameters
    ----------
    planting
        The planting as planned.
    choice, value
        What was chosen: for *area* the area as typed, for *week* the day of another sowing, for
        *bed* the id of another bed; empty else.
    pins
        The garden's pins as typed, in their order.
    plantings
        All plantings of the plan, by which the other half of a move is told from a pin of its own.
    room_m2
        The ground of the bed it is moved to, where it may be too small for all of it [m²].

    Returns
    -------
    The pins to take out, then those to add; none to add or take out twice.
    """
    new = tuple(_pins_for(planting, choice, value, room_m2))
    old = settled(planting, pins, plantings)
    out = [pin for pin in pins if pin in old or any(_gives_way(pin, one) for one in new)]
    return (
        *(Change(PIN, mark_of(pin), None) for pin in out),
        *(Change(PIN, "", pin) for pin in new),
    )


def settled(
    planting: Planting, pins: Sequence[PinPart], plantings: Iterable[Planting]
) -> tuple[PinPart, ...]:
    """Give the pins that settle this very planting, the other half of a move among them."""
    spots = [_spot(one) for one in plantings]
    found: list[PinPart] = []
    for number, pin in enumerate(pins):
        if not _of_one_planting(pin) or _where(pin) != _spot(planting):
            continue
        found.append(pin)
        follows = pins[number + 1] if number + 1 < len(pins) else None
        if follows is not None and _moves(pin, follows) and _where(follows) not in spots:
            found.append(follows)
    return tuple(found)


def speaking_of(
    planting: Planting, pins: Sequence[PinPart], plantings: Iterable[Planting]
) -> tuple[PinPart, ...]:
    """Give the pins that settle this planting or speak of it among others, in their order."""
    own, keep = settled(planting, pins, plantings), _keep(planting)
    names = {planting.kind, planting.crop, planting.family}
    return tuple(
        pin
        for pin in pins
        if pin in own
        or (_covers(pin, keep) if _of_one_planting(pin) else _names_one_of(pin, names, planting))
    )


def seen_mark(planting: Planting, pins: Sequence[PinPart], plantings: Iterable[Planting]) -> str:
    """Give a mark of what a form about a planting showed: the planting, and what settles it."""
    found = speaking_of(planting, pins, plantings)
    return mark_of({"planting": dict(_keep(planting)), "settled": [dict(pin) for pin in found]})


def same_as_seen(
    seen: str, planting: Planting, pins: Sequence[PinPart], plantings: Iterable[Planting]
) -> None:
    """Hold a planting and its pins to what a form showed.

    Raises
    ------
    ChangedElsewhereError
        When another plan was kept, or the planting was settled otherwise, since the form was drawn.
    """
    if seen != seen_mark(planting, pins, plantings):
        what = (
            f"{planting.id} was planned anew or settled otherwise in another window since this one "
            "was opened. Nothing was written: look at it as it is now."
        )
        raise ChangedElsewhereError(what, PIN)


def weeks_on_offer(
    planting: Planting, question: PlanQuestion, taken: frozenset[Spot]
) -> tuple[Sowing, ...]:
    """Give the other weeks in which this kind may be started so, in this bed, in order of date.

    ``taken`` says where some of the kind is planned already, by :func:`spots_taken`.
    """
    bed = next((bed for bed in question.beds if bed.id == planting.bed), None)
    return tuple(
        sorted(
            (
                sowing
                for sowing in _alike(planting, question.sowings)
                if bed is not None
                and _spot(planting, week=sowing.sow_on) not in taken
                and _against(question, [sowing], bed) is None
            ),
            key=lambda sowing: sowing.sow_on,
        )
    )


def beds_on_offer(
    planting: Planting, question: PlanQuestion, taken: frozenset[Spot]
) -> tuple[BedOffer, ...]:
    """Give every other bed in the grower's order, those that cannot take it with the reason.

    Empty where the planting can no longer be started in its week.
    """
    week = monday_of(planting.sow_on)
    sowings = [
        sowing for sowing in _alike(planting, question.sowings) if monday_of(sowing.sow_on) == week
    ]
    return tuple(
        _offer(planting, question, sowings, bed, there=_spot(planting, bed=bed.id) in taken)
        for bed in question.beds
        if bed.id != planting.bed and sowings
    )


def spots_taken(
    planting: Planting, pins: Sequence[PinPart], plantings: Sequence[Planting]
) -> frozenset[Spot]:
    """Say where and when plantings are planned, or kept by hand, this one's own move aside."""
    own = settled(planting, pins, plantings)
    kept = [
        pin
        for pin in pins
        if pin.get("rule") == PinRule.KEEP and _of_one_planting(pin) and pin not in own
    ]
    return frozenset([*map(_spot, plantings), *map(_where, kept)])


def _alike(planting: Planting, sowings: Iterable[Sowing]) -> Iterator[Sowing]:
    """Give the sowings of a planting's kind and method."""
    wanted = (planting.kind, planting.method)
    return (sowing for sowing in sowings if (sowing.kind, sowing.method) == wanted)


def _offer(
    planting: Planting,
    question: PlanQuestion,
    sowings: Sequence[Sowing],
    bed: BedGround,
    *,
    there: bool,
) -> BedOffer:
    last = last_closure(question.closures, bed.id, planting.family, planting.crop)
    return BedOffer(
        bed=bed,
        area_m2=min(planting.area_m2, bed.area_m2),
        against=_against(question, sowings, bed) or (Against.THERE if there else None),
        until_year=last.until_year if last else None,
        crop_alone=last is not None and last.crop is not None,
        least_m2=min(least_patch_m2(question, sowing, bed) for sowing in sowings),
    )


def _against(question: PlanQuestion, sowings: Sequence[Sowing], bed: BedGround) -> Against | None:
    """Find the first thing that keeps all of some sowings from a bed."""
    tests = (
        (Against.COVER, lambda sowing: sowing.under_cover == bed.under_cover),
        (Against.CLOSED, lambda sowing: open_to(question, sowing, bed)),
        (Against.DARK, lambda sowing: sunny_enough(question, sowing, bed)),
        (Against.SMALL, lambda sowing: bed.area_m2 >= least_patch_m2(question, sowing, bed)),
    )
    fit = list(sowings)
    for against, fits in tests:
        fit = [sowing for sowing in fit if fits(sowing)]
        if not fit:
            return against
    return None


def _pins_for(planting: Planting, choice: Choice, value: str, room_m2: float) -> Iterator[PinPart]:
    """Write the pins of a choice."""
    forbid = {"rule": PinRule.FORBID.value, "kind": planting.kind}
    here = dict(zip(KEYS, _spot(planting), strict=True))
    if choice is Choice.NOT_AT_ALL:
        yield forbid
    elif choice is Choice.NOT_HERE:
        yield forbid | {"bed": planting.bed}
    elif choice is Choice.KEEP:
        yield _keep(planting)
    elif choice is Choice.AREA:
        yield _keep(planting) | {"area": value}
    elif choice is Choice.BED:
        yield forbid | here
        yield _keep(replace(planting, area_m2=min(planting.area_m2, room_m2))) | {"bed": value}
    else:
        yield forbid | here
        yield _keep(planting) | {"week": monday_of(date.fromisoformat(value))}


def _keep(planting: Planting) -> dict[str, object]:
    """Write the pin that keeps a planting as it is."""
    # To a thousandth of a square millimetre: rounded further, the smallest patch worth having
    # would be too small to be kept.
    area = f"{planting.area_m2:.6f}".rstrip("0").rstrip(".")
    where: dict[str, object] = dict(zip(KEYS, _spot(planting), strict=True))
    return {"rule": PinRule.KEEP.value} | where | {"area": f"{area} m2"}


def _spot(planting: Planting, *, bed: str | None = None, week: date | None = None) -> Spot:
    """Say where and when a planting is started: kind, bed, method, Monday of its week."""
    return planting.kind, bed or planting.bed, planting.method, monday_of(week or planting.sow_on)


def _where(pin: PinPart) -> Spot:
    """Say where and when a pin speaks of, None for any."""
    week = pin.get("week")
    monday = monday_of(week) if isinstance(week, date) else None
    return pin.get("kind"), pin.get("bed"), pin.get("method"), monday


def _moves(pin: PinPart, follows: PinPart) -> bool:
    """Say whether two pins make a move: the first forbids a spot, the next keeps one beside it."""
    if (pin.get("rule"), follows.get("rule")) != (PinRule.FORBID, PinRule.KEEP):
        return False
    (kind, bed, method, week), (other_kind, other_bed, other_method, other_week) = map(
        _where, (pin, follows)
    )
    same = (kind, method) == (other_kind, other_method)
    return same and (bed != other_bed) != (week != other_week)


def _gives_way(pin: PinPart, new: PinPart) -> bool:
    """Say whether a pin has no place beside a new one: it is at odds with it, or says no more."""
    if not _of_one_planting(pin):
        return False
    if new.get("rule") == PinRule.FORBID:
        return _covers(new, pin)
    return pin.get("rule") == PinRule.FORBID and _covers(pin, new)


def _of_one_planting(pin: PinPart) -> bool:
    """Say whether a pin keeps or forbids a kind, as a choice about one planting does."""
    ruled = pin.get("rule") in {PinRule.KEEP, PinRule.FORBID}
    return ruled and pin.get("kind") is not None and pin.get("year") is None


def _names_one_of(pin: PinPart, names: AbstractSet[str], planting: Planting) -> bool:
    """Say whether a pin names a planting's kind, crop or family on either side, in its bed."""
    named = {pin.get(key) for key in ("kind", "crop", "family", "apart_from")}
    return bool(named & names) and pin.get("bed") in {None, planting.bed}


def _covers(broad: PinPart, narrow: PinPart) -> bool:
    """Say whether a pin speaks of everything that another speaks of."""
    pairs = zip(_where(broad), _where(narrow), strict=True)
    return all(wide in {None, close} for wide, close in pairs)
