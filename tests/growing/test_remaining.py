"""What a planting still gives, held to sums by hand."""

from dataclasses import replace

import pytest

from haulm.catalogue.records import Picking, Role
from haulm.growing.records import Sowing
from haulm.growing.remaining import still_to_come
from planner.tiny_gardens import food, sowing


def left(
    planting: Sowing, area_m2: float, taken: dict[str, float], hoped: float = 1.0
) -> dict[str, float]:
    """Give what a square metre still gives of each food [kg/m²]."""
    return {
        one.food: one.yield_kg_m2 for one in still_to_come(planting, area_m2, taken, hoped).foods
    }


LEEK = sowing("leek", 0, 20, food("leek", range(4, 20), 2.0, Picking.STAND))


def test_of_what_stands_what_was_taken_is_gone() -> None:
    """Three square metres of 2 kg are 6 kg; 1.5 kg taken leave three quarters: 1.5 kg a m²."""
    assert left(LEEK, 3.0, {"leek": 1.5}) == pytest.approx({"leek": 1.5})


def test_a_poor_stand_gives_its_share_less_what_was_taken() -> None:
    """Half hoped for: 3 kg in all; 1.5 kg taken leave half of that: 0.5 kg a m²."""
    assert left(LEEK, 3.0, {"leek": 1.5}, hoped=0.5) == pytest.approx({"leek": 0.5})


def test_more_than_hoped_is_more() -> None:
    """A fifth more than hoped for, nothing taken yet: 2.4 kg a m²."""
    assert left(LEEK, 3.0, {}, hoped=1.2) == pytest.approx({"leek": 2.4})


def test_what_was_taken_whole_is_left_out() -> None:
    """Six kilograms taken of six leave nothing to tell."""
    assert left(LEEK, 3.0, {"leek": 6.0}) == {}


def test_what_was_lifted_once_is_gone() -> None:
    """A food lifted once, of which some was lifted, does not come again."""
    beet = sowing("beet", 0, 8, food("beet", range(6, 7), 3.0, Picking.ONCE))
    assert left(beet, 2.0, {"beet": 0.1}) == {}
    assert left(beet, 2.0, {}) == {"beet": 3.0}


def test_what_was_taken_green_leaves_less_to_ripen() -> None:
    """A kilogram of green garlic from 4 m² of 1 kg took a quarter: a quarter less ripens."""
    green = food("green garlic", range(4, 8), 1.0, Picking.STAND, Role.INSTEAD)
    garlic = sowing("garlic", 0, 12, food("garlic", range(11, 12), 2.0, Picking.ONCE), green)
    assert left(garlic, 4.0, {"green garlic": 1.0}) == pytest.approx(
        {"garlic": 1.5, "green garlic": 0.75}
    )


def test_what_is_picked_over_weeks_lacks_its_past_weeks_already() -> None:
    """Of beans picked week by week only the hope changes what is still to come."""
    beans = sowing("bean", 0, 12, food("bean", range(6, 12), 2.0))
    assert left(beans, 2.0, {"bean": 1.0}, hoped=0.5) == {"bean": 1.0}
    same = still_to_come(beans, 2.0, {"bean": 1.0}, 1.0)
    assert same == replace(beans, foods=same.foods)
