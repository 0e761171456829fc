"""The review: what came is held against the plan, and nothing unwritten is taken for nothing."""

from collections import defaultdict
from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as some

from haulm.household.records import Wanted
from haulm.plan.records import Plan
from haulm.planner.make import make_plan
from haulm.planner.question import PlanQuestion
from haulm.season.larder import Larder
from haulm.season.ledger import keep_ledger
from haulm.season.ledger_records import Keeps
from haulm.season.notes import notes_of
from haulm.season.records import Amount, Entry, EntryKind, Measured, StoreCount, key_of
from haulm.season.review import review
from haulm.season.review_records import Cause, LineAsked, Review, ReviewSpan, Season, WeekCame
from planner.tiny_gardens import HORIZON, USUAL, bed, food, garden, keeps, sowing, wants
from season.diary_by_hand import entry, kg, pieces
from season.year_lived import AS_PLANNED, Luck, diary_of_year

SOUND = (1.0, 0.9, 0.8, 0.7, 0.6, 0.5, 0.4)
SPAN = ReviewSpan(HORIZON, 0, 30)
LAST = SPAN.last_day
LINES = (
    LineAsked("beet", ("beet",), Wanted.EITHER, 3),
    LineAsked("chard", ("chard",), Wanted.EITHER, 3),
)


def question() -> PlanQuestion:
    """Want beet for ten weeks, some of it from the cellar, and chard for five."""
    sowings = [
        sowing("beet", 0, 12, food("beet", (10, 11), 3.0)),
        sowing("beet", 3, 15, food("beet", (13, 14), 3.0)),
        sowing("chard", 1, 12, food("chard", range(7, 12), 2.0), family="leaves"),
    ]
    asked = [wants("beet", range(10, 20), 0.5), wants("chard", range(7, 13), 0.4)]
    return garden(sowings, asked, [bed("east", 2.0), bed("west", 2.0)], [keeps("beet", SOUND)])


PLANNED = make_plan(question(), USUAL)


@pytest.fixture
def plan() -> Plan:
    """Give the tiny garden's plan."""
    return PLANNED


def m2(number: float) -> Amount:
    """Make an area."""
    return Amount(number, Measured.SQUARE_METRES)


def season(plan: Plan, entries: tuple[Entry, ...], span: ReviewSpan = SPAN) -> Season:
    """Look back on a plan with a diary."""
    key = ("beet", "beet/kind", "cellared", "cellar")
    larder = Larder({key: Keeps(SOUND)}, {}, 0.3)
    before = [one for one in entries if one.day < span.first_day]
    return Season(
        plan,
        span,
        tuple(sorted(entries, key=lambda one: one.day)),
        keep_ledger(before, (), larder),
        keep_ledger(entries, (), larder),
        LINES,
        {"beet": 0.2},
        notes=notes_of(entries, plan),
    )


def parts_by_food(found: Review) -> dict[str, float]:
    """Add up why what was picked parts from the plan, by food [kg]."""
    sums: dict[str, float] = defaultdict(float)
    for part in found.parted:
        sums[part.food] += part.kg
    return sums


def test_a_year_as_planned_agrees_with_the_plans_own_books(plan: Plan) -> None:
    """Whoever sowed, picked, put by and ate as planned reads the plan's own figures, to the gram:
    by food, by line and week by week; and nothing parted from it.
    """
    found = review(season(plan, diary_of_year(plan, LAST)))
    assert found.parted == ()
    assert found.covered_share == pytest.approx(1)
    for one in found.foods:
        assert one.picked_kg == pytest.approx(one.planned_kg, abs=1e-6)
        assert (one.put_by_kg or 0.0) == pytest.approx(one.planned_put_by_kg, abs=1e-6)
        assert one.eaten_kg == pytest.approx(one.planned_eaten_kg, abs=1e-6)
        assert one.given_kg is None
    for line in found.lines:
        assert line.eaten_kg == pytest.approx(line.promised_kg, abs=1e-6)
        assert line.count(WeekCame.WITHOUT) == line.planned_without


