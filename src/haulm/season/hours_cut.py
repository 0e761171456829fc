"""A week's jobs cut to the hours there are, so that the least is lost."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import product
from math import ceil, floor

import numpy as np

UNITS_A_MINUTE = 5
"""Minutes are counted in fifths: a job is rounded up to the next, the hours there are down."""
MOST_TOGETHER = 8
"""Of jobs that hang together, so many are weighed in every combination."""


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

    Exact, by dynamic programming over fifths of a minute: jobs that hang together are weighed as
    one, in every combination. A job that saves nothing is not chosen here.

    Parameters
    ----------
    tasks
        The jobs.
    minutes
        What there is [minutes].

    Notes
    -----
    With s minutes left, best(s) = max over a group's combinations c of value(c) + best(s − c's
    minutes), group after group: the knapsack problem with choices, Kellerer, Pferschy and Pisinger,
    *Knapsack Problems* (from memory).
    """
    room = max(0, floor(minutes * UNITS_A_MINUTE + 1e-9))
    groups = [_combinations(group) for group in _together(tasks)]
    best = np.zeros(room + 1)
    chosen: list[np.ndarray] = []
    for combinations in groups:
        better = best.copy()
        which = np.zeros(room + 1, dtype=np.int16)
        for number, (units, value, _) in enumerate(combinations):
            if value > 0 and units <= room:
                tried = np.full(room + 1, -np.inf)
                tried[units:] = best[: room + 1 - units] + value
                gains = tried > better
                better[gains] = tried[gains]
                which[gains] = number
        best = better
        chosen.append(which)
    return _traced(groups, chosen, room)


Combination = tuple[int, float, tuple[str, ...]]
"""Jobs of one group done together: what they take [fifths of a minute], what they save, which."""


def _traced(
    groups: Sequence[Sequence[Combination]], chosen: Sequence[np.ndarray], room: int
) -> frozenset[str]:
    """Follow the choices back from the last group to the first."""
    done: list[str] = []
    for combinations, which in zip(reversed(groups), reversed(chosen), strict=True):
        units, _, ids = combinations[int(which[room])]
        done += ids
        room -= units
    return frozenset(done)


def _combinations(group: Sequence[Task]) -> list[Combination]:
    """Give every way of doing some of a group's jobs, none of them first."""
    first, rest = group[:MOST_TOGETHER], group[MOST_TOGETHER:]
    found: list[Combination] = []
    for some in product((False, True), repeat=len(first)):
        done = [task for task, is_in in zip(first, some, strict=True) if is_in]
        if all(some):
            done += rest
        ids = tuple(task.id for task in done)
        units = sum(ceil(task.minutes * UNITS_A_MINUTE - 1e-9) for task in done)
        found.append((units, worth_done(done, frozenset(ids)), ids))
    return found


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
