"""A week of the small garden: weighed, cut to its hours, and as the diary says it truly stands."""

import shutil
from collections.abc import Callable
from datetime import UTC, date, datetime, timedelta
from itertools import pairwise
from pathlib import Path

import pytest

from haulm.desk.at_hand import AtHand
from haulm.desk.planning.noting import NoteWish, note
from haulm.desk.planning.plans import UNLAID, kept_plan
from haulm.desk.season.diary import write_entry
from haulm.desk.season.diary_typed import TypedEntry, Written
from haulm.desk.season.week_hours import HoursWish, read_hours
from haulm.desk.season.week_of import week_of
from haulm.desk.season.week_waiting import feeding_for
from haulm.desk.worth.deciding import Deciding, decide, deciding_for, pending_choices
from haulm.measure.errors import FaultsFoundError
from haulm.measure.weeks import DAYS_A_WEEK, monday_of
from haulm.plan.records import Plan, Planting
from haulm.planner.one_choice import open_plantings
from haulm.season.records import key_of
from haulm.season.waiting import start_waits
from haulm.sheets.acts import JobKind
from haulm.sheets.week_list import Stands, WeekList

A_WEEK = timedelta(weeks=1)
Told = Callable[..., WeekList]


@pytest.fixture(scope="module")
def plan(planned_once: Path) -> Plan:
    """Give the small garden's plan."""
    return kept_plan(planned_once, UNLAID).plan


@pytest.fixture(scope="module")
def laid(planned_once: Path) -> AtHand:
    """Hold the small garden at hand, its beds laid out once."""
    return AtHand(planned_once, lambda: date(2027, 2, 1))


def week(path: Path, day: date, wish: HoursWish | None = None) -> WeekList:
    """Give the week of a day of a notebook, looked at on that day."""
    found = week_of(AtHand(path, lambda: day), monday_of(day), wish)
    assert found is not None
    return found


def write(path: Path, day: date, kind: str, **said: str) -> None:
    """Write an entry into the diary."""
    name = f"{kind} {day} {said}".replace(" ", "-")
    written = Written(name, datetime(2027, 1, 1, tzinfo=UTC), "laptop")
    write_entry(path, TypedEntry(kind=kind, day=day.isoformat(), **said), written, date(2029, 1, 1))


def first_start(plan: Plan) -> Planting:
    """Give the first planting that is raised in trays, and feeds."""
    return min(
        (one for one in plan.plantings if one.tray_cells and not one.standing and one.serves),
        key=lambda one: (one.sow_on, one.id),
    )


def busiest(plan: Plan) -> date:
    """Give the Monday of the week that asks most hours."""
    return plan.horizon.monday(max(plan.hours, key=lambda one: one.asked_h).week)


def test_jobs_stand_in_the_order_of_what_is_lost(laid: AtHand, plan: Plan) -> None:
    """In every week what loses more by next Monday stands before what loses less."""
    for number in range(0, 60, 3):
        found = week_of(laid, plan.horizon.monday(number))
        assert found is not None
        pressing = found.standing(Stands.DO, Stands.FALLS_OUT)
        kg = [job.next_week.weighed_kg for job in pressing]
        assert kg == sorted(kg, reverse=True)
        for job in found.standing(Stands.IF_TIME, Stands.CAN_BE_LEFT):
            assert job.next_week.portions < 0.5


def test_the_hours_given_are_kept_and_nothing_is_told_twice(laid: AtHand, plan: Plan) -> None:
    """What is to be done fits into the hours; every job stands in one place only."""
    monday = busiest(plan)
    for hours in (0.0, 0.5, 1.0, 2.0, 4.0, 40.0):
        found = week_of(laid, monday, HoursWish(in_all=hours))
        assert found is not None
        assert sum(job.minutes for job in found.chosen) <= 60 * hours + 1e-6
        ids = [job.id for job in found.jobs]
        assert len(ids) == len(set(ids))


def test_more_hours_never_lose_more(laid: AtHand, plan: Plan) -> None:
    """With every half hour more, what falls out of the week costs the same or less."""
    monday = busiest(plan)
    lost = []
    for halves in range(16):
        found = week_of(laid, monday, HoursWish(in_all=halves / 2))
        assert found is not None
        lost.append(found.cut_lost.weighed_kg)
    assert lost[0] > 0
    assert all(later <= sooner + 1e-9 for sooner, later in pairwise(lost))


def test_without_hours_told_nothing_is_cut(laid: AtHand, plan: Plan) -> None:
    """Where nobody says what hours there are, every job is to be done, and no hours are shown."""
    found = week_of(laid, busiest(plan), HoursWish())
    assert found is not None
    assert found.hours.left is None
    assert not found.standing(Stands.FALLS_OUT, Stands.CAN_BE_LEFT)


