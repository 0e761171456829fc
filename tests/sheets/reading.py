"""Read a drawing back: where its texts stand, how thick its lines are."""

import re
from dataclasses import dataclass
from html import unescape
from itertools import combinations

from haulm.sheets.draw.type import Face, width_of

_TEXT = re.compile(r"<text ([^>]*)>([^<]*)</text>")
_ATTRIBUTE = re.compile(r'([\w-]+)="([^"]*)"')


@dataclass(frozen=True)
class Text:
    """A text of a drawing and the box it stands in [mm]."""

    words: str
    left: float
    top: float
    right: float
    foot: float

    def covers(self, other: "Text") -> bool:
        """Whether two texts stand on one another by more than a tenth of a letter."""
        across = min(self.right, other.right) - max(self.left, other.left)
        down = min(self.foot, other.foot) - max(self.top, other.top)
        return across > 0.3 and down > 0.3


def _face(attributes: dict[str, str]) -> Face:
    for face in Face:
        families, weight, stretch, slope = face.value[2:]
        found = (
            attributes["font-family"],
            attributes["font-weight"],
            attributes["font-stretch"],
            attributes["font-style"],
        )
        if (families, str(weight), stretch, slope) == found:
            return face
    message = f"no face for {attributes}"
    raise AssertionError(message)


def texts(svg: str) -> list[Text]:
    """Give every text of a drawing with its box; turned texts turn their box."""
    found = []
    for marks, escaped in _TEXT.findall(svg):
        attributes = dict(_ATTRIBUTE.findall(marks))
        x, y, size = (float(attributes[name]) for name in ("x", "y", "font-size"))
        words = unescape(escaped)
        width = width_of(words, _face(attributes), size)
        left = x - width * {"end": 1.0, "middle": 0.5}.get(attributes.get("text-anchor", ""), 0.0)
        # Capitals of the faces are 0.7 of the size high; descenders are left out.
        box = (left, y - 0.7 * size, left + width, y)
        turn = re.search(r"rotate\((-?[\d.]+)", attributes.get("transform", ""))
        if turn and abs(abs(float(turn.group(1))) - 90) < 1:
            box = (x - 0.7 * size, y - width / 2, x, y + width / 2)
        if words and (turn is None or abs(abs(float(turn.group(1))) - 90) < 1):
            found.append(Text(words, *box))
    return found


def overlaps(svg: str) -> list[tuple[str, str]]:
    """Give every pair of texts that stand on one another."""
    return [(a.words, b.words) for a, b in combinations(texts(svg), 2) if a.covers(b)]


def outside(svg: str, margin: float) -> list[str]:
    """Give every text that stands nearer to the sheet's edge than a margin [mm]."""
    size = re.search(r'viewBox="0 0 ([\d.]+) ([\d.]+)"', svg)
    assert size is not None
    width, height = float(size.group(1)), float(size.group(2))
    return [
        text.words
        for text in texts(svg)
        if text.left < margin
        or text.right > width - margin
        or text.top < margin / 2
        or text.foot > height - margin / 3
    ]


def strokes(svg: str) -> list[float]:
    """Give the width of every stroke on the sheet [mm], hatches at the scale they print at."""
    scale = re.search(r"scale\(([\d.]+)\)", svg)
    assert scale is not None
    hatches, rest = svg.split("</defs>")
    shrunk = [
        float(scale.group(1)) * float(w) for w in re.findall(r'stroke-width="([\d.]+)"', hatches)
    ]
    drawn = re.sub(r"<text [^>]*>", "", rest)
    return shrunk + [float(w) for w in re.findall(r'stroke-width="([\d.]+)"', drawn)]