def test_what_nobody_wrote_is_not_taken_for_nothing(plan: Plan) -> None:
    """An empty diary leaves every figure unknown, not nought; the week a plan meant to feed is not
    known either; and all that was planned is laid to its not being written.
    """
    found = review(season(plan, ()))
    assert all(one.picked_kg is None and one.eaten_kg is None for one in found.foods)
    assert (found.told_h, found.water_l, found.picked_kg) == (None, None, None)
    assert found.covered_share == 0
    for line in found.lines:
        assert line.eaten_kg is None
        for week in line.weeks:
            fed = week.planned_kg > 0
            assert week.came is not WeekCame.FED
            assert (week.came is WeekCame.NOT_KNOWN) or not fed
    assert {part.cause for part in found.parted} == {Cause.NOT_WRITTEN}
    assert sum(part.kg for part in found.parted) == pytest.approx(-found.planned_kg)


LUCK = some.builds(Luck, some.floats(0.0, 2.5), some.integers(0, 3), some.booleans())


@given(some.lists(LUCK, min_size=6, max_size=6), some.floats(0.1, 9), some.floats(0.2, 3))
@settings(max_examples=60)
def test_the_causes_add_up_exactly(fates: list[Luck], more_kg: float, area_m2: float) -> None:
    """However the year fared, the parts of a food add up to what was picked less what was planned:
    with late and lost plantings, other ground, pickings of no planting and of none of the plan.
    """
    plan = PLANNED
    luck = dict(zip((p.id for p in plan.plantings), fates, strict=False))
    entries = list(diary_of_year(plan, LAST, luck))
    first = plan.plantings[0]
    ground = entry(EntryKind.SET_OUT, first.sow_on, planting=key_of(first), amount=m2(area_m2))
    entries += [
        entry(EntryKind.PICKED, HORIZON.monday(11), food="beet", amount=kg(more_kg)),
        entry(EntryKind.PICKED, HORIZON.monday(11), food="cress", amount=kg(more_kg)),
        ground,
    ]
    found = review(season(plan, tuple(entries)))
    parts = parts_by_food(found)
    for one in found.foods:
        apart = (one.picked_kg or 0.0) - one.planned_kg
        assert parts.get(one.food, 0.0) == pytest.approx(apart, abs=1e-9)


def test_less_ground_is_told_apart_from_a_poorer_yield(plan: Plan) -> None:
    """Half the ground at the planned yield is all laid to the ground; nothing to the yield."""
    one = next(p for p in plan.plantings if p.crop == "beet")
    planned = sum(pick.kg for pick in one.picks)
    half = {p.id: Luck(0.5) if p.id == one.id else AS_PLANNED for p in plan.plantings}
    ground = entry(
        EntryKind.SOWN,
        one.sow_on,
        planting=key_of(one),
        amount=m2(one.area_m2 / 2),
    )
    entries = (*diary_of_year(plan, LAST, half), ground)
    parts = [p for p in review(season(plan, entries)).parted if p.planting == one.id]
    assert [part.cause for part in parts if abs(part.kg) > 1e-9] == [Cause.AREA]
    assert sum(part.kg for part in parts) == pytest.approx(-planned / 2)


def test_a_lost_planting_is_laid_to_its_loss(plan: Plan) -> None:
    """What slugs took whole is laid to that, and the planting's end is told by its name."""
    one = plan.plantings[0]
    found = review(season(plan, diary_of_year(plan, LAST, {one.id: Luck(lost=True)})))
    assert {p.cause for p in found.parted if p.planting == one.id} == {Cause.LOST}
    (row,) = [row for row in found.plantings if row.planting.id == one.id]
    assert row.ended == "slugs"
    assert row.picked_kg is None


def test_a_late_sowing_is_told_by_its_true_day(plan: Plan) -> None:
    """Two weeks late, it is told as begun two weeks after its day; what it gave less is laid to
    that.
    """
    one = plan.plantings[0]
    luck = {one.id: Luck(0.8, late_weeks=2)}
    found = review(season(plan, diary_of_year(plan, LAST, luck)))
    (row,) = [row for row in found.plantings if row.planting.id == one.id]
    assert row.started_on == one.sow_on + timedelta(weeks=2)
    assert {p.cause for p in found.parted if p.planting == one.id} == {Cause.LATE}


