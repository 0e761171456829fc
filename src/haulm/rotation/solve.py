"""Solving a rotation: a first one with its bound, then families planned anew in turn."""

from collections.abc import Callable, Iterator
from dataclasses import replace
from itertools import combinations

import numpy as np

from haulm.planner.arrays import Floats, Ints
from haulm.planner.assembler import LinearModel
from haulm.planner.program import solve_whole
from haulm.planner.stopping import Manner
from haulm.rotation.answer import write_rotation
from haulm.rotation.programme import RotationColumns, lay_programme
from haulm.rotation.records import Rotation, RotationQuestion

SMALL = 80
"""A rotation of no more yes-or-no choices than this is solved whole, to the proven best."""
SMALL_NODES = 50_000
FIRST_NODES = 1
BLOCK_NODES = 1
CLOSE = 2e-3
"""How near a family is planned anew, as a share of all that is priced [1]."""
GOOD = 0.01
"""A rotation this near its bound is looked at no further [1]."""
WORTH = 1e-6

Watch = Callable[[str, float], None]
"""Told the step and the share done; what it raises ends the solving with nothing kept."""


def solve_rotation(question: RotationQuestion, watch: Watch | None = None) -> Rotation:
    """Give families to beds over the years asked for.

    Every family is planned anew in all beds and years, the others staying in the beds and years
    they have, and then every two; until the bound is near, or nothing is left to try. What is tried
    is counted, never timed: the same question gives the same rotation.

    Parameters
    ----------
    question
        Everything the rotation depends on.
    watch
        Told of each step.
    """
    model, columns = lay_programme(question)
    manner = Manner(question.seed, _look_up(watch))
    start = _nothing_given(model, columns)
    if model.whole.sum() <= SMALL:
        found = solve_whole(model, manner, SMALL_NODES, start=start)
    else:
        found = solve_whole(model, manner, FIRST_NODES, gaps=(GOOD, 0.0), start=start)
    values = start if found.values is None else found.values
    bound = max(0.0, found.bound)
    if model.whole.sum() > SMALL:
        values = _improved(model, columns, (values, bound), manner, watch)
    return write_rotation(question, columns, values, bound)


def _nothing_given(model: LinearModel, columns: RotationColumns) -> Floats:
    """Write the rotation that gives nothing: everything is left out."""
    values = np.zeros(len(model.cost))
    for slices in columns.left.values():
        for column in slices:
            values[column] = model.upper[column]
    for column in columns.unserved.values():
        values[column] = 1.0
    return values


def _improved(
    model: LinearModel,
    columns: RotationColumns,
    so_far: tuple[Floats, float],
    manner: Manner,
    watch: Watch | None,
) -> Floats:
    values, bound = so_far
    whole = np.nonzero(model.whole)[0]
    blocks = list(_blocks(columns, manner.seed))
    for number, free in enumerate(blocks):
        now = float(model.cost @ values)
        if now - bound <= GOOD * now:
            break
        if watch is not None:
            watch("trying families in other beds", number / len(blocks))
        fixed = np.setdiff1d(whole, free)
        lower, upper = model.lower.copy(), model.upper.copy()
        lower[fixed] = upper[fixed] = np.round(values[fixed])
        part = replace(model, lower=lower, upper=upper)
        start = np.clip(values, lower, upper)
        found = solve_whole(part, manner, BLOCK_NODES, gaps=(CLOSE, 0.0), start=start)
        if found.values is not None and found.objective < now - WORTH:
            values = found.values
    return values


def _blocks(columns: RotationColumns, seed: int) -> Iterator[Ints]:
    """Give what is chosen anew at a time: families alone, and alone again, and then in twos."""
    families = sorted({family for _, _, family in columns.used})
    stands = list(columns.planted.values())
    alone = [(family,) for family in families]
    draw = np.random.default_rng(seed)
    for sweep in (alone, alone, list(combinations(families, 2))):
        for number in draw.permutation(len(sweep)):
            chosen = [c for (_, _, family), c in columns.used.items() if family in sweep[number]]
            yield np.array([*chosen, *stands], dtype=np.int64)


def _look_up(watch: Watch | None) -> Callable[[], None] | None:
    if watch is None:
        return None
    return lambda: watch("giving families to beds", 0.0)
