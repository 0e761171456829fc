"""All beds as one: the tables in which patches are weighed before they have a bed.

Ground is counted together for every set of beds that some sowings are held to. All of a plan's
patches, added up, fit these tables at no higher cost. Rotation within the plan and spread, which
ask which bed, are not in them.
"""

from collections import defaultdict
from dataclasses import replace

import numpy as np

from haulm.planner.arrays import Floats, Ints
from haulm.planner.ground_tables import fullest_weeks
from haulm.planner.tables import Tables

Class = tuple[int, float, tuple[int, ...]]
"""A sowing, the years of rest missing where it would stand, and the pins that keep it there."""


def pooled(tables: Tables) -> Tables:
    """Make all beds one, but for what a pin keeps in some of them.

    Each sowing keeps one area for all beds that cost it the same: those are the pairs now. What
    one may be at least is one patch's least; at most, what all its beds hold together.
    """
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
        least_m2=np.array([ground.least_m2[members[c]].min() for c in classes], dtype=np.float64),
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
