"""Planning for a chosen certainty, from the desk down."""

import json
from collections.abc import Mapping
from dataclasses import replace
from datetime import UTC, date, datetime
from importlib.resources import as_file, files
from pathlib import Path

import pytest

from haulm.desk.garden.editing import Change, change_garden, mark_of, parts_of
from haulm.desk.garden.exchange import import_garden
from haulm.desk.garden.opening import Opened, open_garden
from haulm.desk.odds.certainty import (
    FRESH,
    SEARCHING,
    patches_of,
    plan_as_asked,
    plan_surely,
    trials_for,
)
from haulm.desk.odds.certainty_prices import (
    LineGap,
    gap_changes,
    price_of_certainty,
    with_certainty,
)
from haulm.desk.odds.certainty_told import is_short, not_so_sure
from haulm.desk.odds.living import odds_in
from haulm.desk.planning.plans import kept_plan, plan_garden
from haulm.desk.planning.question import ask
from haulm.forecast.safety import counted_share, yield_spread
from haulm.measure.errors import FaultsFoundError, InterruptedPlanError
from haulm.notebook.plan_text import plan_from_text, plan_to_text
from haulm.plan.records import Held, Plan
from haulm.planner.audit import audit
from haulm.planner.counted import as_counted
from haulm.planner.make import make_plan
from haulm.planner.question import Effort, PlanQuestion, Progress, StopPlanningError
from shell import Haulm

DAY = date(2027, 2, 1)
ON = ("--on", "2027-02-01")
QUICK = Effort("quick", rounds=0, target_gap=0.05)


