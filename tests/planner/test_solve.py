"""The search: held against brute force on tiny gardens, and to what every plan must be."""

from collections.abc import Iterator
from dataclasses import replace
from itertools import count

import highspy
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from haulm.measure.errors import InterruptedPlanError
from haulm.planner.audit import audit
from haulm.planner.bound import pooled_bound
from haulm.planner.make import make_plan
from haulm.planner.program import SolverFailedError
from haulm.planner.question import Effort, Progress, StopPlanningError
from haulm.planner.solve import EFFORTS, solve_plan
from haulm.planner.tables import tabulate
from planner.brute_force import cheapest, middling, tiny
from planner.tiny_gardens import USUAL, bed, food, garden, sowing, wants


@pytest.mark.parametrize("seed", range(8))
def test_no_choice_of_patches_beats_the_plan(seed: int) -> None:
    """On a tiny garden the plan costs exactly what the best of all choices of patches costs."""
    question = tiny(seed)
    plan = make_plan(question, USUAL)
    assert plan.solver.objective == pytest.approx(cheapest(question), rel=1e-6, abs=1e-6)
    assert plan.solver.gap <= 1e-4


@given(st.integers(0, 10_000), st.floats(0.0, 4.0))
@settings(max_examples=15, deadline=None)
def test_more_land_never_feeds_less(seed: int, more_m2: float) -> None:
    """With one bed larger, the best plan is no worse."""
    question = tiny(seed)
    east, west = question.beds
    larger = replace(question, beds=(east, replace(west, area_m2=west.area_m2 + more_m2)))
    first, second = (make_plan(q, USUAL).solver.objective for q in (question, larger))
    assert second <= first + 1e-5 * (1.0 + first)


@given(st.integers(0, 10_000))
@settings(max_examples=15, deadline=None)
def test_every_planting_lies_in_its_window(seed: int) -> None:
    """Nothing is sown before its window opens or after it closes, and no patch is a sliver."""
    for planting in make_plan(tiny(seed), USUAL).plantings:
        assert planting.earliest_sowing <= planting.sow_on <= planting.latest_sowing
        assert planting.area_m2 >= 0.5 - 1e-6


def test_an_appetite_no_land_could_meet_is_named() -> None:
    """A hundred tons a week leave a shortage of all but what the beds give, and a plan."""
    question = tiny(3)
    asked = tuple(replace(a, kg=tuple(1e5 * kg for kg in a.kg)) for a in question.appetites)
    plan = make_plan(replace(question, appetites=asked), USUAL)
    short, wanted = sum(s.kg for s in plan.shortages), sum(sum(a.kg) for a in asked)
    assert short == pytest.approx(wanted, rel=1e-3)
    assert all(s.sentence.startswith("short ") for s in plan.shortages)


def test_a_garden_without_beds_still_has_a_plan() -> None:
    """With no beds nothing is planted, everything is short, and a finding says to add a bed."""
    plan = make_plan(replace(tiny(1), beds=()), USUAL)
    assert plan.plantings == ()
    assert plan.findings[0].where == "the beds"
    assert sum(s.kg for s in plan.shortages) == pytest.approx(sum(r.wanted_kg for r in plan.table))


def test_a_garden_where_nothing_is_wanted_is_left_bare() -> None:
    """Nobody sows what nobody eats."""
    plan = make_plan(replace(tiny(1), appetites=()), USUAL)
    assert plan.plantings == ()
    assert plan.solver.objective == pytest.approx(0.0)


def test_the_same_seed_gives_the_same_plan() -> None:
    """Asked twice, the same question is answered by the same plan."""
    one, other = (make_plan(middling(1), USUAL) for _ in range(2))
    assert replace(one, solver=replace(one.solver, seconds=0.0)) == replace(
        other, solver=replace(other.solver, seconds=0.0)
    )


def test_more_effort_is_never_worse() -> None:
    """The first plan is not better than the one improved, and neither beats the bound."""
    quick, usual = (make_plan(middling(2), EFFORTS[name]).solver for name in ("quick", "usual"))
    assert usual.bound - 1e-6 <= usual.objective <= quick.objective + 1e-6
    assert usual.bound >= quick.bound - 1e-6


@pytest.mark.parametrize("seed", range(6))
def test_the_bound_of_a_large_garden_holds_for_a_small_one(seed: int) -> None:
    """The bound from pooled beds never lies above the cost of the proven best plan."""
    question = tiny(seed)
    best = make_plan(question, USUAL).solver.objective
    assert pooled_bound(tabulate(question), 10) <= best + 1e-6


@pytest.mark.parametrize("seed", range(6))
def test_the_bound_of_a_lone_bed_holds(seed: int) -> None:
    """Where one bed must carry a family again and again, the bound never passes the best plan."""
    question = tiny(seed)
    lone = replace(question, beds=question.beds[:1])
    best = make_plan(lone, USUAL).solver.objective
    assert pooled_bound(tabulate(lone), 10) <= best + 1e-6


def test_a_tunnel_nothing_is_sown_in_does_not_hinder_the_bound() -> None:
    """A covered bed for which no sowing is made leaves the bound as it was."""
    question = middling(1)
    beds = (*question.beds, bed("tunnel", 3.0, under_cover=True))
    without, beside = (
        pooled_bound(tabulate(replace(question, beds=b)), 1) for b in (question.beds, beds)
    )
    assert beside == pytest.approx(without)


