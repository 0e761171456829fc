"""What the diary teaches: what was weighed, counted and timed moves figures, when wanted."""

from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest

from haulm.catalogue.records import Figure
from haulm.desk.garden.editing import Change, change_garden, parts_of
from haulm.desk.garden.opening import open_garden
from haulm.desk.planning.plans import kept_plan
from haulm.desk.planning.question import ask
from haulm.desk.season.diary import write_entry
from haulm.desk.season.diary_typed import TypedEntry, Written
from haulm.desk.season.learning import (
    figures_named,
    keep_lessons,
    lessons_of,
    say_of,
    take_lessons_back,
)
from haulm.desk.season.lesson_records import Moved, Taught
from haulm.growing.records import Sowing
from haulm.measure.errors import FaultsFoundError
from haulm.notebook.odd_records import SaidOfRecord
from haulm.plan.records import Planting

AT = datetime(2028, 3, 1, 12, tzinfo=UTC)
LATER = date(2028, 3, 1)


def planted(path: Path) -> Planting:
    """Give a planting whose food is lifted once, and done with by the day that is asked about."""
    plan = kept_plan(path).plan
    return next(
        one
        for one in plan.plantings
        if not one.standing and one.kind.startswith("onion") and one.clear_by < LATER
    )


def write(path: Path, number: int, kind: str, day: date, **said: str) -> None:
    """Write an entry of a planting."""
    typed = TypedEntry(kind, day.isoformat(), **said)
    write_entry(path, typed, Written(f"e{number}", AT + timedelta(minutes=number), "l"), LATER)


def weigh(path: Path, times: float) -> Planting:
    """Weigh a planting's onions: so many times what was to be expected of its ground."""
    onions = planted(path)
    kg = onions.expects[0].kg * times
    write(path, 1, "picked", onions.clear_by, planting=onions.id, amount=f"{kg:.3f} kg")
    write(path, 2, "cleared", onions.clear_by, planting=onions.id)
    return onions


def moved_of(path: Path, taught: Taught, day: date = LATER) -> Moved:
    """Give the one figure of a sort that a notebook's diary moves."""
    (found,) = [one for one in lessons_of(path, day).moved if one.taught is taught]
    return found


def test_a_weighed_harvest_moves_the_yield_some_way(planned: Path) -> None:
    """Half as much again as usual, weighed once, moves the figure up, but not all the way."""
    onions = weigh(planned, 1.5)
    moved = moved_of(planned, Taught.YIELD)
    assert moved.of == onions.kind
    assert moved.usual < moved.value < 1.5 * moved.usual
    assert moved.low < moved.value < moved.high
    assert moved.next_low is not None
    assert moved.next_low < moved.low
    assert moved.records == 1
    assert 0.4 < moved.prior_weight < 0.6


def test_one_record_is_too_few_to_tell(planned: Path) -> None:
    """One weighed bed is told as too few, and planned by only if asked for by itself."""
    weigh(planned, 1.5)
    lessons = lessons_of(planned, LATER)
    moved = moved_of(planned, Taught.YIELD)
    assert moved.few
    assert keep_lessons(planned, lessons, AT) == 0
    assert keep_lessons(planned, lessons, AT, [moved.key]) == 1


def test_a_figure_is_found_by_its_name_in_the_list_or_its_key(planned: Path) -> None:
    """A figure is called as the list calls it, in capitals or not; what is none is refused."""
    weigh(planned, 1.5)
    lessons = lessons_of(planned, LATER)
    moved = moved_of(planned, Taught.YIELD)
    assert figures_named(lessons, [moved.name.upper(), moved.key]) == (moved,)
    with pytest.raises(FaultsFoundError, match="nothing moves"):
        figures_named(lessons, ["onion yield"])


def test_a_planting_still_picked_teaches_no_yield_yet(planned: Path) -> None:
    """What was picked so far is not taken for all there is."""
    onions = planted(planned)
    day = onions.clear_by - timedelta(days=10)
    write(planned, 1, "picked", day, planting=onions.id, amount="1 kg")
    moved = lessons_of(planned, day + timedelta(days=1)).moved
    assert Taught.YIELD not in {one.taught for one in moved}


def test_food_picked_nobody_knows_where_leaves_the_yield_open(planned: Path) -> None:
    """Onions that were picked in no bed may be this planting's: its weight is not all it gave."""
    onions = weigh(planned, 0.7)
    write(planned, 3, "picked", onions.clear_by - timedelta(days=3), food="onion", amount="2 kg")
    lessons = lessons_of(planned, LATER)
    assert Taught.YIELD not in {one.taught for one in lessons.moved}
    assert ["1 picking" in one.what for one in lessons.told] == [True]