def test_a_stores_books_balance(plan: Plan) -> None:
    """Put by = eaten + given + rotted (thrown in it) + found missing + left, to the gram."""
    day = HORIZON.monday(14)
    place = {"food": "beet", "form": "cellared", "store": "cellar"}
    put = entry(EntryKind.PUT_BY, day, amount=kg(4), kind="beet/kind", **place)
    week = timedelta(weeks=1)
    entries = (
        put,
        entry(EntryKind.EATEN, day + week, amount=kg(0.7), lot=put.id),
        entry(EntryKind.GIVEN, day + week, amount=kg(0.5), lot=put.id),
        entry(
            EntryKind.COUNTED, day + 2 * week, lot=put.id, amount=kg(0), count=StoreCount(1.6, 0.3)
        ),
        entry(EntryKind.THROWN, day + 2 * week, amount=kg(0.3), lot=put.id),
    )
    (one,) = [one for one in review(season(plan, entries)).foods if one.food == "beet"]
    assert one.rotted_kg is not None
    assert one.closing_kg is not None
    assert (one.put_by_kg, one.eaten_kg, one.given_kg, one.thrown_kg) == (4, 0.7, 0.5, 0.3)
    whole = 0.7 + 0.5 + one.rotted_kg + one.unwritten_kg + one.closing_kg
    assert whole == pytest.approx(4, abs=1e-9)
    assert one.rotted_kg > 0


def test_nothing_rots_by_less_than_nothing(plan: Plan) -> None:
    """Where more was eaten of a store than was put by, nothing is said to have rotted, and what was
    found beyond the books is told; the books still balance.
    """
    day = HORIZON.monday(14)
    place = {"food": "beet", "form": "cellared", "store": "cellar"}
    put = entry(EntryKind.PUT_BY, day, amount=kg(4), kind="beet/kind", **place)
    eaten = entry(EntryKind.EATEN, day + timedelta(days=1), amount=kg(4.5), lot=put.id)
    (one,) = [one for one in review(season(plan, (put, eaten))).foods if one.food == "beet"]
    assert (one.rotted_kg, one.closing_kg) == (0.0, 0.0)
    assert one.unwritten_kg == pytest.approx(-0.5, abs=1e-9)


def test_a_picking_by_name_alone_is_shared_out(plan: Plan) -> None:
    """Three kilograms of beet, of no planting in particular, are shared among those that were to
    be picked about then; and the review says so.
    """
    pick = entry(EntryKind.PICKED, HORIZON.monday(10), food="beet", amount=kg(3))
    found = review(season(plan, (pick,)))
    mine = [row for row in found.plantings if row.picked_kg]
    assert sum(row.picked_kg or 0.0 for row in mine) == pytest.approx(3)
    assert all(row.shared for row in mine)


def test_what_cannot_be_weighed_is_told(plan: Plan) -> None:
    """Ten beets weigh two kilograms; ten heads of what nobody knows the weight of are told of."""
    day = HORIZON.monday(10)
    known = entry(EntryKind.PICKED, day, food="beet", amount=pieces(10))
    unknown = entry(EntryKind.PICKED, day, food="chard", amount=pieces(10))
    found = review(season(plan, (known, unknown)))
    by_food = {one.food: one for one in found.foods}
    assert by_food["beet"].picked_kg == pytest.approx(2)
    assert by_food["chard"].picked_kg is None
    assert len(found.told) == 1
    assert "chard" in found.told[0].where


def test_hours_and_water_are_summed_as_written(plan: Plan) -> None:
    """Ninety minutes in two entries are an hour and a half; 5 mm on 2 m² are ten litres."""
    day = HORIZON.monday(5)
    entries = (
        entry(EntryKind.WORKED, day, bed="east", minutes=60.0),
        entry(EntryKind.WEEDED, day, bed="east", minutes=30.0),
        entry(EntryKind.WATERED, day, bed="east", amount=Amount(5, Measured.MILLIMETRES)),
        entry(EntryKind.WATERED, day, bed="west", amount=Amount(7, Measured.LITRES)),
    )
    found = review(season(plan, entries))
    assert found.told_h == pytest.approx(1.5)
    assert found.water_l == pytest.approx(17)
    east = next(one for one in found.beds if one.bed == "east")
    assert (east.minutes, east.water_l) == (90.0, 10.0)


def test_only_the_span_counts(plan: Plan) -> None:
    """Of a year as planned, a span of five weeks tells what was planned for those five."""
    span = ReviewSpan(HORIZON, 10, 15)
    found = review(season(plan, diary_of_year(plan, span.last_day), span))
    assert found.picked_kg == pytest.approx(found.planned_kg)
    assert found.planned_kg < review(season(plan, ())).planned_kg
    assert span.first_day == date(2027, 5, 10)
