"""The measure by rows in whole centimetres, as a tape shows them."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from math import ceil, floor, sqrt

import numpy as np
import shapely

from haulm.planting.layout import named_rows
from haulm.planting.patterns import Lanes, Stand
from haulm.planting.records import Layout, Pattern, Row
from haulm.planting.spans import Ground, Numbers, Spans, frame_at, ground_in, spans_at

CM = 100
"""Centimetres in a metre."""
HALF_CM_M = 0.005
"""What a tape's reading leaves uncertain: spacings and edges may fall short by so much [m]."""
SLACK_CM = 1e-6
"""A length this little over a whole centimetre is that centimetre [cm]."""


@dataclass(frozen=True, slots=True)
class _Tape:
    """Whole-centimetre step and shift of the second lane, spacing and row gap to keep [cm]."""

    step: int
    shift: int
    spacing: float
    row_gap: float

    @property
    def change_gap(self) -> int:
        """The least gap between rows of different lanes."""
        beside = min(self.shift, self.step - self.shift)
        across = sqrt(max(self.spacing**2 - beside**2, (self.spacing / 2) ** 2))
        return ceil(max(across, self.row_gap) - SLACK_CM)

    @property
    def stay_gap(self) -> int:
        """The least gap between rows of the same lane."""
        return ceil(max(self.spacing, self.row_gap) - SLACK_CM)


def to_centimetres(
    layout: Layout,
    corners_m: Sequence[tuple[float, float]],
    diameter_m: float | None = None,
    edges_m: Sequence[float] | None = None,
) -> Layout:
    """Put a layout's rows, first holes and steps to whole centimetres and count again.

    The spacing and edge are kept as asked where no station is lost by it; otherwise each may fall
    short by half a centimetre. There are never more stations than in the layout given, and there
    may be fewer.

    Parameters
    ----------
    layout
        Stations as laid out.
    corners_m
        The outline they were laid into [m].
    diameter_m
        Its diameter if it is round [m].
    edges_m
        The least distance from each side where they differ [m]; the layout's own where not given.

    Returns
    -------
    Layout
        With every ``from_base_m``, ``first_m`` and ``step_m`` a whole centimetre; a layout without
        rows, or in whole centimetres already, comes back as it is.
    """
    if all(_is_whole(row) for row in layout.rows):
        return layout
    corners = np.asarray(corners_m, dtype=float)
    frame = frame_at(corners, layout.angle_deg)
    lanes = _lanes_of(layout)
    edges = np.array([layout.edge_m] * len(corners) if edges_m is None else edges_m)
    best: Stand | None = None
    for slack in (0.0, HALF_CM_M):
        ground = ground_in(corners, frame, np.maximum(edges - slack, 0.0).tolist(), diameter_m)
        if ground.bounds_m is None:
            continue
        for tape in _tapes(layout, slack):
            stand = _best_stand(ground, layout, lanes, tape)
            if best is None or stand.count > best.count:
                best = stand
            if best.count >= layout.count:
                break
        if best is not None and best.count >= layout.count:
            break
    if best is None or best.count == 0:
        return layout
    rows = tuple(_whole(row) for row in named_rows(best, layout.count))
    gap = min((b.from_base_m - a.from_base_m for a, b in pairwise(rows)), default=0.0)
    offset = len(rows) > 1 and np.ptp(best.lane) > 0
    pattern = Pattern.OFFSET if offset else Pattern.SQUARE
    return replace(layout, rows=rows, pattern=pattern, row_gap_m=round(gap, 2) or layout.row_gap_m)


def closest_m(layout: Layout) -> float:
    """Measure the least distance between two stations of a layout [m]; infinite for fewer than two.

    For checking a measure after rounding; near neighbours are found in a tree.
    """
    points = shapely.points(np.array(layout.stations_m).reshape(-1, 2))
    if points.size < 2:  # noqa: PLR2004 - a distance needs two
        return float("inf")
    tree = shapely.STRtree(points)
    _, apart = tree.query_nearest(points, exclusive=True, return_distance=True)
    return float(apart.min())


def _lanes_of(layout: Layout) -> Numbers:
    """Tell each row's lane by where it starts against the first row, in parts of a step."""
    first = layout.rows[0].first_m
    step = layout.rows[0].step_m
    parts = np.array([(row.first_m - first) / step % 1.0 for row in layout.rows])
    same = np.minimum(parts, 1 - parts) < 1e-6  # noqa: PLR2004 - a millionth of a step
    return np.where(same, 0.0, 1.0)


