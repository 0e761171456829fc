"""The audit of pins: what was settled by hand is there, or told."""

from collections.abc import Iterator

from haulm.measure.findings import Finding
from haulm.plan.records import Pin, PinRule, Planting
from haulm.planner.audit_books import AREA_M2, Books


def check_forbidden(books: Books) -> Iterator[Finding]:
    """Nothing is planted that was forbidden by hand; what stood already is left."""
    for number, pin in enumerate(books.question.pins, start=1):
        for planting in books.plan.plantings:
            if pin.rule is PinRule.FORBID and not planting.standing and _speaks_of(pin, planting):
                what = f"{planting.id} on {books.name(planting.bed)} was forbidden by hand."
                yield books.wrong(f"pin {number}", what)


def check_kept(books: Books) -> Iterator[Finding]:
    """All that is kept by hand is planted as it was asked, or told, by as much as it is not."""
    told = {b.where: b.amount for b in books.plan.broken if b.rule == "pin"}
    for number, pin in enumerate(books.question.pins, start=1):
        off = _off_m2(books, pin) if pin.rule is PinRule.KEEP else 0.0
        said = told.pop(f"pin {number}", 0.0)
        if abs(off - said) > 2 * AREA_M2:
            what = (
                f"{books.name(pin.kind)} is {off:.3f} m² off what was kept by hand,"
                f" and {said:.3f} m² are told."
            )
            yield books.wrong(f"pin {number}", what)
    for where in sorted(told):
        yield books.wrong(where, "it is told as broken, and there is no such pin.")


def _off_m2(books: Books, pin: Pin) -> float:
    """Measure how far the plan is from what a pin keeps [m²]."""
    there = [planting for planting in books.plan.plantings if _speaks_of(pin, planting)]
    stood = sum(planting.area_m2 for planting in there if planting.standing)
    planted = sum(planting.area_m2 for planting in there if not planting.standing)
    if pin.area_m2 is None:
        return max(0.0, books.question.least_patch_m2 - planted) if stood <= 0 else 0.0
    return abs(pin.area_m2 - stood - planted) if stood < pin.area_m2 else 0.0


def _speaks_of(pin: Pin, planting: Planting) -> bool:
    """Say whether a pin speaks of a planting."""
    asked = (
        (pin.kind, planting.kind),
        (pin.bed, planting.bed),
        (pin.method, planting.method),
        (pin.sow_on and pin.sow_on.strftime("%G-%V"), planting.sow_on.strftime("%G-%V")),
    )
    return all(wanted is None or wanted == planned for wanted, planned in asked)
