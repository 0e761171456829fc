"""A plan is made beside the pages: told step by step, stopped with the best so far, given up."""

import os
from collections.abc import Callable, Iterator
from datetime import date
from pathlib import Path
from time import monotonic, sleep

import pytest

from haulm.desk.planning.beside import Order
from haulm.desk.planning.plans import kept_plan
from haulm.measure.errors import FaultsFoundError
from haulm.web.planning import Making, Planner, State

DAY = date(2027, 2, 1)
PATIENCE_S = 60.0


@pytest.fixture
def planner() -> Iterator[Planner]:
    """Give a planner that is ended with the test."""
    made = Planner()
    yield made
    made.close()


def wait(making: Making, until: Callable[[Making], bool]) -> None:
    """Wait for a plan in the making to come to a point."""
    end = monotonic() + PATIENCE_S
    while not until(making):
        assert monotonic() < end, making
        sleep(0.02)


def an_order(notebook: Path, effort: str = "quick", *, propose: bool = False) -> Order:
    """Order a plan of a notebook."""
    return Order(notebook, DAY, effort, 1, propose, os.getpid())


def test_a_plan_comes_out_kept(planner: Planner, unplanned: Path) -> None:
    """Who orders a first plan finds it in the notebook."""
    making = planner.start(an_order(unplanned))
    wait(making, lambda one: one.state is not State.RUNNING)
    assert making.state is State.MADE
    assert making.steps
    assert making.steps[-1].done == pytest.approx(0.95)
    assert kept_plan(unplanned).plan.plantings


def test_a_second_order_does_not_start_a_second_plan(planner: Planner, unplanned: Path) -> None:
    """Two presses of the button make one plan."""
    first = planner.start(an_order(unplanned))
    assert planner.start(an_order(unplanned)) is first
    wait(first, lambda one: one.state is not State.RUNNING)


def test_what_is_given_up_leaves_no_trace(planner: Planner, unplanned: Path) -> None:
    """A plan that was given up is not kept, and the notebook is as it was."""
    before = unplanned.read_bytes()
    making = planner.start(an_order(unplanned, "thorough"))
    planner.give_up()
    assert making.state is State.GIVEN_UP
    planner.close()
    assert unplanned.read_bytes() == before
    with pytest.raises(FaultsFoundError):
        kept_plan(unplanned)


def test_stopping_keeps_the_best_so_far(planner: Planner, unplanned: Path) -> None:
    """Who stops the search gets a plan all the same, added up again like any other."""
    making = planner.start(an_order(unplanned, "thorough"))
    planner.stop()
    wait(making, lambda one: one.state is not State.RUNNING)
    assert making.stopping
    if making.state is State.MADE:
        assert kept_plan(unplanned).plan.plantings
    else:
        assert "before there was a plan" in making.findings[0].what


def test_faults_come_back_as_findings(planner: Planner, tmp_path: Path) -> None:
    """A notebook that is not there is told in words, not as a broken page."""
    making = planner.start(an_order(tmp_path / "none.haulm"))
    wait(making, lambda one: one.state is not State.RUNNING)
    assert making.state is State.FAILED
    assert "no such notebook" in making.findings[0].what