def test_a_picking_of_a_bed_is_of_the_planting_there(planned: Path) -> None:
    """Who names the bed and the kind has named the planting, where there is but one of it."""
    onions = planted(planned)
    kg = f"{onions.expects[0].kg:.3f} kg"
    write(
        planned,
        1,
        "picked",
        onions.clear_by,
        bed=onions.bed,
        crop_kind=onions.kind,
        food="onion",
        amount=kg,
    )
    write(planned, 2, "cleared", onions.clear_by, planting=onions.id)
    assert moved_of(planned, Taught.YIELD).counted == ("e1",)


def test_seed_counted_up_moves_the_share_that_comes_up(planned: Path) -> None:
    """Forty of a hundred seeds up, where more were usual, brings the share down."""
    plan = kept_plan(planned).plan
    sown = next(one for one in plan.plantings if one.method == "direct" and not one.standing)
    write(planned, 1, "sown", sown.sow_on, planting=sown.id, amount="100 seeds")
    day = sown.sow_on + timedelta(days=25)
    write(planned, 2, "emerged", day, planting=sown.id, amount="40 plants")
    moved = moved_of(planned, Taught.COMES_UP)
    assert moved.figure == "methods.direct.germination"
    assert moved.value < moved.usual


def count_onions(path: Path, stood: int, lifted: int) -> Planting:
    """Count a planting's onions come up, and lifted."""
    onions = planted(path)
    day = onions.sow_on + timedelta(days=40)
    write(path, 1, "emerged", day, planting=onions.id, amount=f"{stood} plants")
    write(path, 2, "picked", onions.clear_by, planting=onions.id, amount=f"{lifted} pieces")
    write(path, 3, "cleared", onions.clear_by, planting=onions.id)
    return onions


def test_plants_counted_twice_move_the_share_that_lives(planned: Path) -> None:
    """Of a hundred onions that stood sixty were lifted: fewer live here than is usual."""
    onions = count_onions(planned, 100, 60)
    moved = moved_of(planned, Taught.LIVES)
    assert moved.figure == f"methods.{onions.method}.survival"
    assert 0.6 < moved.value < moved.usual


def test_plants_that_all_went_count_as_none(planned: Path) -> None:
    """A stand that was lost has a survival of nothing, which is asked about before it counts."""
    onions = planted(planned)
    day = onions.sow_on + timedelta(days=40)
    write(planned, 1, "emerged", day, planting=onions.id, amount="100 plants")
    lost = {"trouble": "onion fly", "severity": "lost"}
    write(planned, 2, "trouble seen", day + timedelta(days=9), planting=onions.id, **lost)
    write(planned, 3, "cleared", day + timedelta(days=9), planting=onions.id)
    moved = moved_of(planned, Taught.LIVES)
    assert moved.asked == ("e2",)


def test_a_planting_thinned_by_nobody_knows_how_many_tells_no_losses(planned: Path) -> None:
    """Plants pulled on purpose are not lost: without their number nothing is told."""
    onions = count_onions(planned, 100, 60)
    day = onions.sow_on + timedelta(days=50)
    write(planned, 4, "thinned", day, planting=onions.id)
    assert Taught.LIVES not in {one.taught for one in lessons_of(planned, LATER).moved}


def test_a_late_garden_is_learnt_and_the_next_plan_moves(planned: Path) -> None:
    """Onions lifted three weeks after their day move the kind's days, and each sowing's harvest."""
    onions = planted(planned)
    late = onions.ready[0].middle + timedelta(days=21)
    write(planned, 1, "picked", late, planting=onions.id, amount="3 kg")
    moved = moved_of(planned, Taught.READY)
    assert 0 < moved.value < 21
    before = {one.id: one for one in asked_of(planned)}
    keep_lessons(planned, lessons_of(planned, LATER), AT, [moved.key])
    after = {one.id: one for one in asked_of(planned) if one.kind == onions.kind}
    days = round(moved.value)
    both = [(before[id_].foods[0].ready, one.foods[0].ready) for id_, one in after.items()]
    assert both
    assert all(now.middle - was.middle == timedelta(days=days) for was, now in both)
    assert all(now.later_days == days for _, now in both)


def asked_of(path: Path) -> tuple[Sowing, ...]:
    """Give the sowings that the planner is asked about, a year from the plan's day on."""
    opened = open_garden(path)
    return ask(opened.garden, opened.catalogue, date(2028, 2, 1), seed=1).question.sowings


