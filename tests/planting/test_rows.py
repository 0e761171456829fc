"""Claims about rows for one bed as asked at the door."""

import json
from math import cos, pi, sin

import pytest

from haulm.ground.records import Outline, Shape
from haulm.measure.errors import FaultsFoundError
from haulm.planting.rows import rows_as_dict, rows_in_rectangle, rows_of


def test_a_usual_bed_gives_its_rows_and_the_square_count_beside() -> None:
    """A bed of 1.2 by 4.8 m at 15 cm holds 284 in nine offset rows, and 256 on a square grid."""
    written = json.loads(json.dumps(rows_as_dict(rows_in_rectangle(1.2, 4.8, 0.15, 0.075))))
    assert written["count"] == sum(len(row["stations_m"]) for row in written["rows"]) == 284
    assert written["square_count"] == 256
    assert written["pattern"] == "offset rows"
    assert len(written["rows"]) == 9
    assert written["rows"][0] | {"stations_m": []} == {
        "name": "1",
        "from_base_m": 0.075,
        "first_m": 0.075,
        "step_m": 0.15,
        "half_step": False,
        "stations_m": [],
    }
    assert written["rows"][1]["half_step"]


def test_an_outline_gives_the_same_rows_as_its_lengths() -> None:
    """A rectangle given as an outline or as two lengths holds the same stations."""
    outline = Outline(Shape.RECTANGLE, ((0, 0), (4.8, 0), (4.8, 1.2), (0, 1.2)), 5.76)
    assert rows_of(outline, 0.15) == rows_in_rectangle(1.2, 4.8, 0.15)


def test_whole_centimetres_on_demand() -> None:
    """Rows for a printed sheet are whole centimetres, also on a round bed."""
    corners = tuple((1 + cos(2 * pi * k / 96), 1 + sin(2 * pi * k / 96)) for k in range(96))
    outline = Outline(Shape.CIRCLE, corners, pi, 2.0)
    layout = rows_of(outline, 0.2, whole_centimetres=True)
    assert layout.count > 0
    for row in layout.rows:
        assert row.from_base_m * 100 == pytest.approx(round(row.from_base_m * 100))


@pytest.mark.parametrize("width", [0.0, -1.2, float("nan")])
def test_a_bed_without_width_is_told(width: float) -> None:
    """A bed of no, negative or unknown width is told as a fault with its remedy."""
    with pytest.raises(FaultsFoundError) as told:
        rows_in_rectangle(width, 4.8, 0.15)
    assert told.value.findings[0].remedy
