"""Fleece that is too little is laid where it saves most."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from haulm.season.fleece import FleeceWanted, lay_fleece

BEDS = st.lists(
    st.builds(FleeceWanted, st.uuids().map(str), st.floats(0.5, 30), st.floats(0, 40)), max_size=6
)


def test_too_little_goes_first_where_a_square_metre_saves_most() -> None:
    """With 8 m²: the 5 m² of beans that save 2 kg a square metre are covered whole, then 3 of the
    6 m² that save 1; what saves least gets none.
    """
    wanted = [
        FleeceWanted("squash", 10.0, 5.0),
        FleeceWanted("potatoes", 6.0, 6.0),
        FleeceWanted("beans", 5.0, 10.0),
    ]
    laid = lay_fleece(wanted, 8.0)
    assert [(one.bed, one.laid_m2, one.whole) for one in laid] == [
        ("beans", 5.0, True),
        ("potatoes", 3.0, False),
        ("squash", 0.0, False),
    ]


@given(BEDS, st.floats(0, 100))
def test_no_fleece_is_made_or_lost(beds: list[FleeceWanted], there_m2: float) -> None:
    """What is laid is all there is, or all that is wanted, and no bed gets more than it wants."""
    laid = lay_fleece(beds, there_m2)
    wanted = sum(one.area_m2 for one in beds)
    assert sum(one.laid_m2 for one in laid) == pytest.approx(min(there_m2, wanted))
    assert all(0 <= one.laid_m2 <= one.wanted_m2 for one in laid)
    assert {one.bed for one in laid} == {one.bed for one in beds}


@given(BEDS, st.floats(0, 60))
def test_no_other_order_saves_more(beds: list[FleeceWanted], there_m2: float) -> None:
    """Laid in the order in which the beds were named it never saves more."""
    saves = {one.bed: one.saves_kg / one.area_m2 for one in beds}
    best = sum(one.laid_m2 * saves[one.bed] for one in lay_fleece(beds, there_m2))
    left, other = there_m2, 0.0
    for one in beds:
        here = min(left, one.area_m2)
        other += here * saves[one.bed]
        left -= here
    assert best >= other - 1e-9
