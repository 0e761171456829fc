"""What the diary teaches: weighed plantings move yields, and plans are made by them when wanted."""

from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest

from haulm.desk.garden.opening import open_garden
from haulm.desk.planning.plans import kept_plan
from haulm.desk.season.diary import write_entry
from haulm.desk.season.diary_typed import TypedEntry, Written
from haulm.desk.season.learning import keep_lessons, lessons_of
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


def test_a_weighed_harvest_moves_the_yield_some_way(planned: Path) -> None:
    """Half as much again as usual, weighed once, moves the figure up, but not all the way."""
    onions = weigh(planned, 1.5)
    moved = {one.of: one for one in lessons_of(planned, LATER).moved}[onions.kind]
    assert moved.usual < moved.value < 1.5 * moved.usual
    assert moved.low < moved.value < moved.high
    assert moved.records == 1
    assert 0.4 < moved.prior_weight < 0.6


def test_a_planting_still_picked_teaches_nothing_yet(planned: Path) -> None:
    """What was picked so far is not taken for all there is."""
    onions = planted(planned)
    day = onions.clear_by - timedelta(days=10)
    write(planned, 1, "picked", day, planting=onions.id, amount="1 kg")
    assert lessons_of(planned, day + timedelta(days=1)).moved == ()


def test_seed_counted_up_moves_the_share_that_comes_up(planned: Path) -> None:
    """Sixty of a hundred seeds up, where more were usual, brings the share down."""
    plan = kept_plan(planned).plan
    sown = next(one for one in plan.plantings if one.method == "direct" and not one.standing)
    write(planned, 1, "sown", sown.sow_on, planting=sown.id, amount="100 seeds")
    day = sown.sow_on + timedelta(days=25)
    write(planned, 2, "emerged", day, planting=sown.id, amount="40 plants")
    moved = lessons_of(planned, LATER).moved
    assert [one.figure for one in moved] == ["methods.direct.germination"]
    assert moved[0].value < moved[0].usual


def test_what_was_learnt_is_planned_by_and_learnt_anew(planned: Path) -> None:
    """Kept, the figure is the household's own, and learnt again no record counts twice."""
    onions = weigh(planned, 1.5)
    lessons = lessons_of(planned, LATER)
    assert keep_lessons(planned, lessons, AT) == 1
    kind = open_garden(planned).catalogue.kinds[onions.kind]
    giving = next(one for one in kind.givings if one.food == onions.expects[0].food)
    assert giving.yield_kg_m2.value == pytest.approx(lessons.moved[0].value, abs=1e-4)
    again = lessons_of(planned, LATER)
    assert again.moved[0].value == pytest.approx(lessons.moved[0].value)
    assert keep_lessons(planned, again, AT) == 1


def test_a_slip_of_the_pen_is_asked_about(planned: Path) -> None:
    """Thirty times the usual does not count, and the entry is named."""
    weigh(planned, 30)
    moved = lessons_of(planned, LATER).moved
    assert moved[0].asked == ("e1",)
    assert moved[0].records == 0
    assert moved[0].prior_weight == 1
