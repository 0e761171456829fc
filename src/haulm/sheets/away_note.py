"""The note for whoever looks after the garden: cans, what to pick, whom to ring; a few pages."""

from collections.abc import Sequence
from dataclasses import dataclass

from haulm.ground.records import Outline
from haulm.sheets.bundle import Paper
from haulm.sheets.draw.canvas import HAIR, Canvas, Pen
from haulm.sheets.draw.type import Face, Style, fitted_size, shortened, wrapped

MARGIN = 12.0
_FOOT = 12.0
_ROW_MM, _HEAD_MM, _LINE_MM = 7.4, 13.0, 5.4
_NAME_MM, _SKIP_MM = 52.0, 30.0
_TEXT = Style(Face.TEXT, 4.2)
_BLOCK_GAP_MM = 4.0
_SHAPES_MM, _LABEL_MM = 26.0, 5.0
_BLANK_MM = 9.0


@dataclass(frozen=True, slots=True)
class NoteRow:
    """A bed in the table of waterings: its name, a mark beside it, a cell a visit, when to skip."""

    name: str
    beside: str
    cells: tuple[str, ...]
    skip: str


@dataclass(frozen=True, slots=True)
class NoteShape:
    """A bed's outline, with its name."""

    name: str
    outline: Outline


@dataclass(frozen=True, slots=True)
class AwayHeads:
    """The note's headings, in the language it is written in.

    Attributes
    ----------
    water, skip
        Over the table of waterings, and over its last column.
    ring, ring_lines
        Over the lines to write on, and what stands before each.
    shapes
        Over the beds' outlines.
    page, page_of
        A later page's head, of %(title)s and %(number)s, and the same with %(last)s.
    """

    water: str
    skip: str
    ring: str
    ring_lines: tuple[str, ...]
    shapes: str
    page: str
    page_of: str


@dataclass(frozen=True, slots=True)
class AwaySheet:
    """All that the note says, as it is written.

    Attributes
    ----------
    garden, title, lead
        Whose garden, from when to when, and the first sentences.
    visits
        The days of the visits, as heads of the table.
    rows
        The beds to water.
    shapes
        Every bed's outline, drawn to one scale.
    blocks
        Headed lists of sentences, for the neighbour.
    household
        The same for those who leave.
    heads
        The headings.
    """

    garden: str
    title: str
    lead: tuple[str, ...]
    visits: tuple[str, ...]
    rows: tuple[NoteRow, ...]
    shapes: tuple[NoteShape, ...]
    blocks: tuple[tuple[str, tuple[str, ...]], ...]
    household: tuple[tuple[str, tuple[str, ...]], ...]
    heads: AwayHeads


class _Pages:
    """Pages that are filled from the top, a new one begun where no room is left."""

    def __init__(self, sheet: AwaySheet, paper: Paper) -> None:
        self.sheet = sheet
        self.width, self.height = paper.upright
        self.canvases: list[Canvas] = []
        self.y = 0.0
        self.begin()

    @property
    def right(self) -> float:
        return self.width - MARGIN

    def begin(self) -> None:
        """Begin a page."""
        canvas = Canvas(f"away{len(self.canvases)}", self.width, self.height)
        self.canvases.append(canvas)
        again = len(self.canvases) > 1
        told = {"title": self.sheet.title, "number": len(self.canvases)}
        head = self.sheet.heads.page % told if again else self.sheet.title
        size = fitted_size(head, Face.NAME, 9.0 if not again else 6.0, self.width - 2 * MARGIN)
        canvas.text((MARGIN, 20), head, Style(Face.NAME, size))
        canvas.line((MARGIN, 23.5), (self.right, 23.5), Pen(0.8))
        at = (self.right, self.height - 5)
        canvas.text(at, self.sheet.garden, Style(Face.SLANTED, 3.4, anchor="end"))
        self.y = 27.0

    def room(self, need: float) -> Canvas:
        """Give the page on which so much finds room."""
        if self.y + need > self.height - _FOOT:
            self.begin()
        return self.canvases[-1]

    def lines(self, texts: Sequence[str], style: Style = _TEXT, mark: str = "") -> None:
        """Set sentences under one another, each wrapped."""
        left = MARGIN + (5 if mark else 0)
        for text in texts:
            parts = wrapped(text, style.face, style.size, self.right - left)
            canvas = self.room(_LINE_MM * len(parts))
            if mark:
                canvas.rectangle((MARGIN, self.y + 0.9), 3.2, 3.2, Pen(0.3, fill="#fff"))
            for part in parts:
                canvas.text((left, self.y + 4), part, style)
                self.y += _LINE_MM

    def heading(self, words: str, need: float) -> None:
        """Set a heading that stays with what follows it."""
        self.y += _BLOCK_GAP_MM
        canvas = self.room(_LINE_MM * 2 + need)
        canvas.text((MARGIN, self.y + 4.6), words, Style(Face.NAME, 5.4))
        canvas.line((MARGIN, self.y + 6.4), (self.right, self.y + 6.4), Pen(0.4))
        self.y += 8.0


