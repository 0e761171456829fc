"""What the letters of a bed's patches stand for, written in the longest white of its band."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations

from haulm.sheets.draw.canvas import Point
from haulm.sheets.draw.labels import Box
from haulm.sheets.draw.type import Face, Style, width_of
from haulm.sheets.page.drawing import PageCanvas
from haulm.sheets.strip_names import Band

_SIZE, _LEADING, _GAP, _PAD = 11.0, 13.0, 10.0, 6.0
_LETTER, _WORDS = Style(Face.NARROW_STRONG, _SIZE), Style(Face.TEXT, _SIZE)
_LEAST_PX = 90.0


@dataclass(frozen=True, slots=True)
class Listing:
    """Where each letter and its words stand, and how much the row grows below its band [px]."""

    texts: tuple[tuple[Point, str, Style], ...]
    below_px: float

    def draw(self, canvas: PageCanvas) -> None:
        """Write the letters and their words."""
        for at, words, style in self.texts:
            canvas.text(at, words, style)


def listing_in(
    told: Sequence[tuple[str, str]], boxes: Sequence[Box], band: Band, width: float
) -> Listing:
    """Set letters and words in the band's longest white, or under the band if none holds them.

    Letters that stand for the same words share them.
    """
    if not told:
        return Listing((), 0.0)
    entries: dict[str, list[str]] = {}
    for letter, words in told:
        entries.setdefault(words, []).append(letter)
    items = [(", ".join(letters), words) for words, letters in entries.items()]
    for white in _whites(boxes, band, width):
        texts = _set(items, white)
        if texts is not None:
            return Listing(texts, 0.0)
    lines = 1
    while True:
        below = Box(0, band.top + max(band.height, 0) + 2, width, lines * _LEADING + 2)
        texts = _set(items, below)
        if texts is not None or lines > len(items):
            return Listing(texts or (), 4.0 * -(-(below.height + 2) // 4))
        lines += 1


def _set(items: Sequence[tuple[str, str]], box: Box) -> tuple[tuple[Point, str, Style], ...] | None:
    texts: list[tuple[Point, str, Style]] = []
    x, y = box.x + _PAD, box.y + _LEADING - 2
    for letter, words in items:
        first = width_of(letter, _LETTER.face, _SIZE) + 4
        whole = first + width_of(words, _WORDS.face, _SIZE)
        if x + whole > box.x + box.width - _PAD and x > box.x + _PAD:
            x, y = box.x + _PAD, y + _LEADING
        if x + whole > box.x + box.width - _PAD or y > box.y + box.height - 1:
            return None
        texts += [((x, y), letter, _LETTER), ((x + first, y), words, _WORDS)]
        x += whole + _GAP
    return tuple(texts)


def _whites(boxes: Sequence[Box], band: Band, width: float) -> list[Box]:
    """Give the empty parts of a band that could hold a line of type, the longest first."""
    edges = {band.top, band.top + band.height}
    edges |= {edge for box in boxes for edge in (box.y, box.y + box.height)}
    found: list[Box] = []
    for top, foot in combinations(sorted(edges), 2):
        if foot - top >= _LEADING:
            found += _runs(boxes, top, foot, width)
    return sorted(found, key=lambda white: -white.width)


def _runs(boxes: Sequence[Box], top: float, foot: float, width: float) -> list[Box]:
    there = sorted(
        (box.x, box.x + box.width)
        for box in boxes
        if box.y < foot - 0.01 and box.y + box.height > top + 0.01
    )
    runs, free_from = [], 0.0
    for start, end in [*there, (width, width)]:
        if start - free_from >= _LEAST_PX:
            runs.append(Box(free_from, top, start - free_from, foot - top))
        free_from = max(free_from, end)
    return runs
