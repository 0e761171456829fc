"""The ladder of a patch's name: the first form that fits, so that no patch is without a name."""

from dataclasses import dataclass

from haulm.sheets.draw.canvas import Canvas
from haulm.sheets.draw.type import Face, Style, width_of

NAME_MM, DETAIL_MM, NARROW_MM, TURNED_MM = 3.3, 2.6, 2.6, 2.8
_PAD = 0.9
_HALO = 1.0


@dataclass(frozen=True, slots=True)
class Box:
    """A patch on a sheet: its upper left corner, width and height [mm]."""

    x: float
    y: float
    width: float
    height: float


def draw_name(canvas: Canvas, box: Box, name: str, detail: str) -> bool:
    """Name a patch: in two lines, one line, a narrow face or turned; False where none fits."""
    rungs = (_two_lines, _one_line, _name_alone, _narrow, _narrow_name, _turned)
    return any(rung(canvas, box, name, detail) for rung in rungs)


def _room(box: Box) -> float:
    return box.width - 2 * _PAD


def _two_lines(canvas: Canvas, box: Box, name: str, detail: str) -> bool:
    widest = max(width_of(name, Face.NAME, NAME_MM), width_of(detail, Face.TEXT, DETAIL_MM))
    if box.height < NAME_MM + DETAIL_MM + 1.2 or widest > _room(box):
        return False
    # A tall patch is read at its middle, a low one is filled.
    y = box.y + (box.height - 6.2) / 2 if box.height < 20 else box.y + box.height * 0.42  # noqa: PLR2004
    at = box.x + _PAD
    canvas.text((at, y + 2.8), name, Style(Face.NAME, NAME_MM, halo=_HALO))
    canvas.text((at, y + 5.6), detail, Style(Face.TEXT, DETAIL_MM, halo=_HALO))
    return True


def _one_line(canvas: Canvas, box: Box, name: str, detail: str) -> bool:
    first = width_of(name, Face.NAME, NAME_MM)
    if box.height < 2.6 or first + 1.4 + width_of(detail, Face.TEXT, DETAIL_MM) > _room(box):  # noqa: PLR2004
        return False
    base = box.y + box.height / 2 + 1.1
    canvas.text((box.x + _PAD, base), name, Style(Face.NAME, NAME_MM, halo=_HALO))
    at = (box.x + _PAD + first + 1.4, base)
    canvas.text(at, detail, Style(Face.TEXT, DETAIL_MM, halo=_HALO))
    return True


def _name_alone(canvas: Canvas, box: Box, name: str, _detail: str) -> bool:
    if box.height < 2.6 or width_of(name, Face.NAME, NAME_MM) > _room(box):  # noqa: PLR2004
        return False
    at = (box.x + _PAD, box.y + box.height / 2 + 1.1)
    canvas.text(at, name, Style(Face.NAME, NAME_MM, halo=_HALO))
    return True


def _narrow(canvas: Canvas, box: Box, name: str, detail: str) -> bool:
    return _narrow_name(canvas, box, f"{name} {detail}", "")


def _narrow_name(canvas: Canvas, box: Box, name: str, _detail: str) -> bool:
    if box.height < 2.1 or width_of(name, Face.NARROW_STRONG, NARROW_MM) > _room(box):  # noqa: PLR2004
        return False
    at = (box.x + _PAD, box.y + box.height / 2 + 0.9)
    canvas.text(at, name, Style(Face.NARROW_STRONG, NARROW_MM, halo=_HALO))
    return True


def _turned(canvas: Canvas, box: Box, name: str, _detail: str) -> bool:
    if box.width < 2.8 or width_of(name, Face.NARROW_STRONG, TURNED_MM) > box.height - 1:  # noqa: PLR2004
        return False
    at = (box.x + box.width / 2 + 1.0, box.y + box.height / 2)
    style = Style(Face.NARROW_STRONG, TURNED_MM, anchor="middle", halo=_HALO, turn=-90)
    canvas.text(at, name, style)
    return True
