"""The ladder of a patch's name: the first form that fits, so that no patch is without a name."""

from collections.abc import Iterator
from dataclasses import dataclass

from haulm.sheets.draw.canvas import Canvas, Point
from haulm.sheets.draw.type import Face, Style, width_of


@dataclass(frozen=True, slots=True)
class LabelSizes:
    """How a patch's name is set: sizes, whites and least heights, in the drawing's unit.

    ``lines_down`` are the base lines of two lines below their top, which lies ``lines_up`` over
    the patch's middle; ``one_down``, ``narrow_down`` and ``turned_across`` set the others.
    """

    name: float
    detail: float
    narrow: float
    turned: float
    pad: float
    gap: float
    halo: float
    two_lines: float
    one_line: float
    narrow_line: float
    tall: float
    lines_up: float
    lines_down: tuple[float, float]
    one_down: float
    narrow_down: float
    turned_across: float


ON_PAPER = LabelSizes(
    name=3.3, detail=2.6, narrow=2.6, turned=2.8, pad=0.9, gap=1.4, halo=0.8, two_lines=7.1,
    one_line=2.6, narrow_line=2.1, tall=20.0, lines_up=3.1, lines_down=(2.8, 5.6), one_down=1.1,
    narrow_down=0.9, turned_across=1.0,
)  # fmt: skip
ON_PAGE = LabelSizes(
    name=14, detail=11, narrow=11, turned=12, pad=5, gap=5, halo=0, two_lines=29, one_line=14,
    narrow_line=11, tall=80, lines_up=13, lines_down=(11, 23), one_down=5, narrow_down=4,
    turned_across=4,
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Box:
    """A patch: its upper left corner, width and height [mm on paper, px on a page]."""

    x: float
    y: float
    width: float
    height: float


Line = tuple[Point, str, Style]


def name_lines(box: Box, name: str, detail: str, sizes: LabelSizes = ON_PAPER) -> tuple[Line, ...]:
    """Set a patch's name in two lines, one line, a narrow face or turned; empty if none fits."""
    return next((form for form in _forms(box, name, detail, sizes) if form), ())


def draw_lines(canvas: Canvas, lines: tuple[Line, ...]) -> None:
    """Draw a patch's name on white, so that it stays clear of the hatch beneath."""
    canvas.plate(*lines)
    for at, words, style in lines:
        canvas.text(at, words, style)


def _forms(box: Box, name: str, detail: str, sizes: LabelSizes) -> Iterator[tuple[Line, ...]]:
    room = box.width - 2 * sizes.pad
    left, middle = box.x + sizes.pad, box.y + box.height / 2
    first = width_of(name, Face.NAME, sizes.name)
    second = width_of(detail, Face.TEXT, sizes.detail)
    big = Style(Face.NAME, sizes.name, halo=sizes.halo)
    small = Style(Face.TEXT, sizes.detail, halo=sizes.halo)
    if box.height >= sizes.two_lines and max(first, second) <= room:
        # A tall patch is read near its middle, a low one is filled.
        low = box.height < sizes.tall
        top = middle - sizes.lines_up if low else box.y + box.height * 0.42
        one, two = sizes.lines_down
        yield ((left, top + one), name, big), ((left, top + two), detail, small)
    base = middle + sizes.one_down
    if box.height >= sizes.one_line and first + sizes.gap + second <= room:
        yield ((left, base), name, big), ((left + first + sizes.gap, base), detail, small)
    narrow = Style(Face.NARROW_STRONG, sizes.narrow, halo=sizes.halo)
    both = f"{name} {detail}"
    if box.height >= sizes.narrow_line and width_of(both, narrow.face, narrow.size) <= room:
        yield (((left, middle + sizes.narrow_down), both, narrow),)
    if box.height >= sizes.one_line and first <= room:
        yield (((left, base), name, big),)
    if box.height >= sizes.narrow_line and width_of(name, narrow.face, narrow.size) <= room:
        yield (((left, middle + sizes.narrow_down), name, narrow),)
    turned = Style(Face.NARROW_STRONG, sizes.turned, anchor="middle", halo=sizes.halo, turn=-90)
    length = width_of(name, turned.face, turned.size)
    if box.width >= sizes.turned and length <= box.height - 1:
        at = (box.x + box.width / 2 + sizes.turned_across, middle)
        yield ((at, name, turned),)
