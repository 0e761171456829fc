"""The handover: all that whoever takes the garden over needs, on just two pages."""

from dataclasses import dataclass
from datetime import date

from haulm.measure.day_words import long_day
from haulm.sheets.bundle import Paper
from haulm.sheets.columns import (
    ColumnRooms,
    Fitted,
    Placed,
    Section,
    draw_section,
    fit_columns,
    stand,
)
from haulm.sheets.draw.canvas import Canvas, Pen
from haulm.sheets.draw.type import Face, Style, shortened
from haulm.sheets.paper import to_pdf

MARGIN = 12.0
_TOP, _NEXT_TOP, _FOOT = 36.0, 20.0, 15.0
_GAP_MM = 7.0
_MAP_MM = 46.0
_SECOND_PAGE = 2
"""The first column of the second page: two stand on each."""


@dataclass(frozen=True, slots=True)
class BedShape:
    """A bed as it is sketched: its name and its corners [m]."""

    name: str
    corners_m: tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True)
class Handover:
    """All that the handover says, nothing left out yet."""

    garden: str
    invented: bool
    day: date
    shapes: tuple[BedShape, ...]
    sections: tuple[Section, ...]


def handover_sheets(told: Handover, paper: Paper) -> tuple[str, str]:
    """Draw the two pages; what found no room is counted where it would stand, and at the end."""
    fitted = fit(told, paper)
    # Where not even the least lines fit, the ends of the last column are cut.
    columns = stand(fitted.sections, _rooms(told, paper))
    first, second = (_page(told, fitted, paper, columns, number) for number in (0, 1))
    return first, second


def handover_pdf(told: Handover, paper: Paper) -> tuple[bytes, tuple[tuple[str, int], ...]]:
    """Put the two pages into a PDF; give it with what found no room, by section."""
    return to_pdf(handover_sheets(told, paper)), fit(told, paper).left_out


def fit(told: Handover, paper: Paper) -> Fitted:
    """Leave lines out, in the order in which sections give way, until the rest fits two pages."""
    return fit_columns(told.sections, _rooms(told, paper))


def _rooms(told: Handover, paper: Paper) -> ColumnRooms:
    """Give two columns on each of the two pages."""
    width = (paper.upright[0] - 2 * MARGIN - _GAP_MM) / 2
    foot = paper.upright[1] - _FOOT
    first = _TOP + (_MAP_MM if told.shapes else 0.0)
    spans = ((first, foot), (first, foot), (_NEXT_TOP, foot), (_NEXT_TOP, foot))
    return ColumnRooms(width, spans, turn=_SECOND_PAGE)


def _page(told: Handover, fitted: Fitted, paper: Paper, columns: Placed, number: int) -> str:
    """Draw one of the two pages."""
    width, height = paper.upright
    canvas = Canvas(f"handover-{number + 1}", width, height)
    if number == 0:
        _draw_head(told, canvas)
        _draw_shapes(told.shapes, canvas)
    else:
        canvas.text((MARGIN, 14), f"Handover of {told.garden}", Style(Face.NAME, 5.2))
        canvas.line((MARGIN, 16.5), (width - MARGIN, 16.5), Pen(0.5))
    wide = _rooms(told, paper).width_mm
    for side in (0, 1):
        x = MARGIN + side * (wide + _GAP_MM)
        for section, start, until, y in columns[2 * number + side]:
            draw_section(canvas, (section, start, until), (x, y), wide)
    _draw_foot(told, fitted, canvas, number)
    return canvas.svg(f"Handover of {told.garden}, page {number + 1} of 2", _described(told))


def _described(told: Handover) -> str:
    return "; ".join(section.title for section in told.sections)


def _draw_head(told: Handover, canvas: Canvas) -> None:
    right = canvas.width - MARGIN
    canvas.text((MARGIN, 20), "Handover", Style(Face.NAME, 9))
    name = shortened(told.garden, Face.FIRM, 4.4, 110)
    canvas.text((right, 15), name, Style(Face.FIRM, 4.4, anchor="end"))
    as_of = f"as of {long_day(told.day)}"
    canvas.text((right, 20), as_of, Style(Face.TEXT, 4.0, anchor="end"))
    canvas.line((MARGIN, 23.5), (right, 23.5), Pen(0.8))
    words = (
        "What stands where, what is due, where things lie. Beds to one scale, not in their places."
    )
    canvas.text((MARGIN, 29.5), words, Style(Face.TEXT, 3.8))


def _draw_shapes(shapes: tuple[BedShape, ...], canvas: Canvas) -> None:
    """Sketch every bed to one scale, in the grower's order, each with its number and name."""
    if not shapes:
        return
    rows = 1 if len(shapes) <= 7 else 2  # noqa: PLR2004 - so many names stand side by side
    a_row = -(-len(shapes) // rows)
    cell = (canvas.width - 2 * MARGIN) / a_row
    high = (_MAP_MM - 4) / rows
    long = max(max(x for x, _ in shape.corners_m) for shape in shapes)
    tall = max(max(y for _, y in shape.corners_m) for shape in shapes)
    mm_a_metre = min((cell - 4) / long, (high - 7) / tall)
    for number, shape in enumerate(shapes):
        left = MARGIN + (number % a_row) * cell
        base = _TOP + (number // a_row + 1) * high - 5
        corners = [(left + x * mm_a_metre, base - y * mm_a_metre) for x, y in shape.corners_m]
        canvas.polygon(corners, Pen(0.35, fill="#fff"))
        words = shortened(f"{number + 1} {shape.name}", Face.NAME, 3.6, cell - 2)
        canvas.text((left, base + 4), words, Style(Face.NAME, 3.6))


def _draw_foot(told: Handover, fitted: Fitted, canvas: Canvas, number: int) -> None:
    right, y = canvas.width - MARGIN, canvas.height - 6
    if number and fitted.left_out:
        parts = ", ".join(f"{count} of {title.lower()}" for title, count in fitted.left_out)
        words = f"Left out for want of room: {parts}."
        room = right - MARGIN - 60
        canvas.text((MARGIN, y), shortened(words, Face.SLANTED, 3.3, room), _LEFT_OUT)
    foot = f"page {number + 1} of 2" + (", invented garden" if told.invented else "")
    canvas.text((right, y), foot, Style(Face.SLANTED, 3.4, anchor="end"))


_LEFT_OUT = Style(Face.SLANTED, 3.3)
