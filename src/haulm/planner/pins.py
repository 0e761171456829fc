"""Pins: what the grower settled by hand, held against sowings, beds and what stands.

Some ask for ground (*keep*, *at least*); the others set a limit (*at most*, *forbid*, *only in*,
*apart*). Limits can always be kept, since bare ground keeps them all; so they come before whatever
asks, and those that ask come in the grower's order.
"""

from collections.abc import Iterator

from haulm.growing.records import Sowing
from haulm.plan.pins import ASKING, Pin, PinRule
from haulm.planner.question import PlanQuestion, Standing
from haulm.planner.rules.least_patch import least_patch_m2

NEAR_M2 = 1e-6
"""Ground settled by hand is held to this [m²]."""


def names_it(thing: str | None, sowing: Sowing) -> bool:
    """Say whether a sowing is of a kind, crop or family."""
    return thing in {sowing.kind, sowing.crop, sowing.family}


def speaks_of(pin: Pin, sowing: Sowing) -> bool:
    """Say whether a pin speaks of a sowing, whatever its bed; a week is an ISO week."""
    return (
        pin.kind in {None, sowing.kind}
        and pin.crop in {None, sowing.crop}
        and pin.family in {None, sowing.family}
        and pin.method in {None, sowing.method}
        and pin.year in {None, sowing.sow_on.year}
        and (pin.sow_on is None or pin.sow_on.isocalendar()[:2] == sowing.sow_on.isocalendar()[:2])
    )


def matches(pin: Pin, sowing: Sowing, bed: str) -> bool:
    """Say whether a pin speaks of a sowing in a bed."""
    return pin.bed in {None, bed} and speaks_of(pin, sowing)


def clash_in(pin: Pin, first: Sowing, second: Sowing) -> bool:
    """Say whether two sowings in one bed are what a pin keeps apart, at any time in common."""
    one, two = (
        (speaks_of(pin, sowing), names_it(pin.apart_from, sowing)) for sowing in (first, second)
    )
    if one == two or not ((one[0] and two[1]) or (one[1] and two[0])):
        return False
    return (
        first.ground_from_week < second.ground_until_week
        and second.ground_from_week < first.ground_until_week
    )


def forbids(question: PlanQuestion, pin: Pin, sowing: Sowing, bed: str) -> bool:
    """Say whether a pin alone leaves a sowing no place in a bed, whatever else is planted."""
    if not (matches(pin, sowing, bed) or pin.rule is PinRule.APART):
        return False
    if pin.rule is PinRule.AT_MOST:
        ground = next((each for each in question.beds if each.id == bed), None)
        least = question.least_patch_m2
        if ground is not None:
            least = least_patch_m2(question, sowing, ground)
        return left_m2(question, pin) < least - NEAR_M2
    if pin.rule is PinRule.APART:
        return pin.bed in {None, bed} and any(
            stand.bed == bed and clash_in(pin, sowing, stand.sowing) for stand in question.standing
        )
    return pin.rule is PinRule.FORBID or (pin.rule is PinRule.ONLY_IN and bed not in pin.beds)


def forbidden(question: PlanQuestion, sowing: Sowing, bed: str) -> bool:
    """Say whether a pin leaves a sowing no place in a bed."""
    return any(forbids(question, pin, sowing, bed) for pin in question.pins)


def asking(question: PlanQuestion) -> Iterator[tuple[int, Pin]]:
    """Give every pin that asks for ground, with its place in the question counted from 0."""
    for number, pin in enumerate(question.pins):
        if pin.rule in ASKING:
            yield number, pin


def standing_of(question: PlanQuestion, pin: Pin) -> Iterator[Standing]:
    """Give what stands and a pin speaks of."""
    return (stand for stand in question.standing if matches(pin, stand.sowing, stand.bed))


def asked_m2(question: PlanQuestion, pin: Pin) -> float:
    """Give the ground a pin still asks for, what stands of it already taken off [m²].

    A pin without a size asks for the smallest patch worth having, and for nothing where any of it
    stands.
    """
    stood = sum(stand.area_m2 for stand in standing_of(question, pin))
    if pin.area_m2 is None:
        return 0.0 if stood > 0 else question.least_patch_m2
    return max(0.0, pin.area_m2 - stood)


def left_m2(question: PlanQuestion, pin: Pin) -> float:
    """Give the ground that a pin with a most still leaves, what stands of it taken off [m²]."""
    stood = sum(stand.area_m2 for stand in standing_of(question, pin))
    return max(0.0, (pin.area_m2 or 0.0) - stood)
