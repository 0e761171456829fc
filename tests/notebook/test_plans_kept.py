"""Plans in the notebook: each comes back as it went in, with what makes it again."""

from datetime import date
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from haulm.measure.errors import FaultsFoundError
from haulm.measure.weeks import horizon_from
from haulm.notebook.file import create_notebook, open_notebook
from haulm.notebook.plan_text import plan_from_text, plan_to_text
from haulm.plan.records import Plan, SolverReport

DAY = date(2027, 2, 1)


def empty_plan(seed: int) -> Plan:
    """Give a plan of nothing, made with a seed."""
    return Plan(
        garden="Two beds",
        made_on=DAY,
        horizon=horizon_from(DAY),
        beds=(),
        plantings=(),
        table=(),
        helpings=(),
        lots=(),
        hours=(),
        shortages=(),
        broken=(),
        solver=SolverReport(0, 0, 0, 0, 0.5, 1, "usual", seed),
    )


BRIEFLY = settings(max_examples=10, deadline=None, suppress_health_check=[HealthCheck.too_slow])


@BRIEFLY
@given(st.from_type(Plan))
def test_a_plan_survives_as_text(plan: Plan) -> None:
    """Every figure, date and word of a plan comes back from the notebook's text."""
    # Compared as written out: a figure that is not a number equals nothing, not even itself.
    assert repr(plan_from_text(plan_to_text(plan))) == repr(plan)


def test_plans_are_numbered_and_kept_with_what_makes_them_again(tmp_path: Path) -> None:
    """Plans keep their order, their inputs' hash, seed and version; the newest is given first."""
    path = tmp_path / "garden.haulm"
    first, second = empty_plan(1), empty_plan(2)
    with create_notebook(path) as notebook:
        assert notebook.write_plan(first, "abc", "0.1.0") == 1
        assert notebook.write_plan(second, "def", "0.1.1") == 2
    with open_notebook(path) as notebook:
        assert notebook.plan() == second
        assert notebook.plan(1) == first
        entries = notebook.plans()
    assert [(entry.number, entry.question_hash, entry.version) for entry in entries] == [
        (1, "abc", "0.1.0"),
        (2, "def", "0.1.1"),
    ]
    assert [entry.seed for entry in entries] == [1, 2]


@pytest.mark.parametrize(("number", "words"), [(None, "no plan yet"), (7, "no plan 7")])
def test_a_plan_that_is_not_there_is_told(tmp_path: Path, number: int | None, words: str) -> None:
    """Asking for a plan that was never made says how to make one."""
    path = tmp_path / "garden.haulm"
    with create_notebook(path) as notebook, pytest.raises(FaultsFoundError) as caught:
        notebook.plan(number)
    assert str(caught.value) == (
        f"fault: garden.haulm: there is {words} in it. Make one with haulm plan."
    )
