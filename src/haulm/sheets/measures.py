"""Rows of stations as one measures them out with a string and a tape."""

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

    A row that an outline interrupts becomes a line for each run of equal steps.
    """
    rows: list[MeasuredRow] = []
    ways = {_way(piece.layout) for piece in patch.pieces if piece.layout.rows}
    number = 0
    for piece in patch.pieces:
        for row in piece.layout.rows:
            number += 1
            rows += _runs(row, f"{letter}{number}", piece.layout.angle_deg)
    along = ways.pop() if len(ways) == 1 else "slant"
    return Measure(letter, along, planned, tuple(rows))


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
