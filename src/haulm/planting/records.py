"""The layout's records: stations in an outline, and the measure by rows."""

from dataclasses import dataclass
from enum import StrEnum


class Pattern(StrEnum):
    """How stations stand to one another."""

    OFFSET = "offset rows"
    SQUARE = "square rows"


@dataclass(frozen=True, slots=True)
class Row:
    """One row of stations, as measured with a string and a tape.

    ``from_base_m`` is the row's height above the base [m]; ``first_m`` the first station's distance
    from the outline's west side line x = 0 [m]; ``step_m`` the distance between stations [m];
    ``stations_m`` every station (x, y) [m], which a gap in the outline may interrupt; ``half_step``
    says that the row starts half a step in against its neighbour.
    """

    name: str
    from_base_m: float
    first_m: float
    step_m: float
    half_step: bool
    stations_m: tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True)
class Layout:
    """Stations of one patch: all rows, the pattern and angle chosen, the square count beside it.

    ``angle_deg`` turns the rows against the base [°]; 0 and 90 are along the outline's axes.
    ``square_count`` is the best count on a square grid with the same spacing and edge distance.
    ``edge_m`` is the least distance from the outline, on the side where it is least [m].
    ``row_gap_m`` is the least gap between rows laid, ``least_row_gap_m`` the least that was asked
    for (0: none), both [m].
    """

    pattern: Pattern
    spacing_m: float
    row_gap_m: float
    edge_m: float
    angle_deg: float
    rows: tuple[Row, ...]
    square_count: int
    least_row_gap_m: float = 0.0

    @property
    def count(self) -> int:
        """How many stations there are."""
        return sum(len(row.stations_m) for row in self.rows)

    @property
    def stations_m(self) -> tuple[tuple[float, float], ...]:
        """Every station, row by row [m]."""
        return tuple(station for row in self.rows for station in row.stations_m)


@dataclass(frozen=True, slots=True)
class PatchWish:
    """A patch that wants ground in a bed from one week until another [m², m, weeks].

    ``until_week`` is the first week in which the ground is free again; ``plants`` is how many
    stations are planned, 0 where nobody counted.
    """

    name: str
    area_m2: float
    spacing_m: float
    row_gap_m: float
    edge_m: float
    from_week: int
    until_week: int
    plants: int = 0


@dataclass(frozen=True, slots=True)
class Piece:
    """A contiguous part of a bed given to a patch.

    ``share_from`` and ``share_to`` are shares of the bed's area, swept along its longer side from
    the peg, a wide bed in swaths side by side, so that drawings of the bed through the year and
    sheets of it agree; ``corners_m`` is the part's outline [m].
    """

    share_from: float
    share_to: float
    corners_m: tuple[tuple[float, float], ...]
    layout: Layout


@dataclass(frozen=True, slots=True)
class PatchLayout:
    """A patch's ground in its bed: one piece, or several where no single gap was wide enough."""

    name: str
    area_m2: float
    pieces: tuple[Piece, ...]
