"""The plan as written: each figure follows from the one before, and from nothing hidden."""

from dataclasses import replace

import pytest

from haulm.catalogue.records import Form, Picking, Role
from haulm.larder.records import LotInHand
from haulm.plan.records import Plan
from haulm.planner.make import make_plan
from planner.tiny_gardens import HORIZON, USUAL, bed, food, garden, keeps, sowing, wants

BEET = sowing("beet", 2, 14, food("beet", [13], 4.0, Picking.ONCE))


def kept_plan() -> Plan:
    """Plan one bed of beet, some eaten fresh and some from store at 0.8 sound."""
    asked = [wants("beet", [13, 18], kg=4.0)]
    return make_plan(garden([BEET], asked, [bed()], [keeps("beet", [1.0] * 5 + [0.8] * 3)]), USUAL)


def test_plants_and_stock_follow_from_the_area() -> None:
    """Stations are the whole ones that fit, and stock is the area times units a square metre."""
    (planting,) = kept_plan().plantings
    assert planting.area_m2 == pytest.approx((4.0 + 4.0 / 0.8) / 4.0, rel=1e-4)
    assert planting.plants == 45
    assert planting.stock == pytest.approx(25.0 * planting.area_m2)


def test_the_sum_divides_by_what_survives() -> None:
    """The sum goes from table to lifting to ground to plants to seed, losses divided out."""
    (planting,) = kept_plan().plantings
    assert planting.sum == (
        "brings 8.0 kg of beet to table from May to July",
        "8.0 kg / 0.89 sound when eaten = 9.0 kg to lift",
        "9.0 kg / 4.0 kg a m² = 2.25 m² of beet",
        "2.25 m² × 20 plants a m² = 45 plants",
        "45 plants / 0.8 = 57 seeds, losses counted",
    )


def test_what_is_served_is_what_is_eaten() -> None:
    """A planting serves just what reaches the table of it, fresh and through store."""
    plan = kept_plan()
    (planting,) = plan.plantings
    (serves,) = planting.serves
    assert serves.kg == pytest.approx(sum(helping.kg for helping in plan.helpings))
    assert (serves.first_week, serves.last_week) == (13, 18)
    assert sum(pick.kg for pick in planting.picks) == pytest.approx(9.0, rel=1e-4)


def test_a_yield_is_told_with_its_spread() -> None:
    """What a planting gives is told with what eight years in ten lie between."""
    (planting,) = kept_plan().plantings
    (expects,) = planting.expects
    assert expects.low_kg < expects.kg < expects.high_kg
    assert expects.kg == pytest.approx(4.0 * planting.area_m2)


def test_shortages_say_why() -> None:
    """Before anything can be ready it is said so, and after the last lot rots as well."""
    asked = [wants("beet", [0, 1, 13, 14, 25])]
    plan = make_plan(garden([BEET], asked, [bed()], [keeps("beet", [1.0] * 3)]), USUAL)
    assert [shortage.sentence for shortage in plan.shortages] == [
        "short 2.0 kg of beet in March: no sowing can be ready so soon",
        "short 1.0 kg of beet in August: nothing can be ready then, and nothing keeps so long",
    ]


def test_what_is_not_taken_young_is_left_to_ripen() -> None:
    """Where nobody eats the green leaf, the whole patch is expected to give its bulbs."""
    leaf = food("leaf", [5, 6], role=Role.INSTEAD)
    bulb = food("bulb", [14], 3.0, Picking.ONCE)
    plan = make_plan(
        garden([sowing("onion", 0, 15, bulb, leaf, family="onions")], [wants("bulb", [14], 2.0)]),
        USUAL,
    )
    (planting,) = plan.plantings
    (expects,) = planting.expects
    assert expects.food == "bulb"
    assert expects.kg == pytest.approx(3.0 * planting.area_m2)


def test_what_lies_past_keeping_is_told() -> None:
    """A lot too old to be sound is not eaten, and a finding says to sort it."""
    old = LotInHand("beet", None, Form.CELLARED, "cellar", 3.0, HORIZON.monday(-20))
    question = garden([], [wants("beet", [1])], [bed()], [keeps("beet", [1.0] * 6)])
    plan = make_plan(replace(question, lots=(old,)), USUAL)
    assert plan.lots == ()
    assert "past keeping" in plan.findings[0].what
