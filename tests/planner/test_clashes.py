"""Pins that clash are named together: the fewest that cannot all be kept, and what each allows."""

from dataclasses import replace
from itertools import combinations, compress, product

import numpy as np
import pytest
from scipy.optimize import linprog

from haulm.plan.pins import ASKING, Pin, PinRule
from haulm.planner.make import make_plan
from haulm.planner.question import PlanQuestion
from haulm.planner.tables import tabulate
from planner.brute_force import Patch, kept_out, meet, speaks_of, tiny
from planner.test_limits import SMALL, apart, at_least, at_most, drawn, only_in, planned
from planner.tiny_gardens import HORIZON, USUAL


def can_all_be_kept(question: PlanQuestion, pins: list[Pin]) -> bool:
    """Try every choice of patches, each with areas of its own: is there one that keeps all pins?"""
    patches = [
        (s, b)
        for s in question.sowings
        for b in question.beds
        if not any(kept_out(pin, (s, b)) for pin in pins)
    ]
    return any(
        _fits(question, pins, list(compress(patches, choice)))
        for choice in product((False, True), repeat=len(patches))
    )


def _fits(question: PlanQuestion, pins: list[Pin], held: list[Patch]) -> bool:
    """Say whether some areas of these patches fit the beds and keep the pins."""
    if any(meet(pin, held) for pin in pins):
        return False
    rows, most, same, just = [], [], [], []
    for b, week in product(question.beds, range(HORIZON.weeks)):
        there = [
            float(of is b and s.ground_from_week <= week < s.ground_until_week) for s, of in held
        ]
        rows.append(there)
        most.append(b.area_m2)
    for pin in pins:
        spoken = [float(speaks_of(pin, patch)) for patch in held]
        if pin.rule is PinRule.AT_MOST:
            rows.append(spoken)
            most.append(pin.area_m2 or 0.0)
        elif pin.rule is PinRule.AT_LEAST:
            rows.append([-each for each in spoken])
            most.append(-(pin.area_m2 or 0.0))
        elif pin.rule is PinRule.KEEP:
            same.append(spoken)
            just.append(pin.area_m2 or 0.0)
    if not held:
        return all(m >= 0 for m in most) and not any(just)
    solved = linprog(
        np.zeros(len(held)),
        np.array(rows),
        most,
        np.array(same) if same else None,
        just or None,
        bounds=[(question.least_patch_m2, b.area_m2) for _, b in held],
    )
    return bool(solved.status == 0)


@pytest.mark.parametrize("seed", range(24))
def test_a_clash_is_the_fewest_pins_that_cannot_all_be_kept(seed: int) -> None:
    """All of a clash cannot be kept, any of it left out the rest can; no fewer pins clash so."""
    question = tiny(seed)
    question = replace(question, pins=drawn(seed))
    told = tabulate(question).clashes
    together = can_all_be_kept(question, list(question.pins))
    assert bool(told) is not together
    for clash in told:
        pins = [question.pins[number] for number in clash.pins]
        assert not can_all_be_kept(question, pins)
        for fewer in combinations(pins, len(pins) - 1):
            assert can_all_be_kept(question, list(fewer))


@pytest.mark.parametrize("seed", range(24))
def test_what_a_pin_of_a_clash_could_have_is_just_possible(seed: int) -> None:
    """Changed to what it could have, a pin stands beside the others; a little beyond, it can't."""
    question = tiny(seed)
    question = replace(question, pins=drawn(seed))
    for clash in tabulate(question).clashes:
        pins = [question.pins[number] for number in clash.pins]
        for index, could in enumerate(clash.could_m2):
            pin, rest = pins[index], pins[:index] + pins[index + 1 :]
            if could is None or pin.rule is PinRule.KEEP:
                continue
            less = -0.01 if pin.rule in ASKING else 0.01
            if could > 0:
                eased = replace(pin, area_m2=could + less / 10)
                assert can_all_be_kept(question, [*rest, eased])
            beyond = replace(pin, area_m2=max(0.0, could - less))
            assert not can_all_be_kept(question, [*rest, beyond])


def test_two_beds_too_small_for_two_leasts_are_told_in_one_sentence() -> None:
    """Five of beet and four of chard on seven at one time: both are named, and what each allows."""
    (told,) = [
        f
        for f in planned(SMALL, at_least("beet", 5.0), at_least("chard", 4.0)).findings
        if f.where.startswith("pins")
    ]
    assert told.where == "pins 1 and 2"
    assert told.what == (
        "they cannot both be kept: 1. at least 5.00 m² of beet; 2. at least 4.00 m² of chard."
        " Any one of them left out, the rest can."
    )
    assert told.remedy == "Change one of them: pin 1 could have 3.00 m²; pin 2 could have 2.00 m²."


def test_three_pins_that_clash_only_together_are_named_together() -> None:
    """At least four of beet, only in west, where chard has to be apart: no two of them clash."""
    pins = (at_least("chard", 0.6, "west"), only_in("beet", "west"), apart("beet", "chard"))
    plan = planned(SMALL, at_most("chard", 6.0), *pins, at_least("beet", 1.0))
    (told,) = [f for f in plan.findings if f.where.startswith("pins")]
    assert told.where == "pins 2, 3, 4 and 5"
    assert told.remedy == (
        "Change one of them: pin 2 would have to go; pin 3 would have to go; pin 4 would have to"
        " go; pin 5 would have to go."
    )
    (broken,) = [b.sentence for b in plan.broken if b.rule == "pin"]
    assert broken.endswith("for pin 2, pin 3 and pin 4 together stand against it")


def test_a_most_that_clashes_says_what_it_would_have_to_allow() -> None:
    """At most two where three are asked for: the most would have to be three."""
    plan = make_plan(
        replace(SMALL, pins=(at_most("beet", 2.0), at_least("beet", 3.0, "east"))), USUAL
    )
    (told,) = [f for f in plan.findings if f.where.startswith("pins")]
    assert told.remedy == (
        "Change one of them: pin 1 would have to allow 3.00 m²; pin 2 could have 2.00 m²."
    )
