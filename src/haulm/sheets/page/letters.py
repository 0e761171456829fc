"""What the letters of a bed's patches stand for, written in the longest white of its band."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations

from haulm.sheets.draw.canvas import Point
from haulm.sheets.draw.labels import Box
from haulm.sheets.draw.type import Face, Style, width_of
from haulm.sheets.page.drawing import PageCanvas
from haulm.sheets.page.view import LAPTOP_WEEKS
from haulm.sheets.strip_names import Band

_SIZE, _LEADING, _GAP, _PAD = 11.0, 13.0, 10.0, 6.0
_LETTER, _WORDS = Style(Face.NARROW_STRONG, _SIZE), Style(Face.TEXT, _SIZE)
_LEAST_PX = 90.0
_SEEN_PX = LAPTOP_WEEKS * 16.0


@dataclass(frozen=True, slots=True)
class Listing:
    """Where each letter and its words stand, and how much the row grows below its band [px]."""

    texts: tuple[tuple[Point, str, Style], ...]
    below_px: float

    def draw(self, canvas: PageCanvas) -> None:
        """Write the letters and their words, on white, so that no line of time runs through."""
        canvas.plate(*self.texts)
        for at, words, style in self.texts:
            canvas.text(at, words, style)


@dataclass(frozen=True, slots=True)
class _Item:
    """Letters and what they stand for: how wide the letters are, and the whole [px]."""

    letters: str
    words: str
    first: float
    width: float


def _item(letters: Sequence[str], words: str) -> _Item:
    joined = ", ".join(letters)
    first = width_of(joined, _LETTER.face, _SIZE) + 4
    return _Item(joined, words, first, first + width_of(words, _WORDS.face, _SIZE))


def listing_in(
    told: Sequence[tuple[str, str]], boxes: Sequence[Box], band: Band, width: float
) -> Listing:
    """Set letters and words in the band's longest white, or under the band if none holds them.

    Letters that stand for the same words share them. Words keep to what a laptop shows of the
    field before it is moved sideways, where that has room for them.
    """
    seen = min(width, _SEEN_PX)
    if not told:
        return Listing((), 0.0)
    entries: dict[str, list[str]] = {}
    for letter, words in told:
        entries.setdefault(words, []).append(letter)
    items = [_item(letters, words) for words, letters in entries.items()]
    needs = sum(item.width for item in items) * _LEADING
    for white in (*_whites(boxes, band, seen), *_whites(boxes, band, width)):
        texts = _set(items, white) if white.width * white.height >= needs else None
        if texts is not None:
            return Listing(texts, 0.0)
    lines = 1
    while True:
        below = Box(0, band.top + band.height + 2, seen, lines * _LEADING + 2)
        texts = _set(items, below)
        if texts is not None or lines > len(items):
            return Listing(texts or (), 4.0 * -(-(below.height + 2) // 4))
        lines += 1


def _set(items: Sequence[_Item], box: Box) -> tuple[tuple[Point, str, Style], ...] | None:
    texts: list[tuple[Point, str, Style]] = []
    x, y = box.x + _PAD, box.y + _LEADING - 2
    for item in items:
        if x + item.width > box.x + box.width - _PAD and x > box.x + _PAD:
            x, y = box.x + _PAD, y + _LEADING
        if x + item.width > box.x + box.width - _PAD or y > box.y + box.height - 1:
            return None
        texts += [((x, y), item.letters, _LETTER), ((x + item.first, y), item.words, _WORDS)]
        x += item.width + _GAP
    return tuple(texts)


def _whites(boxes: Sequence[Box], band: Band, width: float) -> list[Box]:
    """Give the empty parts of a band that could hold a line of type, the longest first."""
    edges = {band.top, band.top + band.height}
    edges |= {edge for box in boxes for edge in (box.y, box.y + box.height)}
    there = sorted((box.x, box.x + box.width, box.y, box.y + box.height) for box in boxes)
    found: list[Box] = []
    for top, foot in combinations(sorted(edges), 2):
        if foot - top >= _LEADING:
            found += _runs(there, top, foot, width)
    return sorted(found, key=lambda white: -white.width)


def _runs(
    there: Sequence[tuple[float, float, float, float]], top: float, foot: float, width: float
) -> list[Box]:
    """Give the empty runs between two heights; ``there`` is in order of where patches start."""
    runs, free_from = [], 0.0
    for start, end, high, low in [*there, (width, width, top, foot)]:
        if high >= foot - 0.01 or low <= top + 0.01:
            continue
        room = min(start, width) - free_from
        if room >= _LEAST_PX:
            runs.append(Box(free_from, top, room, foot - top))
        free_from = max(free_from, end)
    return runs