@pytest.fixture(scope="module")
def one_food(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Give the example garden of one food."""
    toml = tmp_path_factory.mktemp("one-food") / "garden.toml"
    with as_file(files("haulm.examples") / "one-food" / "garden.toml") as example:
        toml.write_text(example.read_text(encoding="utf-8"), encoding="utf-8")
    return toml


@pytest.fixture(scope="module")
def opened(one_food: Path) -> Opened:
    """Open it."""
    return open_garden(one_food)


def asked(opened: Opened, certainty: float | None) -> PlanQuestion:
    """Ask for a plan of a certainty."""
    garden = with_certainty(opened.garden, certainty)
    return ask(garden, opened.catalogue, DAY, 1).question


@pytest.fixture(scope="module")
def made(opened: Opened) -> Mapping[float, Plan]:
    """Plan for 5 and for 9 years in 10."""
    return {c: plan_as_asked(asked(opened, c), opened, QUICK) for c in (0.5, 0.9)}


def test_promises_hold_in_seasons_the_plan_never_saw(
    opened: Opened, made: Mapping[float, Plan]
) -> None:
    """What a plan made for 5 or for 9 years in 10 promises holds so often in seasons that neither
    its search nor its own trial ever saw, but for what so many seasons cannot tell.
    """
    for certainty, plan in made.items():
        question = asked(opened, certainty)
        unseen = trials_for(replace(question, seed=77), opened).fresh
        odds = odds_in(unseen, plan, 4000, 77 + FRESH)
        assert odds.promises
        for promise in odds.promises:
            assert promise.held >= certainty - 3 * promise.error
        assert plan.certainty is not None
        assert not any(is_short(held, certainty) for held in plan.certainty.held)
        assert not not_so_sure(plan, question)


def test_more_certainty_takes_more_ground_for_each_kilogram(made: Mapping[float, Plan]) -> None:
    """To promise a kilogram 9 years in 10 takes more ground than to promise it 5 years in 10."""
    assert _ground_a_kg(made[0.9]) > _ground_a_kg(made[0.5])


def _ground_a_kg(plan: Plan) -> float:
    """Give the ground that a promised kilogram takes [m²/kg]."""
    promised = sum(row.fresh_kg + row.stored_kg for row in plan.table)
    return sum(planting.area_m2 for planting in plan.plantings) / promised


def test_what_one_planting_counts_on_lies_near_the_closed_form(
    opened: Opened, made: Mapping[float, Plan]
) -> None:
    """A single food in a single bed is counted for about the lognormal's own share of its mean
    (the newsvendor's closed form); a store that ages fast and a planting that fails take a little.
    """
    question = asked(opened, 0.9)
    spread = max(
        yield_spread(food.yield_low_kg_m2, food.yield_high_kg_m2)
        for sowing in question.sowings
        for food in sowing.foods
        if food.food == "garlic"
    )
    sure = made[0.9].certainty
    assert sure is not None
    found = {year: share for food, year, share in sure.counted if food == "garlic"}
    lifted = {pick.week // 52 for p in made[0.9].plantings for pick in p.picks}
    for year in lifted:
        assert 0.75 * counted_share(spread, 0.9) < found[year] < 1.25 * counted_share(spread, 0.9)


def test_a_sure_plan_says_what_it_counts_on_and_expects_the_mean(
    opened: Opened, made: Mapping[float, Plan]
) -> None:
    """What a planting gives in the mean of years is told as ever; the sum says that less of it is
    counted on; and the plan is kept with its certainty, nothing lost.
    """
    question, plan = asked(opened, 0.9), made[0.9]
    assert plan.certainty is not None
    assert set(plan.certainty.lines) == {(a.line, 0.9) for a in question.appetites}
    yields = {s.id: {f.food: f.yield_kg_m2 for f in s.foods} for s in question.sowings}
    for planting in plan.plantings:
        assert "counted on" in planting.sum[-1]
        assert "9 years in 10" in planting.sum[-1]
        for expects in planting.expects:
            whole = planting.area_m2 * yields[planting.sowing][expects.food]
            assert expects.kg <= whole * 1.001
    assert plan_from_text(plan_to_text(plan)) == plan
    assert plan_from_text(plan_to_text(replace(plan, certainty=None))).certainty is None


def test_a_sure_plan_is_added_up_again_by_the_question_of_means(
    opened: Opened, made: Mapping[float, Plan]
) -> None:
    """The audit takes a sure plan for what it is: it finds nothing wrong with it, and does where
    the plan would pass for one of means, for a surer one, or hides how much it counts on.
    """
    question, plan = asked(opened, 0.9), made[0.9]
    assert plan.certainty is not None
    assert not audit(plan, question)
    counted = tuple((food, year, 0.9 * share) for food, year, share in plan.certainty.counted)
    wrong = (
        (replace(plan, certainty=None), question),
        (plan, asked(opened, None)),
        (plan, asked(opened, 0.8)),
        (replace(plan, certainty=replace(plan.certainty, counted=counted)), question),
        (
            replace(plan, plantings=tuple(replace(p, sum=p.sum[:-1]) for p in plan.plantings)),
            question,
        ),
        (replace(plan, certainty=replace(plan.certainty, held=(Held("cake", 0, 1, 0),))), question),
    )
    for told, answered in wrong:
        assert audit(told, answered)


def test_what_is_not_so_sure_as_asked_is_told(opened: Opened, made: Mapping[float, Plan]) -> None:
    """A promise that holds less often than its line asks is named with its year and its odds."""
    plan = made[0.9]
    assert plan.certainty is not None
    line = plan.certainty.lines[0][0]
    short = replace(plan.certainty, held=(Held(line, 1, 0.81, 0.006),))
    (told,) = not_so_sure(replace(plan, certainty=short), asked(opened, 0.9))
    assert "2028/29 holds 8.1 years in 10, not 9" in told.what
    near = replace(plan.certainty, held=(Held(line, 1, 0.89, 0.006),))
    assert not not_so_sure(replace(plan, certainty=near), asked(opened, 0.9))


def test_each_line_may_have_a_certainty_of_its_own(small_toml: Path) -> None:
    """A line told apart is planned for its own certainty; the others for the garden's, and where
    that has none, of means: their foods are counted whole.
    """
    opened = open_garden(small_toml)
    first, *rest = opened.garden.household.table
    table = (replace(first, certainty=0.9), *rest)
    garden = replace(opened.garden, household=replace(opened.garden.household, table=table))
    question = ask(garden, opened.catalogue, DAY, 1).question
    assert [a.certainty for a in question.appetites] == [0.9, *(None for _ in rest)]
    plan = plan_as_asked(question, opened, QUICK)
    assert plan.certainty is not None
    assert plan.certainty.lines == ((first.id, 0.9),)
    assert {food for food, _, _ in plan.certainty.counted} <= set(first.foods)
    assert {held.line for held in plan.certainty.held} <= {first.id}
    surer = ask(with_certainty(garden, 0.5), opened.catalogue, DAY, 1).question
    assert [a.certainty for a in surer.appetites] == [0.9, *(0.5 for _ in rest)]


def test_the_garden_keeps_its_certainty_and_plans_are_made_for_it(
    one_food: Path, tmp_path: Path
) -> None:
    """From the day a garden asks for 8 years in 10 its plans are made so, and kept so; a plan from
    before is told to be outdated.
    """
    book, _ = import_garden(one_food, tmp_path / "garden.haulm")
    assert plan_garden(book, DAY, QUICK, seed=1).plan.certainty is None
    assert kept_plan(book).since == ()
    before = parts_of(book)["garden"][0]
    surer = Change("garden", mark_of(before), dict(before) | {"certainty": 8})
    change_garden(book, [surer], datetime(2027, 2, 1, 9, tzinfo=UTC))
    assert open_garden(book).garden.household.certainty == 0.8
    assert kept_plan(book).since
    plan_garden(book, DAY, QUICK, seed=1)
    kept = kept_plan(book)
    assert kept.since == ()
    assert kept.plan.certainty is not None
    assert {share for _, share in kept.plan.certainty.lines} == {0.8}
    assert kept.plan.certainty.held


class Watched:
    """Hears how planning goes, and stops it at a step."""

    def __init__(self, stop_at: int | None = None) -> None:
        self.told: list[Progress] = []
        self._stop_at = stop_at

    def __call__(self, progress: Progress) -> None:
        """Hear one step."""
        self.told.append(progress)
        if self._stop_at is not None and len(self.told) >= self._stop_at:
            raise StopPlanningError


def test_each_step_is_told_and_stopping_keeps_the_best_so_far(opened: Opened) -> None:
    """The long way is told in order from nothing to all of it; stopped on the way, the plan so far
    is kept with the odds it has; stopped before there is one, nothing is.
    """
    question = asked(opened, 0.8)
    tried = trials_for(question, opened)
    heard = Watched()
    plan_surely(question, tried, QUICK, heard)
    done = [progress.done for progress in heard.told]
    assert done == sorted(done)
    assert {progress.step for progress in heard.told} > {SEARCHING, "a first plan"}
    stopped = plan_surely(question, tried, QUICK, Watched(stop_at=7)).plan
    assert stopped.certainty is not None
    assert stopped.certainty.held
    assert not audit(stopped, question)
    assert len(heard.told) > 7
    with pytest.raises(InterruptedPlanError):
        plan_surely(question, tried, QUICK, Watched(stop_at=1))


def test_the_same_question_gives_the_same_sure_plan(
    opened: Opened, made: Mapping[float, Plan]
) -> None:
    """Planned again from the same seed, a sure plan is the same, but for the seconds it took."""
    again = plan_as_asked(asked(opened, 0.9), opened, QUICK)
    seconds = replace(again.solver, seconds=made[0.9].solver.seconds)
    assert replace(again, solver=seconds) == made[0.9]


def test_what_cannot_be_asked_is_refused(one_food: Path) -> None:
    """Ten years in ten cannot be promised by anyone."""
    with pytest.raises(FaultsFoundError, match="10 years in 10"):
        price_of_certainty(one_food, DAY, [1.0], QUICK, 1)


def test_a_gap_vanishes_only_where_nothing_of_it_is_left(one_food: Path) -> None:
    """A gap that is only shorter with a surer plan does not vanish, nor does a moved one; what is
    short of another line at that time is another gap.
    """
    _, (price,) = price_of_certainty(one_food, DAY, [None], QUICK, 1)
    one, other = LineGap("leek", 10, 14, 3.0), LineGap("leek", 30, 33, 1.0)
    before = replace(price, poor_gaps=(one, other))
    after = replace(price, poor_gaps=(LineGap("leek", 12, 13, 1.0), LineGap("kale", 30, 33, 2.0)))
    changes = gap_changes(before, after)
    assert changes.vanish == (other,)
    assert changes.appear == (LineGap("kale", 30, 33, 2.0),)


def test_the_command_tells_what_certainty_costs(one_food: Path, haulm: Haulm) -> None:
    """`haulm certainty` sets means and certainties side by side, for reading and as data."""
    told = haulm("certainty", str(one_food), *ON, "--years", "9", "--effort", "quick")
    assert told.code == 0
    for words in ("9 years in 10", "ground in use", "never saw", "planting stock to buy"):
        assert words in told.out
    data = haulm("certainty", str(one_food), *ON, "--effort", "quick", "--json")
    assert [price["certainty"] for price in json.loads(data.out)] == [None, 0.5, 0.8, 0.9]


def test_what_is_planned_beside_a_sure_plan_counts_as_it_does(
    opened: Opened, made: Mapping[float, Plan]
) -> None:
    """A plan made only to be held against a sure one counts each food for what that one counts it,
    and asks for no certainty itself; held against one of means it counts them whole.
    """
    question, plan = asked(opened, 0.9), made[0.9]
    counted = as_counted(question, plan.certainty)
    assert {appetite.certainty for appetite in counted.appetites} == {None}
    beside = make_plan(replace(counted, before=patches_of(plan)), QUICK)
    assert beside.certainty is None
    for line in {row.line for row in plan.table}:
        short, beside_kg = (
            sum(row.short_kg for row in one.table if row.line == line) for one in (plan, beside)
        )
        assert beside_kg == pytest.approx(short, rel=0.2, abs=0.5)
    means = as_counted(question, None)
    assert [s.foods for s in means.sowings] == [s.foods for s in question.sowings]
    assert make_plan(question, QUICK).certainty is None
