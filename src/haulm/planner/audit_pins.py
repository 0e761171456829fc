"""The audit of pins: what was settled by hand is there, or told."""

from collections.abc import Iterator
from itertools import combinations

from haulm.measure.findings import Finding
from haulm.plan.pins import Pin, PinRule
from haulm.plan.records import Planting
from haulm.planner.audit_books import AREA_M2, Books


def check_forbidden(books: Books) -> Iterator[Finding]:
    """Nothing is planted that was forbidden by hand; what stood already is left."""
    for number, pin in enumerate(books.question.pins, start=1):
        for planting in books.plan.plantings:
            if planting.standing or not _speaks_of(pin, planting):
                continue
            if pin.rule is PinRule.FORBID:
                what = f"{planting.id} on {books.name(planting.bed)} was forbidden by hand."
                yield books.wrong(f"pin {number}", what)
            if pin.rule is PinRule.ONLY_IN and planting.bed not in pin.beds:
                beds = ", ".join(books.name(bed) for bed in pin.beds)
                what = f"{planting.id} is on {books.name(planting.bed)}, and was to be in {beds}."
                yield books.wrong(f"pin {number}", what)


def check_at_most(books: Books) -> Iterator[Finding]:
    """No more is planted than was allowed by hand, what stands counted first."""
    for number, pin in enumerate(books.question.pins, start=1):
        if pin.rule is PinRule.AT_MOST:
            stood, planted = _grounds(books, pin)
            over = planted - max(0.0, (pin.area_m2 or 0.0) - stood)
            if over > 2 * AREA_M2:
                what = f"{books.name(pin.what)} has {over:.3f} m² more than was allowed by hand."
                yield books.wrong(f"pin {number}", what)


def check_apart(books: Books) -> Iterator[Finding]:
    """Nothing kept apart by hand meets in a bed, but for two that stand there already."""
    for number, pin in enumerate(books.question.pins, start=1):
        if pin.rule is not PinRule.APART:
            continue
        for one, other in combinations(books.plan.plantings, 2):
            meet = one.bed == other.bed and max(one.from_week, other.from_week) < min(
                one.until_week, other.until_week
            )
            if meet and not (one.standing and other.standing) and _kept_apart(pin, one, other):
                what = (
                    f"{one.id} and {other.id} are in {books.name(one.bed)} at one time,"
                    " and were to be kept apart."
                )
                yield books.wrong(f"pin {number}", what)


def _kept_apart(pin: Pin, one: Planting, other: Planting) -> bool:
    """Say whether two plantings are the two sides of a pin; what is of both sides is neither."""
    first = {p.id for p in (one, other) if _speaks_of(pin, p)}
    second = {p.id for p in (one, other) if pin.apart_from in {p.kind, p.crop, p.family}}
    return first != second and first | second == {one.id, other.id} and bool(first and second)


def check_kept(books: Books) -> Iterator[Finding]:
    """All that is asked for by hand is planted as it was asked, or told by how much it is not."""
    told = {b.where: b.amount for b in books.plan.broken if b.rule == "pin"}
    for number, pin in enumerate(books.question.pins, start=1):
        off = _off_m2(books, pin) if pin.rule in {PinRule.KEEP, PinRule.AT_LEAST} else 0.0
        said = told.pop(f"pin {number}", 0.0)
        if abs(off - said) > 2 * AREA_M2:
            what = (
                f"{books.name(pin.what)} is {off:.3f} m² off what was kept by hand,"
                f" and {said:.3f} m² are told."
            )
            yield books.wrong(f"pin {number}", what)
    for where in sorted(told):
        yield books.wrong(where, "it is told as broken, and there is no such pin.")


def _grounds(books: Books, pin: Pin) -> tuple[float, float]:
    """Add up what a pin speaks of: the ground that stands already, and that planted [m²]."""
    there = [planting for planting in books.plan.plantings if _speaks_of(pin, planting)]
    stood = sum(planting.area_m2 for planting in there if planting.standing)
    return stood, sum(planting.area_m2 for planting in there if not planting.standing)


def _off_m2(books: Books, pin: Pin) -> float:
    """Measure how far the plan is from what a pin asks for [m²]."""
    stood, planted = _grounds(books, pin)
    if pin.area_m2 is None:
        return max(0.0, books.question.least_patch_m2 - planted) if stood <= 0 else 0.0
    if pin.rule is PinRule.AT_LEAST:
        return max(0.0, pin.area_m2 - stood - planted)
    return abs(pin.area_m2 - stood - planted) if stood < pin.area_m2 else 0.0


def _speaks_of(pin: Pin, planting: Planting) -> bool:
    """Say whether a pin speaks of a planting."""
    asked = (
        (pin.kind, planting.kind),
        (pin.crop, planting.crop),
        (pin.family, planting.family),
        (pin.bed, planting.bed),
        (pin.method, planting.method),
        (pin.year, planting.sow_on.year),
        (pin.sow_on and pin.sow_on.strftime("%G-%V"), planting.sow_on.strftime("%G-%V")),
    )
    return all(wanted is None or wanted == planned for wanted, planned in asked)
