"""Names in a bed's drawing: of what stands there already, and of the rows."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from math import hypot

from haulm.planting.records import PatchLayout, Piece
from haulm.sheets.bed_drawing import Ground, draw_patch_edges, holds, on_edge, reach_of
from haulm.sheets.draw.canvas import Canvas, Point
from haulm.sheets.draw.type import Face, Style, width_of
from haulm.sheets.measures import Measure

_ROW_NAME_MM = 3.9
_LETTER_MM = 3.6
_LETTER_PITCH_MM = 2.7
_LETTER_STEPS, _LETTER_STEP_MM = 12, 1.6
# Sizes of name and date, and the step from line to line; the first that fits is taken.
_FORMS = ((5.0, 3.8, 5.2), (3.9, 3.4, 4.2), (3.4, 3.0, 3.6))
_NEAR_PEG_MM = 3.6
_GRID = 7


@dataclass(frozen=True, slots=True)
class Older:
    """A patch that stands already: its ground, its name, and until when it stands."""

    layout: PatchLayout
    name: str
    until: str


@dataclass(frozen=True, slots=True)
class OlderName:
    """How an older patch is named: its lines with their sizes, where, turned or not.

    ``letter`` is set where only a letter fits; the sheet then lists what it stands for.
    """

    older: Older
    lines: tuple[tuple[str, Face, float], ...]
    at: Point
    pitch: float
    turned: bool
    letter: str = ""


@dataclass(frozen=True, slots=True)
class _Box:
    """A rectangle on the sheet [mm]."""

    left: float
    top: float
    right: float
    foot: float

    def meets(self, other: "_Box") -> bool:
        return (
            self.left < other.right
            and other.left < self.right
            and self.top < other.foot
            and other.top < self.foot
        )


def place_older(ground: Ground, older: Sequence[Older]) -> list[OlderName]:
    """Find room for every older patch's name inside its own ground; else for a letter.

    A sliver on which not even a letter would stand clear has neither.
    """
    names: list[OlderName] = []
    letters = "abcdefghijklmnopqrstuvwxyz"
    for patch in older:
        pieces = sorted(patch.layout.pieces, key=lambda piece: piece.share_from - piece.share_to)
        if pieces:
            found = next(_fitting(ground, patch, pieces[0]), None)
            letter = letters[min(sum(bool(name.letter) for name in names), len(letters) - 1)]
            names.append(found or _lettered(ground, patch, pieces[0], letter, names))
    return names


def _fitting(ground: Ground, patch: Older, piece: Piece) -> Iterator[OlderName]:
    for name_size, date_size, pitch in _FORMS:
        lines = (
            (patch.name, Face.NAME_SLANTED, name_size),
            (patch.until, Face.TEXT, date_size),
        )
        for turned in (False, True):
            at = _place(ground, piece, lines, pitch, turned=turned)
            if at:
                yield OlderName(patch, lines, at, pitch, turned)
    one = ((f"{patch.name} {patch.until}", Face.TEXT, 3.2),)
    for turned in (False, True):
        at = _place(ground, piece, one, 3.4, turned=turned)
        if at:
            yield OlderName(patch, one, at, 3.4, turned)


def _lettered(
    ground: Ground, patch: Older, piece: Piece, letter: str, names: Sequence[OlderName]
) -> OlderName:
    """Set a letter on a sliver, moved along it until it stands on no other letter or name."""
    line = ((letter, Face.STRONG, _LETTER_MM),)
    (x, y), (width, height) = ground.at(_middle(piece)), _extent(piece)
    upright = height > width
    half = max(width, height) * ground.mm_a_metre / 2
    boxes = [_older_box(name) for name in names if name.lines]
    made = OlderName(patch, line, (x, y), _LETTER_PITCH_MM, turned=False, letter=letter)
    for number in range(2 * _LETTER_STEPS):
        # Nearest to the middle first, now to one side, now to the other.
        shift = (number + 1) // 2 * _LETTER_STEP_MM * (1 if number % 2 else -1)
        at = (x, y + shift) if upright else (x + shift, y)
        moved = replace(made, at=at)
        if abs(shift) < half and not any(_older_box(moved).meets(box) for box in boxes):
            return moved
    return replace(made, lines=(), letter="")


def _extent(piece: Piece) -> Point:
    xs, ys = [x for x, _ in piece.corners_m], [y for _, y in piece.corners_m]
    return max(xs) - min(xs), max(ys) - min(ys)


def _middle(piece: Piece) -> Point:
    xs, ys = [x for x, _ in piece.corners_m], [y for _, y in piece.corners_m]
    return (max(xs) + min(xs)) / 2, (max(ys) + min(ys)) / 2


def _place(
    ground: Ground,
    piece: Piece,
    lines: Sequence[tuple[str, Face, float]],
    pitch: float,
    *,
    turned: bool,
) -> Point | None:
    """Find where a block of lines stands wholly inside a piece, as near its middle as may be."""
    width = max(width_of(words, face, size) for words, face, size in lines) + 1.6
    height = len(lines) * pitch + 0.6
    if turned:
        width, height = height, width
    across, up = _extent(piece)
    if width > across * ground.mm_a_metre or height > up * ground.mm_a_metre:
        return None
    half = (width / 2 / ground.mm_a_metre, height / 2 / ground.mm_a_metre)
    middle = _middle(piece)
    xs, ys = [x for x, _ in piece.corners_m], [y for _, y in piece.corners_m]
    steps = [number / (_GRID + 1) for number in range(1, _GRID + 1)]
    spots = [
        (min(xs) + (max(xs) - min(xs)) * a, min(ys) + (max(ys) - min(ys)) * b)
        for a in steps
        for b in steps
    ]
    spots.sort(key=lambda spot: hypot(spot[0] - middle[0], spot[1] - middle[1]))
    for x, y in spots:
        edge = [
            (x + half[0] * a, y + half[1] * b)
            for a, b in ((-1, -1), (1, -1), (1, 1), (-1, 1), (0, -1), (0, 1))
        ]
        if all(holds(piece.corners_m, point) for point in edge):
            return ground.at((x, y))
    return None


def _older_box(name: OlderName) -> _Box:
    half = max(width_of(words, face, size) for words, face, size in name.lines) / 2 + 0.5
    tall = len(name.lines) * name.pitch / 2 + 0.3
    across, down = (tall, half) if name.turned else (half, tall)
    x, y = name.at
    return _Box(x - across, y - down, x + across, y + down)


def draw_older(canvas: Canvas, ground: Ground, names: Sequence[OlderName]) -> None:
    """Outline what stands already."""
    for name in names:
        draw_patch_edges(canvas, ground, name.older.layout)


def draw_older_names(canvas: Canvas, names: Sequence[OlderName]) -> None:
    """Name what stands already, over whatever reaches across its ground."""
    for name in names:
        x, y = name.at
        for number, (words, face, size) in enumerate(name.lines):
            shift = (number - (len(name.lines) - 1) / 2) * name.pitch + 0.33 * size
            at = (x + shift, y) if name.turned else (x, y + shift)
            turn = -90.0 if name.turned else 0.0
            canvas.text(at, words, Style(face, size, anchor="middle", halo=0.8, turn=turn))


def draw_row_names(
    canvas: Canvas,
    ground: Ground,
    fresh: Sequence[tuple[PatchLayout, Measure]],
    older: Sequence[OlderName],
) -> None:
    """Write the rows' names where their lines leave the patch; where rows stand close, every few.

    A name stands outside the bed if the row reaches its edge, else on ground no other patch holds.
    None stands on another: first and last row have the right of way.
    """
    boxes = [_older_box(name) for name in older if name.lines]
    for layout, measure in fresh:
        others = [other for other, _ in fresh if other is not layout]
        others += [name.older.layout for name in older]
        taken = [piece.corners_m for other in others for piece in other.pieces]
        rows = [row for row in measure.rows if not row.goes_on]
        for row in (*rows[:1], *rows[:0:-1][:1], *rows[1:-1]):
            at, anchor = _row_place(ground, reach_of(ground, layout, row), taken)
            box = _row_box(row.name, at, anchor)
            if not any(box.meets(other) for other in boxes):
                boxes.append(box)
                style = Style(Face.STRONG, _ROW_NAME_MM, anchor=anchor, halo=0.8)
                canvas.text(at, row.name, style)


def _row_box(name: str, at: Point, anchor: str) -> _Box:
    width = width_of(name, Face.STRONG, _ROW_NAME_MM)
    left = at[0] - width * {"start": 0.0, "middle": 0.5, "end": 1.0}[anchor]
    return _Box(left - 0.4, at[1] - 0.72 * _ROW_NAME_MM - 0.3, left + width + 0.4, at[1] + 0.3)


def _row_place(
    ground: Ground, ends: tuple[Point, Point], taken: Sequence[Sequence[Point]]
) -> tuple[Point, str]:
    first, last = min((ends, ends[::-1]), key=lambda way: _crowding(ground, way, taken))
    run = hypot(last[0] - first[0], last[1] - first[1]) or 1.0
    way = ((first[0] - last[0]) / run, (first[1] - last[1]) / run)
    x, y = ground.at(first)
    if abs(way[0]) < abs(way[1]):
        return (x, y + (5.0 if way[1] < 0 else -1.8)), "middle"
    # The peg's own ring must stay clear.
    clear = 4.0 if hypot(x - ground.peg[0], y - ground.peg[1]) < _NEAR_PEG_MM else 2.2
    return (x + (clear if way[0] > 0 else -clear), y + 1.4), "start" if way[0] > 0 else "end"


def _crowding(ground: Ground, ends: tuple[Point, Point], taken: Sequence[Sequence[Point]]) -> int:
    """Grade the end of a row for its name: 0 outside the bed, 1 on free ground, 2 on a patch."""
    (x, y), (x2, y2) = ends
    run = hypot(x - x2, y - y2) or 1.0
    beyond = (x + (x - x2) / run * 0.1, y + (y - y2) / run * 0.1)
    if on_edge(ground.corners_m, (x, y)) and not holds(ground.corners_m, beyond):
        return 0
    return 2 if any(holds(corners, beyond) for corners in taken) else 1