def _tapes(layout: Layout, slack_m: float) -> Iterator[_Tape]:
    """List whole-centimetre steps near the layout's own that keep the spacing."""
    spacing = (layout.spacing_m - slack_m) * CM
    row_gap = (layout.least_row_gap_m - slack_m) * CM
    step = layout.rows[0].step_m * CM
    first = layout.rows[0].first_m
    parts = [(row.first_m - first) * CM % step for row in layout.rows]
    shift = max((part for part in parts if part < step - SLACK_CM), default=0.0)
    shortest = ceil(spacing - SLACK_CM)
    steps = (ceil(step - SLACK_CM), floor(step), *range(shortest, shortest + 4), ceil(step) + 1)
    for whole in dict.fromkeys(each for each in steps if each >= max(shortest, 1)):
        scaled = shift * whole / step
        for moved in dict.fromkeys((round(shift), floor(scaled), ceil(scaled))):
            if 0 <= moved < whole:
                yield _Tape(whole, moved, spacing, row_gap)


def _ladders(
    layout: Layout, lanes: Numbers, tape: _Tape, room_cm: float
) -> Iterator[tuple[Numbers, Numbers]]:
    """List heights over the first row [cm], with lanes: the layout's own rows, then plain ones.

    Plain rows change lane at every row, or never, as near together as the tape allows; where they
    hold more than the layout did, they make up for what rounding took.
    """
    yield _own_heights(layout, lanes, tape), lanes
    for gap, changes in ((tape.change_gap, 1), (tape.stay_gap, 0)):
        rows = np.arange(max(int(room_cm // gap), 0) + 1, dtype=np.float64)
        yield gap * rows, np.mod(changes * rows, 2)


def _own_heights(layout: Layout, lanes: Numbers, tape: _Tape) -> Numbers:
    """Put the layout's rows to whole centimetres over the first, as near as the gaps allow [cm]."""
    true = np.array([row.from_base_m for row in layout.rows]) * CM
    heights = [0]
    for number in range(1, true.size):
        changes = lanes[number] != lanes[number - 1]
        least = tape.change_gap if changes else tape.stay_gap
        nearest = round(true[number] - true[0]) - heights[-1]
        heights.append(heights[-1] + max(least, nearest))
    return np.array(heights, dtype=np.float64)


def _best_stand(ground: Ground, layout: Layout, lanes: Numbers, tape: _Tape) -> Stand:
    """Find the whole-centimetre first row and first hole that fit most."""
    _, base, _, top = ground.bounds_m or (0.0, 0.0, 0.0, 0.0)
    lowest, highest = ceil(base * CM - SLACK_CM), floor(top * CM + SLACK_CM)
    own = round(layout.rows[0].from_base_m * CM)
    starts = np.arange(tape.step, dtype=np.float64)
    measure = Lanes(tape.step / CM, tape.shift / CM, tape.change_gap / CM, tape.stay_gap / CM)
    best: Stand | None = None
    for over_first, lane in _ladders(layout, lanes, tape, highest - lowest):
        tops = highest - int(over_first[-1])
        for first in dict.fromkeys((lowest, tops, own, (lowest + tops) // 2)):
            heights = (first + over_first) / CM
            counts = _counts(spans_at(ground, heights), tape, starts, lane)
            at = int(np.argmax(counts))
            if best is None or counts[at] > best.count:
                start = float(starts[at]) / CM
                best = Stand(ground, measure, heights, lane, start, int(counts[at]))
        if best is not None and best.count >= layout.count:
            break
    return best or Stand(ground, measure, np.empty(0), np.empty(0), 0.0, 0)


def _counts(spans: Spans, tape: _Tape, starts: Numbers, lanes: Numbers) -> Numbers:
    """Count the stations for each place of the first lane [cm], all spans together."""
    begin = starts[:, None] + tape.shift * lanes[spans.row]
    first = np.ceil((spans.west_m * CM - begin) / tape.step - 1e-9)
    last = np.floor((spans.east_m * CM - begin) / tape.step + 1e-9)
    return np.asarray(np.maximum(last - first + 1, 0).sum(axis=1), dtype=np.float64)


def _is_whole(row: Row) -> bool:
    """Tell whether a tape shows a row's measure as it is."""
    lengths_cm = [length * CM for length in (row.from_base_m, row.first_m, row.step_m)]
    return all(abs(length - round(length)) < SLACK_CM for length in lengths_cm)


def _whole(row: Row) -> Row:
    """Write a row's measure as the whole centimetres it is."""
    return replace(
        row,
        from_base_m=round(row.from_base_m, 2),
        first_m=round(row.first_m, 2),
        step_m=round(row.step_m, 2),
    )
