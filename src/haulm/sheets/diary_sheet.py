"""The diary sheet for the shed: a line for each job of the coming days, and free lines."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from haulm.measure.day_words import span_text
from haulm.sheets.bundle import Paper
from haulm.sheets.draw.canvas import HAIR, Canvas, Pen
from haulm.sheets.draw.type import Face, Style, shortened, wrapped

MARGIN = 12.0
_TOP, _FOOT, _ROW_MM = 34.0, 10.0, 8.6
_KEY = Style(Face.TEXT, 3.2)
_KEY_MM = 4.0
_HEAD = Style(Face.FIRM, 3.4)
COLUMNS = (("", 0.0), ("what", 0.045), ("day", 0.55), ("how much", 0.65), ("min", 0.79),
           ("words", 0.86))  # fmt: skip
"""What is written where, and where each begins, as a share of the width [1]."""
FREE_LINES = 10


@dataclass(frozen=True, slots=True)
class DiarySheet:
    """What is printed.

    Attributes
    ----------
    garden, invented, first, last
        Whose it is, and the days it is for.
    jobs
        Each job in words, in the order of the table's rows.
    key
        What may be written on the free lines, line by line.
    """

    garden: str
    invented: bool
    first: date
    last: date
    jobs: tuple[str, ...]
    key: tuple[str, ...]


def diary_sheets(sheet: DiarySheet, paper: Paper) -> tuple[str, ...]:
    """Draw the sheet lying, on as many pages as its lines take; the key stands on the last."""
    width, height = paper.lying
    inner = width - 2 * MARGIN
    key = [line for words in sheet.key for line in wrapped(words, _KEY.face, _KEY.size, inner)]
    lines = [*sheet.jobs, *([""] * FREE_LINES)]
    pages = _paged(lines, height - _TOP - _FOOT, len(key) * _KEY_MM + 4)
    drawn = []
    number = 0
    for at, page in enumerate(pages, start=1):
        canvas = Canvas("diary", width, height)
        _draw_head(sheet, canvas, (at, len(pages)))
        y = _TOP
        for words in page:
            number += 1
            _draw_line(canvas, number, words, y)
            y += _ROW_MM
        for line in key if at == len(pages) else ():
            y += _KEY_MM
            canvas.text((MARGIN, y + 1.5), line, _KEY)
        title = f"Diary sheet of {sheet.garden}, page {at} of {len(pages)}"
        drawn.append(canvas.svg(title, "The same lines stand in the table beside it."))
    return tuple(drawn)


def _paged(lines: Sequence[str], room: float, key_mm: float) -> list[list[str]]:
    """Share lines out over pages; on the last is room for the key."""
    a_page = int(room // _ROW_MM)
    pages = [list(lines[start : start + a_page]) for start in range(0, len(lines), a_page)]
    if len(pages[-1]) * _ROW_MM + key_mm > room:
        pages.append([])
    return pages


def _places(canvas: Canvas) -> list[float]:
    inner = canvas.width - 2 * MARGIN
    return [MARGIN + share * inner for _, share in COLUMNS]


def _draw_head(sheet: DiarySheet, canvas: Canvas, which: tuple[int, int]) -> None:
    right = canvas.width - MARGIN
    canvas.text((MARGIN, 19), "Diary", Style(Face.NAME, 8))
    span = span_text(sheet.first, sheet.last)
    canvas.text((right, 14), span, Style(Face.FIRM, 4.4, anchor="end"))
    name = shortened(sheet.garden, Face.TEXT, 4.0, 120) + (", invented" if sheet.invented else "")
    page = f", page {which[0]} of {which[1]}" if which[1] > 1 else ""
    canvas.text((right, 19), name + page, Style(Face.TEXT, 4.0, anchor="end"))
    canvas.line((MARGIN, 22), (right, 22), Pen(0.8))
    words = "A line without a day was not done. Type what is written into the table, and import it."
    canvas.text((MARGIN, 26.6), words, _KEY)
    for x, (head, _) in zip(_places(canvas), COLUMNS, strict=True):
        canvas.text((x + 1, 32), head, _HEAD)
    canvas.line((MARGIN, _TOP), (right, _TOP), Pen(0.4))


def _draw_line(canvas: Canvas, number: int, words: str, y: float) -> None:
    places = _places(canvas)
    base, low = y + 5.9, y + _ROW_MM
    canvas.text((places[0] + 1, base), str(number), Style(Face.TEXT, 3.6))
    room = places[2] - places[1] - 3
    shown = shortened(words, Face.TEXT, 4.2, room)
    canvas.text((places[1] + 1, base), shown, Style(Face.TEXT, 4.2))
    for x in places[2:]:
        canvas.line((x, y), (x, low), HAIR)
    canvas.line((MARGIN, low), (canvas.width - MARGIN, low), HAIR)