def test_a_stage_that_was_begun_late_tells_no_ready_days(planned: Path) -> None:
    """Onions set three weeks late are ready late for that alone."""
    onions = planted(planned)
    write(planned, 1, "set", onions.sow_on + timedelta(days=21), planting=onions.id)
    late = onions.ready[0].middle + timedelta(days=21)
    write(planned, 2, "picked", late, planting=onions.id, amount="3 kg")
    assert Taught.READY not in {one.taught for one in lessons_of(planned, LATER).moved}


def put_by(path: Path, soft: int) -> None:
    """Put a hundred onions by, and find so many of them soft after sixteen weeks."""
    day = date(2027, 8, 15)
    lot = {"food": "onion", "store": "pantry", "form": "cured"}
    write(path, 1, "put by", day, crop_kind="onion/sets", amount="100 pieces", **lot)
    found = {"sound": f"{100 - soft} pieces", "soft": f"{soft} pieces"}
    write(path, 2, "counted", day + timedelta(weeks=16), food="onion", store="pantry", **found)


@pytest.mark.parametrize(("soft", "longer"), [(1, True), (25, False)])
def test_counts_in_store_move_how_long_a_kind_keeps(
    planned: Path, soft: int, *, longer: bool
) -> None:
    """One soft onion of a hundred tells of good keeping, 25 of bad, and both figures follow."""
    put_by(planned, soft)
    moved = moved_of(planned, Taught.KEEPS)
    assert (moved.value > moved.usual) == longer
    keep_lessons(planned, lessons_of(planned, LATER), AT, [moved.key])
    kind = open_garden(planned).catalogue.kinds["onion/sets"]
    (way,) = [one for one in kind.givings[0].keeping if one.form.value == "cured"]
    assert way.sound_50_weeks.value == pytest.approx(moved.value, abs=0.01)
    usual_50, usual_90 = way.sound_50_weeks.replaced, way.sound_90_weeks.replaced
    assert usual_50 is not None
    assert usual_90 is not None
    assert way.sound_90_weeks.value / way.sound_50_weeks.value == pytest.approx(
        usual_90.value / usual_50.value, rel=0.01
    )


def test_a_lot_that_the_garden_tells_of_teaches_nothing_till_it_is_counted(planned: Path) -> None:
    """What lies there sound says nothing of what was lost before anybody looked."""
    lot = {"food": "onion", "kind": "onion/sets", "form": "cured", "place": "pantry"}
    told = {**lot, "amount": "8 kg", "put_by": date(2026, 8, 20)}
    change_garden(planned, [Change("in_store", "", told)], AT)
    assert Taught.KEEPS not in {one.taught for one in lessons_of(planned, LATER).moved}
    found = {"sound": "5 kg", "soft": "1 kg"}
    write(planned, 1, "counted", date(2027, 4, 20), food="onion", store="pantry", **found)
    assert moved_of(planned, Taught.KEEPS).counted == ("e1",)


def test_a_slow_picker_has_longer_hours_in_the_next_plan(planned: Path) -> None:
    """Who takes twice as long to pick is told so, and the plan's hours grow for it."""
    onions = planted(planned)
    usual = open_garden(planned).catalogue.kinds[onions.kind].labour.pick_min_kg
    assert isinstance(usual, Figure)
    minutes = f"{2 * 10 * usual.value:.0f} min"
    day = onions.clear_by
    write(planned, 1, "picked", day, planting=onions.id, amount="10 kg", minutes=minutes)
    moved = moved_of(planned, Taught.MINUTES)
    assert (moved.of, moved.usual) == ("picking", 1.0)
    assert 1 < moved.value < 2
    keep_lessons(planned, lessons_of(planned, LATER), AT, [moved.key])
    for sowing in asked_of(planned):
        before = open_garden(planned).catalogue.kinds[sowing.kind].labour.pick_min_kg
        assert isinstance(before, Figure)
        assert before.replaced is not None
        expected = moved.value * before.replaced.value
        assert sowing.foods[0].pick_min_kg == pytest.approx(expected, rel=1e-3)
    again = moved_of(planned, Taught.MINUTES)
    assert again.value == pytest.approx(moved.value)
    assert again.now == pytest.approx(moved.value, abs=1e-3)


