"""The strip for the fridge door on paper: big type, black and white, to be cut out."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from haulm.measure.day_words import day_text
from haulm.sheets.bundle import Paper
from haulm.sheets.draw.canvas import HAIR, Canvas, Pen
from haulm.sheets.draw.type import Face, Style, fitted_size, shortened, width_of, wrapped

STRIP_MM = 92.0
INSET = 6.0
_TOP, _SMALL = 34.0, 3.9
_ROW, _LEAST_ROW = 15.5, 13.6
_CARE = Style(Face.NARROW, 3.6)
_LEADING = 1.25
_CUT = Pen(0.25, dash="3 2")


@dataclass(frozen=True, slots=True)
class StripRow:
    """One food on the strip: its name, this week's limit, and what to take first."""

    name: str
    limit: str
    first: str = ""


@dataclass(frozen=True, slots=True)
class StripSheet:
    """What the strip shows.

    Attributes
    ----------
    garden, day
        Whose larder, and from which day on the week counts.
    rows
        The foods in the order in which to eat them.
    locked
        What is not for the kitchen, in words; empty where there is nothing.
    care
        What to take care of, a sentence each.
    invented
        Whether the garden is made up.
    """

    garden: str
    day: date
    rows: tuple[StripRow, ...]
    locked: tuple[str, ...] = ()
    care: tuple[str, ...] = ()
    invented: bool = False


def strip_sheets(sheet: StripSheet, paper: Paper) -> tuple[str, ...]:
    """Draw the strip, two to a page where one is too short for all foods, with lines to cut along.

    What is not for the kitchen, and what to take care of, stands at the foot of the last strip.
    """
    width, height = paper.upright
    foot = _foot_lines(sheet)
    foot_mm = sum(style.size for _, style in foot) * _LEADING + 6
    room = height - 2 * INSET - _TOP
    fits = (room - foot_mm) / max(1, len(sheet.rows))
    row_mm = min(_ROW, fits) if fits >= _LEAST_ROW else _ROW
    strips = _shared_out(sheet.rows, room, foot_mm, row_mm)
    each = 2 if len(strips) > 1 else 1
    pages = [strips[start : start + each] for start in range(0, len(strips), each)]
    drawn = []
    for page in pages:
        canvas = Canvas("strip", width, height)
        left = (width - STRIP_MM * len(page)) / 2
        for number, rows in enumerate(page):
            last = rows is strips[-1]
            drawn_rows = [(row, row_mm) for row in rows]
            _draw_strip(canvas, sheet, drawn_rows, left + number * STRIP_MM, foot if last else [])
        title = f"What to eat this week, {sheet.garden}"
        drawn.append(canvas.svg(title, "This week's limits of what lies in store, food by food."))
    return tuple(drawn)


def _shared_out(
    rows: Sequence[StripRow], room: float, foot: float, row_mm: float
) -> list[tuple[StripRow, ...]]:
    """Share rows out over strips; the last keeps room for the foot."""
    strips: list[list[StripRow]] = [[]]
    used = 0.0
    for row in rows:
        if used + row_mm > room + 1e-6:
            strips.append([])
            used = 0.0
        strips[-1].append(row)
        used += row_mm
    if used + foot > room + 1e-6 and len(strips[-1]) > 1:
        strips.append([strips[-1].pop()])
    return [tuple(one) for one in strips]


def _foot_lines(sheet: StripSheet) -> list[tuple[str, Style]]:
    width = STRIP_MM - 2 * INSET
    lines = [
        (text, Style(Face.STRONG, _SMALL))
        for told in sheet.locked
        for text in wrapped(f"Not for the kitchen: {told}", Face.STRONG, _SMALL, width)
    ]
    lines += [
        (text, _CARE)
        for told in sheet.care
        for text in wrapped(told, _CARE.face, _CARE.size, width)
    ]
    if sheet.invented:
        lines.append(("Invented garden.", Style(Face.SLANTED, 3.6)))
    return lines


def _draw_strip(
    canvas: Canvas,
    sheet: StripSheet,
    rows: Sequence[tuple[StripRow, float]],
    left: float,
    foot: Sequence[tuple[str, Style]],
) -> None:
    inner, right = left + INSET, left + STRIP_MM - INSET
    for x in (left, left + STRIP_MM):
        canvas.line((x, 0), (x, canvas.height), _CUT)
    canvas.text((inner, 19), "Eat this week", Style(Face.NAME, 9.5))
    when = f"7 days from {day_text(sheet.day, year=True)}"
    canvas.text((inner, 26), when, Style(Face.FIRM, 4.6))
    name = shortened(sheet.garden, Face.TEXT, 3.6, STRIP_MM - 2 * INSET)
    canvas.text((inner, 31), name, Style(Face.TEXT, 3.6))
    canvas.line((inner, _TOP), (right, _TOP), Pen(0.8))
    y = _TOP
    for row, row_mm in rows:
        _draw_row(canvas, row, (inner, y), right)
        y += row_mm
        canvas.line((inner, y), (right, y), HAIR)
    y += 6
    for text, style in foot:
        canvas.text((inner, y), text, style)
        y += style.size * _LEADING


def _draw_row(canvas: Canvas, row: StripRow, corner: tuple[float, float], right: float) -> None:
    left, y = corner
    whole = right - left
    size = fitted_size(row.limit, Face.STRONG, 7.4, whole * 0.62)
    canvas.text((right, y + 8.2), row.limit, Style(Face.STRONG, size, anchor="end"))
    room = whole - width_of(row.limit, Face.STRONG, size) - 3
    name_size = max(4.2, fitted_size(row.name, Face.NAME, 6.2, room))
    name = shortened(row.name, Face.NAME, name_size, room)
    canvas.text((left, y + 8.2), name, Style(Face.NAME, name_size))
    canvas.text(
        (left, y + 13.2),
        shortened(row.first, Face.TEXT, _SMALL, whole),
        Style(Face.TEXT, _SMALL),
    )
