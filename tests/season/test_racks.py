"""Whether the racks hold what hangs and what is lifted onto them."""

from datetime import date, timedelta

import pytest

from haulm.season.curing import Hung, curings
from haulm.season.racks import RackWeek, ToCure, racks_in
from haulm.sheets.rack_words import rack_words

MONDAY = date(2027, 7, 5)
WEEK = (MONDAY, MONDAY + timedelta(6))
NEXT = (MONDAY + timedelta(7), MONDAY + timedelta(13))
LOAD = curings()["garlic"].load_kg_m2.value
LOST = curings()["garlic"].lost.value


def batch(begun: date, kg: float | None = 12.0, ended: date | None = None) -> Hung:
    """Hang garlic, done in five weeks."""
    done = tuple(begun + timedelta(days) for days in (28, 35, 42))
    return Hung("e1", "garlic", None, "loft", begun, kg, (done[0], done[1], done[2]), ended)


def lifted(day: date, kg: float = 6.0) -> ToCure:
    """Have the plan lift garlic, so much as it is put by."""
    return ToCure("garlic", kg, day, day + timedelta(35))


def told(racks: RackWeek | None, units: str = "metric") -> str:
    """Say a week's racks."""
    assert racks is not None
    return " ".join(rack_words(racks, str, units))


def test_what_is_lifted_weighs_more_than_what_is_put_by() -> None:
    """Six kilograms of cured garlic are ten as they are lifted, at two fifths lost in drying."""
    found = racks_in(WEEK, MONDAY, 2.0, (), [lifted(MONDAY)])
    assert found is not None
    (coming,) = found.coming
    assert coming.kg == pytest.approx(6 / (1 - LOST))
    assert found.coming_m2 == pytest.approx(6 / (1 - LOST) / LOAD)


def test_racks_that_hold_it_all_say_what_is_left() -> None:
    """What hangs and what comes are taken from the racks there are."""
    found = racks_in(WEEK, MONDAY, 3.0, [batch(MONDAY - timedelta(7))], [lifted(MONDAY)])
    assert found is not None
    assert found.free_m2 == pytest.approx(3 - 12 / LOAD - 6 / (1 - LOST) / LOAD)
    assert found.lacking_m2 == 0
    assert "it finds room, and" in told(found)


def test_racks_too_small_say_by_how_much() -> None:
    """On one square metre twelve kilograms hang; what is lifted besides finds no rack."""
    found = racks_in(WEEK, MONDAY, 1.0, [batch(MONDAY - timedelta(7))], [lifted(MONDAY)])
    assert found is not None
    assert found.lacking_m2 == pytest.approx(6 / (1 - LOST) / LOAD)
    assert "is lacking" in told(found)
    assert "sq ft is lacking" in told(found, "us")


def test_racks_nobody_told_are_said_not_to_be_told() -> None:
    """Without a rack told there is no verdict, and what it takes is told all the same."""
    found = racks_in(WEEK, MONDAY, None, [batch(MONDAY)], ())
    assert found is not None
    assert found.free_m2 is None
    assert found.lacking_m2 == 0
    assert "nobody has told how much rack there is" in told(found)
    assert "1.0 m² of rack" in told(found) or "1 m² of rack" in told(found)


def test_what_was_hung_this_week_is_lifted_no_more() -> None:
    """Garlic that hangs since Monday is not counted once more as what the week has to lift."""
    found = racks_in(WEEK, MONDAY + timedelta(3), 3.0, [batch(MONDAY, 10.0)], [lifted(MONDAY)])
    assert found is not None
    assert found.coming == ()


def test_part_of_it_hung_leaves_the_rest_to_lift() -> None:
    """Half hung, half is still to come."""
    found = racks_in(WEEK, MONDAY + timedelta(3), 3.0, [batch(MONDAY, 5.0)], [lifted(MONDAY)])
    assert found is not None
    assert found.coming[0].kg == pytest.approx(5.0)


def test_hung_unweighed_takes_an_unknown_part() -> None:
    """Nobody weighed it: it is not counted, the verdict says so, and its plan is not added."""
    found = racks_in(WEEK, MONDAY + timedelta(1), 3.0, [batch(MONDAY, None)], [lifted(MONDAY)])
    assert found is not None
    assert found.coming == ()
    assert "hangs there unweighed, and is not counted" in told(found)
    assert "as far as it is known" in told(found)


def test_next_week_still_holds_what_this_week_lifts() -> None:
    """What is lifted this week hangs next week; what is done by then does not."""
    old = batch(MONDAY - timedelta(30))
    found = racks_in(NEXT, MONDAY, 3.0, [old], [lifted(MONDAY)])
    assert found is not None
    assert [one.food for one in found.hanging] == ["garlic"]
    assert found.hanging_m2 == pytest.approx(6 / (1 - LOST) / LOAD)
    assert found.coming == ()


def test_what_came_down_hangs_no_more() -> None:
    """Taken down, it frees its rack; of a week gone by it is told that it hung."""
    down = batch(MONDAY - timedelta(40), ended=MONDAY - timedelta(3))
    assert racks_in(WEEK, MONDAY, 3.0, [down], ()) is None
    before = (MONDAY - timedelta(7), MONDAY - timedelta(1))
    assert racks_in(before, MONDAY, 3.0, [down], ()) is not None


def test_a_food_of_no_known_load_is_named() -> None:
    """What nobody has put a load to is told, and not counted as nothing."""
    found = racks_in(WEEK, MONDAY, 3.0, (), [ToCure("cardoon", 4.0, MONDAY, MONDAY)])
    assert found is not None
    assert found.untold
    assert "nobody has told" in told(found)
