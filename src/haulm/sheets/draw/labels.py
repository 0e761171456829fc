"""The ladder of a patch's name: the first form that fits, so that no patch is without a name."""

from collections.abc import Iterator
from dataclasses import dataclass

from haulm.sheets.draw.canvas import Canvas, Point
from haulm.sheets.draw.type import Face, Style, width_of

NAME_MM, DETAIL_MM, NARROW_MM, TURNED_MM = 3.3, 2.6, 2.6, 2.8
_PAD, _GAP, _HALO = 0.9, 1.4, 0.8
_TWO_LINES_MM, _ONE_LINE_MM, _NARROW_LINE_MM = 7.1, 2.6, 2.1
_TALL_MM = 20.0


@dataclass(frozen=True, slots=True)
class Box:
    """A patch on a sheet: its upper left corner, width and height [mm]."""

    x: float
    y: float
    width: float
    height: float


Line = tuple[Point, str, Style]


def name_lines(box: Box, name: str, detail: str) -> tuple[Line, ...]:
    """Set a patch's name in two lines, one line, a narrow face or turned; empty if none fits."""
    return next((form for form in _forms(box, name, detail) if form), ())


def draw_lines(canvas: Canvas, lines: tuple[Line, ...]) -> None:
    """Draw a patch's name on white, so that it stays clear of the hatch beneath."""
    canvas.plate(*lines)
    for at, words, style in lines:
        canvas.text(at, words, style)


def _forms(box: Box, name: str, detail: str) -> Iterator[tuple[Line, ...]]:
    room = box.width - 2 * _PAD
    left, middle = box.x + _PAD, box.y + box.height / 2
    first = width_of(name, Face.NAME, NAME_MM)
    second = width_of(detail, Face.TEXT, DETAIL_MM)
    big, small = Style(Face.NAME, NAME_MM, halo=_HALO), Style(Face.TEXT, DETAIL_MM, halo=_HALO)
    if box.height >= _TWO_LINES_MM and max(first, second) <= room:
        # A tall patch is read near its middle, a low one is filled.
        top = middle - 3.1 if box.height < _TALL_MM else box.y + box.height * 0.42
        yield ((left, top + 2.8), name, big), ((left, top + 5.6), detail, small)
    if box.height >= _ONE_LINE_MM and first + _GAP + second <= room:
        at = (left + first + _GAP, middle + 1.1)
        yield ((left, middle + 1.1), name, big), (at, detail, small)
    narrow = Style(Face.NARROW_STRONG, NARROW_MM, halo=_HALO)
    both = f"{name} {detail}"
    if box.height >= _NARROW_LINE_MM and width_of(both, narrow.face, NARROW_MM) <= room:
        yield (((left, middle + 0.9), both, narrow),)
    if box.height >= _ONE_LINE_MM and first <= room:
        yield (((left, middle + 1.1), name, big),)
    if box.height >= _NARROW_LINE_MM and width_of(name, narrow.face, NARROW_MM) <= room:
        yield (((left, middle + 0.9), name, narrow),)
    turned = Style(Face.NARROW_STRONG, TURNED_MM, anchor="middle", halo=_HALO, turn=-90)
    length = width_of(name, turned.face, TURNED_MM)
    if box.width >= TURNED_MM and length <= box.height - 1:
        yield (((box.x + box.width / 2 + 1.0, middle), name, turned),)
