"""The sweep of a bed: side by side in swaths along its longer side, up one and down the next."""

from collections.abc import Iterator
from dataclasses import dataclass
from math import floor, sqrt

import numpy as np
import shapely

from haulm.ground.records import Outline
from haulm.planting.spans import Numbers

AREA_SLACK_M2 = 1e-6
"""Areas are kept to this [m²]."""
LEAST_SWATH_M = 0.75
"""Swaths are no narrower than this [m]. Basis: judged, half of a bed of 1.5 m, which is worked from
either side."""


@dataclass(frozen=True, slots=True)
class Run:
    """A part of one swath, or of whole swaths side by side, between two lines across the sweep.

    ``from_m`` and ``to_m`` are places along the sweep, ``low_m`` and ``high_m`` across it [m];
    ``area_m2`` is the bed's area between them.
    """

    from_m: float
    to_m: float
    low_m: float
    high_m: float
    area_m2: float


@dataclass(frozen=True, slots=True, eq=False)
class Swath:
    """One swath: where its area begins along the sweep, and how it grows on the way.

    Attributes
    ----------
    start_m2, area_m2
        The drawn bed's area swept before it, and its own [m²].
    low_m, high_m
        The lines on either side of it, across the sweep [m].
    backwards
        Whether it is swept against the way of the first one.
    knots_m
        Places along the sweep, shape (n,), between which its width changes evenly [m].
    passed_m2
        Its area short of each knot, shape (n,) [m²].
    halfway_m2
        Its area from each knot to halfway to the next, shape (n − 1,) [m²].
    """

    start_m2: float
    area_m2: float
    low_m: float
    high_m: float
    backwards: bool
    knots_m: Numbers
    passed_m2: Numbers
    halfway_m2: Numbers

    def place_m(self, passed_m2: float) -> float:
        """Find the place along the sweep short of which the swath has an area [m].

        Exact: between two knots the width is linear, so that the area is a parabola.
        """
        knot = int(np.searchsorted(self.passed_m2, passed_m2, side="right")) - 1
        start, end = float(self.knots_m[knot]), float(self.knots_m[knot + 1])
        whole = float(self.passed_m2[knot + 1] - self.passed_m2[knot])
        half = float(self.halfway_m2[knot])
        rise, bend = 4 * half - whole, 2 * whole - 4 * half
        left = passed_m2 - float(self.passed_m2[knot])
        if left <= 0:
            return start
        share = 2 * left / (rise + sqrt(max(rise**2 + 4 * bend * left, 0.0)))
        return start + min(share, 1.0) * (end - start)


@dataclass(frozen=True, slots=True, eq=False)
class Sweep:
    """A bed swept in swaths; ``runs_east`` where its longer side is its base."""

    bed: shapely.Polygon
    runs_east: bool
    swaths: tuple[Swath, ...]


def most_swaths(outline: Outline) -> int:
    """Say into how many swaths a bed may be divided: one where it is narrow."""
    return max(1, floor(_width_m(outline) / LEAST_SWATH_M + AREA_SLACK_M2))


def narrowest_swath_m(outline: Outline) -> float:
    """Give the width of a bed's swaths when it is divided into as many as may be [m]."""
    return _width_m(outline) / most_swaths(outline)


def _width_m(outline: Outline) -> float:
    west, base, east, top = shapely.Polygon(outline.corners_m).bounds
    return float(min(east - west, top - base))


def sweep_of(outline: Outline, count: int = 1) -> Sweep:
    """Divide a bed into swaths of equal width by lines parallel to its longer side.

    The first lies along the base, or along the west side of a bed that runs north; it is swept
    from the peg on, the second back, and so on, so that where one ends the next begins beside it.
    A bent bed's swaths may be bent, and may have less area than others.
    """
    bed = shapely.Polygon(outline.corners_m)
    west, base, east, top = bed.bounds
    runs_east = bool(east - west >= top - base)
    # In these axes the sweep runs along the first coordinate.
    corners = np.asarray(outline.corners_m)[:, :: 1 if runs_east else -1]
    low, high = (base, top) if runs_east else (west, east)
    lines = np.linspace(low, high, count + 1)
    swaths: list[Swath] = []
    swept = 0.0
    for number in range(count):
        across = (float(lines[number]), float(lines[number + 1]))
        swath = _swath(shapely.Polygon(corners), across, swept, backwards=number % 2 == 1)
        swept += swath.area_m2
        swaths.append(swath)
    return Sweep(bed, runs_east, tuple(swaths))


