"""Spread: a crop in more than two patches is not staked on one bed.

Counted for each crop at risk (its family has years to rest) and each year of clearing, where
there is more than one bed of its cover. With two patches or fewer there is nothing to spread.
"""

from collections import defaultdict
from dataclasses import dataclass

import numpy as np

from haulm.planner.arrays import Flags, Floats, Ints
from haulm.planner.assembler import Assembler
from haulm.planner.columns import Columns
from haulm.planner.rules.registry import SPREAD
from haulm.planner.tables import Tables

FEW_PATCHES = 2


@dataclass(frozen=True, slots=True)
class Stake:
    """One crop in one year: its pairs, and the bed of each."""

    crop: str
    year: int
    pairs: Ints
    beds: Ints


@dataclass(frozen=True, slots=True)
class StakeColumns:
    """The unknowns of one stake: whether it is in many patches, and what each bed holds beyond."""

    stake: Stake
    many: Ints
    beds: Ints
    over: Ints


def stakes(tables: Tables) -> tuple[Stake, ...]:
    """Group the pairs by crop at risk and year, where there is more than one bed of their cover."""
    ground = tables.ground
    groups: dict[tuple[str, int], list[int]] = defaultdict(list)
    for pair, s in enumerate(ground.pair_sowing):
        sowing = ground.sowings[s]
        if tables.question.rotation_gap_years.get(sowing.family, 0) > 0:
            groups[sowing.crop, int(ground.year[s])].append(pair)
    found = []
    for (crop, year), members in groups.items():
        pairs = np.array(members, dtype=np.int64)
        covers = {ground.sowings[s].under_cover for s in ground.pair_sowing[pairs]}
        if sum(bed.under_cover in covers for bed in ground.beds) > 1:
            found.append(Stake(crop, year, pairs, ground.pair_bed[pairs]))
    return tuple(found)


def beyond_share(tables: Tables, stake: Stake, area_m2: Floats) -> dict[int, float]:
    """Give the area [m²] by which each bed exceeds its share of a crop in a year, by bed."""
    area = area_m2[stake.pairs]
    if int((area > 0).sum()) <= FEW_PATCHES:
        return {}
    held = np.bincount(stake.beds, weights=area)
    over = held - tables.question.most_in_one_bed * area.sum()
    return {int(bed): float(over[bed]) for bed in np.nonzero(over > 0)[0]}


def spread(
    model: Assembler, tables: Tables, columns: Columns, used: Ints
) -> tuple[StakeColumns, ...]:
    """For each stake and bed: area there − share · area everywhere ≤ over, if patches exceed two.

    ``many`` (0 or 1) must be 1 once more than two pairs are used; while it is 0 the row is slack.
    """
    laid = []
    for stake in stakes(tables):
        count = len(stake.pairs)
        if count <= FEW_PATCHES:
            continue
        many = model.columns(1, upper=1.0, whole=True)
        model.rows(
            SPREAD.name,
            (np.array([-np.inf]), np.array([float(FEW_PATCHES)])),
            [
                (np.zeros(count, dtype=np.int64), used[stake.pairs], np.ones(count)),
                (np.zeros(1, dtype=np.int64), many, np.array([-float(count - FEW_PATCHES)])),
            ],
        )
        beds = np.unique(stake.beds)
        over = model.columns(len(beds), cost=tables.question.prices.spread_m2)
        slack = (1.0 - tables.question.most_in_one_bed) * FEW_PATCHES
        for bed, column in zip(beds, over, strict=True):
            room = slack * tables.ground.beds[bed].area_m2
            _row(model, tables, columns, (stake, bed, column), many=(many, room))
        laid.append(StakeColumns(stake, many, beds, over))
    return tuple(laid)


def spread_of(model: Assembler, tables: Tables, columns: Columns, used: Flags) -> None:
    """Lay the same rows for a known support: only for crops in more than two of the pairs used."""
    for stake in stakes(tables):
        if int(used[stake.pairs].sum()) > FEW_PATCHES:
            for bed in np.unique(stake.beds[used[stake.pairs]]):
                over = model.columns(1, cost=tables.question.prices.spread_m2)
                _row(model, tables, columns, (stake, bed, over[0]))


def _row(
    model: Assembler,
    tables: Tables,
    columns: Columns,
    what: tuple[Stake, int, int],
    many: tuple[Ints, float] | None = None,
) -> None:
    stake, bed, over = what
    none = np.zeros(len(stake.pairs), dtype=np.int64)
    one = none[:1]
    share = tables.question.most_in_one_bed
    entries = [
        (none, columns.area[stake.pairs], (stake.beds == bed) - share),
        (one, np.array([over]), np.array([-1.0])),
    ]
    room = 0.0
    if many is not None:
        column, room = many
        entries.append((one, column, np.array([room])))
    model.rows(SPREAD.name, (np.array([-np.inf]), np.array([room])), entries)
