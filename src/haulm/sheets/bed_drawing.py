"""A bed drawn to scale: outline, peg, north, dimensions, every station."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import atan2, cos, degrees, hypot, radians, sin

from haulm.ground.records import Bed
from haulm.planting.records import PatchLayout, Piece
from haulm.sheets.draw.canvas import HAIR, Canvas, Pen, Point
from haulm.sheets.draw.type import Face, Style, width_of
from haulm.sheets.measures import Measure, MeasuredRow
from haulm.sheets.wording import length_text

EDGE = Pen(0.9)
_SAME_M = 0.02
_HOLE_MM = 1.15
_LEAST_CIRCLE_MM = 2.4
_LEAST_HOLE_STEP_MM = 0.9
_SHORTEST_STEP_MM, _LONGEST_STEP_MM = 9.0, 31.0
_ROUNDING = 1e-9
# A measure over or east of the bed leaves room for the names of rows that end there.
_OFF_TOP_MM, _OFF_EAST_MM = 7.4, 12.4


@dataclass(frozen=True, slots=True)
class Ground:
    """A bed's place on the sheet: its corners [m], the peg on the sheet [mm], mm to a metre."""

    corners_m: tuple[Point, ...]
    peg: Point
    mm_a_metre: float
    units: str

    @property
    def size_m(self) -> Point:
        """Length along the base and height north of it [m]."""
        return max(x for x, _ in self.corners_m), max(y for _, y in self.corners_m)

    def at(self, point_m: Point) -> Point:
        """Give where a point of the bed lies on the sheet [mm]."""
        x, y = point_m
        return self.peg[0] + x * self.mm_a_metre, self.peg[1] - y * self.mm_a_metre

    @property
    def right(self) -> float:
        """The sheet's x of the bed's east end [mm]."""
        return self.at(self.size_m)[0]

    @property
    def top(self) -> float:
        """The sheet's y of the bed's north end [mm]."""
        return self.at(self.size_m)[1]


def holds(corners: Sequence[Point], point: Point) -> bool:
    """Whether a point lies inside an outline (even-odd rule)."""
    x, y = point
    inside = False
    for (x1, y1), (x2, y2) in sides_of(corners):
        if (y1 > y) != (y2 > y) and x < x1 + (y - y1) / (y2 - y1) * (x2 - x1):
            inside = not inside
    return inside


def sides_of(corners: Sequence[Point]) -> list[tuple[Point, Point]]:
    """Give the sides of an outline in the order of its corners."""
    return list(pairwise((*corners, corners[0])))


def draw_outline(canvas: Canvas, ground: Ground, bed: Bed) -> None:
    """Draw the edge, the peg at the origin, and the lines that are measured from."""
    peg = ground.peg
    east, north = ground.at((ground.size_m[0], 0)), ground.at((0, ground.size_m[1]))
    if not on_edge(ground.corners_m, (0.0, 0.0)):
        # The string runs along the base even where the outline leaves it.
        canvas.line(peg, east, Pen(0.18, dash="3 1.5"))
        canvas.line(peg, north, Pen(0.18, dash="3 1.5"))
    if bed.outline.diameter_m:
        radius = bed.outline.diameter_m / 2
        canvas.circle(ground.at((radius, radius)), radius * ground.mm_a_metre, EDGE)
    else:
        canvas.polygon([ground.at(corner) for corner in ground.corners_m], EDGE)
    canvas.circle(peg, 2.1, Pen(0.5, fill="#fff"))
    canvas.line((peg[0] - 3.2, peg[1]), (peg[0] + 3.2, peg[1]), Pen(0.35))
    canvas.line((peg[0], peg[1] - 3.2), (peg[0], peg[1] + 3.2), Pen(0.35))
    canvas.text((peg[0] - 4, peg[1] + 5.6), "peg", Style(Face.FIRM, 4.2, anchor="end"))


def on_edge(corners: Sequence[Point], point: Point) -> bool:
    """Whether a point lies on an outline, to two centimetres."""
    return any(_off_side(side, point) < _SAME_M for side in sides_of(corners))


def _off_side(side: tuple[Point, Point], point: Point) -> float:
    (x1, y1), (x2, y2) = side
    length2 = (x2 - x1) ** 2 + (y2 - y1) ** 2
    if not length2:
        return hypot(point[0] - x1, point[1] - y1)
    share = ((point[0] - x1) * (x2 - x1) + (point[1] - y1) * (y2 - y1)) / length2
    share = min(1.0, max(0.0, share))
    return hypot(point[0] - x1 - share * (x2 - x1), point[1] - y1 - share * (y2 - y1))


def draw_north(canvas: Canvas, at: Point) -> None:
    """Draw the arrow that points north."""
    x, y = at
    canvas.text((x - 2.6, y), "N", Style(Face.NAME, 5, anchor="end"))
    canvas.polygon(((x, y - 6.4), (x + 1.8, y + 0.4), (x, y - 1.0), (x - 1.8, y + 0.4)), Pen(0.25))
    canvas.polygon(((x, y - 6.4), (x + 1.8, y + 0.4), (x, y - 1.0)), Pen(0.25, fill="#000"))


