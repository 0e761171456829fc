"""A field to draw on in CSS pixels, in the page's own colours, written as SVG to stand in HTML."""

from collections.abc import Iterable
from dataclasses import dataclass
from xml.sax.saxutils import escape, quoteattr

from haulm.sheets.draw.canvas import INK, PAPER, Canvas, Pen, Point, number_text
from haulm.sheets.draw.hatches import Hatch, patterns
from haulm.sheets.draw.type import Face, Style, width_of

NOW, COLD, RIPE = "now", "cold", "ripe"
_VARIABLES = {
    INK: "var(--ink)",
    PAPER: "var(--paper)",
    NOW: "var(--now)",
    COLD: "var(--cold)",
    RIPE: "var(--ripe)",
}
# The families as the page's stylesheet declares them; the first of each is served with the page.
_FAMILIES = {
    "fontpkg_zilla_slab": "Zilla Slab,Georgia,serif",
    "fontpkg_barlow_semi_condensed": "Barlow Semi Condensed,Arial Narrow,sans-serif",
    "fontpkg_barlow_condensed": "Barlow Condensed,Arial Narrow,sans-serif",
}
_TEXT = _FAMILIES["fontpkg_barlow_semi_condensed"]
_PLATE_PAD = 2.0
HAIRLINE = Pen(0.8)


@dataclass(frozen=True, slots=True)
class ChartTable:
    """The figures of a chart as a table of texts: what it shows, column heads, rows."""

    caption: str
    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


def _as_id(name: str) -> str:
    """Write a name as an id: no two names become one, and none can leave its attribute."""
    return "".join(
        letter if letter.isascii() and (letter.isalnum() or letter == "-") else f"_{ord(letter):x}"
        for letter in name
    )


def _plain(face: Face) -> str:
    """Give a face as attributes, those left out that a chart's text has anyway."""
    package, _, _, weight, _, slope = face.value
    family = _FAMILIES[package]
    told = f' font-family="{family}"' if family != _TEXT else ""
    told += f' font-weight="{weight}"' if weight != Face.TEXT.value[3] else ""
    return told + (' font-style="italic"' if slope == "italic" else "")


