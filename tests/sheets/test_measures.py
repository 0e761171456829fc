"""Rows as one measures them out."""

from math import hypot

import pytest

from haulm.planting.layout import lay_out
from haulm.planting.records import Layout, PatchLayout, Pattern, Piece, Row
from haulm.sheets.bundle import SheetBundle
from haulm.sheets.measures import in_whole_centimetres, measure_of
from sheets.schoolhouse import L_CORNERS, TRIANGLE, rectangle


def patch_of(corners: tuple[tuple[float, float], ...], spacing_m: float) -> PatchLayout:
    """Lay a patch of one piece out."""
    layout = lay_out(corners, spacing_m)
    return PatchLayout("one", 1.0, (Piece(0, 1, corners, layout),))


@pytest.mark.parametrize("corners", [L_CORNERS, TRIANGLE, rectangle(1.2, 4.8)])
def test_following_the_measure_gives_every_station(
    corners: tuple[tuple[float, float], ...],
) -> None:
    """First hole, step and holes of every row lead to each station of the layout, and no other."""
    patch = patch_of(corners, 0.3)
    measure = measure_of(patch, "A", patch.pieces[0].layout.count)
    walked = []
    for row in measure.rows:
        (x, y), (x2, y2) = row.stations_m[0], row.stations_m[-1]
        run = hypot(x2 - x, y2 - y) or 1.0
        walked += [
            (
                x + (x2 - x) / run * row.step_m * number,
                y + (y2 - y) / run * row.step_m * number,
            )
            for number in range(len(row.stations_m))
        ]
    stations = patch.pieces[0].layout.stations_m
    assert len(walked) == len(stations)
    for x, y in stations:
        assert min(hypot(x - x2, y - y2) for x2, y2 in walked) <= 0.003
    assert measure.holes == patch.pieces[0].layout.count


def test_a_row_that_the_outline_breaks_is_measured_in_runs() -> None:
    """In a bed shaped like a U a row across both arms is two runs, not one long step."""
    corners = ((0, 0), (5, 0), (5, 3), (3.2, 3), (3.2, 1), (1.8, 1), (1.8, 3), (0, 3))
    layout = lay_out(corners, 0.3)
    turned = layout.angle_deg % 180
    patch = PatchLayout("u", 1.0, (Piece(0, 1, corners, layout),))
    measure = measure_of(patch, "A", layout.count)
    assert measure.holes == layout.count
    assert turned in {0, 90}
    if measure.along == "base":
        assert any(row.goes_on for row in measure.rows)
    for row in measure.rows:
        assert row.step_m == 0 or row.step_m == pytest.approx(0.3, abs=0.2)


def test_whole_centimetres_cost_no_plant(schoolhouse: SheetBundle) -> None:
    """Rounding the measure to whole centimetres is done only where it loses no plant."""
    for bed in schoolhouse.beds:
        for patch in schoolhouse.layouts[bed.id]:
            taped = in_whole_centimetres(patch, bed)
            for before, after in zip(patch.pieces, taped.pieces, strict=True):
                assert after.layout.count >= before.layout.count


def test_rows_are_named_on_through_the_pieces_of_a_patch() -> None:
    """A patch in two pieces counts its rows once through, so that no name stands twice."""
    one, other = rectangle(2, 1), rectangle(1, 1, 3)
    pieces = tuple(
        Piece(share, share + 0.1, corners, lay_out(corners, 0.4))
        for share, corners in ((0.0, one), (0.5, other))
    )
    measure = measure_of(PatchLayout("two", 3.0, pieces), "B", 12)
    names = [row.name for row in measure.rows if not row.goes_on]
    assert names == [f"B{number}" for number in range(1, len(names) + 1)]


def test_the_way_with_fewer_lines_is_measured() -> None:
    """Twelve rows of three onions are three lines of twelve holes, up from the base."""
    rows = tuple(
        Row(str(row), 0.1 * row, 0.1, 0.2, half_step=False,
            stations_m=tuple((0.1 + 0.2 * hole, 0.1 * row) for hole in range(3)))
        for row in range(1, 13)
    )  # fmt: skip
    layout = Layout(Pattern.SQUARE, 0.1, 0.1, 0.05, 0.0, rows, 36)
    patch = PatchLayout("one", 1.0, (Piece(0, 1, rectangle(0.6, 1.3), layout),))
    measure = measure_of(patch, "A", 36)
    assert measure.along == "west"
    assert [len(row.stations_m) for row in measure.rows] == [12, 12, 12]
    assert measure.holes == 36
