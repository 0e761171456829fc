"""Cans that are too few: who gets them."""

from itertools import product

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from haulm.water.sharing import share_out

WORTHS = st.lists(
    st.lists(st.floats(0, 10), min_size=1, max_size=4).map(lambda saves: [0.0, *saves]),
    min_size=1,
    max_size=4,
)


@settings(max_examples=200, deadline=None)
@given(WORTHS, st.integers(0, 12))
def test_no_other_way_saves_more(worths: list[list[float]], cans: int) -> None:
    """Of every way there is to share the cans out, none saves more."""
    shares = share_out([np.array(saves) for saves in worths], cans)
    assert sum(shares) <= cans
    saved = sum(saves[number] for saves, number in zip(worths, shares, strict=True))
    best = max(
        sum(saves[number] for saves, number in zip(worths, way, strict=True))
        for way in product(*(range(len(saves)) for saves in worths))
        if sum(way) <= cans
    )
    assert abs(saved - best) < 1e-9


def test_of_equals_the_first_is_served() -> None:
    """Where two crops lose as much, the one named first gets the only can."""
    saves = np.array([0.0, 1.0])
    assert share_out([saves, saves], 1) == (1, 0)
    assert share_out([saves, saves], 0) == (0, 0)
    assert share_out([], 3) == ()
