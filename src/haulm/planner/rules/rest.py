"""Rest: in a year no family takes more ground than leaves it its years of rest.

Asked of ground that is not parted into beds yet. Over the years of a ring a family's stands lie
side by side, none on another: so of ground under one cover, it holds no more than its share in any
year of clearing. Enough of it for every family is needed for a ring to be laid; whether families of
unlike rest fit side by side in every year is shown only once there are beds.
"""

from collections import defaultdict
from dataclasses import dataclass
from math import inf

import numpy as np

from haulm.planner.arrays import Floats, Ints
from haulm.planner.assembler import Assembler
from haulm.planner.columns import Columns
from haulm.planner.rules.registry import REST
from haulm.planner.tables import Tables


@dataclass(frozen=True, slots=True)
class Resting:
    """One family in one year under one cover: its sowings, and the most ground they may take."""

    family: str
    year: int
    under_cover: bool
    sowings: Ints
    most_m2: float


def restings(tables: Tables) -> tuple[Resting, ...]:
    """Group the sowings of each family that is held to a share of the ground, by cover and year."""
    ground, shares = tables.ground, tables.question.most_of_family
    groups: dict[tuple[str, int, bool], list[int]] = defaultdict(list)
    for s, sowing in enumerate(ground.sowings):
        if shares.get(sowing.family, inf) < inf:
            groups[sowing.family, int(ground.year[s]), sowing.under_cover].append(s)
    return tuple(
        Resting(
            family,
            year,
            cover,
            np.array(members, dtype=np.int64),
            shares[family] * sum(b.area_m2 for b in ground.beds if b.under_cover is cover),
        )
        for (family, year, cover), members in groups.items()
    )


def rest(model: Assembler, tables: Tables, columns: Columns) -> None:
    """For each family, cover and year of clearing: Σ X ≤ its share of the ground + over [m²]."""
    held = restings(tables)
    if not held:
        return
    over = model.columns(len(held), cost=tables.question.prices.rest_m2)
    lengths = [len(one.sowings) for one in held]
    row = np.repeat(np.arange(len(held)), lengths)
    model.rows(
        REST.name,
        (np.full(len(held), -np.inf), np.array([one.most_m2 for one in held])),
        [
            (row, columns.total[np.concatenate([one.sowings for one in held])], np.ones(len(row))),
            (np.arange(len(held)), over, -np.ones(len(held))),
        ],
    )


def beyond_rest(tables: Tables, area_m2: Floats) -> tuple[tuple[Resting, float], ...]:
    """Give each family, year and cover with more than its share, and by how much [m²].

    Parameters
    ----------
    tables
        The tables.
    area_m2
        (P) area of each pair [m²].
    """
    ground = tables.ground
    taken = np.bincount(ground.pair_sowing, weights=area_m2, minlength=len(ground.sowings))
    over = ((one, float(taken[one.sowings].sum()) - one.most_m2) for one in restings(tables))
    return tuple((one, beyond) for one, beyond in over if beyond > 0)