def scale_step(ground: Ground) -> tuple[float, float, str]:
    """Choose the step of a scale bar: its length on the sheet [mm], its figure and its unit."""
    step_m, step, unit, part = (
        (0.9144, 3.0, "ft", 3) if ground.units == "us" else (1.0, 1.0, "m", 2)
    )
    while step_m * ground.mm_a_metre > _LONGEST_STEP_MM:
        step_m, step = step_m / part, step / part
    while step_m * ground.mm_a_metre < _SHORTEST_STEP_MM:
        step_m, step = step_m * part, step * part
    return step_m * ground.mm_a_metre, step, unit


def scale_end(ground: Ground) -> float:
    """Give where the scale bar ends [mm]: under the east end, or past it if the bed is narrow."""
    return max(ground.right, ground.peg[0] + 2 + 2 * scale_step(ground)[0])


def draw_scale(canvas: Canvas, ground: Ground, right: float, y: float) -> None:
    """Draw the scale as a ratio and a bar of two steps that ends at ``right``."""
    length, step, unit = scale_step(ground)
    x = right - 2 * length
    canvas.rectangle((x, y), 2 * length, 1.6, Pen(0.3, fill="#fff"))
    canvas.rectangle((x, y), length, 1.6, Pen(0.3, fill="#000"))
    for number in range(3):
        words = f"{number * step:g} {unit}"
        at = (x + number * length, y + 5)
        canvas.text(at, words, Style(Face.TEXT, 3.6, anchor="middle"))
    ratio = f"1 : {1000 / ground.mm_a_metre:.0f}"
    canvas.text((x - 2.6, y + 2), ratio, Style(Face.FIRM, 4.2, anchor="end"))


def draw_overall(canvas: Canvas, ground: Ground) -> None:
    """Write the whole length and height of a bed."""
    length, height = ground.size_m
    units, peg = ground.units, ground.peg
    draw_across(canvas, (peg[0], ground.right), peg[1] + 9.3, length_text(length, units))
    draw_upright(canvas, (ground.top, peg[1]), peg[0] - 15.5, length_text(height, units))


def draw_odd_sides(canvas: Canvas, ground: Ground) -> None:
    """Write the length of every side that the whole length and height do not tell."""
    (length, height), units = ground.size_m, ground.units
    for (x1, y1), (x2, y2) in sides_of(ground.corners_m):
        side = hypot(x2 - x1, y2 - y1)
        words = f"{side * 100:.0f}" if units != "us" else length_text(side, units)
        a, b = ground.at((x1, y1)), ground.at((x2, y2))
        if abs(y1 - y2) < _SAME_M and abs(y1 - height) < _SAME_M and side < length - _SAME_M:
            draw_across(canvas, (min(a[0], b[0]), max(a[0], b[0])), a[1] - _OFF_TOP_MM, words)
        elif abs(x1 - x2) < _SAME_M and abs(x1 - length) < _SAME_M and side < height - _SAME_M:
            draw_upright(canvas, (min(a[1], b[1]), max(a[1], b[1])), a[0] + _OFF_EAST_MM, words)
        elif abs(x1 - x2) > _SAME_M and abs(y1 - y2) > _SAME_M:
            _along_side(canvas, a, b, words)


def _along_side(canvas: Canvas, start: Point, end: Point, words: str) -> None:
    # Outlines run anticlockwise, so that the outer hand lies right of the way walked.
    run = hypot(end[0] - start[0], end[1] - start[1])
    if run < width_of(words, Face.FIRM, 4.2) + 4:
        return
    turn = degrees(atan2(end[1] - start[1], end[0] - start[0]))
    upside_down = not -90 <= turn <= 90  # noqa: PLR2004 - a text leaning past upright
    off = 5.8 if upside_down else 3.0
    out = ((start[1] - end[1]) / run, (end[0] - start[0]) / run)
    at = (
        (start[0] + end[0]) / 2 + out[0] * (2.4 if upside_down else off + 2.4),
        (start[1] + end[1]) / 2 + out[1] * (2.4 if upside_down else off + 2.4),
    )
    style = Style(Face.FIRM, 4.2, anchor="middle", turn=turn - 180 if upside_down else turn)
    canvas.text(at, words, style)


def draw_across(canvas: Canvas, span: tuple[float, float], y: float, words: str) -> None:
    """Draw a measure along the base with its figure in its middle."""
    left, right = span
    half = width_of(words, Face.FIRM, 4.4) / 2 + 1.4
    middle = (left + right) / 2
    for x, way in ((left, 1), (right, -1)):
        canvas.line((x, y - 2), (x, y + 2), Pen(0.25))
        if right - left > 2 * half + 6:
            canvas.line((x, y), (middle - way * half, y), Pen(0.25))
            canvas.polygon(
                ((x, y), (x + way * 2.8, y - 0.75), (x + way * 2.8, y + 0.75)), Pen(0, fill="#000")
            )
    if right - left > 2 * half + 6:
        canvas.text((middle, y + 1.5), words, Style(Face.FIRM, 4.4, anchor="middle"))
        return
    # Too short a span to hold its figure: the figure stands beyond the line.
    canvas.line((left, y), (right, y), Pen(0.25))
    canvas.text((right + 3.4, y + 1.5), words, Style(Face.FIRM, 4.4))


