"""Gardens drawn from a seed with everything in them that a plan may hold, and still tiny."""

from dataclasses import replace
from datetime import timedelta
from typing import Any

import numpy as np

from haulm.catalogue.records import Form, Picking, Role
from haulm.household.records import Appetite, Wanted
from haulm.larder.records import LotInHand
from haulm.plan.pins import Pin, PinRule
from haulm.plan.records import Allotment
from haulm.planner.question import Before, PlanQuestion, SeedBack, Standing
from planner.tiny_gardens import FIRST_DAY, bed, covered, food, garden, keeps, sowing, wants

CROPS = ("beet", "chard", "onion", "pea")
FAMILIES = ("roots", "leaves", "onions")
WAYS = (Picking.ONCE, Picking.SPREAD, Picking.STAND)


def various(seed: int) -> PlanQuestion:
    """Draw a garden: foods at several stages, stand-in foods, stores, hours, trays, what stands."""
    draw = np.random.default_rng(seed)
    families = dict(zip(CROPS, draw.choice(FAMILIES, size=len(CROPS)), strict=True))
    sowings = []
    for number in range(6):
        crop = CROPS[number % 3]
        start = int(draw.integers(0, 10))
        ready = start + int(draw.integers(3, 8))
        way = WAYS[int(draw.integers(0, 3))]
        weeks = range(ready, ready + (1 if way is Picking.ONCE else 3))
        foods = [food(crop, weeks, float(draw.uniform(1, 4)), way)]
        if crop == "beet":
            early = range(ready - 1, ready + 1)
            foods.append(food("beet-leaf", early, 0.5, Picking.SPREAD, Role.BY_PRODUCT))
        if crop == "chard":
            foods.append(food("baby-chard", [ready - 1], 1.0, Picking.ONCE, Role.INSTEAD))
        made = sowing(crop, start, weeks[-1] + 1, *foods, family=str(families[crop]))
        made = replace(made, id=f"{made.id}:{number}", cells_m2=float(draw.choice([0.0, 20.0])))
        sowings.append(covered(made) if number == 0 and draw.random() < 0.5 else made)
    beds = [bed("east", float(draw.uniform(1, 3))), bed("west", float(draw.uniform(1, 3)))]
    beds.append(bed("tunnel", 2.0, under_cover=True))
    asked = [
        wants(
            "beet", range(5, 20), float(draw.uniform(0.2, 1.5)), priority=int(draw.integers(1, 6))
        ),
        wants("chard", range(5, 20), float(draw.uniform(0.2, 1.0)), Wanted.FRESH),
        wants("onion", range(8, 24), float(draw.uniform(0.2, 1.0))),
        wants("baby-chard", range(4, 12), 0.1, priority=4),
        _greens(asked_kg=float(draw.uniform(0.1, 0.5))),
    ]
    question = garden(
        sowings, asked, beds, [keeps("beet", [1, 0.9, 0.8, 0.5], 1), keeps("onion", [1, 0.95, 0.9])]
    )
    return _more(question, draw)


def _greens(asked_kg: float) -> Appetite:
    """Want leaves of either kind: one stands in for the other."""
    line = wants("greens", range(4, 18), asked_kg, priority=2)
    return replace(line, foods=("beet-leaf", "chard"))


def _more(question: PlanQuestion, draw: np.random.Generator) -> PlanQuestion:
    """Add, each by a chance, what limits a plan, what was there before it, and what is in hand."""
    stands = replace(question.sowings[1], id="stands", ground_from_week=-4)
    in_hand = LotInHand(
        "beet", "beet/kind", Form.CELLARED, "cellar", 3.0, FIRST_DAY - timedelta(weeks=1)
    )
    chances: tuple[dict[str, Any], ...] = (
        {"standing": (Standing(stands, "east", 0.6),)},
        {"lots": (in_hand,)},
        {"stores": tuple(replace(store, capacity_l=2.0) for store in question.stores)},
        {"hours_week": (0.2,) * question.horizon.weeks, "tray_cells": 15},
        {"seed_back": (SeedBack("onion/kind", "onion", 50.0, 10.0, 0.05),)},
        {
            "allotments": (
                Allotment("east", 2027, "roots", 0.8),
                Allotment("west", 2027, "leaves", 2.0),
            )
        },
        {"most_of_family": {"roots": 0.3}, "least_patch_m2": 0.3},
        {"before": tuple(Before(s.id, "west", 0.6) for s in question.sowings[1:4])},
        {
            "pins": (
                Pin(PinRule.KEEP, "onion/kind", area_m2=0.7),
                Pin(PinRule.AT_MOST, None, crop="beet", area_m2=1.2),
                Pin(PinRule.APART, "chard/kind", apart_from="beet"),
            )
        },
    )
    for more in chances:
        if draw.random() < 0.4:
            question = replace(question, **more)
    if question.standing:  # shares of families are asked of bare ground alone
        question = replace(question, most_of_family={})
    return question
