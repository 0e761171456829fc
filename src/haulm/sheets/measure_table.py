"""The measure of a patch as a table with a box to tick for every row."""

from collections.abc import Sequence
from dataclasses import dataclass

from haulm.sheets.draw.canvas import HAIR, Canvas, Pen
from haulm.sheets.draw.type import Face, Style, fitted_size, width_of
from haulm.sheets.measures import Measure, MeasuredRow
from haulm.sheets.wording import measure_figure

ROW_MM = 6.3
HEAD_MM = 14.2
LEAST_WIDTH_MM = 78.0
# A head and three rows: less is not worth a table.
LEAST_HEIGHT_MM = HEAD_MM + 3 * ROW_MM
_GAP_MM = 3.6

_HEADS = {
    "base": ("row", "from base", "first hole", "step", "holes"),
    "west": ("row", "from west", "first hole", "step", "holes"),
    "slant": ("row", "first hole", "last hole", "step", "holes"),
}
# Where each column's figures end, as shares of the table's width.
_ENDS = {
    "base": (0.09, 0.34, 0.54, 0.71, 0.86),
    "west": (0.09, 0.34, 0.54, 0.71, 0.86),
    "slant": (0.09, 0.36, 0.62, 0.76, 0.88),
}


@dataclass(frozen=True, slots=True)
class Slot:
    """White paper that a table may stand on [mm]."""

    x: float
    y: float
    width: float
    height: float


@dataclass(frozen=True, slots=True)
class TablePart:
    """Some rows of one patch's measure, in a slot; ``start`` is the number of the first."""

    slot: Slot
    name: str
    measure: Measure
    start: int
    rows: tuple[MeasuredRow, ...]

    @property
    def height(self) -> float:
        """How much of the slot it takes [mm]."""
        return HEAD_MM + len(self.rows) * ROW_MM + _GAP_MM


def _rows_that_fit(slot: Slot) -> int:
    if slot.width < LEAST_WIDTH_MM:
        return 0
    return max(0, int((slot.height - HEAD_MM) / ROW_MM))


def _below(slot: Slot, used: float) -> Slot:
    return Slot(slot.x, slot.y + used, slot.width, slot.height - used)


