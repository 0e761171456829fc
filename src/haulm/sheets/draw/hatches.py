"""The hatches: tone grows with ripeness; direction tells ground, store and want apart."""

from collections.abc import Iterable
from enum import StrEnum


class Hatch(StrEnum):
    """What a hatched ground says."""

    GROWING = "growing"
    READY = "ready"
    DIG = "dig"
    CLOSED = "closed"
    SHORT = "short"
    CELLAR = "cellar"
    HUNG = "hung"
    JARS = "jars"
    FROZEN = "frozen"


def _level(x1: float, x2: float, y: float, width: float) -> str:
    return f'<path d="M{x1} {y}H{x2}" stroke="#000" stroke-width="{width}"/>'


def _upright(x: float, y1: float, y2: float, width: float) -> str:
    return f'<path d="M{x} {y1}V{y2}" stroke="#000" stroke-width="{width}"/>'


def _dot(x: float, y: float) -> str:
    return f'<circle cx="{x}" cy="{y}" r="0.8" fill="#000"/>'


# Each: tile width, tile height, turn [°], marks. In steps of the page's pixel.
_TILES: dict[Hatch, tuple[float, float, int, str]] = {
    Hatch.GROWING: (7, 7, -45, _level(0, 7, 3.5, 0.55)),
    Hatch.READY: (3.2, 3.2, -45, _level(0, 3.2, 1.6, 0.95)),
    Hatch.DIG: (14, 8, 0, _level(1, 6, 2, 0.7) + _level(8, 13, 6, 0.7)),
    Hatch.CLOSED: (8, 8, 45, _level(0, 8, 4, 0.7) + _upright(4, 0, 8, 0.7)),
    Hatch.SHORT: (4.2, 4.2, 45, _level(0, 4.2, 2.1, 1.9)),
    Hatch.CELLAR: (4, 4, 0, _level(0, 4, 2, 0.8)),
    Hatch.HUNG: (5, 5, 0, _dot(1.25, 1.25) + _dot(3.75, 3.75)),
    Hatch.JARS: (4, 4, 0, _upright(2, 0, 4, 0.8)),
    Hatch.FROZEN: (6, 6, 0, _upright(3, 0.9, 5.1, 0.75) + _level(0.9, 5.1, 3, 0.75)),
}


def patterns(prefix: str, scale: float, hatches: Iterable[Hatch] = Hatch) -> str:
    """Write hatches as SVG patterns; the whole tile is scaled, never the stroke alone."""
    return "".join(
        f'<pattern id="{prefix}-{hatch}" width="{width}" height="{height}" '
        f'patternUnits="userSpaceOnUse" patternTransform="scale({scale}) rotate({turn})">'
        f"{marks}</pattern>"
        for hatch in hatches
        for width, height, turn, marks in (_TILES[hatch],)
    )
