"""A sheet of paper to draw on, in millimetres, kept as SVG."""

from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache
from xml.sax.saxutils import escape

from haulm.sheets.draw.hatches import Hatch, patterns
from haulm.sheets.draw.type import Style, width_of

Point = tuple[float, float]

# On paper a pixel of the screen's hatches is 0.3 mm, so that none of their strokes is under
# 0.15 mm, the thinnest line that prints cleanly.
HATCH_SCALE = 0.3
THINNEST_MM = 0.15
INK, PAPER = "#000", "#fff"


@dataclass(frozen=True, slots=True)
class Pen:
    """A stroke [mm], what it encloses (nothing, white, ink or a hatch), its dashes, its colour."""

    width: float = 0.2
    fill: str | Hatch = "none"
    dash: str = ""
    ink: str = INK


HAIR = Pen(THINNEST_MM)


@lru_cache(maxsize=16384)
def number_text(value: float) -> str:
    """Write a length as short as two decimals allow."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text in {"-0", ""} else text


def _path(points: Iterable[Point]) -> str:
    return "M" + "L".join(f"{number_text(x)} {number_text(y)}" for x, y in points)


def _plate(at: Point, words: str, style: Style) -> tuple[Point, Point]:
    """Give two corners of the white that a text takes; a turned text is set from its middle."""
    x, y = at
    width = width_of(words, style.face, style.size)
    above, below = 0.76 * style.size, 0.22 * style.size
    if style.turn:
        return (x - above, y - width / 2 - 0.3), (x + below, y + width / 2 + 0.3)
    left = x - width * {"start": 0.0, "middle": 0.5, "end": 1.0}[style.anchor]
    return (left - 0.3, y - above), (left + width + 0.3, y + below)


class Canvas:
    """Collects marks on a sheet and writes them as one SVG.

    Parameters
    ----------
    name
        Prefix of the hatches' ids, so that several drawings may stand in one page.
    width, height
        The sheet [mm].
    """

    def __init__(self, name: str, width: float, height: float) -> None:
        self.name = name
        self.width = width
        self.height = height
        self._marks: list[str] = []

    def colour(self, name: str) -> str:
        """Give a colour as it is written; on paper black is black."""
        return name

    def line(self, start: Point, end: Point, pen: Pen = HAIR) -> None:
        """Draw a straight line."""
        self.polyline((start, end), pen)

    def polyline(self, points: Iterable[Point], pen: Pen = HAIR) -> None:
        """Draw an open run of straight lines."""
        self._marks.append(f'<path d="{_path(points)}" {self._pen(pen)}/>')

    def polygon(self, points: Iterable[Point], pen: Pen = HAIR) -> None:
        """Draw a closed outline; a hatch is laid over white."""
        path = _path(points) + "Z"
        if isinstance(pen.fill, Hatch):
            self._marks.append(f'<path d="{path}" fill="{self.colour(PAPER)}"/>')
        self._marks.append(f'<path d="{path}" {self._pen(pen)}/>')

    def rectangle(self, corner: Point, width: float, height: float, pen: Pen = HAIR) -> None:
        """Draw a rectangle from its upper left corner."""
        x, y = corner
        self.polygon(((x, y), (x + width, y), (x + width, y + height), (x, y + height)), pen)

    def circle(self, centre: Point, radius: float, pen: Pen = HAIR) -> None:
        """Draw a circle."""
        x, y, r = (number_text(value) for value in (*centre, radius))
        self._marks.append(f'<circle cx="{x}" cy="{y}" r="{r}" {self._pen(pen)}/>')

    def plate(self, *lines: tuple[Point, str, Style]) -> None:
        """Lay one white under the lines of a name, so that they read clean over a hatch."""
        corners = [corner for at, words, style in lines for corner in _plate(at, words, style)]
        xs, ys = [x for x, _ in corners], [y for _, y in corners]
        self.rectangle(
            (min(xs), min(ys)), max(xs) - min(xs), max(ys) - min(ys), Pen(0, fill="#fff")
        )

    def text(self, at: Point, words: str, style: Style) -> None:
        """Set a line of text on its base line."""
        x, y, size = (number_text(value) for value in (*at, style.size))
        more = f' text-anchor="{style.anchor}"' if style.anchor != "start" else ""
        if style.turn:
            more += f' transform="rotate({number_text(style.turn)} {x} {y})"'
        place = f'x="{x}" y="{y}" font-size="{size}" {style.face.attributes}{more}'
        if style.halo:
            halo = (
                f'paint-order="stroke" stroke="#fff" stroke-width="{number_text(style.halo)}" '
                'stroke-linejoin="round"'
            )
            place = f"{place} {halo}"
        self._marks.append(f'<text {place} fill="{style.ink}">{escape(words)}</text>')

    def svg(self, title: str, description: str) -> str:
        """Write the sheet, with a title and a description for those who do not see it."""
        width, height = number_text(self.width), number_text(self.height)
        marks = "\n".join(self._marks)
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}mm" height="{height}mm" '
            f'viewBox="0 0 {width} {height}" role="img">\n'
            f"<title>{escape(title)}</title>\n<desc>{escape(description)}</desc>\n"
            f"<defs>{patterns(self.name, HATCH_SCALE)}</defs>\n"
            f'<rect width="{width}" height="{height}" fill="#fff"/>\n{marks}\n</svg>\n'
        )

    def _pen(self, pen: Pen) -> str:
        hatched = isinstance(pen.fill, Hatch)
        fill = f"url(#{self.name}-{pen.fill})" if hatched else self.colour(pen.fill)
        if not pen.width:
            return f'fill="{fill}"'
        dash = f' stroke-dasharray="{pen.dash}"' if pen.dash else ""
        ink = self.colour(pen.ink)
        return f'fill="{fill}" stroke="{ink}" stroke-width="{number_text(pen.width)}"{dash}'
