"""Stations in any bed outline: the rows, angle and pattern that fit most plants."""

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import isfinite

import numpy as np
import shapely

from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.planting.patterns import (
    SPACING_SLACK_M,
    Lanes,
    Stand,
    counts_in,
    mixed_stand,
    offset_lanes,
    regular_stand,
    row_sums,
    square_lanes,
)
from haulm.planting.records import Layout, Pattern, Row
from haulm.planting.spans import Edge, Ground, Numbers, angles_to_try, frame_at, ground_in, spans_at

HALF_CM_M = 0.005 + 1e-6
"""Lengths this near read the same on a tape [m]."""
MOST_STATIONS = 250_000
"""More stations than this in one bed are taken for a slip of the unit."""


def lay_out(
    corners_m: Sequence[tuple[float, float]],
    spacing_m: float,
    edge_m: Edge | None = None,
    row_gap_m: float | None = None,
    most: int | None = None,
    diameter_m: float | None = None,
) -> Layout:
    """Lay most stations into an outline, none nearer to another than the spacing.

    Rows along both axes and along the outline's odd sides are tried, in square rows, equilateral
    offset rows, rows stretched along or up, and mixes of these; each is counted row by row on the
    outline less its edge.

    Parameters
    ----------
    corners_m
        The outline's corners in order [m].
    spacing_m
        Least distance between any two stations [m].
    edge_m
        Least distance from the outline [m]; half the spacing where none is given. One for each
        side in order, from the first corner on, where they differ.
    row_gap_m
        Least distance between rows [m]; none means what the spacing allows.
    most
        Stop at so many stations; what is over is left off the last rows.
    diameter_m
        The diameter of a round outline [m], whose corners lie on its circle.

    Returns
    -------
    Layout
        With no rows where the outline is smaller than its edges. Never fewer stations than the best
        square rows with the same spacing and edge.

    Raises
    ------
    FaultsFoundError
        When a length is missing, zero or negative, or the outline crosses itself.
    """
    edge = spacing_m / 2 if edge_m is None else edge_m
    edges = (edge,) if isinstance(edge, int | float) else tuple(edge)
    said = (0.0,) if edge_m is None else edges
    findings = tuple(faults_in(corners_m, spacing_m, said, row_gap_m, most))
    if findings:
        raise FaultsFoundError(findings)
    corners = np.asarray(corners_m, dtype=float)
    spacing = spacing_m - min(SPACING_SLACK_M, spacing_m / 1000)
    least_gap = 0.0 if row_gap_m is None else row_gap_m
    angles = (0.0,) if diameter_m else angles_to_try(corners)
    grounds = [
        ground
        for angle in angles
        if (ground := ground_in(corners, frame_at(corners, angle), edge, diameter_m)).bounds_m
    ]
    if not grounds:
        return Layout(
            Pattern.OFFSET, spacing_m, least_gap or spacing_m, min(edges), 0.0, (), 0, least_gap
        )
    phases = _phases(corners, spacing)
    squares = [regular_stand(g, square_lanes(spacing, least_gap), phases) for g in grounds]
    square = max(squares, key=lambda stand: stand.count)
    offset = _best_offset(grounds, spacing, least_gap, phases)
    pattern, best = (
        (Pattern.SQUARE, square) if square.count > offset.count else (Pattern.OFFSET, offset)
    )
    rows = named_rows(_spread(best), most)
    if len(rows) < 2:  # noqa: PLR2004 - one row is no offset to anything
        pattern = Pattern.SQUARE
    gap = _usual_gap(rows) or best.lanes.change_gap_m
    angle = best.ground.frame.angle_deg
    return Layout(pattern, spacing_m, gap, min(edges), angle, rows, square.count, least_gap)


def _phases(corners: Numbers, spacing: float) -> int:
    """Choose how many heights to try: the edges weigh less the more stations there are."""
    about = shapely.Polygon(corners).area / spacing**2
    return 12 if about < 2000 else 6  # noqa: PLR2004 - from there on a row is under 3 % of all


def _best_offset(grounds: Sequence[Ground], spacing: float, least_gap: float, phases: int) -> Stand:
    """Find the offset rows that fit most, plain ones first, mixing rows in the best few."""
    stands = [
        regular_stand(ground, lanes, phases)
        for ground in grounds
        for lanes in offset_lanes(ground, spacing, least_gap)
    ]
    stands.sort(key=lambda stand: -stand.count)
    mixed = [mixed_stand(stand) for stand in stands[:6]]
    return max([*stands, *mixed], key=lambda stand: (stand.count, stand.uniform))


def _spread(stand: Stand) -> Stand:
    """Spread rows apart until the last is flush with the far edge, if no station is lost by it."""
    held = stand.heights_m[_row_counts(stand, stand.heights_m) > 0]
    if held.size < 2:  # noqa: PLR2004 - one row cannot be spread
        return stand
    bounds = stand.ground.bounds_m or (0.0, 0.0, 0.0, 0.0)
    wider = (bounds[3] - bounds[1]) / (stand.heights_m[-1] - stand.heights_m[0])
    spread = bounds[1] + (stand.heights_m - stand.heights_m[0]) * max(wider, 1.0)
    if wider <= 1 or int(_row_counts(stand, spread).sum()) < stand.count:
        return stand
    return Stand(stand.ground, stand.lanes, spread, stand.lane, stand.start_m, stand.count)


