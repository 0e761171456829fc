"""Planning for a chosen certainty, from the desk down."""

import json
from dataclasses import replace
from datetime import date
from importlib.resources import as_file, files
from pathlib import Path

import pytest

from haulm.desk.certainty import NEAR_ENOUGH, plan_surely, price_of_certainty, trials_for
from haulm.desk.opening import open_garden
from haulm.desk.question import ask
from haulm.measure.errors import FaultsFoundError
from haulm.notebook.plan_text import plan_from_text, plan_to_text
from haulm.plan.records import Plan
from haulm.planner.question import Effort
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


def test_promises_hold_in_seasons_the_plan_never_saw(one_food: Path) -> None:
    """A plan made for 8 years in 10 holds its promise about so often in fresh seasons, and one
    made for 9 takes more ground for each kilogram it promises.
    """
    opened = open_garden(one_food)
    question = ask(opened.garden, opened.catalogue, DAY, 1).question
    tried = trials_for(question, opened)
    made = {c: plan_surely(question, tried, c, QUICK) for c in (0.5, 0.9)}
    for certainty, sure in made.items():
        for promise in sure.odds.promises:
            within = 2 * NEAR_ENOUGH + 3 * promise.error
            assert promise.held == pytest.approx(certainty, abs=within)
    assert _ground_a_kg(made[0.9].plan) > _ground_a_kg(made[0.5].plan)


def _ground_a_kg(plan: Plan) -> float:
    """Give the ground that a promised kilogram takes [m²/kg]."""
    promised = sum(row.fresh_kg + row.stored_kg for row in plan.table)
    return sum(planting.area_m2 for planting in plan.plantings) / promised


def test_a_sure_plan_says_what_it_counts_on_and_expects_the_mean(one_food: Path) -> None:
    """What a planting gives in the mean of years is told as ever; the sum says that less of it is
    counted on; and the plan is kept with its certainty, nothing lost.
    """
    opened = open_garden(one_food)
    question = ask(opened.garden, opened.catalogue, DAY, 1).question
    plan = plan_surely(question, trials_for(question, opened), 0.8, QUICK).plan
    assert plan.certainty is not None
    assert plan.certainty.share == 0.8
    yields = {s.id: {f.food: f.yield_kg_m2 for f in s.foods} for s in question.sowings}
    for planting in plan.plantings:
        assert "counted on" in planting.sum[-1]
        for expects in planting.expects:
            whole = planting.area_m2 * yields[planting.sowing][expects.food]
            assert expects.kg <= whole * 1.001
    assert plan_from_text(plan_to_text(plan)) == plan
    assert plan_from_text(plan_to_text(replace(plan, certainty=None))).certainty is None


def test_what_cannot_be_asked_is_refused(one_food: Path) -> None:
    """Ten years in ten cannot be promised by anyone."""
    with pytest.raises(FaultsFoundError, match="10 years in 10"):
        price_of_certainty(one_food, DAY, [1.0], QUICK, 1)


def test_the_command_tells_what_certainty_costs(one_food: Path, haulm: Haulm) -> None:
    """`haulm certainty` sets the certainties side by side, for reading and as data."""
    told = haulm(
        "certainty", str(one_food), *ON, "--years", "6", "--years", "9", "--effort", "quick"
    )
    assert told.code == 0
    for words in ("6 years in 10", "9 years in 10", "ground in use", "never saw"):
        assert words in told.out
    data = haulm("certainty", str(one_food), *ON, "--years", "6", "--effort", "quick", "--json")
    assert json.loads(data.out)[0]["certainty"] == 0.6
