"""Pins that clash: the fewest that cannot all be kept, and what each could have beside the rest.

A set of pins clashes where no choice of patches keeps all of them on these beds, beside what
stands. It is thinned out pin by pin: one is left out wherever the rest still clash (the deletion
filter of Chinneck and Dravnieks 1991, *ORSA Journal on Computing* 3), until every pin left is
needed. Where there are few pins, smaller sets are tried before, so that no set is smaller.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import combinations
from math import comb

import numpy as np

from haulm.plan.pins import ASKING, Pin, PinRule
from haulm.planner.arrays import Ints
from haulm.planner.assembler import Assembler, Entries
from haulm.planner.ground_tables import GroundTables, useful_ground
from haulm.planner.limits import lay_apart, lay_caps, limits_of, pairs_of
from haulm.planner.pins import asked_m2, speaks_of
from haulm.planner.program import solve_whole
from haulm.planner.question import PlanQuestion
from haulm.planner.settle import CLOSE_M2, NODES, SEED, SLACK_M2, Kept, lay_patches
from haulm.planner.stopping import Manner

MOST_TRIALS = 50
"""Smaller sets are tried where they are no more than this."""


@dataclass(frozen=True, slots=True)
class Clash:
    """Pins that cannot all be kept, though any of them left out the others can.

    Attributes
    ----------
    pins
        Their places in the question's pins, counted from 0, in order.
    could_m2
        For each: the ground it could have, or the most it would have to allow, beside all the
        others [m²]; None for a pin without a size.
    """

    pins: tuple[int, ...]
    could_m2: tuple[float | None, ...]


def clashes(question: PlanQuestion, kept: Sequence[Kept]) -> tuple[Clash, ...]:
    """Find, for each pin that could not be settled as it asks, the fewest pins that clash with it.

    ``kept`` are the pins as settled. Limits and the pins that were settled whole stand against it;
    the same set is told once.
    """
    settled = {each.number: each for each in kept}
    whole: list[int] = [n for n, pin in enumerate(question.pins) if pin.rule not in ASKING]
    found: dict[tuple[int, ...], Clash] = {}
    for number, pin in enumerate(question.pins):
        if pin.rule not in ASKING or (asked := asked_m2(question, pin)) <= 0:
            continue
        held = settled[number].settled_m2 if number in settled else 0.0
        if abs(asked - held) <= CLOSE_M2 or (not pin.exact and held >= asked):
            whole.append(number)
            continue
        fewest = smallest_clash(question, whole, number)
        if fewest:
            found[fewest] = Clash(fewest, tuple(could_m2(question, fewest, n) for n in fewest))
    return tuple(found.values())


def smallest_clash(question: PlanQuestion, others: Sequence[int], number: int) -> tuple[int, ...]:
    """Thin pins out to the fewest that clash with one; empty where none do, or none surely.

    Parameters
    ----------
    question
        The garden and its pins.
    others
        Pins that can all be kept together, by their places counted from 0.
    number
        The pin that cannot be kept beside them.
    """
    near = [n for n in others if question.pins[n].rule in ASKING or _limits(question, n)]
    if not _clash(question, (*near, number)):
        return ()
    left = list(near)
    for each in reversed(near):
        fewer = [n for n in left if n != each]
        if _clash(question, (*fewer, number)):
            left = fewer
    for size in range(len(left)):
        if sum(comb(len(near), n) for n in range(size + 1)) > MOST_TRIALS:
            break
        for some in combinations(near, size):
            if _clash(question, (*some, number)):
                return tuple(sorted((*some, number)))
    return tuple(sorted((*left, number)))


def _limits(question: PlanQuestion, number: int) -> bool:
    """Say whether a pin that limits speaks of anything there is."""
    pin = question.pins[number]
    return any(speaks_of(pin, sowing) for sowing in question.sowings)


def _clash(question: PlanQuestion, numbers: Sequence[int]) -> bool:
    """Say whether some pins surely cannot all be kept."""
    return apart_m2(question, [question.pins[n] for n in sorted(numbers)])[0] > CLOSE_M2


def could_m2(question: PlanQuestion, clash: Sequence[int], number: int) -> float | None:
    """Give what one pin of a clash could have, or would have to allow, beside the others [m²]."""
    pin = question.pins[number]
    if pin.area_m2 is None:
        return None
    _, less = apart_m2(question, [question.pins[n] for n in clash], give_way=clash.index(number))
    return max(0.0, pin.area_m2 - less)


def apart_m2(
    question: PlanQuestion, pins: Sequence[Pin], give_way: int | None = None
) -> tuple[float, float]:
    """Measure how far from being kept some pins are, taken together [m²].

    Parameters
    ----------
    question
        The garden; of its pins none counts.
    pins
        The pins that count.
    give_way
        The one that alone may be left, counted from 0; None for all that ask.

    Returns
    -------
    How far they are at the least, and how much less than it names the one that gives way has.
    """
    lax = None if give_way is None else pins[give_way]
    asking = [pin for pin in pins if pin.rule in ASKING and asked_m2(question, pin) > 0]
    sowings = tuple(s for s in question.sowings if any(speaks_of(p, s) for p in asking))
    strict = tuple(pin for pin in pins if pin is not lax or pin.rule is not PinRule.AT_MOST)
    small = replace(question, pins=strict, sowings=sowings, before=())
    ground = useful_ground(small, np.zeros(len(sowings)))
    pairs = np.arange(len(ground.pair_sowing))
    if len(pairs) == 0:
        return sum(asked_m2(question, p) for p in asking), asked_m2(question, lax) if lax else 0.0
    model = Assembler()
    area, used = lay_patches(model, ground, pairs, np.zeros(len(pairs)))
    limits = limits_of(replace(small, pins=tuple(pins)), ground)
    free = np.array([pins[cap.number] is lax for cap in limits.caps], dtype=np.bool_)
    over = model.columns(len(free), cost=1.0, upper=np.where(free, np.inf, SLACK_M2))
    lay_caps(model, limits, area, over)
    lay_apart(model, limits, used)
    short, more = _lay_asked(model, question, ground, (asking, lax), area)
    answer = solve_whole(model.seal(), Manner(SEED), NODES)
    if lax is None or answer.values is None:
        return answer.bound, 0.0
    at = [index for index, pin in enumerate(asking) if pin is lax]
    less = answer.values[short[at]].sum() - answer.values[more[at]].sum()
    return answer.bound, float(less - answer.values[over[free]].sum())


def _lay_asked(
    model: Assembler,
    question: PlanQuestion,
    ground: GroundTables,
    who: tuple[Sequence[Pin], Pin | None],
    area: Ints,
) -> tuple[Ints, Ints]:
    """Lay what each pin asks for; give the columns of what it is short of, and has over."""
    asking, lax = who
    free = np.array([lax is None or lax is pin for pin in asking], dtype=np.bool_)
    exact = np.array([pin.exact for pin in asking], dtype=np.bool_)
    upper = np.where(free, np.inf, SLACK_M2)
    short = model.columns(len(asking), cost=1.0, upper=upper)
    more = model.columns(
        len(asking), cost=np.where(exact, 1.0, 0.0), upper=np.where(exact, upper, np.inf)
    )
    rows, one = np.arange(len(asking)), np.ones(len(asking))
    entries: list[Entries] = [(rows, short, one), (rows, more, -one)]
    for row, pin in enumerate(asking):
        at = area[pairs_of(pin, ground)]
        entries.append((np.full(len(at), row), at, np.ones(len(at))))
    asked = np.array([asked_m2(question, pin) for pin in asking], dtype=np.float64)
    model.rows("pin", (asked, asked), entries)
    return short, more
