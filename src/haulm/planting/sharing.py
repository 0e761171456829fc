"""Several patches in one bed over time: who stands where, and when."""

from collections.abc import Iterator, Sequence
from math import isfinite

from haulm.ground.records import Outline
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.planting.pieces import pieces_of, reckoned_count, share_of_row_ground
from haulm.planting.records import PatchLayout, PatchWish
from haulm.planting.stretches import Placing, fewest_stretches
from haulm.planting.swaths import AREA_SLACK_M2, Sweep, cut_bed, most_swaths, sweep_of


def share_out_bed(outline: Outline, wishes: Sequence[PatchWish]) -> tuple[PatchLayout, ...]:
    """Give each patch its ground in a bed, so that patches of the same weeks never overlap.

    The bed is swept along its longer side, a wide one in swaths of equal width, up the first and
    down the next, and each patch takes a stretch of its area. Patches are placed in order of their
    first week, the longest standing first, each in a gap that is wide enough; only where no gap is
    wide enough is a patch split, into the widest gaps first. Of a hundred ways to choose the gaps,
    all drawn from fixed seeds, those that split fewest are kept; of these, and of all numbers of
    swaths that the width allows, the one is taken in which the patches are reckoned to hold most of
    their planned stations, each patch weighing the same; then the one with fewest pieces, then the
    one with fewest swaths. The same wishes give the same ground, in whatever order they come.

    A piece too small for its edges holds a row down its middle if it has ground for half a plant,
    of no more stations than were planned, the row's ends as far from the bed's edge as any; in the
    choice it counts by the share of a row's own ground that it has. A piece that would still hold
    none, but was to hold one or more, gets a single station at its most inner point, if that is the
    wish's edge distance or more from the bed's own edge. Such stations may stand nearer than half a
    spacing to a neighbouring patch.

    Parameters
    ----------
    outline
        The bed's edge.
    wishes
        What wants ground, with distinct names.

    Returns
    -------
    tuple of PatchLayout
        In the order of the wishes. Stations are measured from the bed's own base and west side in
        whole centimetres. Where a stretch of a bent bed falls apart, each part is a piece of its
        own and takes its part of the shares.

    Raises
    ------
    FaultsFoundError
        When a wish has no usable area, spacing or weeks, two have one name, or patches of one week
        want more than the bed has.
    """
    findings = (*_wish_faults(wishes), *_overfull(outline.area_m2, wishes))
    if findings:
        raise FaultsFoundError(findings)
    sweep, placed = _fullest(outline, wishes)
    return tuple(
        PatchLayout(
            wish.name, wish.area_m2, tuple(pieces_of(outline, sweep, wish, placed[wish.name]))
        )
        for wish in wishes
    )


def _fullest(outline: Outline, wishes: Sequence[PatchWish]) -> tuple[Sweep, Placing]:
    """Choose the sweep and the placing in which the patches hold most of what was planned."""
    ways: list[tuple[float, Sweep, Placing]] = []
    for count in range(1, most_swaths(outline) + 1):
        sweep = sweep_of(outline, count)
        true_area = outline.area_m2 / sweep.bed.area
        ends_m2 = [swath.start_m2 * true_area for swath in sweep.swaths[1:]]
        placings = fewest_stretches(outline.area_m2, wishes, ends_m2)
        held = [_share_held(outline, sweep, wishes, placing) for placing in placings]
        most = max(held)
        ways.append((most, sweep, placings[held.index(most)]))
    most = max(held for held, _, _ in ways)
    best = [(sweep, placing) for held, sweep, placing in ways if held == most]
    return min(best, key=lambda way: _pieces_in(outline, *way))


def _share_held(
    outline: Outline, sweep: Sweep, wishes: Sequence[PatchWish], placing: Placing
) -> float:
    """Add up what share of its planned stations each patch is reckoned to hold with room to grow.

    Rounded, so that the order of the wishes makes no difference.
    """
    shares = (
        min(reckoned_count(outline, sweep, wish, placing[wish.name]) / wish.plants, 1.0)
        * share_of_row_ground(outline, sweep, wish, placing[wish.name])
        for wish in wishes
        if wish.plants
    )
    return round(sum(shares), 9)


def _pieces_in(outline: Outline, sweep: Sweep, placing: Placing) -> int:
    return sum(
        len(cut_bed(sweep, start / outline.area_m2, end / outline.area_m2))
        for stretches in placing.values()
        for start, end in stretches
    )


def _wish_faults(wishes: Sequence[PatchWish]) -> Iterator[Finding]:
    names: set[str] = set()
    for wish in wishes:
        if wish.name in names:
            yield Finding(wish.name, "two patches have this name.", "Give each its own.")
        names.add(wish.name)
        for what, value in (("area", wish.area_m2), ("spacing", wish.spacing_m)):
            if not (isfinite(value) and value > 0):
                yield Finding(wish.name, f"its {what} is {value:g}.", f"Give a {what} above 0.")
        if wish.until_week <= wish.from_week:
            what = f"it would leave in week {wish.until_week}, not after week {wish.from_week}."
            yield Finding(wish.name, what, "Let it hold the ground for a week or more.")


def _overfull(area_m2: float, wishes: Sequence[PatchWish]) -> Iterator[Finding]:
    """Yield the weeks in which patches want more than the bed has, each where it begins."""
    for week in sorted({wish.from_week for wish in wishes}):
        there = [wish for wish in wishes if wish.from_week <= week < wish.until_week]
        wanted = sum(wish.area_m2 for wish in there)
        if wanted > area_m2 + AREA_SLACK_M2:
            names = ", ".join(wish.name for wish in there)
            what = f"{names} want {wanted:.2f} m² of {area_m2:.2f} m²."
            yield Finding(f"week {week}", what, "Make a patch smaller, or move it to another bed.")
