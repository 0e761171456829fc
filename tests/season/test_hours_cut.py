"""A week's jobs cut to the hours there are: held against every way of choosing them."""

from itertools import combinations
from math import ceil

import pytest
from hypothesis import given
from hypothesis import strategies as st

from haulm.season.hours_cut import UNITS_A_MINUTE, Task, cut_to, worth_done


@st.composite
def weeks_of_tasks(draw: st.DrawFn) -> list[Task]:
    """Draw a week: up to nine jobs, some of which are of no use unless an earlier one is done."""
    count = draw(st.integers(0, 9))
    tasks: list[Task] = []
    for number in range(count):
        minutes = draw(st.integers(0, 300)) / UNITS_A_MINUTE
        worth = draw(st.integers(0, 50)) / 10
        earlier = [task.id for task in tasks]
        others = (
            draw(st.lists(st.sampled_from(earlier), max_size=2, unique=True)) if earlier else []
        )
        after = tuple((other, draw(st.integers(1, 50)) / 10) for other in others)
        tasks.append(Task(f"job {number}", minutes, worth, after))
    return tasks


def best_by_trying(tasks: list[Task], minutes: float) -> float:
    """Try every choice of jobs that fits, and give the most that any saves."""
    return max(
        worth_done(tasks, frozenset(task.id for task in some))
        for size in range(len(tasks) + 1)
        for some in combinations(tasks, size)
        if sum(task.minutes for task in some) <= minutes + 1e-9
    )


@given(weeks_of_tasks(), st.integers(0, 1500))
def test_no_other_choice_that_fits_saves_more(tasks: list[Task], fifths: int) -> None:
    """Of all the ways to spend the hours, the one told loses least, and it fits into them."""
    minutes = fifths / UNITS_A_MINUTE
    done = cut_to(tasks, minutes)
    assert sum(task.minutes for task in tasks if task.id in done) <= minutes + 1e-6
    assert worth_done(tasks, done) == pytest.approx(best_by_trying(tasks, minutes))


@given(weeks_of_tasks(), st.integers(0, 800), st.integers(0, 800))
def test_more_hours_never_lose_more(tasks: list[Task], fifths: int, more: int) -> None:
    """With another hour in the week nothing is lost that could be saved without it."""
    less = worth_done(tasks, cut_to(tasks, fifths / UNITS_A_MINUTE))
    assert worth_done(tasks, cut_to(tasks, (fifths + more) / UNITS_A_MINUTE)) >= less - 1e-9


def test_a_short_job_worth_much_goes_before_a_long_one_worth_a_little_more() -> None:
    """Two short jobs that save three kilograms together go before a long one that saves two."""
    tasks = [Task("long", 60, 2.0), Task("short", 20, 1.5), Task("other", 30, 1.5)]
    assert cut_to(tasks, 60) == {"short", "other"}


def test_what_is_not_picked_is_not_put_by() -> None:
    """Putting by saves nothing where there is no time to pick: both are done, or neither."""
    tasks = [Task("pick", 40, 0.2), Task("freeze", 30, 0.0, (("pick", 3.0),)), Task("hoe", 50, 1.0)]
    assert cut_to(tasks, 70) == {"pick", "freeze"}
    assert cut_to(tasks, 60) == {"hoe"}


def test_a_job_is_never_taken_to_be_shorter_than_it_is() -> None:
    """Minutes are rounded up to the next fifth, so that what is told to fit does fit."""
    tasks = [Task(f"job {number}", 10.01, 1.0) for number in range(6)]
    assert len(cut_to(tasks, 60)) == 5
    assert ceil(10.01 * UNITS_A_MINUTE) / UNITS_A_MINUTE == pytest.approx(10.2)


def test_many_jobs_that_hang_together_still_fit() -> None:
    """A dozen pickings for one jar are weighed together: in half an hour the jar is filled with the
    four that fit beside it.
    """
    picks = [Task(f"pick {number}", 5, 0.1) for number in range(12)]
    jar = Task("jar", 10, 0.0, tuple((pick.id, 0.5) for pick in picks))
    done = cut_to([jar, *picks], 70)
    assert done == {task.id for task in (jar, *picks)}
    few = cut_to([jar, *picks], 30)
    assert sum(task.minutes for task in (jar, *picks) if task.id in few) <= 30
    assert worth_done([jar, *picks], few) == pytest.approx(4 * (0.1 + 0.5))
