"""Pins: what the grower settled by hand, held against sowings, beds and what stands."""

from collections.abc import Iterator

from haulm.growing.records import Sowing
from haulm.plan.records import Pin, PinRule
from haulm.planner.question import PlanQuestion

NEAR_M2 = 1e-6
"""Ground settled by hand is held to this [m²]."""


def matches(pin: Pin, sowing: Sowing, bed: str) -> bool:
    """Say whether a pin speaks of a sowing in a bed; a week is an ISO week, of any weekday."""
    return (
        pin.kind == sowing.kind
        and pin.bed in {None, bed}
        and pin.method in {None, sowing.method}
        and (pin.sow_on is None or pin.sow_on.isocalendar()[:2] == sowing.sow_on.isocalendar()[:2])
    )


def forbidden(question: PlanQuestion, sowing: Sowing, bed: str) -> bool:
    """Say whether a pin forbids a sowing in a bed."""
    return any(pin.rule is PinRule.FORBID and matches(pin, sowing, bed) for pin in question.pins)


def keeping(question: PlanQuestion) -> Iterator[tuple[int, Pin]]:
    """Give every pin that keeps, with its place in the question counted from 0."""
    for number, pin in enumerate(question.pins):
        if pin.rule is PinRule.KEEP:
            yield number, pin


def asked_m2(question: PlanQuestion, pin: Pin) -> float:
    """Give the ground a pin still asks for, what stands of it already taken off [m²].

    A pin without a size asks for the smallest patch worth having, and for nothing where any of it
    stands.
    """
    stood = sum(s.area_m2 for s in question.standing if matches(pin, s.sowing, s.bed))
    if pin.area_m2 is None:
        return 0.0 if stood > 0 else question.least_patch_m2
    return max(0.0, pin.area_m2 - stood)
