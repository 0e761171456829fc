"""A bed's edge from what a grower measures: two sides, a diameter, or a list of corners."""

import math
from collections.abc import Sequence
from itertools import combinations

from shapely import LineString, Polygon

from haulm.ground.records import Outline, Shape
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding

Corner = tuple[float, float]

CIRCLE_SIDES = 96
"""Sides of the polygon drawn for a circle: it stays within 0.1 % of the radius."""

MIN_CORNERS = 3


def rectangle(width_m: float, length_m: float, where: str = "bed") -> Outline:
    """Make a rectangular outline.

    Parameters
    ----------
    width_m
        Side along the base, x east [m].
    length_m
        Side away from the base, y north [m]; either side may be the longer.
    where
        The place in the user's data, for findings.

    Raises
    ------
    FaultsFoundError
        With a finding for each side that is not a length above nothing.
    """
    sides = (("width", width_m), ("length", length_m))
    _raise_any([found for name, side in sides for found in _size_faults(name, side, where)])
    corners = ((0.0, 0.0), (width_m, 0.0), (width_m, length_m), (0.0, length_m))
    return Outline(Shape.RECTANGLE, corners, width_m * length_m)


def circle(diameter_m: float, where: str = "bed") -> Outline:
    """Make a round outline from its diameter [m]; its area is exactly π r².

    The corners lie on the circle, anticlockwise from its east side.

    Raises
    ------
    FaultsFoundError
        If the diameter is not a length above nothing.
    """
    _raise_any(_size_faults("diameter", diameter_m, where))
    radius = diameter_m / 2
    turns = [2 * math.pi * step / CIRCLE_SIDES for step in range(CIRCLE_SIDES)]
    corners = tuple(
        (radius * (1 + math.cos(turn)), radius * (1 + math.sin(turn))) for turn in turns
    )
    return Outline(Shape.CIRCLE, corners, math.pi * radius**2, diameter_m)


def polygon(corners_m: Sequence[Corner], where: str = "bed") -> Outline:
    """Make an outline from its corners in order, either way round [m].

    It is turned anticlockwise and shifted so that its lowest x and y are 0; the first corner stays
    the first. A last corner that repeats the first, as surveyors close a traverse, is let fall.

    Raises
    ------
    FaultsFoundError
        With every fault found: fewer than three corners, a corner that is no number, a corner
        given twice, edges that cross or run over each other (which ones), corners on one line.
    """
    corners = [(float(x), float(y)) for x, y in corners_m]
    if len(corners) > MIN_CORNERS and corners[0] == corners[-1]:
        corners.pop()
    _raise_any(_corner_faults(corners, where))
    _raise_any(_crossing_faults(corners, where))
    if _turning_area(corners) < 0:
        corners = [corners[0], *reversed(corners[1:])]
    low_x, low_y = min(x for x, _ in corners), min(y for _, y in corners)
    shifted = tuple((x - low_x, y - low_y) for x, y in corners)
    return Outline(Shape.CORNERS, shifted, float(Polygon(shifted).area))


def _size_faults(name: str, size_m: float, where: str) -> list[Finding]:
    if math.isfinite(size_m) and size_m > 0:
        return []
    what = f"the {name} is {size_m:g} m." if math.isfinite(size_m) else f"the {name} is no number."
    return [Finding(where, what, f"Give a {name} above 0, as in 1.2 m.")]


def _corner_faults(corners: Sequence[Corner], where: str) -> list[Finding]:
    if len(corners) < MIN_CORNERS:
        what = f"it has {len(corners)} corners; ground needs at least {MIN_CORNERS}."
        return [Finding(where, what, "List every corner in order round the bed.")]
    findings = [
        Finding(where, f"corner {place} has no number for x or y.", "Give x and y in metres.")
        for place, (x, y) in enumerate(corners, 1)
        if not (math.isfinite(x) and math.isfinite(y))
    ]
    first_at: dict[Corner, int] = {}
    for place, corner in enumerate(corners, 1):
        if corner in first_at:
            what = f"corners {first_at[corner]} and {place} are the same point."
            findings.append(Finding(where, what, "Keep one of them, or mend its figures."))
        first_at.setdefault(corner, place)
    return findings


def _crossing_faults(corners: Sequence[Corner], where: str) -> list[Finding]:
    """Find pairs of edges that touch or cross anywhere but at the corner they share."""
    count = len(corners)
    edges = [LineString([corners[at], corners[(at + 1) % count]]) for at in range(count)]
    findings = []
    for one, other in combinations(range(count), 2):
        meeting = edges[one].intersection(edges[other])
        neighbours = other - one == 1 or (one == 0 and other == count - 1)
        if meeting.is_empty or (neighbours and meeting.geom_type == "Point"):
            continue
        how = "run over" if meeting.geom_type == "LineString" else "cross or touch"
        what = (
            f"the edge from {_edge(one, count)} and the edge from {_edge(other, count)} {how} "
            "each other."
        )
        findings.append(Finding(where, what, "List the corners in order round the bed."))
    return findings


def _edge(at: int, count: int) -> str:
    return f"corner {at + 1} to {(at + 1) % count + 1}"


def _turning_area(corners: Sequence[Corner]) -> float:
    """Give the signed area: above 0 where the corners run anticlockwise [m²]."""
    after = [*corners[1:], corners[0]]
    return (
        sum(
            x * next_y - next_x * y for (x, y), (next_x, next_y) in zip(corners, after, strict=True)
        )
        / 2
    )


def _raise_any(findings: Sequence[Finding]) -> None:
    if findings:
        raise FaultsFoundError(findings)
