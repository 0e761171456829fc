"""A year of months to draw a place's climate on: it starts at midwinter, north or south."""

from collections.abc import Sequence
from dataclasses import dataclass

from haulm.measure.day_words import short_month
from haulm.sheets.draw.canvas import PAPER, Pen
from haulm.sheets.draw.type import Face, Style, wrapped
from haulm.sheets.page.drawing import ChartTable, PageCanvas
from haulm.site.calendar import MONTH_LENGTHS

DAYS = 365
LEFT_PX, RIGHT_PX = 44.0, 12.0
_NOTE_LEADING = 16.0


def months_of(*, southern: bool) -> tuple[int, ...]:
    """Give the months of a year from midwinter on."""
    return (7, 8, 9, 10, 11, 12, 1, 2, 3, 4, 5, 6) if southern else tuple(range(1, 13))


@dataclass(frozen=True, slots=True)
class YearAxis:
    """Twelve months from ``left`` to ``right`` [px], from January, or from July in the south."""

    southern: bool
    left: float
    right: float

    @property
    def months(self) -> tuple[int, ...]:
        """The months in the order of the axis."""
        return months_of(southern=self.southern)

    def x(self, season_day: float) -> float:
        """Give where a day lies, counted from 0 at the axis's first [px]."""
        return self.left + season_day / DAYS * (self.right - self.left)

    def span(self, month: int) -> tuple[float, float]:
        """Give where a month starts and ends [px]."""
        before = 0
        for one in self.months:
            if one == month:
                break
            before += MONTH_LENGTHS[one - 1]
        return self.x(before), self.x(before + MONTH_LENGTHS[month - 1])

    def season_day(self, day_of_year: int) -> int:
        """Count a day of the year (1 to 365) from the axis's first day."""
        return (day_of_year - 1 - (181 if self.southern else 0)) % DAYS

    def day_name(self, season_day: float) -> str:
        """Name a day counted from the axis's first, as in 12 May."""
        left = round(season_day) % DAYS
        for month in self.months:
            if left < MONTH_LENGTHS[month - 1]:
                return f"{left + 1} {short_month(month)}"
            left -= MONTH_LENGTHS[month - 1]
        raise AssertionError  # twelve months hold a year's days


def draw_months(canvas: PageCanvas, axis: YearAxis, y: float) -> None:
    """Draw the edge of the year at ``y``: a cell a month, black on even ones, names below."""
    canvas.rectangle((axis.left, y), axis.right - axis.left, 5, Pen(0.8, fill=PAPER))
    for month in axis.months:
        start, end = axis.span(month)
        if month % 2 == 0:
            canvas.rectangle((start, y), end - start, 5, Pen(0, fill="#000"))
        name = short_month(month) if end - start > 32 else short_month(month)[0]  # noqa: PLR2004
        style = Style(Face.NAME, 13, anchor="middle")
        canvas.text(((start + end) / 2, y + 20), name, style)


def draw_levels(
    canvas: PageCanvas, axis: YearAxis, marks: Sequence[tuple[float, str]], unit: str
) -> None:
    """Draw level lines with their figures, and the unit over the topmost."""
    style = Style(Face.TEXT, 12, anchor="end")
    for y, words in marks:
        canvas.line((axis.left, y), (axis.right, y), Pen(0.6, dash="1 4"))
        canvas.text((axis.left - 6, y + 4), words, style)
    top = min(y for y, _ in marks)
    canvas.text((0, top - 12), unit, Style(Face.TEXT, 12))


def draw_note(canvas: PageCanvas, words: str, y: float) -> None:
    """Write what a chart rests on beneath it."""
    for number, line in enumerate(note_lines(words, canvas.width)):
        canvas.text((0, y + number * _NOTE_LEADING), line, Style(Face.TEXT, 12))


def note_lines(words: str, width: float) -> list[str]:
    """Break a note to a chart's width."""
    return wrapped(words, Face.TEXT, 12, width)


def note_height(words: str, width: float) -> float:
    """Give how much room a note takes [px]."""
    return len(note_lines(words, width)) * _NOTE_LEADING + 4


def table_told(table: ChartTable) -> str:
    """Say a table's rows in one text, for those who do not see the chart."""
    head = table.head[1:]
    return " ".join(
        f"{row[0]}: "
        + ", ".join(f"{name} {cell}" for name, cell in zip(head, row[1:], strict=True))
        + "."
        for row in table.rows
    )
