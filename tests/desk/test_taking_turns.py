"""What follows on in a bed: cleared for it as planned, and nothing moved that need not be."""

from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from haulm.desk.planning.question import Asked
from haulm.growing.records import Sowing
from haulm.growing.taking_turns import MOST_WEEKS, in_turn

AREA_M2 = 7.2
WEEKS = st.tuples(st.integers(-8, 20), st.integers(1, 20), st.floats(0.5, 5))


@pytest.fixture(scope="module")
def sowing(asked: Asked) -> Sowing:
    """Give any sowing."""
    return asked.question.sowings[0]


def stands(sowing: Sowing, first: int, until: int, m2: float) -> tuple[Sowing, float]:
    """Let a sowing hold ground from one week until another."""
    return replace(sowing, ground_from_week=first, ground_until_week=until), m2


def test_onions_are_cleared_for_the_leeks_that_follow(sowing: Sowing) -> None:
    """Reckoned a week late, the onions still make way on the day the leeks are set out."""
    onions, leeks = stands(sowing, -9, 8, 5.0), stands(sowing, 7, 40, 4.0)
    found = in_turn([onions, leeks], AREA_M2)
    assert [one.ground_until_week for one in found] == [7, 40]


def test_what_has_room_beside_it_is_left(sowing: Sowing) -> None:
    """Where the bed holds both, nobody is cleared early."""
    both = [stands(sowing, -9, 8, 3.0), stands(sowing, 7, 40, 4.0)]
    assert in_turn(both, AREA_M2) == tuple(one for one, _ in both)


def test_a_crop_half_grown_does_not_make_way(sowing: Sowing) -> None:
    """What is to stand two months more is not pulled up for what comes next."""
    both = [stands(sowing, -2, 16, 5.0), stands(sowing, 7, 40, 4.0)]
    assert in_turn(both, AREA_M2) == tuple(one for one, _ in both)


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(drawn=st.lists(WEEKS, min_size=1, max_size=6))
def test_nobody_ends_later_or_much_earlier(
    sowing: Sowing, drawn: list[tuple[int, int, float]]
) -> None:
    """Whatever stands, each ends when it was to, or up to three weeks before; none begins anew."""
    held = [stands(sowing, first, first + weeks, m2) for first, weeks, m2 in drawn]
    for (before, _), after in zip(held, in_turn(held, AREA_M2), strict=True):
        assert after.ground_from_week == before.ground_from_week
        gone = before.ground_until_week - after.ground_until_week
        assert 0 <= gone <= MOST_WEEKS
