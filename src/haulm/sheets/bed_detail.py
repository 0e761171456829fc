"""Parts of a bed drawn larger than the bed: where they are cut, how they lie on the sheet."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import combinations
from math import ceil, floor, hypot

from haulm.ground.records import Bed
from haulm.planting.records import PatchLayout, Piece
from haulm.sheets.bed_drawing import (
    EDGE,
    Ground,
    draw_across,
    draw_stations,
    draw_upright,
    on_edge,
    sides_of,
)
from haulm.sheets.bed_names import Older, draw_older, draw_older_names, draw_row_names, place_older
from haulm.sheets.draw.canvas import Canvas, Pen, Point
from haulm.sheets.draw.hatches import Hatch
from haulm.sheets.draw.type import Face, Style, width_of
from haulm.sheets.measure_table import Slot
from haulm.sheets.measures import Measure
from haulm.sheets.wording import INCH_M, length_text

DETAIL_SCALES = (10, 20, 25, 40, 50)
MOST_FRAMES = 4
# Ground nearer than this to other new ground is shown in one frame with it.
_NEAR_M = 0.4
_SNAP_M = {"us": 2 * INCH_M}
_SNAP_ELSE_M = 0.05
_SLACK = 1e-6
_LEFT_MM, _RIGHT_MM = 22.0, 10.0
# Above a frame its title, below it its length; names of rows that run up the west stand between.
_TITLE_UP_MM, _LENGTH_DOWN_MM, _ROW_NAMES_MM = 4.0, 5.6, 3.4
_OVER_MM, _UNDER_MM = 5.4, 4.6
_TITLE_MM = 46.0
_SCALE_MM = 9.0
_LETTER_MM = 4.2
_CUT = Pen(0.18)
Fresh = tuple[PatchLayout, Measure]


@dataclass(frozen=True, slots=True)
class Bedding:
    """What a sheet has to show of a bed: new patches with their measures, and what stands."""

    bed: Bed
    fresh: tuple[Fresh, ...]
    older: tuple[Older, ...]
    units: str


@dataclass(frozen=True, slots=True)
class Window:
    """The part of a bed that a frame shows: its sides, from the peg [m]."""

    left: float
    foot: float
    right: float
    top: float

    def apart(self, other: "Window") -> float:
        """Give the greater of the gaps between two windows, across and up [m]."""
        across = max(self.left, other.left) - min(self.right, other.right)
        up = max(self.foot, other.foot) - min(self.top, other.top)
        return max(across, up)

    def joined(self, other: "Window") -> "Window":
        """Give the smallest window that shows both."""
        return Window(
            min(self.left, other.left),
            min(self.foot, other.foot),
            max(self.right, other.right),
            max(self.top, other.top),
        )

    def shows(self, point: Point) -> bool:
        """Whether a point lies in the window."""
        inside = self.left - _SLACK <= point[0] <= self.right + _SLACK
        return inside and self.foot - _SLACK <= point[1] <= self.top + _SLACK


@dataclass(frozen=True, slots=True)
class Frame:
    """A window on the sheet: its ground, its letters, and the white it takes with its words.

    ``names_mm`` is the room over and under it for names of rows and plants that reach out [mm].
    """

    window: Window
    ground: Ground
    letters: str
    names_mm: float
    box: Slot


def windows_of(place: Bedding) -> list[Window]:
    """Find the few parts of a bed that hold all new stations with their plants full grown."""
    found = [
        _reach(piece, place)
        for patch, _ in place.fresh
        for piece in patch.pieces
        if piece.layout.rows
    ]
    while pairs := [
        (one.apart(other), number, one, other)
        for number, (one, other) in enumerate(combinations(found, 2))
    ]:
        gap, _, one, other = min(pairs, key=lambda pair: pair[:2])
        if gap > _NEAR_M and len(found) <= MOST_FRAMES:
            break
        found = [window for window in found if window not in (one, other)]
        found.append(one.joined(other))
    return sorted(found, key=lambda window: (-window.top, window.left))


def _reach(piece: Piece, place: Bedding) -> Window:
    half = piece.layout.spacing_m / 2
    xs = [x for x, _ in piece.corners_m]
    ys = [y for _, y in piece.corners_m]
    for x, y in piece.layout.stations_m:
        xs += [x - half, x + half]
        ys += [y - half, y + half]
    snap = _SNAP_M.get(place.units, _SNAP_ELSE_M)
    long, high = (max(corner[way] for corner in place.bed.outline.corners_m) for way in (0, 1))
    return Window(
        max(0.0, floor(min(xs) / snap + _SLACK) * snap),
        max(0.0, floor(min(ys) / snap + _SLACK) * snap),
        min(long, ceil(max(xs) / snap - _SLACK) * snap),
        min(high, ceil(max(ys) / snap - _SLACK) * snap),
    )


def clipped(corners: Sequence[Point], window: Window) -> tuple[Point, ...]:
    """Cut an outline to a window (Sutherland and Hodgman's way: one side of it after another)."""
    cuts = ((0, window.left, 1), (0, window.right, -1), (1, window.foot, 1), (1, window.top, -1))
    kept = list(corners)
    for way, limit, sign in cuts:
        before, kept = kept, []
        for one, other in sides_of(before) if before else ():
            inside, next_inside = (sign * (end[way] - limit) >= -_SLACK for end in (one, other))
            if inside:
                kept.append(one)
            if inside != next_inside and one[way] != other[way]:
                share = (limit - one[way]) / (other[way] - one[way])
                kept.append(
                    (one[0] + share * (other[0] - one[0]), one[1] + share * (other[1] - one[1]))
                )
    return tuple(kept)


def frames_in(
    place: Bedding, windows: Sequence[Window], scale: int, room: Slot
) -> tuple[Frame, ...]:
    """Lay windows out over a room at a scale, from the upper left; none if they do not fit."""
    mm_a_metre = 1000 / scale
    frames: list[Frame] = []
    x, y, shelf = room.x, room.y, 0.0
    for window in windows:
        drawn = (
            (window.right - window.left) * mm_a_metre,
            (window.top - window.foot) * mm_a_metre,
        )
        width = max(drawn[0], _TITLE_MM) + _LEFT_MM + _RIGHT_MM
        names = _room_round(place, window, mm_a_metre)
        over = _TITLE_UP_MM + names + _OVER_MM
        height = over + drawn[1] + names + _LENGTH_DOWN_MM + _UNDER_MM
        if x > room.x and x + width > room.x + room.width:
            x, y, shelf = room.x, y + shelf, 0.0
        if x + width > room.x + room.width or y + height + _SCALE_MM > room.y + room.height:
            return ()
        corner = (x + _LEFT_MM, y + over + drawn[1])
        peg = (corner[0] - window.left * mm_a_metre, corner[1] + window.foot * mm_a_metre)
        ground = Ground(clipped(place.bed.outline.corners_m, window), peg, mm_a_metre, place.units)
        letters = "".join(
            measure.letter
            for _, measure in place.fresh
            if any(window.shows(row.stations_m[0]) for row in measure.rows)
        )
        frames.append(Frame(window, ground, letters, names, Slot(x, y, width, height)))
        x, shelf = x + width, max(shelf, height)
    return tuple(frames)


def _room_round(place: Bedding, window: Window, mm_a_metre: float) -> float:
    """Give the room that names of rows, and plants that reach over the bed, take [mm]."""
    ways: set[str] = set()
    over_m = 0.0
    for patch, measure in place.fresh:
        reach_m = 0.475 * min((piece.layout.spacing_m for piece in patch.pieces), default=0.0)
        for row in measure.rows:
            if window.shows(row.stations_m[0]):
                ways.add(measure.along)
                ys = [y for _, y in row.stations_m]
                over_m = max(
                    over_m, max(ys) + reach_m - window.top, window.foot + reach_m - min(ys)
                )
    return max(0.0 if ways == {"base"} else _ROW_NAMES_MM, over_m * mm_a_metre)


def taken_by(frames: Sequence[Frame]) -> Point:
    """Give the right end and the foot of what frames take with their scale [mm]."""
    right = max(frame.box.x + frame.box.width for frame in frames)
    return right, max(frame.box.y + frame.box.height for frame in frames) + _SCALE_MM


def draw_frame(canvas: Canvas, frame: Frame, place: Bedding) -> None:
    """Draw a part of a bed: its edge, its new stations and rows, what stands in it, its measure."""
    ground, window = frame.ground, frame.window
    standing = [_cut(one, window) for one in place.older]
    names = place_older(ground, [one for one in standing if one.layout.pieces])
    # What is too thin for its name here is lettered in the plan of the whole bed.
    names = [replace(name, lines=()) if name.letter else name for name in names]
    draw_older(canvas, ground, names)
    shown = [_seen(layout, measure, window) for layout, measure in place.fresh]
    shown = [(layout, measure) for layout, measure in shown if measure.rows]
    for layout, measure in shown:
        draw_stations(canvas, ground, layout, measure)
    for one, other in sides_of(ground.corners_m):
        middle = ((one[0] + other[0]) / 2, (one[1] + other[1]) / 2)
        at_edge = on_edge(place.bed.outline.corners_m, middle)
        canvas.line(ground.at(one), ground.at(other), EDGE if at_edge else _CUT)
    draw_older_names(canvas, [name for name in names if name.lines])
    draw_row_names(canvas, ground, shown, [name for name in names if name.lines])
    _draw_measures(canvas, frame)


def _cut(older: Older, window: Window) -> Older:
    pieces = []
    for piece in older.layout.pieces:
        corners = clipped(piece.corners_m, window)
        # A sliver that only touches the window is none.
        xs, ys = [x for x, _ in corners], [y for _, y in corners]
        if corners and min(max(xs) - min(xs), max(ys) - min(ys)) > 2 * _SLACK:
            pieces.append(replace(piece, corners_m=corners))
    return replace(older, layout=replace(older.layout, pieces=tuple(pieces)))


def _seen(layout: PatchLayout, measure: Measure, window: Window) -> Fresh:
    rows = tuple(row for row in measure.rows if window.shows(row.stations_m[0]))
    pieces = tuple(
        piece
        for piece in layout.pieces
        if piece.layout.rows and window.shows(piece.layout.rows[0].stations_m[0])
    )
    return replace(layout, pieces=pieces), replace(measure, rows=rows)


def _draw_measures(canvas: Canvas, frame: Frame) -> None:
    ground, window = frame.ground, frame.window
    left, foot = ground.at((window.left, window.foot))
    right, top = ground.at((window.right, window.top))
    units, title = ground.units, top - frame.names_mm - _TITLE_UP_MM
    draw_across(
        canvas,
        (left, right),
        foot + frame.names_mm + _LENGTH_DOWN_MM,
        length_text(window.right - window.left, units),
    )
    draw_upright(canvas, (top, foot), left - 15.5, length_text(window.top - window.foot, units))
    canvas.text((left, title), frame.letters, Style(Face.NAME, 6.6))
    far = [
        f"{length_text(length, units)} from {line}"
        for length, line in ((window.foot, "base"), (window.left, "west"))
        if length > _SLACK
    ]
    words = f"begins {', '.join(far)}" if far else "begins at the peg"
    edge = left + width_of(frame.letters, Face.NAME, 6.6) + 3
    canvas.text((edge, title), words, Style(Face.TEXT, 3.8))


def draw_framed(
    canvas: Canvas, ground: Ground, frames: Sequence[Frame], fresh: Sequence[Fresh]
) -> None:
    """Show on the plan of the whole bed which ground is new and which parts are drawn larger."""
    for patch, _ in fresh:
        for piece in patch.pieces:
            corners = [ground.at(corner) for corner in piece.corners_m]
            canvas.polygon(corners, Pen(0.25, fill=Hatch.READY))
    upright = ground.size_m[1] >= ground.size_m[0]
    boxes = []
    for frame in frames:
        window = frame.window
        corner, end = ground.at((window.left, window.top)), ground.at((window.right, window.foot))
        canvas.rectangle(corner, end[0] - corner[0], end[1] - corner[1], Pen(0.5))
        boxes.append((corner, end, frame.letters))
    if upright:
        _letter_beside(canvas, ground, boxes)
    else:
        _letter_above(canvas, ground, boxes)


_Boxes = list[tuple[Point, Point, str]]


def _letter_beside(canvas: Canvas, ground: Ground, boxes: _Boxes) -> None:
    """Set each frame's letters right of the bed, pushed apart, with a leader."""
    last = ground.top - _LETTER_MM
    ordered = sorted(boxes, key=lambda box: box[0][1] + box[1][1])
    for number, (corner, end, letters) in enumerate(ordered):
        middle = (corner[1] + end[1]) / 2
        # None is pushed past the bed's foot, where measures stand.
        lowest = ground.peg[1] - (len(ordered) - 1 - number) * _LETTER_MM
        y = min(max(middle, last + _LETTER_MM), lowest)
        canvas.line((end[0], middle), (ground.right + 2.4, y), Pen(0.18))
        style = Style(Face.STRONG, _LETTER_MM)
        canvas.text((ground.right + 3.2, y + 0.35 * _LETTER_MM), letters, style)
        last = y


def _letter_above(canvas: Canvas, ground: Ground, boxes: _Boxes) -> None:
    """Set each frame's letters above the bed, pushed apart, with a leader."""
    last = -hypot(*ground.peg)
    for corner, end, letters in sorted(boxes, key=lambda box: box[0][0] + box[1][0]):
        middle = (corner[0] + end[0]) / 2
        half = len(letters) * 0.35 * _LETTER_MM
        x = max(middle, last + half + 1)
        canvas.line((middle, corner[1]), (x, ground.top - 2), Pen(0.18))
        style = Style(Face.STRONG, _LETTER_MM, anchor="middle")
        canvas.text((x, ground.top - 2.8), letters, style)
        last = x + half
