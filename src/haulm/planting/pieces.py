"""The pieces of a patch: its stretches cut out of the bed, with their stations."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from math import ceil, floor, sqrt

import shapely

from haulm.ground.records import Outline
from haulm.planting.layout import lay_out
from haulm.planting.measure_rows import to_centimetres
from haulm.planting.records import Layout, PatchWish, Pattern, Piece, Row
from haulm.planting.stretches import Stretch
from haulm.planting.swaths import AREA_SLACK_M2, Run, Sweep, cut_bed, middle_of, runs_in

EQUILATERAL_GAP = sqrt(0.75)
"""Gap between offset rows, in spacings [1]."""
INNERMOST_SHARE = 0.98
"""Stations in the middle of a narrow piece keep this share of its half width from its sides [1]."""


def pieces_of(
    outline: Outline, sweep: Sweep, wish: PatchWish, stretches: Sequence[Stretch]
) -> Iterator[Piece]:
    """Cut each stretch out of the bed and lay its stations out.

    Where a stretch falls apart, each part takes its part of the shares.
    """
    for start, end in stretches:
        share_from, share_to = start / outline.area_m2, end / outline.area_m2
        parts = cut_bed(sweep, share_from, share_to)
        whole = sum(part.area for part in parts)
        at = share_from
        for part in parts:
            corners = tuple((float(x), float(y)) for x, y in part.exterior.coords[:-1])
            after = at + (share_to - share_from) * part.area / whole
            all_of_it = share_from <= 0 and share_to >= 1
            diameter = outline.diameter_m if all_of_it else None
            edges = _edges(sweep.bed, corners, wish)
            layout = _piece_layout(corners, wish, edges, diameter)
            if layout.count == 0 and _is_due(wish, part.area):
                layout = _one_station(sweep.bed, corners, wish)
            yield Piece(at, after, corners, layout)
            at = after


def _row_gap(wish: PatchWish) -> float | None:
    """Give the least gap between rows where it is wider than offset rows need [m]."""
    wide = wish.row_gap_m > wish.spacing_m * EQUILATERAL_GAP + AREA_SLACK_M2
    return wish.row_gap_m if wide else None


def _half_a_plant_m2(wish: PatchWish) -> float:
    """Give half the ground of one plant [m²]."""
    return wish.spacing_m * max(wish.row_gap_m, wish.spacing_m * EQUILATERAL_GAP) / 2


def _piece_layout(
    corners: Sequence[tuple[float, float]],
    wish: PatchWish,
    edges_m: Sequence[float],
    diameter_m: float | None,
) -> Layout:
    """Lay stations into a piece; one narrower than its edges gets a row down its middle."""
    gap = _row_gap(wish)
    layout = lay_out(corners, wish.spacing_m, edges_m, gap, diameter_m=diameter_m)
    piece = shapely.Polygon(corners)
    if layout.count == 0 and piece.area >= _half_a_plant_m2(wish):
        edges_m = _middle_edges(piece, edges_m)
        layout = _middle_row(corners, wish, edges_m)
    return to_centimetres(layout, corners, diameter_m, edges_m)


def _middle_edges(piece: shapely.Polygon, edges_m: Sequence[float]) -> list[float]:
    """Give the distance to keep from each side of a piece too narrow for its edges.

    The ends of a strip keep theirs; its long sides, which cannot, are kept as far off as may be.
    """
    middle = piece.centroid
    inmost = INNERMOST_SHARE * shapely.maximum_inscribed_circle(piece).length
    corners = piece.exterior.coords[:-1]
    sides = zip(corners, (*corners[1:], corners[0]), strict=True)
    return [
        edge if shapely.LineString(side).distance(middle) >= edge else inmost
        for side, edge in zip(sides, edges_m, strict=True)
    ]


def _middle_row(
    corners: Sequence[tuple[float, float]], wish: PatchWish, edges_m: Sequence[float]
) -> Layout:
    """Lay stations down the middle of a narrow piece.

    They stand near its neighbours, so there are no more than the piece's part of the plants
    planned, where these were counted, and they are spread along the piece if it is straight.
    """
    piece = shapely.Polygon(corners)
    due = ceil(wish.plants * piece.area / wish.area_m2 - AREA_SLACK_M2) or None
    if due is not None:
        least = min(edges_m)
        ends_m = sum(edge for edge in edges_m if edge > least) or 2 * least
        length = piece.length / 2 - 2 * least / INNERMOST_SHARE - ends_m
        spread = max(wish.spacing_m, floor(100 * length / max(due - 1, 1)) / 100)
        layout = lay_out(corners, spread, edges_m, _row_gap(wish), due)
        if layout.count == due:
            return replace(layout, spacing_m=wish.spacing_m)
    return lay_out(corners, wish.spacing_m, edges_m, _row_gap(wish), due)


def _one_station(
    bed: shapely.Polygon, corners: Sequence[tuple[float, float]], wish: PatchWish
) -> Layout:
    """Set one station at the most inner point of a piece, if the bed's edge is far enough off.

    Of points equally far in, as along the middle of a strip, it is the middle one.
    """
    piece = shapely.Polygon(corners)
    inmost = shapely.maximum_inscribed_circle(piece)
    middle = piece.buffer(-INNERMOST_SHARE * inmost.length).centroid
    if not piece.contains(middle):
        middle = shapely.Point(inmost.coords[0])
    x, y = round(middle.x, 2), round(middle.y, 2)
    off_bed = bed.exterior.distance(middle) < wish.edge_m - AREA_SLACK_M2
    row = Row(
        name="1",
        from_base_m=y,
        first_m=x,
        step_m=round(wish.spacing_m, 2),
        half_step=False,
        stations_m=((x, y),),
    )
    return Layout(
        pattern=Pattern.SQUARE,
        spacing_m=wish.spacing_m,
        row_gap_m=wish.row_gap_m,
        edge_m=float(piece.exterior.distance(shapely.Point(x, y))),
        angle_deg=0.0,
        rows=() if off_bed else (row,),
        square_count=0,
    )


def _edges(
    bed: shapely.Polygon, corners: Sequence[tuple[float, float]], wish: PatchWish
) -> tuple[float, ...]:
    """Give the distance to keep from each side: the edge's, and half a spacing from a neighbour.

    A side that does not lie on the bed's own edge is one that the sweep cut.
    """
    middles = [
        shapely.Point((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
        for a, b in zip(corners, (*corners[1:], corners[0]), strict=True)
    ]
    beside = max(wish.edge_m, wish.spacing_m / 2)
    return tuple(
        beside if bed.exterior.distance(middle) > AREA_SLACK_M2 else wish.edge_m
        for middle in middles
    )


def reckoned_count(
    outline: Outline, sweep: Sweep, wish: PatchWish, stretches: Sequence[Stretch]
) -> int:
    """Reckon quickly how many stations stretches hold, for choosing between ways to share a bed.

    Each run of a stretch is taken for a rectangle of its length and mean thickness, with a
    neighbour on every side.
    """
    count = 0
    for start, end in stretches:
        runs = list(runs_in(sweep, start / outline.area_m2, end / outline.area_m2))
        held = sum(_reckoned(run, wish) for run in runs)
        if held == 0 and len(runs) == 1:
            held = _reckoned_in_middle(sweep, runs[0], wish)
        count += held
    return count


def share_of_row_ground(
    outline: Outline, sweep: Sweep, wish: PatchWish, stretches: Sequence[Stretch]
) -> float:
    """Give what share of a row's own ground the thinnest of some stretches has, 1 at most [1].

    A row down the middle of a thinner strip crowds its neighbours by the rest.
    """
    row_m = max(wish.row_gap_m, wish.spacing_m * EQUILATERAL_GAP)
    thinnest = min(
        min(_sides(run))
        for start, end in stretches
        for run in runs_in(sweep, start / outline.area_m2, end / outline.area_m2)
    )
    return min(1.0, thinnest / row_m)


def _reckoned_in_middle(sweep: Sweep, run: Run, wish: PatchWish) -> int:
    """Reckon the stations along the middle of a run that is narrower than its edges."""
    if run.area_m2 >= _half_a_plant_m2(wish):
        length = max(_sides(run))
        return 1 + floor(max(length - 2 * wish.edge_m, 0.0) / wish.spacing_m)
    room = sweep.bed.exterior.distance(middle_of(sweep, run))
    return int(_is_due(wish, run.area_m2) and room >= wish.edge_m)


def _is_due(wish: PatchWish, area_m2: float) -> bool:
    """Tell whether a part of a patch, by its area, was to hold a plant or more."""
    return wish.plants * area_m2 >= wish.area_m2 - AREA_SLACK_M2


def _sides(run: Run) -> tuple[float, float]:
    """Give a run's length and mean thickness [m]."""
    length = run.to_m - run.from_m
    return length, run.area_m2 / length


