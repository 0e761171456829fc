"""What follows on in a bed, when the crop before it is reckoned to stand a little longer."""

from collections.abc import Sequence
from dataclasses import replace

from haulm.growing.records import Sowing

MOST_WEEKS = 3
"""A crop is cleared up to so many weeks early for the next one; more is no longer the same plan."""

Held = tuple[Sowing, float]
"""What stands, or waits in trays for its place, and the ground it has or will have [m²]."""

LEAST_M2 = 1e-6


def in_turn(held: Sequence[Held], area_m2: float) -> tuple[Sowing, ...]:
    """Clear what stands for what is to follow on it, where the bed does not hold both.

    A plan sets one crop out in the week another is cleared. Reckoned again later, by weather drawn
    for other weeks, the first may end a week or two after: then it is cleared when the next is set
    out, as it was meant to be. The one that ends soonest gives way, by three weeks at most; where
    that is not enough, the bed stays too full, which whoever asked has to tell.

    Parameters
    ----------
    held
        What is on the bed, with its ground.
    area_m2
        The bed's area [m²].

    Returns
    -------
    The same sowings in the same order, some with an earlier end.
    """
    found = [sowing for sowing, _ in held]
    ground = [m2 for _, m2 in held]
    for week in sorted({max(0, sowing.ground_from_week) for sowing in found}):
        while _held_m2(found, ground, week) > area_m2 + LEAST_M2:
            soonest = _soonest(found, week)
            if soonest is None:
                break
            found[soonest] = replace(found[soonest], ground_until_week=week)
    return tuple(found)


def _held_m2(found: Sequence[Sowing], ground: Sequence[float], week: int) -> float:
    return sum(m2 for s, m2 in zip(found, ground, strict=True) if _there(s, week))


def _there(sowing: Sowing, week: int) -> bool:
    return sowing.ground_from_week <= week < sowing.ground_until_week


def _soonest(found: Sequence[Sowing], week: int) -> int | None:
    """Find what ends soonest of those that were there before a week, within three weeks of it."""
    ends = [
        (sowing.ground_until_week, number)
        for number, sowing in enumerate(found)
        if sowing.ground_from_week < week < sowing.ground_until_week <= week + MOST_WEEKS
    ]
    return min(ends)[1] if ends else None
