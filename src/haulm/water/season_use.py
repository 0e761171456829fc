"""What crops take over their seasons, watered one way or another, in many runs of weather."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from haulm.water.balance_tables import BalanceTables
from haulm.water.ground_balance import ground_balance
from haulm.water.records import Array, Climate, Watering

RUNS_AT_ONCE = 25
"""So many runs are reckoned side by side: whole years of every patch would not fit in memory."""


@dataclass(frozen=True, slots=True)
class Stay:
    """Some days of a row of the balance: its place, and the days from and until."""

    row: int
    first_day: int
    until_day: int


@dataclass(frozen=True, slots=True, eq=False)
class SeasonUse:
    """What was taken in each stay, shape (stays, runs) [mm].

    ``by_leaves_mm`` is what leaves took, ``in_all_mm`` with what the soil gave to the air besides.
    """

    by_leaves_mm: Array
    in_all_mm: Array


def season_use(
    tables: BalanceTables, climate: Climate, watering: Watering | None, stays: Sequence[Stay]
) -> SeasonUse:
    """Add up what crops take over their stays; nothing else of the balance is kept.

    Raises
    ------
    FaultsFoundError
        As `ground_balance`.
    """
    runs = climate.use_mm.shape[0]
    leaves, whole = np.zeros((len(stays), runs)), np.zeros((len(stays), runs))
    for first in range(0, runs, RUNS_AT_ONCE):
        some = slice(first, first + RUNS_AT_ONCE)
        part = replace(climate, rain_mm=climate.rain_mm[some], use_mm=climate.use_mm[some])
        told = ground_balance(tables, part, watering)
        for at, stay in enumerate(stays):
            days = slice(stay.first_day, stay.until_day)
            by_leaves = told.crop_use_mm[stay.row, :, days].sum(axis=-1)
            leaves[at, some] = by_leaves
            whole[at, some] = by_leaves + told.evaporated_mm[stay.row, :, days].sum(axis=-1)
    return SeasonUse(leaves, whole)


def left_by_thirst(watered: SeasonUse, thirsty: SeasonUse, response: Array) -> Array:
    """Give the share of its yield that each stay keeps where it was watered less [1].

    1 − Ky (1 − ETa / ETm) with the soil's own evaporation the same in both, since a dry surface
    costs the crop nothing: what its leaves took less, against all that is taken where it is watered
    when due. Never under 0.

    Parameters
    ----------
    watered, thirsty
        The same stays, watered when due and as they were, shape (stays, runs).
    response
        Ky of each stay, shape (stays,) [1].

    Notes
    -----
    FAO-56, equation 90, after FAO-33.
    """
    missed = np.maximum(watered.by_leaves_mm - thirsty.by_leaves_mm, 0.0)
    share = missed / np.maximum(watered.in_all_mm, 1e-9)
    return np.asarray(np.clip(1.0 - response[:, None] * share, 0.0, 1.0))