def test_a_whole_weeks_hours_are_held_against_its_work(planned: Path) -> None:
    """The hours of a week, written as one, tell of all work where its tending is known."""
    onions = planted(planned)
    write(planned, 1, "set", onions.sow_on, planting=onions.id, amount=f"{onions.area_m2} m2")
    day = onions.in_ground_from + timedelta(days=15)
    write(planned, 2, "worked", day, minutes="600 min")
    assert moved_of(planned, Taught.MINUTES).of == "all"


def test_what_was_learnt_is_planned_by_and_learnt_anew(planned: Path) -> None:
    """Kept, the figure is the household's own, and learnt again no record counts twice."""
    onions = weigh(planned, 1.5)
    moved = moved_of(planned, Taught.YIELD)
    assert keep_lessons(planned, lessons_of(planned, LATER), AT, [moved.key]) == 1
    kind = open_garden(planned).catalogue.kinds[onions.kind]
    giving = next(one for one in kind.givings if one.food == onions.expects[0].food)
    assert giving.yield_kg_m2.value == pytest.approx(moved.value, abs=1e-4)
    again = moved_of(planned, Taught.YIELD)
    assert again.value == pytest.approx(moved.value)
    assert again.now == pytest.approx(moved.value, abs=1e-4)
    assert keep_lessons(planned, lessons_of(planned, LATER), AT, [moved.key]) == 1


def test_what_was_learnt_is_taken_back(planned: Path) -> None:
    """Taken back, the catalogue's figure stands again, and one given by hand stays."""
    weigh(planned, 1.5)
    by_hand = {"of": "leek/winter", "figure": "methods.modules.survival", "value": 0.5}
    change_garden(planned, [Change("own_figure", "", by_hand)], AT)
    keep_lessons(planned, lessons_of(planned, LATER), AT, [moved_of(planned, Taught.YIELD).key])
    assert take_lessons_back(planned, AT) == 1
    assert parts_of(planned)["own_figure"] == (by_hand,)


def test_a_figure_given_by_hand_is_never_written_over(planned: Path) -> None:
    """The household's own word stands, and the diary is held against it."""
    onions = weigh(planned, 1.5)
    figure = f"givings.{onions.expects[0].food}.yield_kg_m2"
    by_hand = {"of": onions.kind, "figure": figure, "value": 9.0}
    change_garden(planned, [Change("own_figure", "", by_hand)], AT)
    moved = moved_of(planned, Taught.YIELD)
    assert moved.by_hand
    assert moved.usual == 9.0
    with pytest.raises(FaultsFoundError):
        keep_lessons(planned, lessons_of(planned, LATER), AT, [moved.key])
    assert parts_of(planned)["own_figure"] == (by_hand,)


def test_a_slip_of_the_pen_is_asked_about(planned: Path) -> None:
    """Thirty times the usual does not count, and the entry is named."""
    weigh(planned, 30)
    moved = moved_of(planned, Taught.YIELD)
    assert moved.asked == ("e1",)
    assert moved.records == 0
    assert moved.prior_weight == 1


def test_an_odd_record_counts_once_it_is_said_to_be_right(planned: Path) -> None:
    """Said to be right it counts, set aside it is gone, and unsaid it is asked about again."""
    weigh(planned, 30)
    say_of(planned, "e1", SaidOfRecord.RIGHT, AT)
    counted = moved_of(planned, Taught.YIELD)
    assert (counted.counted, counted.asked) == (("e1",), ())
    say_of(planned, "e1", SaidOfRecord.ASIDE, AT)
    lessons = lessons_of(planned, LATER)
    assert lessons.moved == ()
    assert lessons.said == {"right": (), "aside": ("e1",)}
    say_of(planned, "e1", SaidOfRecord.NOTHING, AT)
    assert moved_of(planned, Taught.YIELD).asked == ("e1",)


def test_what_is_eaten_is_told_beside_the_table(planned: Path) -> None:
    """A kilogram of onions a week is told beside the half that the table says; nothing moves."""
    day = date(2027, 9, 6)
    where = {"food": "onion", "store": "pantry", "form": "cured"}
    write(planned, 1, "put by", day, crop_kind="onion/sets", amount="20 kg", **where)
    for week in range(5):
        later = day + timedelta(weeks=week)
        write(planned, 2 + week, "eaten", later, food="onion", store="pantry", amount="1 kg")
    (eaten,) = lessons_of(planned, date(2027, 11, 1)).eaten
    assert (eaten.food, eaten.weeks, eaten.eaten_kg) == ("onion", 5, 1.0)
    assert eaten.told_kg == pytest.approx(0.5, rel=0.05)
