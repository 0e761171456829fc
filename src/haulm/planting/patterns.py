"""Row patterns: step, gaps and lanes that keep every pair of stations a spacing apart.

Rows stand in two lanes, the second shifted along the row by ``shift_m``. From one row to the next
the lane either changes, with the gap √(spacing² − shift²), or stays, with a gap of a whole spacing.
Equilateral offset rows change at every row with half a step of shift; square rows never change;
rows stretched along (step above the spacing) may stand closer together. Mixing both moves fits more
where either alone would leave a strip of ground bare.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from math import floor, sqrt

import numpy as np

from haulm.planting.spans import Ground, Numbers, Spans, spans_at

SPACING_SLACK_M = 8e-10
"""Distances between stations are kept to this [m]."""
WIDEST_STEP = 1.7
"""Offset rows wider in step than √3 spacings are the same rows turned."""


@dataclass(frozen=True, slots=True)
class Lanes:
    """Step along the row, shift of the second lane, and gaps with and without a change [m]."""

    step_m: float
    shift_m: float
    change_gap_m: float
    stay_gap_m: float


def square_lanes(spacing_m: float, least_gap_m: float) -> Lanes:
    """Give square rows: no shift."""
    gap = max(spacing_m, least_gap_m)
    return Lanes(spacing_m, 0.0, gap, gap)


def offset_lanes(ground: Ground, spacing_m: float, least_gap_m: float) -> Iterator[Lanes]:
    """List offset rows worth trying on a ground.

    Equilateral rows first; then rows whose step is stretched so that they fill the width, or so
    that more rows fit the height; then rows of full length whose shift is what the width leaves.

    Parameters
    ----------
    ground
        The outline in the rows' axes, with ground left to stand on.
    spacing_m
        Least distance between stations [m].
    least_gap_m
        Least gap between rows [m]; 0 where none is set.
    """
    west, base, east, top = ground.bounds_m or (0.0, 0.0, 0.0, 0.0)
    width, height = east - west, top - base
    steps = [spacing_m]
    fits = floor(width / spacing_m + 1e-12)
    if fits >= 1:
        steps.append(width / fits)
    halves = floor(width / spacing_m - 0.5 + 1e-12)
    if halves >= 0:
        steps.append(width / (halves + 0.5))
    rows = floor(height / (spacing_m * sqrt(0.75)))
    for gaps in range(rows + 1, rows + 4):
        gap = height / gaps
        if gap < spacing_m:
            steps.append(2 * sqrt(spacing_m**2 - gap**2))
    for step in dict.fromkeys(steps):
        if spacing_m <= step <= WIDEST_STEP * spacing_m:
            yield _lanes(step, step / 2, spacing_m, least_gap_m)
    left = width - fits * spacing_m
    if 0 < left < spacing_m / 2:
        yield _lanes(spacing_m, left, spacing_m, least_gap_m)


def _lanes(step_m: float, shift_m: float, spacing_m: float, least_gap_m: float) -> Lanes:
    change = sqrt(max(spacing_m**2 - shift_m**2, (spacing_m / 2) ** 2))
    return Lanes(step_m, shift_m, max(change, least_gap_m), max(spacing_m, least_gap_m))


@dataclass(frozen=True, slots=True, eq=False)
class Stand:
    """Rows of one pattern on one ground: heights [m], lanes (0 or 1) and the first lane's place.

    ``start_m`` is any place along the row at which the first lane has a station [m].
    """

    ground: Ground
    lanes: Lanes
    heights_m: Numbers
    lane: Numbers
    start_m: float
    count: int

    @property
    def uniform(self) -> bool:
        """Whether all gaps are the same."""
        gaps = np.diff(self.heights_m)
        return bool(gaps.size == 0 or np.ptp(gaps) < 1e-9)  # noqa: PLR2004 - a billionth


def counts_in(spans: Spans, step_m: float, starts_m: Numbers) -> Numbers:
    """Count the stations in each span when lanes start at the places given, one a span [m]."""
    first = np.ceil((spans.west_m - starts_m) / step_m - 1e-11)
    last = np.floor((spans.east_m - starts_m) / step_m + 1e-11)
    return np.asarray(np.maximum(last - first + 1, 0))


def row_sums(spans: Spans, counts: Numbers, rows: int) -> Numbers:
    """Add up the spans of each row."""
    return np.bincount(spans.row, weights=counts, minlength=rows).astype(np.float64)


def best_start(spans: Spans, step_m: float, shifts_m: Numbers) -> tuple[float, int]:
    """Find the place of the first lane that gives most stations, and their number.

    Exact: each span holds one more station than its whole steps for the places on an arc of the
    step's circle; the best place is where most arcs meet, and one such place is an arc's start.
    """
    if spans.row.size == 0:
        return 0.0, 0
    west = spans.west_m - shifts_m
    whole = np.floor((spans.east_m - spans.west_m) / step_m + 1e-11)
    rest = np.maximum(spans.east_m - spans.west_m - whole * step_m, 0) + 1e-11 * step_m
    arcs = np.mod(west, step_m)
    ends = arcs + rest
    starts = np.sort(arcs)
    ends_sorted = np.sort(ends)
    met = (
        np.searchsorted(starts, starts, side="right")
        - np.searchsorted(ends_sorted, starts, side="left")
        + ends.size
        - np.searchsorted(ends_sorted, starts + step_m, side="left")
    )
    best = int(np.argmax(met))
    return float(starts[best]), int(whole.sum() + met[best])


def regular_stand(ground: Ground, lanes: Lanes, phases: int) -> Stand:
    """Lay rows with the same gap throughout, at the height and place that fit most stations.

    Heights tried start flush with the base and the top, flush with the corners of the ground left
    where these are few, at half its height, and at ``phases`` even parts of a gap.
    """
    _, base, _, top = ground.bounds_m or (0.0, 0.0, 0.0, 0.0)
    gap = lanes.change_gap_m
    levels = np.array([top]) if ground.levels_m.size > phases else ground.levels_m
    middle = [(top - base) / 2]
    flush = np.mod(np.concatenate((levels - base, middle)), gap)
    offsets = np.concatenate((flush, np.arange(phases) * gap / phases))
    offsets = np.unique(np.round(offsets, 12))
    rows = floor((top - base) / gap + 1e-9) + 1
    heights = base + offsets[:, None] + gap * np.arange(rows)
    spans = spans_at(ground, heights.ravel())
    cuts = np.searchsorted(spans.row, np.arange(offsets.size + 1) * rows)
    alternate = (np.arange(rows) % 2).astype(np.float64)
    best = (-1, 0, 0.0)
    for number, (first, last) in enumerate(pairwise(cuts)):
        part = Spans(spans.row[first:last], spans.west_m[first:last], spans.east_m[first:last])
        start, count = best_start(part, lanes.step_m, lanes.shift_m * alternate[part.row % rows])
        if count > best[0]:
            best = (count, number, start)
    count, number, start = best
    return Stand(ground, lanes, heights[number], alternate, start, count)


def mixed_stand(stand: Stand, most_stays: int = 14) -> Stand:
    """Mix changing and staying rows above one another so that most stations fit.

    Dynamic programming over (changes made, stays made): the height of a row follows from both, and
    its lane from the changes. Starts from the rows of a regular stand, flush with the base and at
    the stand's own first height, in either lane.
    """
    _, base, _, _ = stand.ground.bounds_m or (0.0, 0.0, 0.0, 0.0)
    best = stand
    for first in dict.fromkeys((base, float(stand.heights_m[0]))):
        for lane in (0, 1):
            found = _mixed_from(stand, first, lane, most_stays)
            if found.count > best.count:
                best = found
    return best


def _mixed_from(stand: Stand, first_m: float, first_lane: int, most_stays: int) -> Stand:
    """Find the best mix of rows from one first height and lane."""
    _, _, _, top = stand.ground.bounds_m or (0.0, 0.0, 0.0, 0.0)
    lanes = stand.lanes
    room = top - first_m
    changes = floor(room / lanes.change_gap_m + 1e-9) + 1
    stays = min(floor(room / lanes.stay_gap_m + 1e-9), most_stays) + 1
    change, stay = np.meshgrid(np.arange(changes), np.arange(stays), indexing="ij")
    heights = first_m + change * lanes.change_gap_m + stay * lanes.stay_gap_m
    lane = ((first_lane + change) % 2).astype(np.float64)
    spans = spans_at(stand.ground, heights.ravel())
    starts = stand.start_m + lanes.shift_m * lane.ravel()[spans.row]
    counts = counts_in(spans, lanes.step_m, starts)
    held = row_sums(spans, counts, heights.size).reshape(heights.shape)
    total = held.copy()
    for row in range(changes):
        if row:
            total[row] += total[row - 1]
        for column in range(1, stays):
            through_stay = held[row, column] + total[row, column - 1]
            total[row, column] = max(total[row, column], through_stay)
    at = np.unravel_index(int(np.argmax(total)), total.shape)
    path = _path_to(total, held, (int(at[0]), int(at[1])))
    rows, columns = np.array(path).T
    return Stand(
        stand.ground,
        lanes,
        heights[rows, columns],
        lane[rows, columns],
        stand.start_m,
        int(total[at]),
    )


def _path_to(total: Numbers, held: Numbers, at: tuple[int, int]) -> list[tuple[int, int]]:
    """Walk back from a cell to the first row by the moves that made its total."""
    path = [at]
    row, column = at
    while row or column:
        stayed = column and total[row, column] == held[row, column] + total[row, column - 1]
        row, column = (row, column - 1) if stayed else (row - 1, column)
        path.append((row, column))
    return path[::-1]