def _share_of_rows(slot: Slot, others: Sequence[Slot], rest: int) -> int:
    """Choose how many rows a slot takes: all it can, or half if the next holds the other half."""
    fit = min(rest, _rows_that_fit(slot))
    after = _rows_that_fit(others[0]) if others else 0
    half = -(-rest // 2)
    return half if fit < rest <= fit + after and half <= fit and rest - half <= after else fit


Wanted = tuple[str, Measure, int]


def flow(
    wanted: Sequence[Wanted], slots: Sequence[Slot]
) -> tuple[list[TablePart], list[Wanted], list[Slot]]:
    """Stand the measures on the white of a sheet.

    Parameters
    ----------
    wanted
        For each patch its name, its measure and the number of rows that stand elsewhere already.
    slots
        The white, in the order it is to be filled.

    Returns
    -------
    The parts placed, what found no room, and the white that is left.
    """
    parts: list[TablePart] = []
    free = list(slots)
    left: list[Wanted] = []
    for name, measure, done in wanted:
        start = done
        while start < len(measure.rows):
            rest = len(measure.rows) - start
            whole = [slot for slot in free if _rows_that_fit(slot) >= rest]
            # A table stays whole where it can; broken, it keeps three rows together.
            some = [slot for slot in free if _rows_that_fit(slot) >= min(3, rest)]
            if not some:
                left.append((name, measure, start))
                break
            slot = (whole or some)[0]
            count = _share_of_rows(slot, [one for one in some if one is not slot], rest)
            rows = measure.rows[start : start + count]
            part = TablePart(slot, name, measure, start, rows)
            parts.append(part)
            free[free.index(slot)] = _below(slot, part.height)
            start += len(rows)
    return parts, left, free


def draw_part(canvas: Canvas, part: TablePart, units: str) -> None:
    """Draw some rows of a measure with their heads."""
    x, y, width = part.slot.x, part.slot.y, part.slot.width
    measure = part.measure
    canvas.text((x, y + 6.4), measure.letter, Style(Face.NAME, 9))
    holes = _count_words(measure) if part.start == 0 else "further rows"
    edge = x + width_of(measure.letter, Face.NAME, 9) + 1.8
    room = width - (edge - x) - width_of(holes, Face.FIRM, 4.6) - 3
    size = fitted_size(part.name, Face.NAME, 6.6, room)
    canvas.text((edge, y + 6.4), part.name, Style(Face.NAME, size))
    canvas.text((x + width, y + 6.4), holes, Style(Face.FIRM, 4.6, anchor="end"))
    canvas.line((x, y + 8.4), (x + width, y + 8.4), Pen(0.6))
    ends = [x + share * width for share in _ENDS[measure.along]]
    for end, head in zip(ends, _HEADS[measure.along], strict=True):
        canvas.text((end, y + 13), head, Style(Face.TEXT, 3.7, anchor="end"))
    for number, row in enumerate(part.rows):
        _draw_row(canvas, part, row, y + HEAD_MM + number * ROW_MM, ends, units)


def _draw_row(
    canvas: Canvas, part: TablePart, row: MeasuredRow, y: float, ends: list[float], units: str
) -> None:
    base = y + 4.4
    x, width = part.slot.x, part.slot.width
    name = "" if row.goes_on else row.name
    canvas.text((ends[0], base), name, Style(Face.STRONG, 4.6, anchor="end"))
    slanted = part.measure.along == "slant"
    faces = _SLANT_FACES if slanted else _FACES
    for end, words, face in zip(ends[1:], _cells(part.measure, row, units), faces, strict=True):
        canvas.text((end, base), words, Style(face, 3.9 if slanted else 5.0, anchor="end"))
    if row.half_step and not slanted:
        tip = ends[1] + 3.0
        canvas.polygon(
            ((tip, base - 3.1), (tip + 2, base - 1.6), (tip, base - 0.1)), Pen(0, fill="#000")
        )
    canvas.rectangle((x + width - 5.2, y + 0.5), 4.4, 4.4, Pen(0.35, fill="#fff"))
    canvas.line((x, y + ROW_MM - 0.55), (x + width, y + ROW_MM - 0.55), HAIR)


def _count_words(measure: Measure) -> str:
    plants = "plant" if measure.planned == 1 else "plants"
    if measure.holes == measure.planned:
        return f"{measure.holes} {plants}"
    if measure.holes > measure.planned:
        return f"{measure.planned} {plants}, {measure.holes} holes"
    return f"{measure.holes} of {measure.planned} {plants}"


_FACES = (Face.TEXT, Face.STRONG, Face.TEXT, Face.TEXT)
_SLANT_FACES = (Face.STRONG, Face.TEXT, Face.TEXT, Face.TEXT)


def _cells(measure: Measure, row: MeasuredRow, units: str) -> tuple[str, str, str, str]:
    first, last = row.stations_m[0], row.stations_m[-1]
    holes = str(len(row.stations_m))
    step = measure_figure(row.step_m, units) if row.step_m else "–"
    if measure.along == "slant":
        return (_pair(first, units), _pair(last, units), step, holes)
    far, along = (1, 0) if measure.along == "base" else (0, 1)
    from_line, first_hole = measure_figure(first[far], units), measure_figure(first[along], units)
    return (from_line, first_hole, step, holes)


def _pair(point: tuple[float, float], units: str) -> str:
    # A string between two holes is stretched to the centimetre at best.
    east, north = (length if units == "us" else round(length, 2) for length in point)
    return f"{measure_figure(east, units)}, {measure_figure(north, units)}"
