"""First plans: what to sow and how much is weighed with all beds as one; then it finds its beds.

Weighed bed by bed, areas spread over beds that are all alike, and slope scaling lets many of them
die that together were worth a patch. With all beds as one a sowing has one area. What it is to be
is chosen there; the patches are placed so that families rest; and a second dive, with
every patch open that breaks nothing of what is placed, fits areas to beds. Where beds are few, they
as one tell little, and a dive from nothing is made as well.
"""

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from haulm.planner.arrays import Flags, Floats
from haulm.planner.blocks import Improver, complete
from haulm.planner.build import build_areas, build_choices
from haulm.planner.dive import Diver, Draft
from haulm.planner.limits import NO_LIMITS
from haulm.planner.objective import unreachable_cost
from haulm.planner.placing import place_patches
from haulm.planner.pooled import pooled
from haulm.planner.settle import place
from haulm.planner.stopping import Manner
from haulm.planner.tables import Tables

MOST_PAIRS = 12
CLOSE = 2e-4
"""With all beds as one, a crop is planned anew to within this share of what a plan can change."""
FITTING = 0.02
"""What was chosen crop by crop fits the ground if it costs no more beyond the bound than this share
of what a plan can change [1]."""
FEW_BEDS = 6
HALF = 0.5


def first_plans(
    tables: Tables, diver: Diver, sown_m2: Floats | None, bound: float, manner: Manner
) -> Iterator[Draft]:
    """Make first plans: what was placed as it is, and what dives near it find.

    Parameters
    ----------
    tables, diver
        The tables, and the diver of the whole garden.
    sown_m2
        The area of each pair with all beds as one, each crop weighed by itself [m²]; None where it
        is not known.
    bound
        What no plan costs less than.
    manner
        What is drawn from, and who watches.
    """
    if tables.question.most_of_family:
        # Ground that is not parted into beds leaves nothing to place.
        yield diver.dive()
        return
    wanted = weighed_m2(tables, sown_m2, bound, manner)
    ground = tables.ground
    pinned = place(ground, tables.kept, wanted[ground.pair_sowing], tables.limits)
    loose = np.maximum(0.0, wanted - _by_sowing(tables, pinned))
    start = place_patches(tables, loose, pinned, manner)
    if len(ground.beds) <= FEW_BEDS:
        yield diver.dive()
    yield diver.fit(start)
    beside = open_beside(tables, start)
    yield diver.dive_near(start, beside)
    yield diver.dive_near(start, beside & _sown_and_rested(tables, start))


def weighed_m2(tables: Tables, sown_m2: Floats | None, bound: float, manner: Manner) -> Floats:
    """Choose (S) the area of each sowing with all beds as one [m²].

    What was chosen crop by crop is taken, where it fits the ground nearly as it is. Elsewhere a
    dive chooses anew, and then each crop is planned again with its choices whole.
    """
    pool = _lone_bed(tables)
    diver = Diver(pool, build_areas(pool), manner)
    close = FITTING * (bound - unreachable_cost(tables))
    if sown_m2 is not None and diver.fit(sown_m2).objective <= bound + close:
        return _by_sowing(pool, sown_m2)
    draft = diver.dive()
    chosen = build_choices(pool)
    improver = Improver(pool, chosen, manner)
    values = complete(pool, chosen, draft)
    promise = draft.solution.reduced_cost[chosen.columns.area]
    close = CLOSE * (draft.objective - unreachable_cost(tables))
    for crop in range(improver.crops):
        values = improver.improve(values, [crop], promise, (MOST_PAIRS, close))
    draft = diver.polish(values[chosen.used] > HALF)
    return _by_sowing(pool, draft.area_m2)


def open_beside(tables: Tables, start_m2: Floats) -> Flags:
    """Mark the pairs that are placed, and those that break nothing of what is placed."""
    ground = tables.ground
    used = start_m2 > 0
    breaks = np.zeros(len(used), dtype=np.bool_)
    breaks[ground.before[used[ground.after]]] = True
    breaks[ground.after[used[ground.before]]] = True
    return used | ~breaks


def _sown_and_rested(tables: Tables, start_m2: Floats) -> Flags:
    """Mark the pairs of sowings that are placed, on beds rested from the past; and the placed."""
    ground = tables.ground
    used = start_m2 > 0
    sown = np.zeros(ground.chosen_count, dtype=np.bool_)
    sown[ground.pair_sowing[used]] = True
    rested: Flags = ground.missing == 0
    return used | (sown[ground.pair_sowing] & rested)


def _by_sowing(tables: Tables, area_m2: Floats) -> Floats:
    """Add up (P) areas to those of each sowing to choose [m²]."""
    ground = tables.ground
    added: Floats = np.zeros(ground.chosen_count)
    np.add.at(added, ground.pair_sowing, area_m2)
    return added


def _lone_bed(tables: Tables) -> Tables:
    """Make all beds one that needs no rest, and whose earlier patches are those of all beds.

    What limits single pairs is left to the dives.
    """
    pool = pooled(tables)
    earlier = _by_sowing(tables, tables.earlier_m2)
    return replace(
        pool,
        question=replace(pool.question, rotation_gap_years={}),
        limits=NO_LIMITS,
        earlier_m2=earlier[pool.ground.pair_sowing],
    )
