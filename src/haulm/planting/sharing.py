"""Several patches in one bed over time: who stands where, and when."""

from collections.abc import Iterator, Sequence
from math import isfinite, sqrt

import numpy as np
import shapely

from haulm.ground.records import Outline
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.planting.layout import lay_out
from haulm.planting.measure_rows import to_centimetres
from haulm.planting.records import Layout, PatchLayout, PatchWish, Piece

AREA_SLACK_M2 = 1e-6
"""Areas are kept to this [m²]."""
TRIES = 100
"""Ways of choosing gaps that are tried before a patch is split."""
NARROWEST_SHARE = 0.6
"""How often a try takes the narrowest gap outright [1]."""
Stretch = tuple[float, float]
"""From and to, along the bed's area [m²]."""


def share_out_bed(outline: Outline, wishes: Sequence[PatchWish]) -> tuple[PatchLayout, ...]:
    """Give each patch its ground in a bed, so that patches of the same weeks never overlap.

    The bed is swept along its longer side, and each patch takes a stretch of its area. Patches are
    placed in order of their first week, the longest standing first, each in a gap that is wide
    enough; of a hundred ways to choose the gaps, all drawn from fixed seeds, the one that leaves
    fewest pieces is taken. Only where no gap is wide enough is a patch split, into the widest gaps
    first. The same wishes give the same ground, in whatever order they come.

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
    placed = _fewest_pieces(outline.area_m2, wishes)
    return tuple(
        PatchLayout(wish.name, wish.area_m2, tuple(_pieces(outline, wish, placed[wish.name])))
        for wish in wishes
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


def _place(
    area_m2: float, wishes: Sequence[PatchWish], draw: np.random.Generator | None
) -> dict[str, list[Stretch]]:
    """Give each patch stretches of the bed's area, those of one week apart from each other.

    Without ``draw`` each goes to the west end of the narrowest gap wide enough; with it, gap and
    end are drawn, the narrowest gap being the likeliest.
    """
    placed: dict[str, list[Stretch]] = {}
    order = sorted(wishes, key=lambda wish: (wish.from_week, -wish.until_week, wish.name))
    for number, wish in enumerate(order):
        standing = [other for other in order[:number] if other.until_week > wish.from_week]
        gaps = _gaps(area_m2, [part for other in standing for part in placed[other.name]])
        wide = [gap for gap in gaps if gap[1] - gap[0] >= wish.area_m2 - AREA_SLACK_M2]
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


def _fewest_pieces(area_m2: float, wishes: Sequence[PatchWish]) -> dict[str, list[Stretch]]:
    """Place the patches in many ways and keep the one with fewest pieces, the first of equals."""
    best = _place(area_m2, wishes, None)
    for seed in range(TRIES):
        if all(len(parts) == 1 for parts in best.values()):
            break
        tried = _place(area_m2, wishes, np.random.default_rng(seed))
        if sum(map(len, tried.values())) < sum(map(len, best.values())):
            best = tried
    return best


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


def _pieces(outline: Outline, wish: PatchWish, stretches: Sequence[Stretch]) -> Iterator[Piece]:
    """Cut each stretch out of the bed and lay its stations out."""
    for start, end in stretches:
        share_from, share_to = start / outline.area_m2, end / outline.area_m2
        parts = cut_bed(outline, share_from, share_to)
        whole = sum(part.area for part in parts)
        at = share_from
        for part in parts:
            corners = tuple((float(x), float(y)) for x, y in part.exterior.coords[:-1])
            after = at + (share_to - share_from) * part.area / whole
            all_of_it = share_from <= 0 and share_to >= 1
            diameter = outline.diameter_m if all_of_it else None
            edges = _edges(outline, corners, wish)
            yield Piece(at, after, corners, _piece_layout(corners, wish, edges, diameter))
            at = after


def _piece_layout(
    corners: Sequence[tuple[float, float]],
    wish: PatchWish,
    edges_m: Sequence[float],
    diameter_m: float | None,
) -> Layout:
    """Lay stations into a piece; one narrower than its edges gets a row down its middle."""
    wide = wish.row_gap_m > wish.spacing_m * sqrt(0.75) + AREA_SLACK_M2
    gap = wish.row_gap_m if wide else None
    layout = lay_out(corners, wish.spacing_m, edges_m, gap, diameter_m=diameter_m)
    piece = shapely.Polygon(corners)
    half_a_plant_m2 = wish.spacing_m * max(wish.row_gap_m, wish.spacing_m * sqrt(0.75)) / 2
    if layout.count == 0 and piece.area >= half_a_plant_m2:
        half_width = shapely.maximum_inscribed_circle(piece).length
        edges_m = [half_width * 0.98] * len(corners)
        layout = lay_out(corners, wish.spacing_m, edges_m, gap)
    return to_centimetres(layout, corners, diameter_m, edges_m)


def _edges(
    outline: Outline, corners: Sequence[tuple[float, float]], wish: PatchWish
) -> tuple[float, ...]:
    """Give the distance to keep from each side: the edge's, and half a spacing from a neighbour.

    A side that does not lie on the bed's own edge is one that the sweep cut.
    """
    bed = shapely.Polygon(outline.corners_m).exterior
    middles = [
        shapely.Point((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
        for a, b in zip(corners, (*corners[1:], corners[0]), strict=True)
    ]
    beside = max(wish.edge_m, wish.spacing_m / 2)
    return tuple(
        beside if bed.distance(middle) > AREA_SLACK_M2 else wish.edge_m for middle in middles
    )


def cut_bed(outline: Outline, share_from: float, share_to: float) -> tuple[shapely.Polygon, ...]:
    """Cut out what lies between two shares of a bed's area, swept along its longer side.

    A side running north is swept from the base up, one running east from the west side. Of a bent
    bed it may be several parts, which come in order along the sweep. The shares are of the drawn
    outline's area, which for a circle is a little under the true one.
    """
    bed = shapely.Polygon(outline.corners_m)
    start, end = (_sweep_to(bed, share) for share in (share_from, share_to))
    west, base, east, top = bed.bounds
    if _runs_east(bed):
        strip = shapely.box(start, base - 1, end, top + 1)
    else:
        strip = shapely.box(west - 1, start, east + 1, end)
    found = shapely.get_parts(bed.intersection(strip))
    parts = [part for part in found if part.geom_type == "Polygon" and part.area > AREA_SLACK_M2]
    parts.sort(key=lambda part: part.bounds)
    return tuple(shapely.orient_polygons(shapely.normalize(part)) for part in parts)


def _runs_east(bed: shapely.Polygon) -> bool:
    west, base, east, top = bed.bounds
    return bool(east - west >= top - base)


def _sweep_to(bed: shapely.Polygon, share: float) -> float:
    """Find how far the sweep has come when it has passed a share of the area, by halving [m]."""
    west, base, east, top = bed.bounds
    along_east = _runs_east(bed)
    low, high = (west, east) if along_east else (base, top)
    if share <= 0 or share >= 1:
        return float(low if share <= 0 else high)
    for _ in range(50):
        middle = (low + high) / 2
        passed = (
            shapely.box(west, base, middle, top)
            if along_east
            else shapely.box(west, base, east, middle)
        )
        if bed.intersection(passed).area < share * bed.area:
            low = middle
        else:
            high = middle
    return float((low + high) / 2)
