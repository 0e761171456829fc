"""The check sheet of a store: every lot, what is likely, blanks for what is found."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from haulm.measure.day_words import day_text
from haulm.sheets.bundle import Paper
from haulm.sheets.draw.canvas import HAIR, Canvas, Pen
from haulm.sheets.draw.type import Face, Style, fitted_size, shortened, wrapped

MARGIN = 12.0
_TOP, _FOOT = 43.0, 12.0
_BOX, _BOX_GAP, _LINE = 25.0, 3.0, 4.1
_TEXT = Style(Face.TEXT, 3.6)
_CARE = Style(Face.NARROW, 3.6)
_BLANKS = ("sound", "soft", "sprouted")


@dataclass(frozen=True, slots=True)
class CheckRow:
    """One lot on the sheet, in words.

    ``mark`` is the start of its name in the diary; ``likely`` what is likely sound and soft;
    ``unit`` what is counted; ``look`` and ``soft`` what to look for and what to do with it.
    """

    mark: str
    name: str
    put_by: str
    likely: str
    unit: str
    look: str
    soft: str


@dataclass(frozen=True, slots=True)
class CheckSheet:
    """What the check sheet of one store shows; ``care`` are cautions, a sentence each."""

    garden: str
    store: str
    due: date
    printed_on: date
    rows: tuple[CheckRow, ...]
    care: tuple[str, ...] = ()
    invented: bool = False


def check_sheets(sheet: CheckSheet, paper: Paper) -> tuple[str, ...]:
    """Draw a store's check sheet, on as many pages as its lots take."""
    width, height = paper.upright
    room = height - _TOP - _FOOT
    drawn = [(row, _words(row, width)) for row in sheet.rows]
    care = [
        line
        for told in sheet.care
        for line in wrapped(told, _CARE.face, _CARE.size, width - 2 * MARGIN)
    ]
    pages: list[list[tuple[CheckRow, list[str]]]] = [[]]
    used = 0.0
    for row, words in drawn:
        tall = _tall(words)
        if pages[-1] and used + tall > room:
            pages.append([])
            used = 0.0
        pages[-1].append((row, words))
        used += tall
    if care and used + (len(care) + 1) * _LINE > room:
        pages.append([])
    svgs = []
    for number, page in enumerate(pages, start=1):
        canvas = Canvas("check", width, height)
        _draw_head(canvas, sheet, f"sheet {number} of {len(pages)}" if len(pages) > 1 else "")
        y = _TOP
        for row, words in page:
            _draw_row(canvas, row, words, y)
            y += _tall(words)
        if number == len(pages):
            for place, line in enumerate(care, start=1):
                canvas.text((MARGIN, y + 2 + place * _LINE), line, _CARE)
        what = f"Check sheet of {sheet.store}, {sheet.garden}"
        svgs.append(canvas.svg(what, "What is found is typed on one page, or as a table."))
    return tuple(svgs)


def _words(row: CheckRow, width: float) -> list[str]:
    text = f"Look for: {row.look} {row.soft}"
    return wrapped(text, _TEXT.face, _TEXT.size, width - 2 * MARGIN)


def _tall(words: Sequence[str]) -> float:
    return 17.5 + len(words) * _LINE


def _draw_head(canvas: Canvas, sheet: CheckSheet, which: str) -> None:
    right = canvas.width - MARGIN
    title = f"Look through: {sheet.store}"
    size = fitted_size(title, Face.NAME, 9.5, right - MARGIN - 48)
    canvas.text((MARGIN, 21), title, Style(Face.NAME, size))
    due = f"due by {day_text(sheet.due, year=True)}"
    canvas.text((right, 16), due, Style(Face.FIRM, 4.2, anchor="end"))
    printed = f"printed {day_text(sheet.printed_on, year=True)}" + (f", {which}" if which else "")
    canvas.text((right, 21), printed, Style(Face.TEXT, 3.8, anchor="end"))
    canvas.line((MARGIN, 25), (right, 25), Pen(0.8))
    canvas.text((MARGIN, 32), "Looked through on", _TEXT)
    canvas.line((MARGIN + 27, 32.6), (MARGIN + 77, 32.6), HAIR)
    canvas.text((MARGIN + 82, 32), "by", _TEXT)
    canvas.line((MARGIN + 87, 32.6), (MARGIN + 130, 32.6), HAIR)
    for number, word in enumerate(_BLANKS):
        x = _box_x(canvas, number) + _BOX / 2
        canvas.text((x, 39.5), word, Style(Face.STRONG, 4.2, anchor="middle"))
    foot = f"{sheet.garden}. Leave a line blank where you did not look; write 0 for none."
    foot += " Invented garden." if sheet.invented else ""
    canvas.text((MARGIN, canvas.height - 6), foot, Style(Face.SLANTED, 3.6))


def _box_x(canvas: Canvas, number: int) -> float:
    return canvas.width - MARGIN - (len(_BLANKS) - number) * (_BOX + _BOX_GAP) + _BOX_GAP


def _draw_row(canvas: Canvas, row: CheckRow, words: Sequence[str], y: float) -> None:
    canvas.line((MARGIN, y), (canvas.width - MARGIN, y), HAIR)
    room = _box_x(canvas, 0) - MARGIN - 4
    size = max(3.8, fitted_size(row.name, Face.NAME, 4.8, room))
    name = shortened(row.name, Face.NAME, size, room)
    canvas.text((MARGIN, y + 5.6), name, Style(Face.NAME, size))
    put_by = shortened(f"{row.put_by}; lot {row.mark}", _TEXT.face, _TEXT.size, room)
    canvas.text((MARGIN, y + 10), put_by, _TEXT)
    likely = shortened(f"likely {row.likely}", Face.FIRM, _TEXT.size, room)
    canvas.text((MARGIN, y + 14.3), likely, Style(Face.FIRM, _TEXT.size))
    for number in range(len(_BLANKS)):
        canvas.rectangle((_box_x(canvas, number), y + 2), _BOX, 9.5, Pen(0.35, fill="#fff"))
    unit_at = (_box_x(canvas, 0), y + 14.6)
    canvas.text(unit_at, f"in {row.unit}", Style(Face.SLANTED, 3.4))
    for number, line in enumerate(words):
        canvas.text((MARGIN, y + 18.4 + number * _LINE), line, _TEXT)
