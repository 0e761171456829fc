"""First plans: what to sow and how much is weighed with all beds as one; then it finds its beds.

Weighed bed by bed, areas spread over beds that are all alike, and slope scaling lets many of them
die that together were worth a patch. With all beds as one a sowing has one area. What it is to be
is chosen there, crop by crop; the patches are placed so that families rest; and a second dive, with
every patch open that breaks nothing of what is placed, fits areas to beds.
"""

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from haulm.planner.arrays import Flags, Floats
from haulm.planner.blocks import Improver, complete
from haulm.planner.build import build_areas, build_choices
from haulm.planner.dive import Diver, Draft
from haulm.planner.objective import unreachable_cost
from haulm.planner.placing import place_patches
from haulm.planner.pooled import pooled
from haulm.planner.settle import place
from haulm.planner.stopping import Manner
from haulm.planner.tables import Tables

MOST_PAIRS = 200
CLOSE = 2e-4
"""With all beds as one, a crop is planned anew to within this share of what a plan can change."""
HALF = 0.5


def first_plans(tables: Tables, diver: Diver, manner: Manner) -> Iterator[Draft]:
    """Make first plans: what was placed as it is, and what a dive near it finds.

    Parameters
    ----------
    tables, diver
        The tables, and the diver of the whole garden.
    manner
        What is drawn from, and who watches.
    """
    wanted = weighed_m2(tables, manner)
    ground = tables.ground
    pinned = place(ground, tables.kept, wanted[ground.pair_sowing])
    held = np.bincount(ground.pair_sowing, weights=pinned, minlength=len(wanted))
    start = place_patches(tables, np.maximum(0.0, wanted - held), pinned, manner)
    yield diver.fit(start)
    yield diver.dive_near(start, open_beside(tables, start))


def weighed_m2(tables: Tables, manner: Manner) -> Floats:
    """Choose (S) the area of each sowing with all beds as one: a dive, then each crop anew [m²]."""
    pool = _lone_bed(tables)
    diver = Diver(pool, build_areas(pool), manner)
    draft = diver.dive()
    chosen = build_choices(pool)
    improver = Improver(pool, chosen, manner)
    values = complete(pool, chosen, draft)
    promise = draft.solution.reduced_cost[chosen.columns.area]
    close = CLOSE * (draft.objective - unreachable_cost(tables))
    for crop in range(improver.crops):
        values = improver.improve(values, [crop], promise, (MOST_PAIRS, close))
    draft = diver.polish(values[chosen.used] > HALF)
    return np.bincount(
        pool.ground.pair_sowing, weights=draft.area_m2, minlength=tables.ground.chosen_count
    )


def open_beside(tables: Tables, start_m2: Floats) -> Flags:
    """Mark the pairs that break nothing of what is placed, of the sowings that are placed."""
    ground = tables.ground
    used = start_m2 > 0
    sown = np.zeros(ground.chosen_count, dtype=np.bool_)
    sown[ground.pair_sowing[used]] = True
    breaks = np.zeros(len(used), dtype=np.bool_)
    breaks[ground.before[used[ground.after]]] = True
    breaks[ground.after[used[ground.before]]] = True
    return used | (sown[ground.pair_sowing] & ~breaks & (ground.missing == 0))


def _lone_bed(tables: Tables) -> Tables:
    """Make all beds one that needs no rest, and whose earlier patches are those of all beds."""
    pool = pooled(tables)
    earlier = np.bincount(
        tables.ground.pair_sowing, weights=tables.earlier_m2, minlength=tables.ground.chosen_count
    )
    return replace(
        pool,
        question=replace(pool.question, rotation_gap_years={}),
        ground=replace(pool.ground, pair_bed=np.zeros(len(pool.ground.pair_bed), dtype=np.int64)),
        earlier_m2=earlier[pool.ground.pair_sowing],
    )
