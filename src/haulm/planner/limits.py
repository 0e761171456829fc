"""Limits set by hand, tabulated: how much of some pairs there may be, and which exclude each other.

Bare ground keeps every limit, so that all of them always can be kept.
"""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from haulm.growing.records import Sowing
from haulm.plan.pins import Pin, PinRule
from haulm.planner.arrays import Flags, Floats, Ints
from haulm.planner.assembler import Assembler
from haulm.planner.ground_tables import GroundTables
from haulm.planner.pins import left_m2, matches, names_it, speaks_of
from haulm.planner.question import PlanQuestion
from haulm.planner.rules.registry import LIMIT

CLEARED = 1e-7


@dataclass(frozen=True, slots=True)
class Cap:
    """A pin that sets a most: its place in the question's pins, its pairs, and what it leaves.

    ``most_m2`` is what all its pairs may have together, what stands taken off [m²].
    """

    number: int
    pairs: Ints
    most_m2: float


@dataclass(frozen=True, slots=True)
class Limits:
    """The pins that set a most, and the pairs of patches (``one``, ``other``) kept apart."""

    caps: tuple[Cap, ...]
    one: Ints
    other: Ints

    @property
    def any(self) -> bool:
        """Whether there is any limit."""
        return bool(self.caps) or len(self.one) > 0

    def of_pairs(self, pairs: Ints) -> "Limits":
        """Give the limits on some pairs (in order, once each), counted within those."""
        caps = (Cap(c.number, np.intersect1d(c.pairs, pairs), c.most_m2) for c in self.caps)
        inside = np.isin(self.one, pairs) & np.isin(self.other, pairs)
        return Limits(
            tuple(
                Cap(c.number, np.searchsorted(pairs, c.pairs), c.most_m2)
                for c in caps
                if len(c.pairs)
            ),
            np.searchsorted(pairs, self.one[inside]),
            np.searchsorted(pairs, self.other[inside]),
        )

    def within(self, used: Flags, least_m2: Floats, wish_m2: Floats, held: Flags) -> Flags:
        """Drop patches until all limits are kept: the smallest wishes first, what is held last.

        ``held`` (P) must keep the limits by itself.
        """
        if not self.any:
            return used
        left = used.copy()
        rank = np.where(held, np.inf, wish_m2)
        for one, other in zip(self.one, self.other, strict=True):
            if left[one] and left[other]:
                left[one if rank[one] < rank[other] else other] = False
        for cap in self.caps:
            inside = cap.pairs[left[cap.pairs]]
            for pair in inside[np.argsort(rank[inside], kind="stable")]:
                if least_m2[cap.pairs[left[cap.pairs]]].sum() <= cap.most_m2 + CLEARED:
                    break
                left[pair] = held[pair]
        return left


NO_LIMITS = Limits((), np.zeros(0, np.int64), np.zeros(0, np.int64))


def limits_of(question: PlanQuestion, ground: GroundTables) -> Limits:
    """Tabulate the limits that some pins set on a ground."""
    caps = [
        Cap(number, pairs_of(pin, ground), left_m2(question, pin))
        for number, pin in enumerate(question.pins)
        if pin.rule is PinRule.AT_MOST
    ]
    one, other = [NO_LIMITS.one], [NO_LIMITS.other]
    for pin in question.pins:
        if pin.rule is PinRule.APART:
            for first, second in _apart(pin, ground):
                one.append(first)
                other.append(second)
    return Limits(
        tuple(cap for cap in caps if len(cap.pairs)), np.concatenate(one), np.concatenate(other)
    )


def pairs_of(pin: Pin, ground: GroundTables) -> Ints:
    """List the pairs a pin speaks of."""
    return np.array(
        [
            pair
            for pair, (s, b) in enumerate(zip(ground.pair_sowing, ground.pair_bed, strict=True))
            if matches(pin, ground.sowings[s], ground.beds[b].id)
        ],
        dtype=np.int64,
    )


def _apart(pin: Pin, ground: GroundTables) -> Iterator[tuple[Ints, Ints]]:
    """List, bed by bed, the pairs of patches that a pin keeps apart."""
    sides = np.array([_side(pin, sowing) for sowing in ground.sowings], dtype=np.int64)
    start = np.array([sowing.ground_from_week for sowing in ground.sowings], dtype=np.int64)
    end = np.array([sowing.ground_until_week for sowing in ground.sowings], dtype=np.int64)
    for bed, record in enumerate(ground.beds):
        if pin.bed not in {None, record.id}:
            continue
        here = np.nonzero(ground.pair_bed == bed)[0]
        here = here[sides[ground.pair_sowing[here]] > 0]
        of = ground.pair_sowing[here]
        meet = (start[of][:, None] < end[of][None, :]) & (start[of][None, :] < end[of][:, None])
        clash = (sides[of][:, None] | sides[of][None, :]) == BOTH
        alike = sides[of][:, None] == sides[of][None, :]
        first, second = np.nonzero(np.triu(meet & clash & ~alike))
        yield here[first], here[second]


BOTH = 3
"""A sowing on the first side of a pin that keeps apart is 1, on the second 2, on both 3."""


def _side(pin: Pin, sowing: Sowing) -> int:
    return int(speaks_of(pin, sowing)) + 2 * int(names_it(pin.apart_from, sowing))


def lay_caps(model: Assembler, limits: Limits, area: Ints, over: Ints | None = None) -> None:
    """Lay the rows of every most over columns of area, each with its column of what is over."""
    for row, cap in enumerate(limits.caps):
        none = np.zeros(len(cap.pairs), dtype=np.int64)
        entries = [(none, area[cap.pairs], np.ones(len(none)))]
        if over is not None:
            entries.append((none[:1], over[row : row + 1], np.array([-1.0])))
        model.rows(LIMIT.name, (np.array([-np.inf]), np.array([cap.most_m2])), entries)


def lay_apart(model: Assembler, limits: Limits, used: Ints) -> None:
    """Lay, for each patch kept apart from n others: Σ used of those + n · used ≤ n."""
    if len(limits.one) == 0:
        return
    patches, row, others = np.unique(limits.one, return_inverse=True, return_counts=True)
    one = np.ones(len(limits.one))
    most = others.astype(np.float64)
    model.rows(
        LIMIT.name,
        (np.full(len(patches), -np.inf), most),
        [(row, used[limits.other], one), (np.arange(len(patches)), used[patches], most)],
    )
