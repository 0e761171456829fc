"""Rows of stations as one measures them out with a string and a tape."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from math import hypot

from haulm.ground.records import Bed
from haulm.planting.measure_rows import to_centimetres
from haulm.planting.records import Layout, PatchLayout, Piece, Row

Point = tuple[float, float]
# Two steps within 3 mm of one another are one step to a tape.
SAME_STEP_M = 0.003
_ALONG_BASE, _ALONG_WEST = 0.0, 90.0
_TURN_SLACK_DEG = 0.01


@dataclass(frozen=True, slots=True)
class MeasuredRow:
    """A run of stations at one step.

    ``stations_m`` in order [m]; ``step_m`` between neighbours [m], 0 for a single station;
    ``half_step`` marks a row that starts half a step in against its neighbour; ``goes_on`` marks
    a run that follows a gap in the row above; ``angle_deg`` is the row's turn against the base [°].
    """

    name: str
    stations_m: tuple[Point, ...]
    step_m: float
    half_step: bool
    goes_on: bool
    angle_deg: float


@dataclass(frozen=True, slots=True)
class Measure:
    """The measure of one patch: its letter, how its rows run, the plants planned, and the rows.

    ``along`` is ``base`` for rows along the base, ``west`` for rows up the west line, and
    ``slant`` for any other: a slanting row is given by its first and last hole.
    """

    letter: str
    along: str
    planned: int
    rows: tuple[MeasuredRow, ...]

    @property
    def holes(self) -> int:
        """How many stations there are."""
        return sum(len(row.stations_m) for row in self.rows)


def in_whole_centimetres(patch: PatchLayout, bed: Bed) -> PatchLayout:
    """Put a patch's rows to whole centimetres, piece by piece, where that costs no plant."""

    def taped(piece: Piece) -> Piece:
        whole_bed = piece.corners_m == bed.outline.corners_m
        diameter_m = bed.outline.diameter_m if whole_bed else None
        layout = to_centimetres(piece.layout, piece.corners_m, diameter_m)
        return replace(piece, layout=layout) if layout.count >= piece.layout.count else piece

    return replace(patch, pieces=tuple(taped(piece) for piece in patch.pieces))


def measure_of(patch: PatchLayout, letter: str, planned: int) -> Measure:
    """Measure a patch row by row, all its pieces in one count of rows.

    A row that an outline interrupts becomes a line for each run of equal steps. Where the stations
    make fewer lines up the west than along the base, or the other way round, the fewer are taken.
    """
    ways = {_way(piece.layout) for piece in patch.pieces if piece.layout.rows}
    along = ways.pop() if len(ways) == 1 else "slant"
    rows = _measured(((row, piece.layout.angle_deg) for piece, row in _rows(patch)), letter)
    if along != "slant":
        turned_rows = [
            (row, _ALONG_WEST if along == "base" else _ALONG_BASE)
            for piece in patch.pieces
            for row in _across(piece.layout, along)
        ]
        turned = _measured(turned_rows, letter)
        if len(turned) < len(rows):
            return Measure(letter, "west" if along == "base" else "base", planned, turned)
    return Measure(letter, along, planned, rows)


def _rows(patch: PatchLayout) -> Iterator[tuple[Piece, Row]]:
    return ((piece, row) for piece in patch.pieces for row in piece.layout.rows)


def _measured(rows: Iterable[tuple[Row, float]], letter: str) -> tuple[MeasuredRow, ...]:
    return tuple(
        run
        for number, (row, angle_deg) in enumerate(rows, start=1)
        for run in _runs(row, f"{letter}{number}", angle_deg)
    )


def _across(layout: Layout, along: str) -> list[Row]:
    """Gather a layout's stations into rows that run across its own."""
    way = 0 if along == "base" else 1
    lines: dict[int, list[Point]] = {}
    for station in layout.stations_m:
        lines.setdefault(round(station[way] * 1000), []).append(station)
    rows: list[Row] = []
    starts = [min(point[1 - way] for point in line) for line in lines.values()]
    for _, line in sorted(lines.items()):
        stations = tuple(sorted(line, key=lambda point: point[1 - way]))
        first = stations[0][1 - way]
        step = _apart(stations[0], stations[1]) if len(stations) > 1 else 0.0
        late = abs(first - min(starts) - step / 2) < SAME_STEP_M and step > 0
        rows.append(Row("", stations[0][way], first, step, half_step=late, stations_m=stations))
    return rows


def _way(layout: Layout) -> str:
    turned = layout.angle_deg % 180
    if min(turned, 180 - turned) < _TURN_SLACK_DEG:
        return "base"
    return "west" if abs(turned - _ALONG_WEST) < _TURN_SLACK_DEG else "slant"


def _runs(row: Row, name: str, angle_deg: float) -> list[MeasuredRow]:
    runs: list[list[Point]] = []
    for station in row.stations_m:
        if runs and abs(_apart(runs[-1][-1], station) - row.step_m) < SAME_STEP_M:
            runs[-1].append(station)
        else:
            runs.append([station])
    return [
        MeasuredRow(
            name=name,
            stations_m=tuple(run),
            step_m=_apart(run[0], run[-1]) / (len(run) - 1) if len(run) > 1 else 0.0,
            half_step=row.half_step and order == 0,
            goes_on=order > 0,
            angle_deg=angle_deg,
        )
        for order, run in enumerate(runs)
    ]


def _apart(one: Point, other: Point) -> float:
    return hypot(one[0] - other[0], one[1] - other[1])
