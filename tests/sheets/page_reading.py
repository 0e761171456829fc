"""Read a page's drawing back as a browser would: its links, texts, shapes, ids and words."""

import re
from dataclasses import dataclass, replace
from itertools import combinations
from xml.etree.ElementTree import Element, fromstring

from haulm.plan.records import Plan
from haulm.sheets.bundle import SheetBundle
from haulm.sheets.draw.type import Face, width_of
from haulm.site.records import Place, Soil
from sheets.schoolhouse import BEDS, bundle, plan

_NAME = "{http://www.w3.org/2000/svg}"
_SLAB, _NARROW = "Zilla", "Barlow Condensed"


def parsed(svg: str) -> Element:
    """Read a drawing, which has to be well-formed, in known figures, with ids of its own."""
    assert not svg.startswith("<?xml")
    assert not re.search(r"\b(nan|inf|None)\b", svg)
    root = fromstring(svg)  # noqa: S314 - a drawing of our own
    ids = [element.get("id") for element in root.iter() if element.get("id")]
    assert len(set(ids)) == len(ids)
    used = set(re.findall(r"url\(#([\w-]+)\)", svg))
    assert used <= set(ids) or not ids
    colours = set(re.findall(r'(?:fill|stroke)="(#[^"]*)"', svg))
    assert colours == set(), "every colour is the page's to set"
    return root


def of_name(root: Element, name: str) -> list[Element]:
    """Give every element of a name, in the order of drawing."""
    return list(root.iter(f"{_NAME}{name}"))


def links(svg: str) -> list[tuple[str, str]]:
    """Give the address and the label of every patch, in the order of the keyboard."""
    found = of_name(parsed(svg), "a")
    return [(one.get("href", ""), one.get("aria-label", "")) for one in found]


def told(svg: str) -> tuple[str, str]:
    """Give a picture's title and description."""
    root = parsed(svg)
    assert root.get("role") == "img"
    (title,), descriptions = of_name(root, "title"), of_name(root, "desc")
    return title.text or "", "".join(one.text or "" for one in descriptions)


@dataclass(frozen=True)
class Written:
    """A text of a drawing and the box it stands in [px]."""

    words: str
    left: float
    top: float
    right: float
    foot: float

    def covers(self, other: "Written") -> bool:
        """Whether two texts stand on one another by more than a hair."""
        across = min(self.right, other.right) - max(self.left, other.left)
        down = min(self.foot, other.foot) - max(self.top, other.top)
        return across > 1 and down > 1


def _face(text: Element) -> Face:
    family, weight = text.get("font-family", ""), text.get("font-weight", "400")
    if family.startswith(_SLAB):
        return Face.NAME_LEANING if text.get("font-style") == "italic" else Face.NAME
    if family.startswith(_NARROW):
        return Face.NARROW_STRONG
    return {"400": Face.TEXT, "500": Face.FIRM, "600": Face.STRONG}[weight]


def written(svg: str) -> list[Written]:
    """Give every upright text with its box, as high as its capitals."""
    found = []
    for text in of_name(parsed(svg), "text"):
        if "transform" in text.attrib:
            continue
        x, y, size = (float(text.get(name, "nan")) for name in ("x", "y", "font-size"))
        words = text.text or ""
        width = width_of(words, _face(text), size)
        left = x - width * {"end": 1.0, "middle": 0.5}.get(text.get("text-anchor", ""), 0.0)
        found.append(Written(words, left, y - 0.7 * size, left + width, y))
    return found


def crossings(svg: str) -> list[tuple[str, str]]:
    """Give every pair of texts that stand on one another."""
    return [(a.words, b.words) for a, b in combinations(written(svg), 2) if a.covers(b)]


def beyond(svg: str, slack: float = 1.0) -> list[str]:
    """Give every text that runs out of the drawing at a side."""
    root = parsed(svg)
    width, height = float(root.get("width", "nan")), float(root.get("height", "nan"))
    return [
        text.words
        for text in written(svg)
        if text.left < -slack
        or text.right > width + slack
        or text.top < -slack
        or text.foot > height + slack
    ]


def odd_bundles() -> dict[str, SheetBundle]:
    """Give gardens at the edge of what is usual."""
    whole = bundle()
    bare: Plan = replace(plan(), plantings=(), lots=(), helpings=(), table=(), shortages=())
    one = BEDS[3]
    return {
        "usual": whole,
        "US units": bundle("us"),
        "nothing planted": replace(whole, plan=bare, layouts={}),
        "southern": replace(whole, place=Place("Lantern", -41.3, 174.8, 20.0, Soil.LOAM)),
        "no frost known": replace(whole, frost=()),
        "one bed": replace(
            whole,
            beds=(one,),
            plan=replace(plan(), plantings=tuple(p for p in plan().plantings if p.bed == one.id)),
        ),
        "no beds": replace(whole, beds=(), plan=bare, layouts={}),
        "hostile names": replace(
            whole, beds=tuple(replace(bed, name=f'<b>"{bed.name}" & co</b>') for bed in BEDS)
        ),
    }


ODD = tuple(odd_bundles().items())
ODD_IDS = tuple(name for name, _ in ODD)
ODD_BUNDLES = tuple(one for _, one in ODD)
