"""How many plants stand in a square metre."""

from math import sqrt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from haulm.catalogue.loader import load_catalogue
from haulm.catalogue.records import Basis, Figure, Stand
from haulm.catalogue.stand import EQUILATERAL_ROW_GAP, plants_m2, station_spacing


def metres(value: float) -> Figure:
    """Make a figure in metres."""
    return Figure(value, "m", Basis.JUDGED)


def stand(along: float, between: float, offset: float) -> Stand:
    """Make a stand with three distances."""
    return Stand(metres(along), metres(between), metres(offset), metres(0.02), metres(0.02))


def test_near_rows_stand_in_equilateral_triangles() -> None:
    """Where rows may be near, plants 10 cm apart stand 115 to the square metre, not 100."""
    assert station_spacing(stand(0.10, 0.08, 0.10)) == pytest.approx((0.10, 0.0866), abs=1e-4)
    assert plants_m2(stand(0.10, 0.08, 0.10)) == pytest.approx(115.47, abs=0.01)


def test_wide_rows_are_counted_by_row_and_gap() -> None:
    """Potatoes 35 cm apart in rows 70 cm apart stand 4.08 to the square metre."""
    assert station_spacing(stand(0.35, 0.70, 0.35)) == (0.35, 0.70)
    assert plants_m2(stand(0.35, 0.70, 0.35)) == pytest.approx(4.08, abs=0.01)


@settings(max_examples=60, deadline=None)
@given(offset=st.floats(0.02, 2), share=st.floats(1, 3), gap=st.floats(0.1, 3))
def test_no_stand_is_denser_than_its_offset_spacing_allows(
    offset: float, share: float, gap: float
) -> None:
    """However rows lie, no more plants stand than equilateral triangles of that side would hold."""
    density = plants_m2(stand(offset * share, offset * gap, offset))
    assert density <= 2 / (sqrt(3) * offset**2) * (1 + 1e-9)


def test_every_kind_keeps_its_least_distance() -> None:
    """In every kind, neighbours along the row and in the next row are no nearer than they may be.

    In offset rows a plant of the next row lies half a step on.
    """
    for kind in load_catalogue().kinds.values():
        along, across = station_spacing(kind.stand)
        least = kind.stand.spacing_offset_m.value
        assert along >= least - 1e-9
        assert sqrt((along / 2) ** 2 + across**2) >= least - 1e-9
        assert across >= least * EQUILATERAL_ROW_GAP - 1e-9
