"""Where along a row a station may stand: outlines turned to their rows and swept by scanlines."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

Numbers = NDArray[np.float64]
Edge = float | Sequence[float]
"""A least distance from the outline: one for all sides, or one for each in order [m]."""
EDGE_SLACK_M = 1e-10
"""Edge distances are kept to this, so that a row exactly at the edge distance is not lost [m]."""
SCAN_SLACK_M = 2e-10
"""Rows are swept with this, so that one placed on the ground's last height is not lost [m]."""
LEVEL_M = 1e-12
"""A side that rises less than this lies along its row [m]."""
HAIR_M = 1e-5
"""A hundredth of a millimetre [m]."""


@dataclass(frozen=True, slots=True, eq=False)
class Frame:
    """A turned pair of axes: along the rows, and up from their base.

    ``turn`` is the (2, 2) orthogonal matrix from bed to frame, ``origin`` the frame's origin in its
    own axes [m].
    """

    angle_deg: float
    turn: Numbers
    origin: Numbers

    def from_bed(self, points_m: Numbers) -> Numbers:
        """Turn points of the bed, shape (n, 2) [m], into the frame."""
        return np.asarray(points_m @ self.turn.T - self.origin)

    def to_bed(self, points_m: Numbers) -> Numbers:
        """Turn points of the frame, shape (n, 2) [m], back onto the bed."""
        return np.asarray((points_m + self.origin) @ self.turn)


def frame_at(corners_m: Numbers, angle_deg: float) -> Frame:
    """Set axes at an angle against the base [°].

    At 0 rows are measured from the lines y = 0 and x = 0; at 90 rows run north and are measured
    from x = 0 and y = 0. At any other angle the base is the line through the outline's lowest
    point, as seen along the rows.
    """
    if angle_deg == 0:
        return Frame(0.0, np.eye(2), np.zeros(2))
    if angle_deg == 90:  # noqa: PLR2004 - a right angle
        return Frame(90.0, np.array([[0.0, 1.0], [1.0, 0.0]]), np.zeros(2))
    angle = np.radians(angle_deg)
    turn = np.array([[np.cos(angle), np.sin(angle)], [-np.sin(angle), np.cos(angle)]])
    return Frame(angle_deg, turn, (corners_m @ turn.T).min(axis=0))


@dataclass(frozen=True, slots=True, eq=False)
class Ground:
    """An outline in the axes of its rows, with the part of it where stations may stand.

    Attributes
    ----------
    frame
        The axes.
    corners_m
        The outline's corners in the frame, shape (n, 2) [m].
    edges_m
        Least distance from each side, the first from the first corner to the second, shape (n,)
        [m].
    circle
        Centre and radius (x, y, r) of a round outline in the frame [m]; None for corners.
    box_m
        West, base, east and top of where stations may stand in an upright rectangle [m]; None for
        other outlines. It may be empty, its west past its east.
    outline
        The outline in the frame.
    bounds_m
        West, base, east and top of where stations may stand [m]; None where nothing is left.
    levels_m
        Heights at which that part's edge has a corner [m].
    """

    frame: Frame
    corners_m: Numbers
    edges_m: Numbers
    circle: tuple[float, float, float] | None
    outline: shapely.Polygon
    bounds_m: tuple[float, float, float, float] | None
    levels_m: Numbers
    box_m: tuple[float, float, float, float] | None = None


def ground_in(
    corners_m: Numbers, frame: Frame, edge_m: Edge, diameter_m: float | None = None
) -> Ground:
    """Turn an outline into a frame and take its edge off; a circle has one edge all round."""
    turned = frame.from_bed(corners_m)
    asked = np.broadcast_to(np.asarray(edge_m, dtype=np.float64), len(turned))
    edges = np.maximum(asked, 2 * SCAN_SLACK_M) - SCAN_SLACK_M
    outline = shapely.Polygon(turned)
    shapely.prepare(outline)
    if diameter_m is not None:
        return _round_ground(frame, turned, edges, diameter_m)
    left = _inset(turned, outline, edges + SCAN_SLACK_M - EDGE_SLACK_M)
    box = _box_in(turned, edges)
    if left.is_empty:
        return _narrow_ground(Ground(frame, turned, edges, None, outline, None, np.empty(0), box))
    levels = np.unique(np.round(shapely.get_coordinates(left)[:, 1], 12))
    return Ground(frame, turned, edges, None, outline, left.bounds, levels, box)


def _box_in(corners: Numbers, edges: Numbers) -> tuple[float, float, float, float] | None:
    """Take the edges off an upright rectangle; None for any other outline."""
    ends = np.roll(corners, -1, axis=0)
    if len(corners) != 4 or np.abs(ends - corners).min(axis=1).max() > LEVEL_M:  # noqa: PLR2004
        return None
    x, y = ((corners + ends) / 2).T
    west, east, base, top = np.argmin(x), np.argmax(x), np.argmin(y), np.argmax(y)
    return (
        float(x[west] + edges[west]),
        float(y[base] + edges[base]),
        float(x[east] - edges[east]),
        float(y[top] - edges[top]),
    )


def _inset(corners: Numbers, outline: shapely.Polygon, edges: Numbers) -> BaseGeometry:
    """Take the least edge off all round, and more along the sides that ask for more."""
    least = float(edges.min())
    left = outline.buffer(-least, join_style="mitre", mitre_limit=50.0)
    ends = np.roll(corners, -1, axis=0)
    for side in np.flatnonzero(edges > least):
        strip = shapely.LineString((corners[side], ends[side])).buffer(float(edges[side]))
        left = left.difference(strip)
    return left


