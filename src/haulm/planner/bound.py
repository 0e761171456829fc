"""The bound: what no plan could beat, from a smaller model in which all beds are one.

Each sowing keeps one area for all beds that cost it the same, and one whole number of patches.
Ground is counted together for every set of beds that some sowings are held to. All of a plan's
patches, added up, satisfy this model at no higher cost, so that its bound is a bound of the whole.
Rotation within the plan is kept where a bed is the only one of its cover; elsewhere rotation,
spread, and the rows that wait are left out, which can only lower the bound.
"""

from collections import defaultdict
from dataclasses import replace

import numpy as np

from haulm.planner.arrays import Floats, Ints
from haulm.planner.assembler import Assembler, LinearModel, without_waiting
from haulm.planner.build import lay_areas
from haulm.planner.ground_tables import fullest_weeks
from haulm.planner.lone_beds import lone_rotation
from haulm.planner.program import solve_whole
from haulm.planner.rules.registry import PATCH_SIZE
from haulm.planner.stopping import Manner
from haulm.planner.tables import Tables

CLOSE = 1e-3
"""The bound's own gap at which it is good enough."""

Class = tuple[int, float, tuple[int, ...]]
"""A sowing, the years of rest missing where it would stand, and the pins that keep it there."""


def pooled_bound(tables: Tables, nodes: int, manner: Manner | None = None) -> float:
    """Bound the objective of the whole model from below.

    Parameters
    ----------
    tables
        The tables.
    nodes
        How many nodes the solver may open.
    manner
        How it is run; None for the question's seed, with nobody watching.
    """
    manner = manner or Manner(tables.question.seed)
    return solve_whole(pooled_model(tables), manner, nodes, gaps=(CLOSE, 0.0), dives=False).bound


def pooled_model(tables: Tables) -> LinearModel:
    """Build the model with all beds pooled and patches counted by sowing."""
    ground = tables.ground
    model, columns = lay_areas(_pooled(tables))
    count = ground.chosen_count
    most = np.zeros(count)
    least = np.full(count, np.inf)
    np.maximum.at(most, ground.pair_sowing, ground.most_m2)
    np.minimum.at(least, ground.pair_sowing, ground.least_m2)
    sown = np.nonzero(most > 0)[0]
    of_sowing = np.full(count, -1, dtype=np.int64)
    row, one, nothing = np.arange(len(sown)), np.ones(len(sown)), np.zeros(len(sown))
    without = np.full(len(sown), -np.inf)
    total = columns.total[sown]
    largest = [(row, total, one)]
    smallest = [(row, total, -one)]
    at = np.searchsorted(sown, np.arange(count))
    for sowings, patches in _lay_patches(model, tables):
        of_sowing[sowings] = patches
        largest.append((at[sowings], patches, -most[sowings]))
        smallest.append((at[sowings], patches, least[sowings]))
    model.rows(PATCH_SIZE.name, (without, nothing), largest)
    model.rows(PATCH_SIZE.name, (without, nothing), smallest)
    lone_rotation(model, tables, columns.total, of_sowing)
    return without_waiting(model.seal())


def _lay_patches(model: Assembler, tables: Tables) -> list[tuple[Ints, Ints]]:
    """Lay numbers of patches by price: (sowings, columns), those of the plan before last.

    A sowing may have as many patches at a price as it has pairs at that price.
    """
    sowing, price = tables.ground.pair_sowing, tables.patch_prices
    laid = []
    for each in np.unique(price)[::-1]:
        sowings, pairs = np.unique(sowing[price == each], return_counts=True)
        upper = pairs.astype(np.float64)
        laid.append(
            (sowings, model.columns(len(sowings), cost=float(each), upper=upper, whole=True))
        )
    return laid


def _pooled(tables: Tables) -> Tables:
    """Make all beds one, but for what a pin keeps in some of them."""
    ground = tables.ground
    pinned: list[list[int]] = [[] for _ in ground.pair_sowing]
    for row, each in enumerate(tables.kept):
        for pair in each.pairs:
            pinned[pair].append(row)
    members: dict[Class, list[int]] = defaultdict(list)
    for pair, (s, missing) in enumerate(zip(ground.pair_sowing, ground.missing, strict=True)):
        members[int(s), float(missing), tuple(pinned[pair])].append(pair)
    classes = list(members)
    beds_of = [frozenset(ground.pair_bed[members[c]].tolist()) for c in classes]
    most = [float(ground.most_m2[members[c]].sum()) for c in classes]
    rows = _shared_rows(tables, classes, beds_of)
    none = np.zeros(0, dtype=np.int64)
    one_bed = replace(
        ground,
        pair_sowing=np.array([s for s, _, _ in classes], dtype=np.int64),
        pair_bed=np.full(len(classes), -1, dtype=np.int64),
        least_m2=np.zeros(len(classes)),
        most_m2=np.array(most, dtype=np.float64),
        missing=np.array([missing for _, missing, _ in classes], dtype=np.float64),
        before=none,
        after=none,
        after_missing=np.zeros(0),
        clique_bed=np.full(len(rows[0]), -1, dtype=np.int64),
        clique_week=np.zeros(len(rows[0]), dtype=np.int64),
        clique_free_m2=rows[0],
        in_clique=rows[1],
        of_pair=rows[2],
    )
    kept = tuple(
        replace(each, pairs=np.array([i for i, (_, _, by) in enumerate(classes) if row in by]))
        for row, each in enumerate(tables.kept)
    )
    return replace(tables, ground=one_bed, kept=kept)


def _shared_rows(
    tables: Tables, classes: list[Class], beds_of: list[frozenset[int]]
) -> tuple[Floats, Ints, Ints]:
    """For each set of beds and fullest week: what may stand on no other bed fits on these."""
    ground = tables.ground
    sowing = np.array([s for s, _, _ in classes], dtype=np.int64)
    start = np.array([max(0, s.ground_from_week) for s in ground.sowings], dtype=np.int64)
    end = np.array([s.ground_until_week for s in ground.sowings], dtype=np.int64)
    free: list[float] = []
    in_row: list[Ints] = [np.zeros(0, np.int64)]
    of_class: list[Ints] = [np.zeros(0, np.int64)]
    for beds in sorted({*beds_of, *_covers(tables)}, key=sorted):
        inside = np.array([i for i, b in enumerate(beds_of) if b <= beds], dtype=np.int64)
        here = np.nonzero(np.isin(ground.fixed_bed, sorted(beds)))[0]
        everything = np.concatenate([sowing[inside], here])
        area = sum(ground.beds[bed].area_m2 for bed in beds)
        for week in fullest_weeks(start[everything], end[everything], tables.weeks):
            held = inside[(start[sowing[inside]] <= week) & (end[sowing[inside]] > week)]
            stands = here[(start[here] <= week) & (end[here] > week)]
            in_row.append(np.full(len(held), len(free), dtype=np.int64))
            of_class.append(held)
            free.append(max(0.0, area - float(ground.fixed_m2[stands].sum())))
    return np.array(free), np.concatenate(in_row), np.concatenate(of_class)


def _covers(tables: Tables) -> list[frozenset[int]]:
    """Give all beds in the open, and all beds under cover."""
    beds = tables.ground.beds
    sides = [
        frozenset(i for i, bed in enumerate(beds) if bed.under_cover is side)
        for side in (False, True)
    ]
    return [side for side in sides if side]
