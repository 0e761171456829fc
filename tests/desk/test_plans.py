from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from gardens import small_garden
from haulm.desk.garden.exchange import import_garden
from haulm.desk.planning.plans import Made, find_planting, kept_plan, plan_garden, question_hash
from haulm.desk.planning.question import Asked
from haulm.measure.errors import FaultsFoundError, InterruptedPlanError
from haulm.measure.findings import Grade
from haulm.notebook.file import open_notebook
from haulm.planner.question import Effort, Progress

SOWN_SINCE = """
[[standing]]
bed = "north"
kind = "french bean/dwarf"
method = "direct"
started = 2027-05-20
area = "1 m2"
"""


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
    assert kept.since == ()
    with open_notebook(book) as notebook:
        (entry,) = notebook.plans()
    assert (entry.number, entry.made_on, entry.seed, entry.effort) == (1, day, 1, "quick")


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ('amount = "0.5 kg"', 'amount = "0.6 kg"'),
        ("every_week = 8", "every_week = 6"),
        ("latitude = 47.6", "latitude = 47.9"),
    ],
)
def test_a_garden_changed_since_its_plan_is_warned_of(
    tmp_path: Path, day: date, quick: Effort, old: str, new: str
) -> None:
    """Where more is eaten, fewer hours are given or the place is another than when the plan was
    made, the plan is still given, with a warning that it answers the garden of then.
    """
    book, _ = import_garden(small_garden(tmp_path), None)
    made = plan_garden(book, day, quick, seed=1)
    import_garden(small_garden(tmp_path, (old, new)), None)
    kept = kept_plan(book)
    assert kept.plan == made.plan
    (warning,) = kept.since
    assert warning.grade is Grade.WARNING
    assert "Plan it again" in warning.remedy


def test_what_was_started_since_the_plan_warns_too(
    tmp_path: Path, day: date, quick: Effort
) -> None:
    """Beans sown in May cannot have been known to a plan of February, which is still given."""
    book, _ = import_garden(small_garden(tmp_path), None)
    plan_garden(book, day, quick, seed=1)
    toml = small_garden(tmp_path)
    toml.write_text(toml.read_text(encoding="utf-8") + SOWN_SINCE, encoding="utf-8")
    import_garden(toml, None)
    assert len(kept_plan(book).since) == 1


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
