"""Figures that are hardly meant as they were written are asked about at once, and no others."""

from dataclasses import replace
from datetime import date
from typing import Any

import pytest

from haulm.plan.records import Plan, Planting
from haulm.season.records import Amount, EntryKind, Measured, key_of
from haulm.season.slips import slips_in
from season.diary_by_hand import entry, kg, pieces

K = EntryKind
DAY = date(2027, 8, 1)


@pytest.fixture(scope="module")
def beans(plan: Plan) -> Planting:
    """Give a planting of green beans."""
    return next(p for p in plan.plantings if any(e.food == "green beans" for e in p.expects))


def asked(plan: Plan | None, tells: EntryKind, **said: Any) -> list[str]:  # noqa: ANN401
    """Say what is asked about an entry."""
    return [one.what for one in slips_in([entry(tells, DAY, **said)], plan, "metric")]


def in_all_kg(planting: Planting) -> float:
    """Give the beans that a planting is to give in all."""
    return sum(e.kg for e in planting.expects if e.food == "green beans")


def test_a_wet_day_is_believed_and_a_forgotten_point_is_asked_about(plan: Plan) -> None:
    """Forty millimetres fall in a thunderstorm; forty inches do not."""
    assert asked(plan, K.RAINED, amount=Amount(40, Measured.MILLIMETRES)) == []
    (told,) = asked(None, K.RAINED, amount=Amount(1016, Measured.MILLIMETRES))
    assert "more than falls in a day almost anywhere" in told


def test_a_good_picking_is_believed_and_ten_times_it_is_asked_about(
    plan: Plan, beans: Planting
) -> None:
    """Half as much again as a planting was to give is luck; ten times as much is a slip."""
    about = {"planting": key_of(beans), "food": "green beans"}
    assert asked(plan, K.PICKED, amount=kg(1.5 * in_all_kg(beans)), **about) == []
    (told,) = asked(plan, K.PICKED, amount=kg(10 * in_all_kg(beans)), **about)
    assert "was to give in all" in told


def test_more_put_by_than_the_garden_could_grow_is_asked_about(plan: Plan) -> None:
    """Without a planting named, a food is held against all plantings of it."""
    whole = sum(in_all_kg(planting) for planting in plan.plantings)
    about = {"food": "green beans", "form": "frozen", "store": "freezer"}
    assert asked(plan, K.PUT_BY, amount=kg(whole), **about) == []
    assert asked(plan, K.PUT_BY, amount=kg(3 * whole), **about) != []


def test_what_the_plan_knows_nothing_of_is_not_asked_about(plan: Plan) -> None:
    """Bought apples, a count of heads, or any weight where there is no plan, are taken as told."""
    assert asked(plan, K.PUT_BY, amount=kg(200), food="apple") == []
    assert asked(plan, K.PICKED, amount=pieces(400), food="green beans") == []
    assert asked(None, K.PICKED, amount=kg(400), food="green beans") == []


def test_water_that_would_flood_a_bed_is_asked_about(plan: Plan) -> None:
    """A bed of seven square metres takes a hundred litres, and not a thousand at once."""
    bed = plan.beds[0]
    some, flood = 20 * bed.area_m2, 200 * bed.area_m2
    assert asked(plan, K.WATERED, bed=bed.id, amount=Amount(some, Measured.LITRES)) == []
    assert asked(plan, K.WATERED, bed=bed.id, amount=Amount(flood, Measured.LITRES)) != []
    nowhere = replace(plan, beds=())
    assert asked(nowhere, K.WATERED, bed=bed.id, amount=Amount(flood, Measured.LITRES)) == []


def test_a_day_of_work_has_not_thirty_hours() -> None:
    """Nine hours in one entry are believed, thirty are asked about."""
    assert asked(None, K.WORKED, minutes=540.0) == []
    assert asked(None, K.WORKED, minutes=1800.0) != []
