from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from haulm.desk.exchange import import_garden
from haulm.desk.plans import Made, find_planting, kept_plan, plan_garden, question_hash
from haulm.desk.question import Asked
from haulm.measure.errors import FaultsFoundError, InterruptedPlanError
from haulm.notebook.file import open_notebook
from haulm.planner.question import Effort, Progress


def test_planning_from_garden_toml_writes_nothing(made: Made, small_toml: Path) -> None:
    """A plan made straight from garden.toml leaves no file behind."""
    assert made.plan.plantings
    assert list(small_toml.parent.iterdir()) == [small_toml]


def test_a_notebook_keeps_the_plan_as_it_was_shown(
    small_toml: Path, tmp_path: Path, day: date, quick: Effort
) -> None:
    """The plan taken out of the notebook is the plan that was made, laid out the same."""
    book, _ = import_garden(small_toml, tmp_path / "small.haulm")
    made = plan_garden(book, day, quick, seed=1)
    kept = kept_plan(book)
    assert kept.plan == made.plan
    assert kept.layouts == made.layouts
    assert kept.names == made.names
    with open_notebook(book) as notebook:
        (entry,) = notebook.plans()
    assert (entry.number, entry.made_on, entry.seed, entry.effort) == (1, day, 1, "quick")


def test_the_same_garden_day_and_seed_give_the_same_plan(
    made: Made, small_toml: Path, day: date, quick: Effort
) -> None:
    """Planned again, nothing differs but the time it took."""
    again = plan_garden(small_toml, day, quick, seed=1)
    timed = replace(again.plan.solver, seconds=made.plan.solver.seconds)
    assert replace(again.plan, solver=timed) == made.plan


def test_the_mark_of_a_question_changes_with_anything_asked(asked: Asked) -> None:
    """The same question has the same mark; an hour more a week has another."""
    question = asked.question
    assert question_hash(question) == question_hash(replace(question))
    more = replace(question, hours_week=tuple(hours + 1 for hours in question.hours_week))
    darker = replace(question, too_dark=question.too_dark | {("south", "leek/winter")})
    assert len({question_hash(one) for one in (question, more, darker)}) == 3


def test_what_was_noticed_in_the_garden_stands_with_the_plan(made: Made) -> None:
    """That no place here keeps leeks is told with the plan too."""
    assert "stores, for leek" in {finding.where for finding in made.plan.findings}


def test_stopped_before_there_is_a_plan_nothing_is_written(
    small_toml: Path, tmp_path: Path, day: date, quick: Effort
) -> None:
    """Whoever stops planning at once finds the notebook byte for byte as it was."""
    book, _ = import_garden(small_toml, tmp_path / "small.haulm")
    before = book.read_bytes()

    def stop(_: Progress) -> None:
        raise KeyboardInterrupt

    with pytest.raises(InterruptedPlanError):
        plan_garden(book, day, quick, seed=1, watch=stop)
    assert book.read_bytes() == before
    assert list(tmp_path.iterdir()) == [book]


def test_garden_toml_holds_no_plan(small_toml: Path) -> None:
    """Asked for the plan in garden.toml, the answer is how to come to one."""
    with pytest.raises(FaultsFoundError, match="haulm import, then haulm plan"):
        kept_plan(small_toml)


def test_a_planting_is_found_by_id_and_a_near_one_suggested(made: Made) -> None:
    """A slip of the pen is answered with the planting that was likely meant."""
    wanted = made.plan.plantings[0]
    assert find_planting(made.plan, wanted.id) is wanted
    with pytest.raises(FaultsFoundError, match=f"Did you mean.*{wanted.id}"):
        find_planting(made.plan, wanted.id.replace("-", "_"))
    with pytest.raises(FaultsFoundError, match=r"It has: .*" + wanted.id):
        find_planting(made.plan, "zzzzzz")
