"""The review on two pages: by food and bed what was planned, what came, and why."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date

from haulm.measure.day_words import long_span
from haulm.sheets.bundle import Paper
from haulm.sheets.columns import ColumnRooms, Fitted, Section, draw_section, fit_columns, stand
from haulm.sheets.draw.canvas import HAIR, Canvas, Pen
from haulm.sheets.draw.hatches import Hatch
from haulm.sheets.draw.type import Face, Style, fitted_size, shortened, width_of, wrapped
from haulm.sheets.paper import to_pdf

MARGIN = 12.0
_TOP, _NEXT_TOP, _FOOT, _GAP_MM = 30.0, 20.0, 15.0, 7.0
_VERDICT_MM, _KEY_MM, _HEAD_MM, _AFTER_MM = 5.0, 7.5, 12.5, 4.5
_ROW_MM = (4.5, 6.2)
"""A row is so high at the least, where there are many, and at the most [mm]."""
_NAME_MM, _CHART_MM = 37.0, 50.0
_MOST = 2.0
"""A chart ends at so many times what was planned [1]."""
_LEAST_ROOM_MM = 45.0
"""Less room under the tables is left white [mm]."""
_CELL, _HEAD = Style(Face.TEXT, 3.4, anchor="end"), Style(Face.TEXT, 3.2, anchor="end")
_NAMED, _TITLE = Style(Face.TEXT, 3.6), Style(Face.NAME, 4.6)
_TICK, _PLANNED = Pen(1.1), Pen(0.35, dash="1.4 1")
_SIDES = (0, 1)


@dataclass(frozen=True, slots=True)
class CameRow:
    """One food or bed: its name, its harvest against the plan, and its cells.

    Attributes
    ----------
    name, cells
        Its name, and the words of each column.
    planned_kg, picked_kg
        What was to be picked, and what was [kg]; None where nobody wrote it.
    between_kg
        What 8 seasons in 10 lie between [kg]; None where that is not known.
    """

    name: str
    cells: tuple[str, ...]
    planned_kg: float
    picked_kg: float | None
    between_kg: tuple[float, float] | None


@dataclass(frozen=True, slots=True)
class CameTable:
    """Rows of a sort: what they are, the heads of their columns, and the rows, the most first."""

    title: str
    heads: tuple[str, ...]
    rows: tuple[CameRow, ...]


@dataclass(frozen=True, slots=True)
class ReviewSheet:
    """All that the printed review says, nothing left out yet.

    Attributes
    ----------
    garden, invented
        The garden's name, and whether it is an invented one.
    first_day, last_day, whole
        The days looked back on, and whether they were over.
    verdict
        How the year stands beside what was promised.
    tables
        Planned and came, by food and by bed; the first gives rows away where room is short.
    sections
        All else.
    """

    garden: str
    invented: bool
    first_day: date
    last_day: date
    whole: bool
    verdict: str
    tables: tuple[CameTable, ...]
    sections: tuple[Section, ...]


@dataclass(frozen=True, slots=True)
class _Page:
    """How the two pages are shared: tables cut, height of a row [mm], columns and what fits."""

    tables: tuple[CameTable, ...]
    row_mm: float
    rooms: ColumnRooms
    fitted: Fitted
    left_out: tuple[tuple[str, int], ...]


def review_pdf(told: ReviewSheet, paper: Paper) -> tuple[bytes, tuple[tuple[str, int], ...]]:
    """Put the two pages into a PDF; give it with what found no room, by title."""
    return to_pdf(review_sheets(told, paper)), _shared(told, paper).left_out


def review_sheets(told: ReviewSheet, paper: Paper) -> tuple[str, str]:
    """Draw the two pages; what found no room is counted where it would stand, and at the end."""
    page = _shared(told, paper)
    placed = stand(page.fitted.sections, page.rooms)
    canvases = [Canvas(f"review-{number}", *paper.upright) for number in (1, 2)]
    _draw_head(told, canvases[0])
    y = _tables_top(told, paper)
    for table in page.tables:
        y = _draw_table(canvases[0], table, y, page.row_mm)
    right = canvases[1].width - MARGIN
    title = f"The year looked back on: {told.garden}"
    canvases[1].text((MARGIN, 14), title, Style(Face.NAME, 5.2))
    canvases[1].line((MARGIN, 16.5), (right, 16.5), Pen(0.5))
    for column, parts in enumerate(placed):
        number = 1 if column >= page.rooms.turn else 0
        x = MARGIN + column % 2 * (page.rooms.width_mm + _GAP_MM)
        for section, start, until, top in parts:
            part = (section, start, until)
            draw_section(canvases[number], part, (x, top), page.rooms.width_mm)
    first, second = (_finished(told, page, canvas, n) for n, canvas in enumerate(canvases, start=1))
    return first, second


def _shared(told: ReviewSheet, paper: Paper) -> _Page:
    """Share the two pages out: first the tables, then all else in what they leave."""
    top, foot = _tables_top(told, paper), paper.upright[1] - _FOOT
    around = sum(_HEAD_MM + _AFTER_MM for _ in told.tables)
    rows = sum(len(table.rows) for table in told.tables)
    row_mm = max(_ROW_MM[0], min(_ROW_MM[1], (foot - top - around) / max(rows, 1)))
    over = rows - int((foot - top - around) / row_mm + 1e-9)
    tables, left_out = _cut(told.tables, over)
    used = around + row_mm * sum(len(table.rows) for table in tables)
    width = (paper.upright[0] - 2 * MARGIN - _GAP_MM) / 2
    spans: tuple[tuple[float, float], ...] = ((_NEXT_TOP, foot),) * 2
    turn = 0
    if foot - top - used >= _LEAST_ROOM_MM:
        spans, turn = (((top + used, foot),) * 2 + spans), 2
    rooms = ColumnRooms(width, spans, turn)
    fitted = fit_columns(told.sections, rooms)
    return _Page(tables, row_mm, rooms, fitted, (*left_out, *fitted.left_out))


def _cut(
    tables: Sequence[CameTable], over: int
) -> tuple[tuple[CameTable, ...], tuple[tuple[str, int], ...]]:
    """Leave out the last rows of the first table, then of the next, one row at least staying."""
    kept, left_out = [], []
    for table in tables:
        gone = min(max(over, 0), len(table.rows) - 1)
        over -= max(gone, 0)
        kept.append(
            replace(table, rows=table.rows[: len(table.rows) - gone]) if gone > 0 else table
        )
        if gone > 0:
            left_out.append((table.title, gone))
    return tuple(kept), tuple(left_out)


def _verdict_lines(told: ReviewSheet, paper: Paper) -> list[str]:
    return wrapped(told.verdict, Face.FIRM, 4.0, paper.upright[0] - 2 * MARGIN)


def _tables_top(told: ReviewSheet, paper: Paper) -> float:
    return _TOP + _VERDICT_MM * len(_verdict_lines(told, paper)) + _KEY_MM


def _draw_head(told: ReviewSheet, canvas: Canvas) -> None:
    right = canvas.width - MARGIN
    canvas.text((MARGIN, 20), "The year looked back on", Style(Face.NAME, 9))
    name = shortened(told.garden, Face.FIRM, 4.4, 80)
    canvas.text((right, 15), name, Style(Face.FIRM, 4.4, anchor="end"))
    days = long_span(told.first_day, told.last_day)
    days += "" if told.whole else ", as far as it has come"
    size = fitted_size(days, Face.TEXT, 4.0, 82)
    canvas.text((right, 20), days, Style(Face.TEXT, size, anchor="end"))
    canvas.line((MARGIN, 23.5), (right, 23.5), Pen(0.8))
    y = _TOP
    for line in wrapped(told.verdict, Face.FIRM, 4.0, right - MARGIN):
        canvas.text((MARGIN, y), line, Style(Face.FIRM, 4.0))
        y += _VERDICT_MM
    _draw_key(canvas, y + 1.0)


def _draw_key(canvas: Canvas, y: float) -> None:
    """Draw what the marks of the charts mean."""
    x, style = MARGIN, Style(Face.TEXT, 3.3)
    marks = (("8 seasons in 10", 8.0), ("the plan", 4.0), ("what was picked", 4.0))
    for number, (words, wide) in enumerate(marks):
        if number == 0:
            canvas.rectangle((x, y - 2.6), wide - 1.5, 2.8, Pen(0.15, fill=Hatch.GROWING))
        else:
            pen = _PLANNED if number == 1 else _TICK
            canvas.line((x + 1, y - 3.1), (x + 1, y + 0.6), pen)
        canvas.text((x + wide, y), words, style)
        x += wide + width_of(words, style.face, style.size) + 6
    canvas.text((x, y), "·  not written", style)


def _draw_table(canvas: Canvas, table: CameTable, top: float, row_mm: float) -> float:
    """Draw a table with its charts; give where it ends [mm]."""
    right, chart = canvas.width - MARGIN, MARGIN + _NAME_MM
    canvas.text((MARGIN, top + 5), table.title, _TITLE)
    heads_y = top + _HEAD_MM - 2.2
    step = (right - chart - _CHART_MM - 2) / max(len(table.heads), 1)
    for place, words in ((0.0, "none"), (0.5, "as planned"), (1.0, "twice")):
        anchor = {0.0: "start", 0.5: "middle", 1.0: "end"}[place]
        style = Style(Face.TEXT, 3.2, anchor=anchor)
        canvas.text((chart + place * _CHART_MM, heads_y), words, style)
    for number, words in enumerate(table.heads, start=1):
        canvas.text((chart + _CHART_MM + 2 + number * step, heads_y), words, _HEAD)
    y = top + _HEAD_MM
    canvas.line((MARGIN, y - 1), (right, y - 1), HAIR)
    for row in table.rows:
        base = y + row_mm * 0.68
        name = shortened(row.name, _NAMED.face, _NAMED.size, _NAME_MM - 2)
        canvas.text((MARGIN, base), name, _NAMED)
        _draw_bar(canvas, row, (chart, y), row_mm)
        for number, words in enumerate(row.cells, start=1):
            canvas.text((chart + _CHART_MM + 2 + number * step, base), words, _CELL)
        y += row_mm
    middle = chart + _CHART_MM / _MOST
    canvas.line((middle, top + _HEAD_MM - 1), (middle, y), _PLANNED)
    return y + _AFTER_MM


def _draw_bar(canvas: Canvas, row: CameRow, at: tuple[float, float], high: float) -> None:
    """Draw a row against its plan: what 8 seasons in 10 give hatched, what came a thick stroke."""
    if row.planned_kg <= 0:
        return
    left, y = at

    def x(kg: float) -> float:
        return left + _CHART_MM * min(kg / row.planned_kg, _MOST) / _MOST

    pad = high * 0.18
    if row.between_kg is not None:
        low, most = (x(kg) for kg in row.between_kg)
        if most > low:
            canvas.rectangle(
                (low, y + pad), most - low, high - 2 * pad, Pen(0.15, fill=Hatch.GROWING)
            )
    if row.picked_kg is None:
        return
    came = x(row.picked_kg)
    canvas.line((came, y + pad / 2), (came, y + high - pad / 2), _TICK)
    if row.picked_kg > _MOST * row.planned_kg:
        # More than the chart holds: an arrow says that it goes on.
        tip, middle = came + 2.2, y + high / 2
        corners = ((came + 0.5, middle - 1.2), (tip, middle), (came + 0.5, middle + 1.2))
        canvas.polygon(corners, Pen(0.1, fill="#000"))


def _finished(told: ReviewSheet, page: _Page, canvas: Canvas, number: int) -> str:
    """Put the foot under a page, and write it."""
    right, y = canvas.width - MARGIN, canvas.height - 6
    if number > 1 and page.left_out:
        parts = ", ".join(f"{count} of {title.lower()}" for title, count in page.left_out)
        words = f"Left out for want of room: {parts}."
        style = Style(Face.SLANTED, 3.3)
        canvas.text((MARGIN, y), shortened(words, style.face, style.size, right - 72), style)
    foot = f"page {number} of 2" + (", invented garden" if told.invented else "")
    canvas.text((right, y), foot, Style(Face.SLANTED, 3.4, anchor="end"))
    described = "; ".join([table.title for table in told.tables] + [s.title for s in told.sections])
    return canvas.svg(f"The year looked back on: {told.garden}, page {number} of 2", described)