def test_without_a_plan_there_is_no_list(unplanned: Path) -> None:
    """No plan, no jobs."""
    assert week_of(AtHand(unplanned, lambda: date(2027, 2, 1)), date(2027, 2, 1)) is None


def test_a_week_beyond_the_plan_says_so(laid: AtHand) -> None:
    """A week the plan does not reach is not shown as one without work."""
    found = week_of(laid, date(2031, 5, 12))
    assert found is not None
    assert not found.reached
    assert found.jobs == ()


def test_hours_worked_this_week_come_off(planned: Path, plan: Plan) -> None:
    """An hour and a half written in the diary leaves so much less of the week."""
    day = busiest(plan) + timedelta(days=2)
    before = week(planned, day)
    assert before.hours.left is not None
    write(planned, day, "worked", minutes="90")
    write(planned, day - timedelta(days=1), "weeded", bed="north")
    after = week(planned, day)
    assert after.hours.left == pytest.approx(before.hours.left - 90)
    assert after.hours.worked == 90
    assert after.hours.untimed == 1
    assert len(after.hours.days) == DAYS_A_WEEK - 2


def test_a_job_ticked_is_off_the_list(planned: Path, plan: Plan) -> None:
    """Sown and written down, the sowing stands as done, and takes no more of the hours."""
    planting = first_start(plan)
    before = week(planned, planting.sow_on)
    name = f"{planting.id}-{JobKind.SOW_TRAYS.value}"
    assert next(job for job in before.jobs if job.id == name).stands is not Stands.DONE
    write(planned, planting.sow_on, "sown", planting=key_of(planting), amount="9 seeds")
    after = week(planned, planting.sow_on)
    assert [job.id for job in after.standing(Stands.DONE)] == [name]


def test_a_sowing_done_late_moves_its_later_jobs(planned: Path, plan: Plan) -> None:
    """Sown four weeks after its Monday it is three weeks late, and is set out three weeks later."""
    planting = first_start(plan)
    set_out = f"{planting.id}-{JobKind.SET_OUT.value}"
    planned_week = monday_of(planting.set_on)
    assert set_out in {job.id for job in week(planned, planned_week).jobs}
    late = monday_of(planting.sow_on) + timedelta(days=6 + 21)
    write(planned, late, "sown", planting=key_of(planting))
    assert set_out not in {job.id for job in week(planned, planned_week).jobs}
    later = week(planned, planned_week + 3 * A_WEEK)
    moved = next(job for job in later.jobs if job.id == set_out)
    assert moved.moved is not None
    assert moved.moved.weeks == 3


def test_what_is_lost_has_no_more_jobs(planned: Path, plan: Plan) -> None:
    """A planting that failed asks for nothing more, and the week says why."""
    planting = first_start(plan)
    write(planned, planting.sow_on, "sown", planting=key_of(planting))
    day = planting.sow_on + timedelta(days=20)
    write(planned, day, "trouble seen", planting=key_of(planting), trouble="slugs", severity="lost")
    found = week(planned, monday_of(planting.set_on))
    assert not any(job.due.job.planting == planting.id for job in found.jobs)
    assert [name for name, _ in found.gone] == [planting.id]


def test_what_nobody_ticked_is_still_open(planned: Path, plan: Plan) -> None:
    """Two weeks on, a sowing that nobody ticked is asked about, once, with what is lost by now; it
    goes when it is ticked, or when something later says that it must have been done.
    """
    planting = first_start(plan)
    name = f"{planting.id}-{JobKind.SOW_TRAYS.value}"
    day = monday_of(planting.sow_on) + 2 * A_WEEK
    still = [one for one in week(planned, day).still_open if one.due.job.id == name]
    assert len(still) == 1
    assert still[0].weeks_ago == 2
    assert still[0].may_note
    assert still[0].lost.weighed_kg <= still[0].next_week.weighed_kg
    later = Path(shutil.copy(planned, planned.with_name("later.haulm")))
    write(later, day, "emerged", planting=key_of(planting), amount="5 plants")
    assert name not in {one.due.job.id for one in week(later, day).still_open}
    write(planned, planting.sow_on, "sown", planting=key_of(planting))
    assert name not in {one.due.job.id for one in week(planned, day).still_open}


def test_what_will_not_be_done_is_noted_and_asked_no_more(planned: Path, plan: Plan) -> None:
    """Noted as not sown, it is neither open nor has it any later job."""
    planting = first_start(plan)
    day = monday_of(planting.sow_on) + 2 * A_WEEK
    note(planned, planting.id, NoteWish("not sown", day), datetime(2027, 1, 1, tzinfo=UTC))
    found = week(planned, day)
    assert not any(one.due.job.planting == planting.id for one in found.still_open)
    assert [name for name, _ in found.gone] == [planting.id]