def _swath(
    bed: shapely.Polygon, across: tuple[float, float], swept: float, *, backwards: bool
) -> Swath:
    """Measure the part of a bed between two lines along the sweep."""
    start, low, end, high = bed.bounds
    part = bed.intersection(shapely.box(start, across[0], end, across[1]))
    knots = np.unique(shapely.get_coordinates(part)[:, 0])
    between = shapely.box(knots[:-1], low, (knots[:-1] + knots[1:]) / 2, high)
    halfway = shapely.area(shapely.intersection(part, between))
    slabs = shapely.area(shapely.intersection(part, shapely.box(knots[:-1], low, knots[1:], high)))
    passed = np.concatenate(([0.0], np.cumsum(slabs)))
    return Swath(swept, float(passed[-1]), *across, backwards, knots, passed, halfway)


def runs_in(sweep: Sweep, share_from: float, share_to: float) -> Iterator[Run]:
    """List what a stretch takes of each swath, whole swaths side by side as one.

    The shares are of the drawn outline's area, which for a circle is a little under the true one.
    """
    whole: list[Run] = []
    for swath in sweep.swaths:
        start = max(share_from * sweep.bed.area - swath.start_m2, 0.0)
        end = min(share_to * sweep.bed.area - swath.start_m2, swath.area_m2)
        if end - start <= AREA_SLACK_M2:
            continue
        run = _run(swath, start, end)
        if end - start >= swath.area_m2 - AREA_SLACK_M2:
            whole.append(run)
        else:
            yield run
    if whole:
        yield Run(
            min(run.from_m for run in whole),
            max(run.to_m for run in whole),
            whole[0].low_m,
            whole[-1].high_m,
            sum(run.area_m2 for run in whole),
        )


def _run(swath: Swath, start_m2: float, end_m2: float) -> Run:
    """Turn a stretch of a swath's area into one between two places."""
    if swath.backwards:
        start_m2, end_m2 = swath.area_m2 - end_m2, swath.area_m2 - start_m2
    near_end = start_m2 <= AREA_SLACK_M2, end_m2 >= swath.area_m2 - AREA_SLACK_M2
    start = float(swath.knots_m[0]) if near_end[0] else swath.place_m(start_m2)
    end = float(swath.knots_m[-1]) if near_end[1] else swath.place_m(end_m2)
    return Run(start, end, swath.low_m, swath.high_m, end_m2 - start_m2)


def cut_bed(sweep: Sweep, share_from: float, share_to: float) -> tuple[shapely.Polygon, ...]:
    """Cut out what lies between two shares of a bed's area, swept swath by swath.

    A side running north is swept from the base up, one running east from the west side. What
    touches is one part, also across swaths; of a bent bed there may be several, which come in order
    along the sweep.
    """
    boxes = [_box(sweep, run) for run in runs_in(sweep, share_from, share_to)]
    # Corners that lie on a straight side, left where two runs meet, are taken out.
    mask = shapely.union_all(boxes).simplify(0.0)
    found = shapely.get_parts(sweep.bed.intersection(mask))
    parts = [part for part in found if part.geom_type == "Polygon" and part.area > AREA_SLACK_M2]
    parts.sort(key=lambda part: _first_met(sweep, part))
    return tuple(shapely.orient_polygons(shapely.normalize(part)) for part in parts)


def _box(sweep: Sweep, run: Run) -> shapely.Polygon:
    if sweep.runs_east:
        return shapely.box(run.from_m, run.low_m, run.to_m, run.high_m)
    return shapely.box(run.low_m, run.from_m, run.high_m, run.to_m)


def middle_of(sweep: Sweep, run: Run) -> shapely.Point:
    """Give the middle of a run, as a point of the bed."""
    return _box(sweep, run).centroid


def _first_met(sweep: Sweep, part: shapely.Polygon) -> tuple[int, float, float]:
    """Say in which swath, and where along and across it, the sweep meets a part first."""
    west, base, east, top = part.bounds
    start, low, end = (west, base, east) if sweep.runs_east else (base, west, top)
    number = sum(low >= swath.high_m - AREA_SLACK_M2 for swath in sweep.swaths)
    return number, -end if sweep.swaths[number].backwards else start, low