def draw_away_note(sheet: AwaySheet, paper: Paper) -> tuple[str, ...]:
    """Draw the note, page by page."""
    pages = _Pages(sheet, paper)
    pages.lines(sheet.lead)
    _draw_table(pages)
    _draw_ring(pages)
    for heading, texts in sheet.blocks:
        pages.heading(heading, _LINE_MM * min(len(texts), 2))
        pages.lines(texts)
    _draw_shapes(pages)
    if sheet.household:
        for heading, texts in sheet.household:
            pages.heading(heading, _LINE_MM * min(len(texts), 2))
            pages.lines(texts, mark="box")
    last = len(pages.canvases)
    what = f"{sheet.title}, {sheet.garden}"
    return tuple(
        canvas.svg(
            sheet.heads.page_of % {"title": what, "number": number, "last": last},
            " ".join(sheet.lead),
        )
        for number, canvas in enumerate(pages.canvases, start=1)
    )


def _draw_table(pages: _Pages) -> None:
    """Draw the waterings: a row a bed, a column a visit, each with a box to tick."""
    sheet = pages.sheet
    if not sheet.rows:
        return
    pages.heading(sheet.heads.water, _HEAD_MM + _ROW_MM)
    canvas = pages.room(_HEAD_MM)
    left, right = MARGIN + _NAME_MM, pages.right - _SKIP_MM
    step = (right - left) / max(len(sheet.visits), 1)
    for number, words in enumerate(sheet.visits):
        size = min(4.0, fitted_size(words, Face.FIRM, 4.0, step - 1))
        at = (left + step * (number + 0.5), pages.y + 4)
        canvas.text(at, words, Style(Face.FIRM, size, anchor="middle"))
    small = Style(Face.TEXT, 3.4, anchor="end")
    canvas.text((pages.right, pages.y + 4), sheet.heads.skip, small)
    pages.y += 6.0
    for row in sheet.rows:
        canvas = pages.room(_ROW_MM)
        canvas.line((MARGIN, pages.y), (pages.right, pages.y), HAIR)
        base = pages.y + 5.2
        name = shortened(row.name, Face.NAME, 4.8, _NAME_MM - 2)
        canvas.text((MARGIN, base - (1.4 if row.beside else 0)), name, Style(Face.NAME, 4.8))
        if row.beside:
            small_text = shortened(row.beside, Face.SLANTED, 2.9, _NAME_MM - 2)
            canvas.text((MARGIN, base + 1.6), small_text, Style(Face.SLANTED, 2.9))
        for number, cell in enumerate(row.cells):
            middle = left + step * (number + 0.5)
            if cell:
                canvas.rectangle((middle - 6.5, pages.y + 1.6), 3.6, 3.6, Pen(0.3, fill="#fff"))
                canvas.text((middle - 1, base), cell, Style(Face.STRONG, 4.8))
        canvas.text((pages.right, base), row.skip, Style(Face.TEXT, 4.0, anchor="end"))
        pages.y += _ROW_MM
    pages.canvases[-1].line((MARGIN, pages.y), (pages.right, pages.y), HAIR)


def _draw_ring(pages: _Pages) -> None:
    """Leave lines to write on: whom to ring, and where the water is."""
    heads = pages.sheet.heads
    pages.heading(heads.ring, _BLANK_MM * len(heads.ring_lines))
    canvas = pages.canvases[-1]
    for words in heads.ring_lines:
        canvas.text((MARGIN, pages.y + 6), words, _TEXT)
        canvas.line((MARGIN + 46, pages.y + 7), (pages.right, pages.y + 7), HAIR)
        pages.y += _BLANK_MM


def _draw_shapes(pages: _Pages) -> None:
    """Draw every bed's shape to one scale, north up, so that it is known by it."""
    shapes = pages.sheet.shapes
    sizes = [
        (max(x for x, _ in one.outline.corners_m), max(y for _, y in one.outline.corners_m))
        for one in shapes
    ]
    scale = min(*(_SHAPES_MM / high for _, high in sizes), *(40.0 / wide for wide, _ in sizes))
    pages.heading(pages.sheet.heads.shapes, _SHAPES_MM + _LABEL_MM)
    x = MARGIN
    pages.room(_SHAPES_MM + _LABEL_MM)
    for one, (wide, high) in zip(shapes, sizes, strict=True):
        across = max(wide * scale, 18.0)
        if x + across > pages.right:
            x = MARGIN
            pages.y += _SHAPES_MM + _LABEL_MM + 2
            pages.room(_SHAPES_MM + _LABEL_MM)
        foot = pages.y + _SHAPES_MM
        points = [(x + px * scale, foot - py * scale) for px, py in one.outline.corners_m]
        canvas = pages.canvases[-1]
        canvas.polygon(points, Pen(0.6, fill="#fff"))
        size = fitted_size(one.name, Face.FIRM, 3.8, across)
        canvas.text((x, foot + 4), one.name, Style(Face.FIRM, size))
        x += across + 5
        del high
    pages.y += _SHAPES_MM + _LABEL_MM