def test_the_bound_sees_that_a_lone_bed_cannot_be_rotated() -> None:
    """Two crops of one family must follow in the only bed: the bound charges what that breaks."""
    sowings = [
        sowing("carrot", 1, 9, food("carrot", range(7, 9))),
        sowing("parsnip", 10, 18, food("parsnip", range(16, 18))),
    ]
    asked = [wants("carrot", (7, 8), 3.0), wants("parsnip", (16, 17), 3.0)]
    question = garden(sowings, asked)
    rested = replace(question, rotation_gap_years={"roots": 0})
    best, easy = (make_plan(q, USUAL).solver.objective for q in (question, rested))
    bound = pooled_bound(tabulate(question), 10)
    assert easy + 1.0 < bound <= best + 1e-6


def test_a_watcher_may_stop_and_keep_the_best() -> None:
    """Stopped once there is a plan, that plan is given; stopped before, there is none."""

    def stop_late(progress: Progress) -> None:
        if progress.objective is not None:
            raise StopPlanningError

    def stop_at_once(_: Progress) -> None:
        raise StopPlanningError

    assert solve_plan(middling(1), USUAL, stop_late).plantings
    with pytest.raises(InterruptedPlanError):
        solve_plan(middling(1), USUAL, stop_at_once)


def test_breaking_off_from_the_keyboard_keeps_nothing() -> None:
    """Whoever breaks planning off gets no plan, even where there was one already."""

    def break_off(progress: Progress) -> None:
        if progress.objective is not None:
            raise KeyboardInterrupt

    with pytest.raises(InterruptedPlanError):
        solve_plan(middling(1), USUAL, break_off)


def test_effort_is_counted() -> None:
    """No more rounds are made than the effort names."""
    plan = make_plan(middling(1), Effort("short", rounds=1, target_gap=0.0))
    assert plan.solver.rounds <= 1


def test_an_effort_stops_only_within_both_gaps() -> None:
    """Within a wide gap alone the search goes on; within both it stops at the first plan."""
    near = make_plan(middling(5), Effort("near", 3, target_gap=1.0, target_net_gap=1.0)).solver
    on = make_plan(middling(5), Effort("on", 3, target_gap=1.0, target_net_gap=0.0)).solver
    assert near.rounds == 0
    assert on.rounds > 0
    assert on.objective <= near.objective


def test_a_watcher_is_told_again_within_a_long_step() -> None:
    """A step that goes on is told of again and again, and may be stopped in its midst."""
    ticks = count()
    told: list[Progress] = []

    def stop_within(progress: Progress) -> None:
        told.append(progress)
        if len(told) > 1 and told[-2] == progress:
            raise StopPlanningError

    with pytest.raises(InterruptedPlanError):
        solve_plan(middling(1), USUAL, stop_within, clock=lambda: float(next(ticks)))
    assert told[-1].step == "how good it could be"


def test_a_plan_stopped_within_a_solving_is_whole() -> None:
    """Stopped in the midst of any solving, the best plan so far survives its audit."""
    for wanted in (5, 40, 400):
        ticks = count()
        calls = count()

        def stop(progress: Progress, wanted: int = wanted, calls: Iterator[int] = calls) -> None:
            if next(calls) >= wanted and progress.objective is not None:
                raise StopPlanningError

        def clock(ticks: Iterator[int] = ticks) -> float:
            return float(next(ticks))

        plan = solve_plan(middling(1), USUAL, stop, clock)
        assert audit(plan, middling(1)) == ()


def test_watching_changes_no_plan() -> None:
    """However often a watcher is told, the plan is the one made with nobody watching."""
    ticks = count()
    alone = make_plan(middling(1), USUAL)
    watched = solve_plan(middling(1), USUAL, lambda _: None, clock=lambda: float(next(ticks)))
    same = replace(watched.solver, seconds=alone.solver.seconds)
    assert replace(watched, solver=same) == alone


@pytest.mark.parametrize("doubts", [1, 2])
def test_a_solver_in_doubt_is_asked_again(doubts: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """A solving that ends a hair short of its tolerances is gone on with, and the plan is made."""
    sure = make_plan(middling(1), EFFORTS["quick"])
    asked = count()
    honest = highspy.Highs.getModelStatus

    def doubtful(highs: highspy.Highs) -> highspy.HighsModelStatus:
        status = honest(highs)
        return highspy.HighsModelStatus.kUnknown if next(asked) < doubts else status

    monkeypatch.setattr(highspy.Highs, "getModelStatus", doubtful)
    plan = make_plan(middling(1), EFFORTS["quick"])
    assert plan.solver.objective == pytest.approx(sure.solver.objective, rel=0.05)


def test_a_solver_that_stays_in_doubt_is_not_believed(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where the solver never comes to an end, no plan is given out."""
    unknown = highspy.HighsModelStatus.kUnknown
    monkeypatch.setattr(highspy.Highs, "getModelStatus", lambda _: unknown)
    with pytest.raises(SolverFailedError):
        make_plan(middling(1), EFFORTS["quick"])