def _row_counts(stand: Stand, heights: Numbers) -> Numbers:
    """Count the stations of each row were the stand's rows at these heights."""
    spans = spans_at(stand.ground, heights)
    starts = stand.start_m + stand.lanes.shift_m * stand.lane[spans.row]
    counts = counts_in(spans, stand.lanes.step_m, starts)
    return row_sums(spans, counts, heights.size)


def named_rows(stand: Stand, most: int | None) -> tuple[Row, ...]:
    """Name the rows from the base up and place their stations on the bed."""
    spans = spans_at(stand.ground, stand.heights_m)
    lanes = stand.lanes
    rows: list[Row] = []
    left = stand.count if most is None else most
    for number, height in enumerate(stand.heights_m):
        start = stand.start_m + lanes.shift_m * stand.lane[number]
        along = _places(
            spans.west_m[spans.row == number],
            spans.east_m[spans.row == number],
            start,
            lanes.step_m,
        )[:left]
        if along.size == 0:
            continue
        left -= along.size
        on_bed = stand.ground.frame.to_bed(np.column_stack((along, np.full_like(along, height))))
        rows.append(
            Row(
                name=str(len(rows) + 1),
                from_base_m=float(height),
                first_m=float(along[0]),
                step_m=lanes.step_m,
                half_step=bool(stand.lane[number]) and _is_half(lanes),
                stations_m=tuple((float(x), float(y)) for x, y in on_bed),
            )
        )
    return tuple(rows)


def _places(west: Numbers, east: Numbers, start: float, step: float) -> Numbers:
    """Give the places along one row, all spans together, west to east."""
    first = np.ceil((west - start) / step - 1e-11)
    last = np.floor((east - start) / step + 1e-11)
    holes = [np.arange(a, b + 1) for a, b in zip(first, last, strict=True)]
    return start + step * np.concatenate(holes) if holes else np.empty(0)


def _is_half(lanes: Lanes) -> bool:
    return abs(lanes.shift_m - lanes.step_m / 2) < HALF_CM_M


def _usual_gap(rows: Sequence[Row]) -> float | None:
    """Give the smallest gap between rows; None for fewer than two."""
    gaps = [b.from_base_m - a.from_base_m for a, b in pairwise(rows)]
    return min(gaps, default=None)


def faults_in(
    corners_m: Sequence[tuple[float, float]],
    spacing_m: float,
    edges_m: Sequence[float],
    row_gap_m: float | None,
    most: int | None,
) -> Iterator[Finding]:
    """Yield what is wrong with a patch's outline and lengths."""
    outline = tuple(outline_faults(corners_m))
    yield from outline
    if not (isfinite(spacing_m) and spacing_m > 0):
        yield _length_fault("spacing", spacing_m, "Give the distance between plants, as in 15 cm.")
    elif not outline and shapely.Polygon(corners_m).area > MOST_STATIONS * spacing_m**2:
        what = f"plants {spacing_m:g} m apart would be more than {MOST_STATIONS} in this bed."
        yield Finding("spacing", what, "Look whether the unit is right, as in 15 cm.")
    if len(edges_m) not in {1, len(corners_m)}:
        what = f"{len(edges_m)} edge distances do not go with {len(corners_m)} sides."
        yield Finding("edge", what, "Give one for all sides, or one for each.")
    for edge in edges_m:
        if isfinite(edge) and edge >= 0:
            continue
        yield _length_fault("edge", edge, "Give 0 or more, as in 7.5 cm.")
    if row_gap_m is not None and not (isfinite(row_gap_m) and row_gap_m > 0):
        yield _length_fault("row gap", row_gap_m, "Leave it out, or give a length above 0.")
    if most is not None and most < 0:
        yield Finding("plants", f"{most} plants cannot be set.", "Give 0 or more.")


def outline_faults(corners_m: Sequence[tuple[float, float]]) -> Iterator[Finding]:
    """Yield what is wrong with an outline: too few corners, no area, or sides that cross."""
    corners = np.asarray(corners_m, dtype=float).reshape(-1, 2)
    if not np.isfinite(corners).all():
        yield Finding("bed", "a corner has no figure.", "Give every corner as two lengths.")
    elif len(corners) < 3:  # noqa: PLR2004 - a triangle is the least outline
        yield Finding("bed", f"{len(corners)} corners enclose no ground.", "Give three or more.")
    elif shapely.MultiPoint(corners).convex_hull.area == 0:
        yield Finding("bed", "it encloses no ground.", "Give a width and a length above 0.")
    elif not shapely.Polygon(corners).is_valid:
        remedy = "List the corners in order, walking once round the bed."
        yield Finding("bed", "its sides cross or touch.", remedy)


def _length_fault(where: str, value: float, remedy: str) -> Finding:
    said = f"{value:g} m is no usable length." if isfinite(value) else "its length is missing."
    return Finding(where, said, remedy)