class PageCanvas(Canvas):
    """Collects marks in CSS pixels; ink, paper, now, cold and ripe are the page's to set.

    Hatches are named by the canvas's own name, so that fields which share a name share the
    patterns of the one that carries them. A name may be any text; it is written as an id.
    """

    def __init__(self, name: str, width: float, height: float) -> None:
        super().__init__(_as_id(name), width, height)

    def colour(self, name: str) -> str:
        """Give a colour as the page's custom property."""
        return _VARIABLES.get(name, name)

    def raw(self, mark: str) -> None:
        """Put down a mark written elsewhere."""
        self._marks.append(mark)

    def rectangle(self, corner: Point, width: float, height: float, pen: Pen = HAIRLINE) -> None:
        """Draw a rectangle from its upper left corner; a hatch is laid over the paper's colour."""
        x, y, w, h = (number_text(value) for value in (*corner, width, height))
        place = f'x="{x}" y="{y}" width="{w}" height="{h}"'
        if isinstance(pen.fill, Hatch):
            self._marks.append(f'<rect {place} fill="{self.colour(PAPER)}"/>')
        self._marks.append(f"<rect {place} {self._pen(pen)}/>")

    def polygon(self, points: Iterable[Point], pen: Pen = HAIRLINE, *, bare: bool = False) -> None:
        """Draw a closed outline; a hatch is laid over paper, or bare on what is there."""
        path = "M" + "L".join(f"{number_text(x)} {number_text(y)}" for x, y in points) + "Z"
        if isinstance(pen.fill, Hatch) and not bare:
            self._marks.append(f'<path d="{path}" fill="{self.colour(PAPER)}"/>')
        self._marks.append(f'<path d="{path}" {self._pen(pen)}/>')

    def frame(self, corner: Point, width: float, height: float) -> None:
        """Leave an unseen frame, which the page's stylesheet shows where a link has the focus."""
        x, y, w, h = (number_text(value) for value in (*corner, width, height))
        self._marks.append(
            f'<rect class="frame" x="{x}" y="{y}" width="{w}" height="{h}" fill="none"/>'
        )

    def plate(self, *lines: tuple[Point, str, Style]) -> None:
        """Lay the paper's colour under the lines of a name, so that they read clean on a hatch."""
        for at, words, style in lines:
            x, y = at
            width, high = width_of(words, style.face, style.size), 0.76 * style.size
            deep, pad = 0.24 * style.size, _PLATE_PAD
            left = x - width * {"start": 0.0, "middle": 0.5, "end": 1.0}[style.anchor]
            box = (left - pad, y - high, width + 2 * pad, high + deep)
            if style.turn:
                box = (x - high, y - width / 2 - pad, high + deep, width + 2 * pad)
            self.rectangle((box[0], box[1]), box[2], box[3], Pen(0, fill=PAPER))

    def text(self, at: Point, words: str, style: Style) -> None:
        """Set a line of text on its base line."""
        x, y, size = (number_text(value) for value in (*at, style.size))
        more = _plain(style.face)
        more += f' text-anchor="{style.anchor}"' if style.anchor != "start" else ""
        more += f' transform="rotate({number_text(style.turn)} {x} {y})"' if style.turn else ""
        if style.ink != INK:
            more += f' fill="{self.colour(style.ink)}"'
        if style.halo:
            more += (
                f' paint-order="stroke" stroke="{self.colour(PAPER)}" '
                f'stroke-width="{number_text(style.halo)}" stroke-linejoin="round"'
            )
        self._marks.append(f'<text x="{x}" y="{y}" font-size="{size}"{more}>{escape(words)}</text>')

    def open_link(self, href: str, label: str, names: str) -> None:
        """Open a link that holds the marks to come; ``names`` are its classes."""
        self._marks.append(
            f'<a href={quoteattr(href)} class="{names}" aria-label={quoteattr(label)}>'
        )

    def close_link(self) -> None:
        """Close the link opened last."""
        self._marks.append("</a>")

    def open_group(self, attributes: str) -> None:
        """Open a group of marks with attributes of its own."""
        self._marks.append(f"<g {attributes}>")

    def close_group(self) -> None:
        """Close the group opened last."""
        self._marks.append("</g>")

    def picture(self, title: str, description: str, hatches: Iterable[Hatch] = ()) -> str:
        """Write the field as a picture with a title and a description."""
        told = f"<title>{escape(title)}</title>"
        told += f"<desc>{escape(description)}</desc>" if description else ""
        return self._written('role="img"', told, hatches)

    def links(self, label: str, hatches: Iterable[Hatch] = ()) -> str:
        """Write the field as a group of links, each with a name of its own."""
        return self._written(f'role="group" aria-label={quoteattr(label)}', "", hatches)

    def hidden(self, hatches: Iterable[Hatch] = ()) -> str:
        """Write the field as ornament: what it shows is told beside it."""
        return self._written('aria-hidden="true"', "", hatches)

    def _written(self, role: str, told: str, hatches: Iterable[Hatch]) -> str:
        width, height = number_text(self.width), number_text(self.height)
        drawn = "".join(self._marks)
        defs = "".join(
            patterns(self.name, 1, (hatch,)).replace(
                f'"{INK}"', f'"{self.colour(NOW if hatch == Hatch.SHORT else INK)}"'
            )
            for hatch in hatches
        )
        defs = f"<defs>{defs}</defs>" if defs else ""
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" class="drawn" width="{width}" '
            f'height="{height}" viewBox="0 0 {width} {height}" overflow="visible" {role} '
            f'font-family="{_TEXT}" fill="{_VARIABLES[INK]}">{told}{defs}{drawn}</svg>'
        )