def _reckoned(run: Run, wish: PatchWish) -> int:
    edges = 2 * max(wish.edge_m, wish.spacing_m / 2)
    width, height = (side - edges for side in _sides(run))
    if min(width, height) < -AREA_SLACK_M2:
        return 0
    along = _rows_in(width, height, wish.spacing_m, wish.row_gap_m)
    return max(along, _rows_in(height, width, wish.spacing_m, wish.row_gap_m))


def _rows_in(width: float, height: float, spacing: float, row_gap: float) -> int:
    """Count the stations of the best rows along the width of a rectangle, its edges taken off."""
    slack = AREA_SLACK_M2
    square = 1 + floor(height / max(spacing, row_gap) + slack)
    best = square * (1 + floor(width / spacing + slack))
    offset = 1 + floor(height / max(spacing * EQUILATERAL_GAP, row_gap) + slack)
    for rows in range(max(offset, 2), offset + 3):
        gap = height / (rows - 1)
        step = max(spacing, 2 * sqrt(max(spacing**2 - gap**2, 0.0)))
        if step > 2 * EQUILATERAL_GAP * spacing or (gap < row_gap - slack and rows > offset):
            break
        uneven, even = (rows + 1) // 2, rows // 2
        count = uneven * (1 + floor(width / step + slack))
        count += even * (1 + floor(width / step - 0.5 + slack))
        best = max(best, count)
    return best
