"""The water card: who gets how many cans today, on one page to take along with wet hands."""

from dataclasses import dataclass
from datetime import date

from haulm.measure.day_words import day_text
from haulm.sheets.bundle import Paper
from haulm.sheets.draw.canvas import HAIR, Canvas, Pen
from haulm.sheets.draw.type import Face, Style, shortened, wrapped

MARGIN = 12.0
_TOP, _FOOT = 31.0, 12.0
_BED_MM, _PATCH_MM, _GAP_MM, _NOTE_MM = 8.5, 6.0, 3.0, 4.6
_NOTE = Style(Face.TEXT, 3.7)
_WAIT = Style(Face.TEXT, 4.0)
_BOX_MM = 4.2


@dataclass(frozen=True, slots=True)
class CardPatch:
    """A crop's cans today, and those it gets where there are too few (None: enough for all)."""

    name: str
    cans: str
    shared: str | None = None


@dataclass(frozen=True, slots=True)
class CardBed:
    """A bed's cans today, what that is by hose, what the rules say, and its crops."""

    name: str
    cans: str
    minutes: str
    rule: str
    patches: tuple[CardPatch, ...]


@dataclass(frozen=True, slots=True)
class WaterCard:
    """All that the card says, as it is written."""

    garden: str
    invented: bool
    day: date
    head: str
    can: str
    beds: tuple[CardBed, ...]
    waits: tuple[str, ...]
    without: tuple[str, ...]
    notes: tuple[str, ...]


def draw_water_card(card: WaterCard, paper: Paper) -> str:
    """Draw the card on one upright page; what finds no room there is counted at its foot."""
    width, height = paper.upright
    canvas = Canvas("water", width, height)
    inner = width - 2 * MARGIN
    canvas.text((MARGIN, 20), "Water", Style(Face.NAME, 10))
    day = day_text(card.day, year=True)
    canvas.text((width - MARGIN, 15), day, Style(Face.FIRM, 5.0, anchor="end"))
    cans = Style(Face.TEXT, 4.0, anchor="end")
    canvas.text((width - MARGIN, 20), f"cans of {card.can}", cans)
    canvas.line((MARGIN, 23), (width - MARGIN, 23), Pen(0.8))
    canvas.text((MARGIN, 29), card.head, Style(Face.STRONG, 4.6))
    notes = [line for note in card.notes for line in wrapped(note, _NOTE.face, _NOTE.size, inner)]
    foot = height - _FOOT - len(notes) * _NOTE_MM
    column = (inner - 8) / 2
    ends = _draw_beds(canvas, card.beds, column, foot)
    lists = [("Goes without today", card.without), ("Can wait", card.waits)]
    for title, lines in lists:
        _draw_list(canvas, (title, lines), column, ends, foot)
    y = foot + 4
    for line in notes:
        canvas.text((MARGIN, y), line, _NOTE)
        y += _NOTE_MM
    words = f"{card.garden}." + (" Invented garden." if card.invented else "")
    canvas.text((width - MARGIN, height - 5), words, Style(Face.SLANTED, 3.4, anchor="end"))
    return canvas.svg(f"Water card of {card.garden}, {day}", card.head)


def _height(bed: CardBed) -> float:
    return _BED_MM + _PATCH_MM * len(bed.patches) + (_NOTE_MM if bed.rule else 0) + _GAP_MM


def _draw_beds(
    canvas: Canvas, beds: tuple[CardBed, ...], column: float, foot: float
) -> list[float]:
    """Draw the beds in two columns, each bed whole; give where each column ends."""
    ends = [_TOP, _TOP]
    left_out = 0
    for bed in beds:
        free = [number for number, end in enumerate(ends) if end + _height(bed) <= foot - 8]
        if not free:
            left_out += 1
            continue
        # The left column is filled first, so that the garden's order is kept.
        number = free[0]
        x = MARGIN + number * (column + 8)
        ends[number] = _draw_bed(canvas, bed, (x, ends[number]), column)
    if left_out:
        words = f"and {left_out} more beds: see haulm water"
        canvas.text((MARGIN, foot - 2), words, Style(Face.SLANTED, 4.0))
    return ends


def _draw_bed(canvas: Canvas, bed: CardBed, at: tuple[float, float], column: float) -> float:
    x, y = at
    canvas.line((x, y), (x + column, y), Pen(0.5))
    canvas.text((x, y + 6.4), bed.name, Style(Face.NAME, 5.6))
    canvas.text((x + column, y + 6.4), bed.cans, Style(Face.STRONG, 5.6, anchor="end"))
    y += _BED_MM
    if bed.rule or bed.minutes:
        rule = "; ".join(word for word in (bed.minutes, bed.rule) if word)
        shown = shortened(rule, Face.SLANTED, 3.7, column)
        canvas.text((x, y + 3), shown, Style(Face.SLANTED, 3.7))
        y += _NOTE_MM
    for patch in bed.patches:
        canvas.rectangle((x, y + 1), _BOX_MM, _BOX_MM, Pen(0.35, fill="#fff"))
        cans = patch.cans if patch.shared is None else f"{patch.shared} of {patch.cans}"
        name = shortened(patch.name, Face.TEXT, 4.4, column - 34)
        canvas.text((x + 7, y + 4.6), name, Style(Face.TEXT, 4.4))
        canvas.text((x + column, y + 4.6), cans, Style(Face.FIRM, 4.4, anchor="end"))
        y += _PATCH_MM
        canvas.line((x, y), (x + column, y), HAIR)
    return y + _GAP_MM


def _draw_list(
    canvas: Canvas,
    titled: tuple[str, tuple[str, ...]],
    column: float,
    ends: list[float],
    foot: float,
) -> None:
    """List short lines under a title in the white that is left, in the column with more of it."""
    title, lines = titled
    number = int(ends[1] < ends[0])
    x, y = MARGIN + number * (column + 8), ends[number] + 1
    if not lines or y + 14 > foot:
        return
    canvas.text((x, y + 3), title, Style(Face.NAME, 5.0))
    y += 8
    for told, words in enumerate(lines):
        if y + _NOTE_MM > foot - 3:
            canvas.text((x, y), f"and {len(lines) - told} more", Style(Face.SLANTED, 4.0))
            y = foot
            break
        canvas.text((x, y), shortened(words, _WAIT.face, _WAIT.size, column), _WAIT)
        y += _NOTE_MM
    ends[number] = y + _GAP_MM
