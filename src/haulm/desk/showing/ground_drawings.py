"""Beds drawn for the pages: all to one scale side by side, and one as its board shows it."""

from collections.abc import Sequence
from datetime import date
from itertools import pairwise
from math import hypot

from haulm.desk.garden.outlining import Measured
from haulm.ground.records import Bed, Cover, Outline
from haulm.measure.units import Units
from haulm.sheets.bundle import SheetBundle
from haulm.sheets.draw.canvas import PAPER, Pen, Point
from haulm.sheets.draw.type import Face, Style
from haulm.sheets.page.bed_plan import page_bed_plan
from haulm.sheets.page.drawing import PageCanvas

WIDEST_PX, TALLEST_PX = 272.0, 320.0
MOST_PX_M, LEAST_PX_M = 48.0, 2.0
EDGE, COVER, HAIR = Pen(2.0), Pen(1.2), Pen(0.8)
PAD = 24.0
"""The margin that a bed's plan keeps for its measures."""
COVER_OFF_PX = 4.5
BAR_STEPS: dict[Units, tuple[tuple[float, str], ...]] = {
    "metric": ((1.0, "1 m"), (5.0, "5 m"), (10.0, "10 m"), (50.0, "50 m")),
    "us": ((0.9144, "3 ft"), (3.048, "10 ft"), (15.24, "50 ft"), (30.48, "100 ft")),
}
LEAST_BAR_PX = 32.0
BOARD_PX, BOARD_PAD_PX = (640.0, 440.0), 32.0
LEAST_M = 0.01


def common_scale(beds: Sequence[Bed]) -> float:
    """Give the scale at which every bed fits the width of a phone [px/m]."""
    sizes = [size_m(bed.outline) for bed in beds]
    fits = [min(WIDEST_PX / width, TALLEST_PX / height) for width, height in sizes]
    return max(LEAST_PX_M, min([MOST_PX_M, *fits]))


def size_m(outline: Outline) -> Point:
    """Give how far an outline reaches east and north [m]."""
    return max(x for x, _ in outline.corners_m), max(y for _, y in outline.corners_m)


def bed_drawing(bed: Bed, px_m: float, bundle: SheetBundle | None, day: date) -> str:
    """Draw a bed to scale, north up: what stands there by the plan, else its edge alone.

    Parameters
    ----------
    bed
        The bed.
    px_m
        The scale [px/m].
    bundle
        The plan; None where there is none. It is passed over where it was made for another
        outline.
    day
        The day whose plants are drawn.
    """
    width, height = size_m(bed.outline)
    sides = (width * px_m + 2 * PAD, height * px_m + 2 * PAD)
    planned = [] if bundle is None else [one for one in bundle.beds if one.id == bed.id]
    if bundle is not None and planned and planned[0].outline == bed.outline:
        return page_bed_plan(bundle, bed.id, day, sides)
    canvas = PageCanvas("bed", *sides)
    points = [(PAD + x * px_m, PAD + (height - y) * px_m) for x, y in bed.outline.corners_m]
    if bed.cover is not Cover.OPEN:
        for start, end in _north_edges(points):
            canvas.line(start, end, COVER)
    canvas.polygon(points, EDGE)
    return canvas.hidden()


def board_drawing(measured: Measured) -> str:
    """Draw an outline as far as it could be read, each corner with its number; dashed if faulty."""
    corners = measured.corners_m or (measured.outline.corners_m if measured.outline else ())
    canvas = PageCanvas("board", BOARD_PX[0], BOARD_PX[1])
    if corners:
        west, south = (min(corner[axis] for corner in corners) for axis in (0, 1))
        east, north = (max(corner[axis] for corner in corners) for axis in (0, 1))
        room = [size - 2 * BOARD_PAD_PX for size in BOARD_PX]
        px_m = min(room[0] / max(east - west, LEAST_M), room[1] / max(north - south, LEAST_M))
        points = [
            (BOARD_PAD_PX + (x - west) * px_m, BOARD_PAD_PX + (north - y) * px_m)
            for x, y in corners
        ]
        canvas.polygon(points, EDGE if measured.outline else Pen(2.0, dash="6 4"))
        if measured.corners_m:
            for number, (x, y) in enumerate(points, start=1):
                canvas.rectangle((x - 11, y - 11), 22, 22, Pen(1.2, fill=PAPER))
                canvas.text((x, y + 5), str(number), Style(Face.STRONG, 14, anchor="middle"))
    return canvas.hidden()


def scale_bar(px_m: float, units: Units) -> str:
    """Draw the scale that the beds share, and where north is."""
    step_m, words = next(
        (step for step in BAR_STEPS[units] if step[0] * px_m >= LEAST_BAR_PX), BAR_STEPS[units][-1]
    )
    length = step_m * px_m
    canvas = PageCanvas("scale", length + 96, 32)
    canvas.text((1, 22), "N", Style(Face.NAME, 16))
    canvas.polygon(((22, 4), (28, 24), (22, 19.5), (16, 24)), HAIR)
    canvas.polygon(((22, 4), (22, 19.5), (16, 24)), Pen(0.8, fill="#000"))
    canvas.rectangle((44, 17), length / 2, 5, Pen(0.8, fill="#000"))
    canvas.rectangle((44 + length / 2, 17), length / 2, 5, Pen(0.8, fill="#fff"))
    canvas.text((44 + length + 6, 22), words, Style(Face.TEXT, 14))
    return canvas.hidden()


def _north_edges(points: Sequence[Point]) -> list[tuple[Point, Point]]:
    """Give the edges that look north, moved off the outline by the width of a line [px].

    The points run anticlockwise as seen, so that such an edge runs west.
    """
    edges = []
    for (x1, y1), (x2, y2) in pairwise((*points, points[0])):
        length = hypot(x2 - x1, y2 - y1)
        if x2 < x1 and length:
            east, south = COVER_OFF_PX * (y1 - y2) / length, COVER_OFF_PX * (x2 - x1) / length
            edges.append(((x1 + east, y1 + south), (x2 + east, y2 + south)))
    return edges