def draw_upright(canvas: Canvas, span: tuple[float, float], x: float, words: str) -> None:
    """Draw a measure up the west with its figure in its middle."""
    top, foot = span
    half = width_of(words, Face.FIRM, 4.4) / 2 + 1.4
    middle = (top + foot) / 2
    for y, way in ((top, 1), (foot, -1)):
        canvas.line((x - 2, y), (x + 2, y), Pen(0.25))
        if foot - top > 2 * half + 6:
            canvas.line((x, y), (x, middle - way * half), Pen(0.25))
            canvas.polygon(
                ((x, y), (x - 0.75, y + way * 2.8), (x + 0.75, y + way * 2.8)), Pen(0, fill="#000")
            )
    style = Style(Face.FIRM, 4.4, anchor="middle", turn=-90)
    if foot - top > 2 * half + 6:
        canvas.text((x + 1.5, middle), words, style)
        return
    canvas.line((x, top), (x, foot), Pen(0.25))
    canvas.text((x - 2.6, middle), words, style)


def draw_patch_edges(canvas: Canvas, ground: Ground, patch: PatchLayout) -> None:
    """Draw the sides of a patch that lie inside the bed."""
    for piece in patch.pieces:
        for one, other in sides_of(piece.corners_m):
            middle = ((one[0] + other[0]) / 2, (one[1] + other[1]) / 2)
            if not on_edge(ground.corners_m, middle):
                canvas.line(ground.at(one), ground.at(other), Pen(0.4, dash="2.2 1.1"))


def draw_stations(canvas: Canvas, ground: Ground, patch: PatchLayout, measure: Measure) -> None:
    """Draw every station: the plant full grown, the hole, the first hole of a row filled."""
    spacing = min((piece.layout.spacing_m for piece in patch.pieces), default=0.0)
    spacing *= ground.mm_a_metre
    hole = min(_HOLE_MM, max(0.14 * spacing, min(0.4, 0.26 * spacing)))
    draw_patch_edges(canvas, ground, patch)
    for row in measure.rows:
        start, end = reach_of(ground, patch, row)
        canvas.line(ground.at(start), ground.at(end), Pen(0.18, dash="1.2 0.9"))
    for row in measure.rows:
        for number, station in enumerate(row.stations_m):
            at = ground.at(station)
            if spacing >= _LEAST_CIRCLE_MM:
                # A little under half the spacing, so that neighbours' rings do not print as one.
                canvas.circle(at, 0.475 * spacing, HAIR)
            if number == 0:
                canvas.circle(at, max(hole, 0.4), Pen(0, fill="#000"))
            elif spacing >= _LEAST_HOLE_STEP_MM:
                canvas.circle(at, hole, Pen(max(0.15, min(0.35, hole / 3)), fill="#fff"))


def reach_of(ground: Ground, patch: PatchLayout, row: MeasuredRow) -> tuple[Point, Point]:
    """Give where a row's line meets the edge of its piece, before its first and past its last."""
    first, last = row.stations_m[0], row.stations_m[-1]
    run = hypot(last[0] - first[0], last[1] - first[1])
    turn = radians(row.angle_deg)
    way = (
        ((last[0] - first[0]) / run, (last[1] - first[1]) / run) if run else (cos(turn), sin(turn))
    )
    home = [piece for piece in patch.pieces if first in _stations(piece)]
    corners = home[0].corners_m if home else ground.corners_m
    back = _to_edge(corners, first, (-way[0], -way[1]))
    ahead = _to_edge(corners, last, way)
    return (
        (first[0] - way[0] * back, first[1] - way[1] * back),
        (last[0] + way[0] * ahead, last[1] + way[1] * ahead),
    )


def _stations(piece: Piece) -> set[Point]:
    return set(piece.layout.stations_m)


def _to_edge(corners: Sequence[Point], start: Point, way: Point) -> float:
    """Measure from a point along a direction to the first side it meets; 0 where it meets none."""
    reaches = []
    for (x1, y1), (x2, y2) in sides_of(corners):
        across = way[0] * (y2 - y1) - way[1] * (x2 - x1)
        if abs(across) < _ROUNDING:
            continue
        reach = ((x1 - start[0]) * (y2 - y1) - (y1 - start[1]) * (x2 - x1)) / across
        share = ((x1 - start[0]) * way[1] - (y1 - start[1]) * way[0]) / across
        if reach > 0 and -_ROUNDING <= share <= 1 + _ROUNDING:
            reaches.append(reach)
    return min(reaches, default=0.0)