def _narrow_ground(ground: Ground) -> Ground:
    """Find the line or place left where an outline is just as wide as its edges.

    An inset of no width is lost to rounding, so a hundredth of a millimetre is left on it first.
    """
    left = _inset(ground.corners_m, ground.outline, ground.edges_m - HAIR_M)
    if left.is_empty:
        return ground
    middle = left.centroid
    west, base, east, top = left.bounds
    bounds = (
        min(west + HAIR_M, middle.x),
        min(base + HAIR_M, middle.y),
        max(east - HAIR_M, middle.x),
        max(top - HAIR_M, middle.y),
    )
    return replace(ground, bounds_m=bounds, levels_m=np.array([middle.y]))


def _round_ground(frame: Frame, turned: Numbers, edges: Numbers, diameter_m: float) -> Ground:
    """Take the edge off a circle exactly, its centre being the middle of its drawn corners' box."""
    x, y = (turned.min(axis=0) + turned.max(axis=0)) / 2
    outline = shapely.Polygon(turned)
    radius = diameter_m / 2 - float(edges.max())
    if radius < 0:
        return Ground(frame, turned, edges, None, outline, None, np.empty(0))
    bounds = (x - radius, y - radius, x + radius, y + radius)
    levels = np.array([bounds[1], y, bounds[3]])
    return Ground(frame, turned, edges, (float(x), float(y), radius), outline, bounds, levels)


@dataclass(frozen=True, slots=True, eq=False)
class Spans:
    """Stretches of rows where stations may stand: the row's number, its west and east end [m]."""

    row: NDArray[np.int64]
    west_m: Numbers
    east_m: Numbers


def spans_at(ground: Ground, heights_m: Numbers) -> Spans:
    """Find where along each height a station keeps its distance from the outline.

    Exact: each side of the outline forbids the one stretch of a row that lies within the edge
    distance of it (a capsule met by a line); what is left between the stretches and inside the
    outline is allowed. Spans come row by row, from west to east.

    Parameters
    ----------
    ground
        The outline in the rows' axes.
    heights_m
        Heights of the rows, shape (rows,) [m].
    """
    if ground.circle is not None:
        x, y, radius = ground.circle
        half_squared = radius**2 - (heights_m - y) ** 2
        row = np.flatnonzero(half_squared >= -SCAN_SLACK_M * radius)
        half = np.sqrt(np.maximum(half_squared[row], 0))
        return Spans(row, x - half, x + half)
    if ground.box_m is not None:
        box_west, base, box_east, top = ground.box_m
        kept = (heights_m >= base) & (heights_m <= top) & (box_west < box_east)
        row = np.flatnonzero(kept)
        return Spans(row, np.full(row.size, box_west), np.full(row.size, box_east))
    west, east = _forbidden(ground, heights_m)
    order = np.argsort(west, axis=1)
    west = np.take_along_axis(west, order, axis=1)
    east = np.maximum.accumulate(np.take_along_axis(east, order, axis=1), axis=1)
    row, gap = np.nonzero(west[:, 1:] > east[:, :-1])
    starts, ends = east[row, gap], west[row, gap + 1]
    finite = np.isfinite(starts) & np.isfinite(ends)
    row, starts, ends = row[finite], starts[finite], ends[finite]
    inside = shapely.contains_xy(ground.outline, (starts + ends) / 2, heights_m[row])
    return Spans(row[inside], starts[inside], ends[inside])


def _forbidden(ground: Ground, heights_m: Numbers) -> tuple[Numbers, Numbers]:
    """Give the stretch each side forbids at each height, shape (rows, sides); none is +∞ to −∞."""
    edges, start = ground.edges_m, ground.corners_m
    end = np.roll(start, -1, axis=0)
    height = heights_m[:, None]
    west = np.full((heights_m.size, len(start)), np.inf)
    east = -west
    for corner in (start, end):
        half_squared = edges**2 - (height - corner[:, 1]) ** 2
        near = half_squared > 0
        half = np.sqrt(np.where(near, half_squared, 0))
        west = np.where(near, np.minimum(west, corner[:, 0] - half), west)
        east = np.where(near, np.maximum(east, corner[:, 0] + half), east)
    along = end - start
    length = np.maximum(np.hypot(along[:, 0], along[:, 1]), LEVEL_M)
    outward = np.column_stack((along[:, 1], -along[:, 0])) * (edges / length)[:, None]
    level = np.abs(along[:, 1]) < LEVEL_M
    rise = np.where(level, 1.0, along[:, 1])
    for side in (outward, -outward):
        share = (height - start[:, 1] - side[:, 1]) / rise
        meets = (share >= 0) & (share <= 1) & ~level
        x = start[:, 0] + side[:, 0] + share * along[:, 0]
        west = np.where(meets, np.minimum(west, x), west)
        east = np.where(meets, np.maximum(east, x), east)
    return west, east


def angles_to_try(corners_m: Numbers, most_odd: int = 4) -> Sequence[float]:
    """List the angles rows may run at: along both axes, and along long odd sides [°].

    A side is long that makes a tenth of the way round the outline.
    """
    along = np.roll(corners_m, -1, axis=0) - corners_m
    lengths = np.hypot(along[:, 0], along[:, 1])
    angles = np.degrees(np.arctan2(along[:, 1], along[:, 0])) % 180.0
    chosen = [0.0, 90.0]
    for index in np.argsort(-lengths, kind="stable"):
        angle = float(angles[index])
        apart = [min(abs(angle - other), 180.0 - abs(angle - other)) for other in chosen]
        if lengths[index] < lengths.sum() / 10:
            break
        if min(apart) > 0.5:  # noqa: PLR2004 - half a degree looks the same on a bed
            chosen.append(angle)
        if len(chosen) == 2 + most_odd:
            break
    return tuple(chosen)
