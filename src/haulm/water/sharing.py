"""A limited number of cans shared out where they save most."""

from collections.abc import Sequence

import numpy as np

from haulm.water.records import Array


def share_out(worth: Sequence[Array], cans: int) -> tuple[int, ...]:
    """Share cans out so that what they save, all together, is most; exactly.

    Parameters
    ----------
    worth
        For each patch what 0, 1, 2 … cans save, as far as it can take any; the first is what none
        saves. The figures need not fall can by can: two may save what one alone does not.
    cans
        How many there are.

    Returns
    -------
    How many each patch gets, in order. Where several ways save as much, earlier patches get more.

    Notes
    -----
    The multiple-choice knapsack by dynamic programming over patches and cans (common practice).
    """
    room = max(cans, 0)
    best: Array = np.zeros(room + 1)
    chosen: list[Array] = []
    # From the last patch to the first, so that of equals the earlier patch is served first.
    for saves in reversed(worth):
        value, pick = np.full(room + 1, -np.inf), np.zeros(room + 1)
        for number in range(min(len(saves) - 1, room), -1, -1):
            total = np.full(room + 1, -np.inf)
            total[number:] = saves[number] + best[: room + 1 - number]
            better = total > value + 1e-12
            value, pick = np.where(better, total, value), np.where(better, number, pick)
        best = value
        chosen.append(pick)
    left, given = room, []
    for pick in reversed(chosen):
        given.append(int(pick[left]))
        left -= given[-1]
    return tuple(given)
