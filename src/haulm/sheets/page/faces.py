"""The faces a page is set in, cut down to the letters it needs, for a browser (WOFF2)."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files
from io import BytesIO
from pathlib import Path
from types import MappingProxyType

from fontTools.subset import Options, Subsetter
from fontTools.ttLib import TTFont

from haulm.measure.errors import LabelsDifferError


@dataclass(frozen=True, slots=True)
class WebFace:
    """A cut of a family: the package and file it lies in; family, weight and style as in CSS."""

    package: str
    file: str
    family: str
    weight: int
    style: str = "normal"

    @property
    def path(self) -> Path:
        """Where the whole face lies."""
        return Path(str(files(self.package))) / "files" / f"{self.file}.ttf"


_SLAB = ("fontpkg_zilla_slab", "Zilla Slab")
_SEMI = ("fontpkg_barlow_semi_condensed", "Barlow Semi Condensed")
_CONDENSED = ("fontpkg_barlow_condensed", "Barlow Condensed")


def _face(where: tuple[str, str], file: str, weight: int, style: str = "normal") -> WebFace:
    package, family = where
    return WebFace(package, file, family, weight, style)


FACES: Mapping[str, WebFace] = MappingProxyType(
    {
        "zilla-slab-600": _face(_SLAB, "ZillaSlab-SemiBold", 600),
        "zilla-slab-600-italic": _face(_SLAB, "ZillaSlab-SemiBoldItalic", 600, "italic"),
        "barlow-semi-condensed-400": _face(_SEMI, "BarlowSemiCondensed-Regular", 400),
        "barlow-semi-condensed-500": _face(_SEMI, "BarlowSemiCondensed-Medium", 500),
        "barlow-semi-condensed-600": _face(_SEMI, "BarlowSemiCondensed-SemiBold", 600),
        "barlow-condensed-400": _face(_CONDENSED, "BarlowCondensed-Regular", 400),
        "barlow-condensed-600": _face(_CONDENSED, "BarlowCondensed-SemiBold", 600),
    }
)
"""Every face a page may use, by the name under which it is served."""

# Basic Latin and Latin-1; what Polish, Czech, Slovak, Slovene, Croatian, Hungarian, Romanian,
# Turkish, the Baltic languages and French add to them; then the signs of the trade.
_RANGES = ((0x20, 0x7E), (0xA0, 0xFF))
_LETTERS = (
    "ĀāĂăĄąĆćČčĎďĐđĒēĖėĘęĚěĞğĢģĪīĮįİıĶķĹĺĻļĽľŁłŃńŅņŇňŌōŐőŒœŔŕŖŗŘřŚśŞşŠšŢţŤťŪūŮůŰűŲųŸŹźŻżŽžȘșȚț"
)
_SIGNS = "‐‑–—‘’‚“”„•…′″‰‹›€−≈≤≥⅓⅔⅛†\u2009\u202f←↑→↓✓"
# Kerning is kept where type is set large; a line of figures and small text does without.
_FEATURES = ("lnum", "tnum", "locl")
_LARGE, _HEADLINES = ("kern", "liga"), "zilla-slab-600"
# Rights, family, cut, licence and where to read it: what the licence wants kept.
_NAMES = (0, 1, 2, 13, 14)


@lru_cache(maxsize=len(FACES))
def web_face(name: str) -> bytes:
    """Cut one face down to what western and central European pages need, as WOFF2.

    The same installed face gives the same bytes. What a face does not have, it does not get: the
    browser takes it from the next family.

    Raises
    ------
    LabelsDifferError
        If no face has that name.
    """
    if name not in FACES:
        message = f"No face is called {name}; there are {', '.join(FACES)}."
        raise LabelsDifferError(message)
    options = Options()
    options.flavor = "woff2"
    options.layout_features = [*_FEATURES, *(_LARGE if name == _HEADLINES else ())]
    options.hinting = False
    options.desubroutinize = True
    options.notdef_outline = True
    font = TTFont(FACES[name].path, recalcTimestamp=False)
    # The cutter would walk through every table to see which names are in use: it need not.
    names = font["name"]
    del font["name"]
    names.names = [one for one in names.names if one.nameID in _NAMES and one.isUnicode()]
    letters = {ord(letter) for letter in _LETTERS + _SIGNS}
    codes = {code for first, last in _RANGES for code in range(first, last + 1)}
    cutter = Subsetter(options)
    cutter.populate(unicodes=codes | letters)
    cutter.subset(font)
    font["name"] = names
    font.flavor = "woff2"
    out = BytesIO()
    font.save(out)
    return out.getvalue()
