"""Stretches of a bed's area: which patch stands where along it, and when."""

from collections.abc import Sequence

import numpy as np

from haulm.planting.records import PatchWish
from haulm.planting.swaths import AREA_SLACK_M2

TRIES = 100
"""Ways of choosing gaps that are tried."""
NARROWEST_SHARE = 0.6
"""How often a try takes the narrowest gap outright [1]."""
Stretch = tuple[float, float]
"""From and to, along the bed's area [m²]."""
Placing = dict[str, list[Stretch]]
"""The stretches of each patch, by its name."""


def fewest_stretches(
    area_m2: float, wishes: Sequence[PatchWish], ends_m2: Sequence[float] = ()
) -> tuple[Placing, ...]:
    """Place the patches in many ways and keep those that split fewest, the plainest first.

    Patches are placed in order of their first week, the longest standing first, each in a gap that
    is wide enough; only where none is wide enough is a patch split, into the widest gaps first.
    All draws are from fixed seeds.

    Parameters
    ----------
    area_m2
        The bed's area [m²].
    wishes
        What wants ground.
    ends_m2
        Where the bed's swaths end, along its area [m²]; a gap is taken in parts that end there
        where one of them is wide enough, so that few patches lie across two swaths.
    """
    draws = (None, *map(np.random.default_rng, range(TRIES)))
    tried = [_place(area_m2, wishes, ends_m2, draw) for draw in draws]
    fewest = min(_count(placing) for placing in tried)
    kept: list[Placing] = []
    for placing in tried:
        if _count(placing) == fewest and placing not in kept:
            kept.append(placing)
    return tuple(kept)


def _count(placing: Placing) -> int:
    return sum(len(parts) for parts in placing.values())


def _place(
    area_m2: float,
    wishes: Sequence[PatchWish],
    ends_m2: Sequence[float],
    draw: np.random.Generator | None,
) -> Placing:
    """Give each patch stretches of the bed's area, those of one week apart from each other.

    Without ``draw`` each goes to the near end of the narrowest gap wide enough; with it, gap and
    end are drawn, the narrowest gap being the likeliest.
    """
    placed: Placing = {}
    order = sorted(wishes, key=lambda wish: (wish.from_week, -wish.until_week, wish.name))
    for number, wish in enumerate(order):
        standing = [other for other in order[:number] if other.until_week > wish.from_week]
        taken = [part for other in standing for part in placed[other.name]]
        within = [*taken, *((end, end) for end in ends_m2)]
        wide = _wide(_gaps(area_m2, within), wish.area_m2)
        if not wide:
            gaps = _gaps(area_m2, taken)
            wide = _wide(gaps, wish.area_m2)
        if not wide:
            placed[wish.name] = _split(wish.area_m2, gaps)
            continue
        start, end = min(wide, key=lambda gap: (gap[1] - gap[0], gap[0]))
        if draw is not None and draw.random() > NARROWEST_SHARE:
            start, end = wide[int(draw.integers(len(wide)))]
        if draw is not None and draw.integers(2):
            start = max(end - wish.area_m2, start)
        placed[wish.name] = [(start, min(start + wish.area_m2, end))]
    return placed


def _wide(gaps: Sequence[Stretch], area_m2: float) -> list[Stretch]:
    """Keep the gaps that an area goes into whole."""
    return [gap for gap in gaps if gap[1] - gap[0] >= area_m2 - AREA_SLACK_M2]


def _gaps(area_m2: float, taken: Sequence[Stretch]) -> list[Stretch]:
    """List the free stretches of the bed's area from the peg on."""
    gaps, at = [], 0.0
    for start, end in [*sorted(taken), (area_m2, area_m2)]:
        if start - at > AREA_SLACK_M2:
            gaps.append((at, start))
        at = max(at, end)
    return gaps


def _split(wanted_m2: float, gaps: Sequence[Stretch]) -> list[Stretch]:
    """Fill the widest gaps first until the area is had."""
    parts, left = [], wanted_m2
    for start, end in sorted(gaps, key=lambda gap: (gap[0] - gap[1], gap[0])):
        if left <= AREA_SLACK_M2:
            break
        taken = min(left, end - start)
        parts.append((start, start + taken))
        left -= taken
    return sorted(parts)
