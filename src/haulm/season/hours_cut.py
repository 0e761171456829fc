"""A week's jobs cut to the hours there are, so that the least is lost."""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import product
from math import ceil, floor

import numpy as np
from numpy.typing import NDArray

UNITS_A_MINUTE = 5
"""Minutes are counted in fifths: a job is rounded up to the next, the hours there are down."""
MOST_HUBS = 8
"""Of the jobs that hold others together, so many are weighed in every combination."""


@dataclass(frozen=True, slots=True)
class Task:
    """A job to weigh against the hours there are.

    Attributes
    ----------
    id
        Its name.
    minutes
        What it takes [minutes].
    worth
        What is lost if it is left.
    after
        (another job, what is lost unless both are done): putting by what has to be picked first.
    """

    id: str
    minutes: float
    worth: float
    after: tuple[tuple[str, float], ...] = ()


def worth_done(tasks: Iterable[Task], done: frozenset[str]) -> float:
    """Add up what is saved from loss by doing some jobs."""
    return sum(
        task.worth + sum(worth for other, worth in task.after if other in done)
        for task in tasks
        if task.id in done
    )


def cut_to(tasks: Sequence[Task], minutes: float) -> frozenset[str]:
    """Choose the jobs that fit into some minutes so that what is left undone costs least.

    By dynamic programming over fifths of a minute. Of jobs that hang together those that hold the
    others together, as a jar holds its pickings, are weighed in every combination; with each the
    others are weighed one by one. That is exact while no group is held together by more than
    `MOST_HUBS` jobs; of a group beyond that the choice fits, and something may be lost. A job that
    saves nothing is not chosen here.

    Parameters
    ----------
    tasks
        The jobs.
    minutes
        What there is [minutes].

    Notes
    -----
    With s minutes left, best(s) = max over a group's ways w of value(w) + best(s − w's minutes),
    group after group: the knapsack problem with choices, Kellerer, Pferschy and Pisinger, *Knapsack
    Problems* (from memory).
    """
    room = max(0, floor(minutes * UNITS_A_MINUTE + 1e-9))
    best = np.zeros(room + 1)
    spent: list[list[_Spent]] = []
    for group in _together(tasks):
        ways = [_spend(best, way) for way in _ways(group)]
        best = np.max([way.best for way in ways], axis=0)
        spent.append(ways)
    return _traced(spent, room)


@dataclass(frozen=True, slots=True)
class _Way:
    """One way with the jobs that hold a group together: those done, and what the others save."""

    done: tuple[Task, ...]
    others: tuple[tuple[Task, float], ...]


@dataclass(frozen=True, slots=True)
class _Spent:
    """What a way comes to: the most saved with s fifths to spend, and which others that takes.

    ``taken`` has a row for each of the way's others, and a column for each s.
    """

    way: _Way
    best: NDArray[np.float64]
    taken: tuple[NDArray[np.bool_], ...]


def _spend(before: NDArray[np.float64], way: _Way) -> _Spent:
    """Spend time on a group in one way; ``before`` is what the groups before it save."""
    worth = worth_done(way.done, frozenset(task.id for task in way.done))
    best = _later(before, sum(map(_units, way.done))) + worth
    taken = []
    for task, saves in way.others:
        with_it = _later(best, _units(task)) + saves
        taken.append(with_it > best)
        best = np.maximum(best, with_it)
    return _Spent(way, best, tuple(taken))


def _later(best: NDArray[np.float64], units: int) -> NDArray[np.float64]:
    """Give what is saved with so many fifths less; where there are not so many it cannot be."""
    later = np.full_like(best, -np.inf)
    if units < len(best):
        later[units:] = best[: len(best) - units]
    return later


def _units(task: Task) -> int:
    return ceil(task.minutes * UNITS_A_MINUTE - 1e-9)


def _traced(spent: Sequence[Sequence[_Spent]], room: int) -> frozenset[str]:
    """Follow the choices back from the last group to the first."""
    done: list[Task] = []
    for ways in reversed(spent):
        chosen = max(ways, key=lambda way: way.best[room])
        others = tuple(zip(chosen.way.others, chosen.taken, strict=True))
        for (task, _), taken in reversed(others):
            if taken[room]:
                done.append(task)
                room -= _units(task)
        done += chosen.way.done
        room -= sum(map(_units, chosen.way.done))
    return frozenset(task.id for task in done)


def _ways(group: Sequence[Task]) -> Iterator[_Way]:
    """Give every way with the jobs that hold a group together, with none of them done first."""
    hubs = _hubs(group)
    rest = [task for task in group if task not in hubs]
    for some in product((False, True), repeat=len(hubs)):
        done = tuple(task for task, is_in in zip(hubs, some, strict=True) if is_in)
        yield _Way(done, tuple((task, _saves(task, done)) for task in rest))


def _saves(task: Task, done: Sequence[Task]) -> float:
    """Give what a job saves beside others that are done."""
    of_them = {one.id for one in done}
    own = sum(worth for other, worth in task.after if other in of_them)
    theirs = sum(worth for one in done for other, worth in one.after if other == task.id)
    return task.worth + own + theirs


def _hubs(group: Sequence[Task]) -> tuple[Task, ...]:
    """Choose jobs such that of any two that hang together one is chosen, the busiest first."""
    there = {task.id for task in group}
    pairs = {(task.id, other) for task in group for other, _ in task.after if other in there}
    hubs: list[Task] = []
    while pairs and len(hubs) < MOST_HUBS:
        counts = Counter(id_ for pair in pairs for id_ in pair)
        hubs.append(max(group, key=lambda task: counts[task.id]))
        pairs = {pair for pair in pairs if hubs[-1].id not in pair}
    return tuple(hubs)


def _together(tasks: Sequence[Task]) -> list[list[Task]]:
    """Put jobs that hang together into one group, in their order."""
    group_of = {task.id: {task.id} for task in tasks}
    for task in tasks:
        for other, _ in task.after:
            if other in group_of and group_of[other] is not group_of[task.id]:
                joined = group_of[task.id] | group_of[other]
                for one in joined:
                    group_of[one] = joined
    groups: dict[int, list[Task]] = {}
    for task in tasks:
        groups.setdefault(id(group_of[task.id]), []).append(task)
    return list(groups.values())
