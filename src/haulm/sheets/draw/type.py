"""The faces, and how wide they set a text."""

from dataclasses import dataclass
from enum import Enum
from functools import lru_cache
from importlib.resources import files
from pathlib import Path

from fontTools.ttLib import TTFont

_SLAB = "fontpkg_zilla_slab"
_SEMI = "fontpkg_barlow_semi_condensed"
_CONDENSED = "fontpkg_barlow_condensed"
FACE_PACKAGES = (_SLAB, _SEMI, _CONDENSED)

_SLAB_LIST = "'Zilla Slab','Charis SIL',Georgia,'DejaVu Serif',serif"
_TEXT_LIST = (
    "'Barlow Semi Condensed',Barlow,'Arial Narrow','Liberation Sans Narrow',"
    "'DejaVu Sans Condensed',sans-serif"
)
_NARROW_LIST = _TEXT_LIST.replace("Semi Condensed", "Condensed")


class Face(Enum):
    """A cut of a family: package, file, families to try, weight, stretch, slope."""

    NAME = (_SLAB, "ZillaSlab-SemiBold", _SLAB_LIST, 600, "normal", "normal")
    NAME_SLANTED = (_SLAB, "ZillaSlab-MediumItalic", _SLAB_LIST, 500, "normal", "italic")
    NAME_LEANING = (_SLAB, "ZillaSlab-SemiBoldItalic", _SLAB_LIST, 600, "normal", "italic")
    TEXT = (_SEMI, "BarlowSemiCondensed-Regular", _TEXT_LIST, 400, "semi-condensed", "normal")
    FIRM = (_SEMI, "BarlowSemiCondensed-Medium", _TEXT_LIST, 500, "semi-condensed", "normal")
    STRONG = (_SEMI, "BarlowSemiCondensed-SemiBold", _TEXT_LIST, 600, "semi-condensed", "normal")
    SLANTED = (_SEMI, "BarlowSemiCondensed-Italic", _TEXT_LIST, 400, "semi-condensed", "italic")
    NARROW = (_CONDENSED, "BarlowCondensed-Medium", _NARROW_LIST, 500, "condensed", "normal")
    NARROW_STRONG = (
        _CONDENSED,
        "BarlowCondensed-SemiBold",
        _NARROW_LIST,
        600,
        "condensed",
        "normal",
    )

    @property
    def file(self) -> Path:
        """Where the face's file lies."""
        package, name = self.value[:2]
        return Path(str(files(package))) / "files" / f"{name}.ttf"

    @property
    def attributes(self) -> str:
        """The face as SVG attributes."""
        _, _, families, weight, stretch, slope = self.value
        return (
            f'font-family="{families}" font-weight="{weight}" font-stretch="{stretch}" '
            f'font-style="{slope}"'
        )


@dataclass(frozen=True, slots=True)
class Style:
    """How a text is set: face, size, anchor (start, middle, end), halo, turn [°], colour."""

    face: Face
    size: float
    anchor: str = "start"
    halo: float = 0.0
    turn: float = 0.0
    ink: str = "#000"


def face_folders() -> tuple[Path, ...]:
    """Give the folders in which the faces lie."""
    return tuple(Path(str(files(package))) / "files" for package in FACE_PACKAGES)


@lru_cache(maxsize=len(Face))
def _advances(face: Face) -> tuple[dict[int, float], float]:
    font = TTFont(face.file)
    em = float(font["head"].unitsPerEm)
    metrics = font["hmtx"]
    widths = {code: metrics[glyph][0] / em for code, glyph in font.getBestCmap().items()}
    return widths, metrics[".notdef"][0] / em


@lru_cache(maxsize=8192)
def width_of(text: str, face: Face, size: float) -> float:
    """Measure a text from its advance widths, in the unit of the size; kerning is left out."""
    widths, unknown = _advances(face)
    return size * sum(widths.get(ord(letter), unknown) for letter in text)


def wrapped(text: str, face: Face, size: float, width: float) -> list[str]:
    """Break a text at its spaces so that no line is wider than a width, single words excepted."""
    lines: list[str] = []
    for word in text.split():
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and width_of(longer, face, size) <= width:
            lines[-1] = longer
        else:
            lines.append(word)
    return lines


def shortened(text: str, face: Face, size: float, width: float) -> str:
    """Cut a text that is wider than a width, and end it with an ellipsis."""
    if width_of(text, face, size) <= width:
        return text
    while text and width_of(text + "…", face, size) > width:
        text = text[:-1].rstrip()
    return text + "…"


def fitted_size(text: str, face: Face, size: float, width: float) -> float:
    """Give the largest size up to ``size`` at which a text is no wider than a width."""
    natural = width_of(text, face, size)
    return size if natural <= width else size * width / natural
