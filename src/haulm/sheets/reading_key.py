"""The reading key of a bed sheet: how to measure, and what a mark means."""

from collections.abc import Sequence
from dataclasses import dataclass

from haulm.sheets.draw.canvas import Canvas, Pen
from haulm.sheets.draw.type import Face, Style, wrapped
from haulm.sheets.measure_table import Slot
from haulm.sheets.measures import Measure

LEAST_KEY_MM = 52.0
_SIZE, _LEADING = 4.1, 5.4
_ABREAST_MM, _WIDEST_MM = 80.0, 96.0
# The line that explains the marks, and the two lines it takes in a narrow place.
_MARKS_MM, _MARKS_LOW_MM = 9.0, 16.0


@dataclass(frozen=True, slots=True)
class Key:
    """Where the reading key stands, and its lines; none where it has been told before."""

    slot: Slot
    lines: tuple[str, ...]


NO_KEY = Key(Slot(0, 0, 0, 0), ())


def key_texts(measures: Sequence[Measure], units: str) -> list[str]:
    """Say how to measure: the same for all sheets of a bed whose rows run the same way."""
    texts = [f"All figures in {'inches' if units == 'us' else 'cm'}."]
    ways = {measure.along for measure in measures}
    if "base" in ways:
        texts.append(
            "From base: pull a string from the peg east along the base; measure the row up from "
            "it, and the first hole in from the west line."
        )
    if "west" in ways:
        texts.append(
            "From west: pull a string from the peg north; measure the row in from it, and the "
            "first hole up from the base."
        )
    if "slant" in ways:
        texts.append(
            "First and last hole: measure east of the peg, then north; stretch a string between "
            "the two and step along it."
        )
    if any(
        row.half_step and measure.along != "slant" for measure in measures for row in measure.rows
    ):
        texts.append("A wedge marks a row that starts half a step in.")
    return [*texts, "Tick the box when the row is planted."]


def key_in(white: Sequence[Slot], texts: Sequence[str]) -> Key | None:
    """Set the key in the first white that is large enough; None if there is none."""
    for slot in white:
        room = min(slot.width, _WIDEST_MM)
        lines = [line for text in texts for line in wrapped(text, Face.TEXT, _SIZE, room)]
        marks = _MARKS_MM if slot.width >= _ABREAST_MM else _MARKS_LOW_MM
        if slot.width >= LEAST_KEY_MM and slot.height >= len(lines) * _LEADING + marks:
            return Key(slot, tuple(lines))
    return None


def draw_key(canvas: Canvas, key: Key) -> None:
    """Draw the key's lines and, under them, what the marks of a row mean."""
    slot = key.slot
    for number, line in enumerate(key.lines):
        at = (slot.x, slot.y + 4 + number * _LEADING)
        canvas.text(at, line, Style(Face.TEXT, _SIZE))
    if key.lines:
        _draw_marks(canvas, slot, slot.y + 4 + len(key.lines) * _LEADING + 1.4)


def _draw_marks(canvas: Canvas, slot: Slot, y: float) -> None:
    canvas.circle((slot.x + 1.5, y - 1.4), 1.15, Pen(0, fill="#000"))
    canvas.text((slot.x + 4.4, y), "first hole", Style(Face.TEXT, _SIZE))
    canvas.circle((slot.x + 26, y - 1.4), 1.15, Pen(0.35, fill="#fff"))
    canvas.text((slot.x + 29, y), "hole", Style(Face.TEXT, _SIZE))
    low = slot.width < _ABREAST_MM
    x, y = (slot.x - 0.4, y + 7) if low else (slot.x + 41, y)
    canvas.circle((x + 2, y - 1.4), 2.2, Pen(0.16))
    canvas.text((x + 6.2, y), "the plant full grown", Style(Face.TEXT, _SIZE))