@pytest.mark.parametrize(
    ("text", "wish"),
    [
        ("6", HoursWish(in_all=6.0)),
        ("2.5 h", HoursWish(in_all=2.5)),
        ("2,5", HoursWish(in_all=2.5)),
        ("sat 3, sun 2.5", HoursWish(by_day=(0, 0, 0, 0, 0, 3.0, 2.5))),
        ("Monday 1; Friday 0,5", HoursWish(by_day=(1.0, 0, 0, 0, 0.5, 0, 0))),
        ("0", HoursWish(in_all=0.0)),
    ],
)
def test_hours_are_read_as_typed(text: str, wish: HoursWish) -> None:
    """Hours may be told for the week or for its days, with a point or a comma."""
    assert read_hours(text) == wish


@pytest.mark.parametrize(
    "text", ["", "many", "sat", "3 sat", "sat 3, sat 2", "6, 7", "sat 25", "200"]
)
def test_hours_that_cannot_be_are_refused(text: str) -> None:
    """What names no hours, a day twice, or more than there is, is not guessed at."""
    with pytest.raises(FaultsFoundError):
        read_hours(text)


def test_hours_by_day_are_those_of_the_days_to_come(planned: Path, plan: Plan) -> None:
    """Told Saturday three and Sunday two, each has so much, and what was worked comes off first."""
    monday = busiest(plan)
    wish = HoursWish(by_day=(0, 0, 0, 0, 0, 3.0, 2.0))
    days = week(planned, monday + timedelta(days=5), wish).hours.days
    assert [day.minutes for day in days] == [180, 120]
    write(planned, monday + timedelta(days=5), "worked", minutes="60")
    days = week(planned, monday + timedelta(days=5), wish).hours.days
    assert sum(day.minutes for day in days) == 240


def test_the_quick_measure_ranks_choices_as_solving_again_does(planned_once: Path) -> None:
    """What a kind feeds, read from the plan, ranks the choices as the plans made without each do.

    ``decide`` makes and audits a plan with all else held; the quick measure only reads. Where the
    table has nothing else of the line left over the two are one; it never tells less than half or
    more than twice as much.
    """
    made = kept_plan(planned_once, UNLAID)
    deciding: Deciding = deciding_for(made, made.plan.made_on)
    feeding = feeding_for(made)
    exact, quick = [], []
    for pending in [one for one in pending_choices(deciding) if one.planned_on is not None]:
        plantings = open_plantings(made.plan, pending.kind, *pending.weeks)
        read = sum(start_waits(feeding, one).never.kg for one in plantings)
        solved = decide(deciding, pending).never.kg
        assert solved / 2 - 0.1 <= read <= 2 * solved + 0.1
        exact.append(solved)
        quick.append(read)
    assert len(exact) >= 3
    assert _ranks(exact) == _ranks(quick)


def _ranks(values: list[float]) -> list[int]:
    order = sorted(range(len(values)), key=lambda place: (round(values[place], 1), place))
    return [order.index(place) for place in range(len(values))]


def first_picked(plan: Plan) -> tuple[Planting, str, date, float]:
    """Give a planting whose food is picked in one week alone, with its Monday and weight [kg]."""
    for one in plan.plantings:
        for pick in one.picks:
            others = [p for other in plan.plantings for p in other.picks if p.food == pick.food]
            if len({p.week for p in others}) == 1 and not one.standing:
                monday = plan.horizon.monday(pick.week)
                return one, pick.food, monday, sum(p.kg for p in others)
    raise AssertionError


def test_what_is_picked_beyond_table_and_stores_is_told(planned: Path, plan: Plan) -> None:
    """Twice of what the plan takes was lifted: half of it is over, with what may be done with it;
    given away, it is over no more.
    """
    _, food, monday, kg = first_picked(plan)
    day = monday + timedelta(days=1)
    assert week(planned, day).gluts == ()
    write(planned, day, "picked", food=food, amount=f"{2 * kg:.3f} kg")
    (glut,) = week(planned, day).gluts
    assert glut.food == food
    assert glut.over_kg == pytest.approx(kg, abs=0.01)
    assert glut.uses.food == food
    write(planned, day, "given", food=food, amount=f"{2 * kg:.3f} kg")
    assert week(planned, day).gluts == ()


def test_a_week_in_which_nothing_cures_says_nothing_of_racks(laid: AtHand, plan: Plan) -> None:
    """Racks are told in the weeks in which something hangs or is lifted to hang."""
    told = [week_of(laid, plan.horizon.monday(number)) for number in range(90)]
    racks = [one.racks for one in told if one is not None]
    assert any(one is None for one in racks)
    assert all(one.hanging or one.coming for one in racks if one is not None)
