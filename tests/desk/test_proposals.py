from datetime import UTC, date, datetime
from pathlib import Path

import pytest

from gardens import small_garden
from haulm.desk.garden.editing import Change, change_garden, mark_of, parts_of
from haulm.desk.garden.exchange import import_garden
from haulm.desk.planning.plans import (
    Made,
    drop_proposal,
    keep_proposal,
    kept_plan,
    plan_garden,
    proposed_plan,
    question_hash,
)
from haulm.desk.planning.question import Asked, ask
from haulm.measure.errors import FaultsFoundError
from haulm.notebook.file import open_notebook
from haulm.planner.question import Before, Effort

AT = datetime(2027, 2, 1, 12, 0, tzinfo=UTC)


@pytest.fixture(scope="session")
def content(made: Made, asked: Asked, tmp_path_factory: pytest.TempPathFactory) -> bytes:
    """Give the bytes of a notebook of the small garden that keeps its plan."""
    book, _ = import_garden(small_garden(tmp_path_factory.mktemp("kept")), None)
    with open_notebook(book, writing=True) as notebook:
        notebook.write_plan(made.plan, question_hash(asked.question), "0.1.0")
    return book.read_bytes()


@pytest.fixture
def book(content: bytes, tmp_path: Path) -> Path:
    """Give a notebook of the small garden that keeps its plan."""
    path = tmp_path / "small.haulm"
    path.write_bytes(content)
    return path


def propose(book: Path, made: Made, asked: Asked) -> int:
    """Propose the plan already made, as if made again."""
    with open_notebook(book, writing=True) as notebook:
        mark = question_hash(asked.question)
        return notebook.write_plan(made.plan, mark, "0.1.0", kept=False)


def change(book: Path, every_week: int) -> None:
    """Give other hours of work."""
    (was,) = parts_of(book)["hours"]
    change_garden(book, [Change("hours", mark_of(was), {"every_week": every_week})], AT)


def test_a_plan_proposed_leaves_the_kept_one_as_it_is(
    book: Path, made: Made, day: date, quick: Effort
) -> None:
    """Until a proposal is kept, the plan that holds is the one of before; then it is the new."""
    proposed = plan_garden(book, day, quick, seed=2, propose=True)
    assert kept_plan(book).plan == made.plan
    waiting = proposed_plan(book)
    assert waiting is not None
    assert waiting.plan == proposed.plan
    assert waiting.since == ()
    assert waiting.number == proposed.number == 2
    keep_proposal(book, 2)
    assert kept_plan(book).plan == proposed.plan
    assert proposed_plan(book) is None


def test_the_patches_kept_are_asked_about_when_planning_again(
    book: Path, made: Made, day: date, quick: Effort
) -> None:
    """Planning again with nothing changed, most of what was planned is planned again: a change has
    to be worth its price.
    """
    again = plan_garden(book, day, quick, seed=1, propose=True)
    earlier = {(planting.sowing, planting.bed) for planting in made.plan.plantings}
    now = {(planting.sowing, planting.bed) for planting in again.plan.plantings}
    assert len(earlier & now) >= len(earlier) / 2


def test_the_plan_before_is_no_part_of_what_is_asked(made: Made, asked: Asked, day: date) -> None:
    """The question's mark rests on the garden alone, whatever was planned before; patches of beds
    or weeks that are gone are not asked about.
    """
    patches = [
        Before(planting.sowing, planting.bed, planting.area_m2) for planting in made.plan.plantings
    ]
    gone = (
        Before(patches[0].sowing, "sold", 1.0),
        Before("leek/winter:direct:1999-W01", "north", 1),
    )
    again = ask(made.garden, made.catalogue, day, 1, (*patches, *gone)).question
    assert again.before == tuple(patches)
    assert question_hash(again) == question_hash(asked.question)


def test_a_proposal_dropped_is_gone(book: Path, made: Made, asked: Asked) -> None:
    """A proposal that was dropped can no longer be kept; the plan kept before goes on holding."""
    number = propose(book, made, asked)
    drop_proposal(book)
    assert proposed_plan(book) is None
    with pytest.raises(FaultsFoundError, match="no longer the newest"):
        keep_proposal(book, number)
    assert kept_plan(book).number == 1


def test_only_the_proposal_that_was_looked_at_is_kept(book: Path, made: Made, asked: Asked) -> None:
    """Where another plan was proposed meanwhile, even after the first was dropped, the one on the
    page is refused: no number is given twice.
    """
    first = propose(book, made, asked)
    drop_proposal(book)
    second = propose(book, made, asked)
    assert second == first + 1
    with pytest.raises(FaultsFoundError, match="no longer the newest"):
        keep_proposal(book, first)
    keep_proposal(book, second)
    assert kept_plan(book).number == second


def test_a_proposal_for_another_garden_is_not_kept(book: Path, made: Made, asked: Asked) -> None:
    """Where the garden was changed since a plan was proposed, the plan is shown with a warning and
    not kept; with the garden as it was, it is.
    """
    number = propose(book, made, asked)
    change(book, 5)
    proposed = proposed_plan(book)
    assert proposed is not None
    assert len(proposed.since) == 1
    with pytest.raises(FaultsFoundError, match="has changed since"):
        keep_proposal(book, number)
    change(book, 8)
    keep_proposal(book, number)


def test_a_plan_kept_at_once_leaves_no_proposal(book: Path, made: Made, asked: Asked) -> None:
    """When a plan is made and kept from the command line, an older proposal no longer waits."""
    propose(book, made, asked)
    with open_notebook(book, writing=True) as notebook:
        notebook.write_plan(made.plan, question_hash(asked.question), "0.1.0")
        assert notebook.proposal() is None
        assert [entry.number for entry in notebook.plans()] == [1, 3]
