"""Settling pins: before anything is weighed, how much of what was pinned can be kept at all.

Beds, what stands on them, the smallest patches and the limits set by hand are all that can hinder a
pin for which there is a sowing. Limits hold first: planting nothing keeps them. Each pin that asks
then has as much as it can beside those before it, so that where two ask for one piece of ground,
the one named first has it; a later pin takes nothing from an earlier one.
"""

from dataclasses import dataclass, replace

import numpy as np

from haulm.planner.arrays import Floats, Ints
from haulm.planner.assembler import Assembler, Entries
from haulm.planner.ground_tables import GroundTables
from haulm.planner.limits import Limits, lay_apart, lay_caps, pairs_of
from haulm.planner.pins import asked_m2, asking
from haulm.planner.program import solve_whole
from haulm.planner.question import PlanQuestion
from haulm.planner.stopping import Manner

NODES = 1000
SEED = 1
CLOSE_M2 = 1e-5
"""What comes this near to what was asked is settled as asked [m²]."""
SLACK_M2 = 1e-7
OVER = 0.999
"""Of two areas as far from what was asked the larger is kept, so that something is planted."""
LIKED = 0.9
"""A patch of another plan counts for this much less than a patch of its own [1]."""
HALF = 0.5


@dataclass(frozen=True, slots=True)
class Kept:
    """A pin that asks for ground, and what of it can be kept.

    Attributes
    ----------
    number
        Its place in the question's pins, counted from 0.
    pairs
        The pairs of sowing and bed that match it.
    settled_m2
        What the plan holds of it beside what stands; no more where ``exact`` [m²].
    exact
        Whether it asks for just so much, and not for at least so much.
    """

    number: int
    pairs: Ints
    settled_m2: float
    exact: bool


def settle(question: PlanQuestion, ground: GroundTables, limits: Limits) -> tuple[Kept, ...]:
    """Find what can be kept of every pin that asks for ground, each beside those before it.

    A pin that is met by what stands, or that no pair matches, is not among them.
    """
    settled: tuple[Kept, ...] = ()
    area_m2 = np.zeros(len(ground.pair_sowing))
    for number, pin in asking(question):
        asked = asked_m2(question, pin)
        pairs = pairs_of(pin, ground)
        if asked <= 0 or len(pairs) == 0:
            continue
        wish = float(ground.least_m2[pairs].min()) if pin.area_m2 is None else asked
        wanted = Kept(number, pairs, wish, pin.exact)
        spare = None if limits.any else _spare_pair(ground, settled, wanted, area_m2)
        if spare is None:
            area_m2 = _areas(ground, settled, wanted, limits)
        else:
            area_m2[spare] = wish
        held = float(area_m2[pairs].sum())
        near = abs(held - wish) <= CLOSE_M2 if pin.exact else held >= wish - CLOSE_M2
        settled = (*settled, replace(wanted, settled_m2=wish if near else held))
    return settled


def _spare_pair(
    ground: GroundTables, settled: tuple[Kept, ...], wanted: Kept, area_m2: Floats
) -> int | None:
    """Find a pair no earlier pin speaks of, with room for all a pin asks beside what is held."""
    if area_m2[wanted.pairs].any():
        return None
    spoken_for = np.concatenate([np.zeros(0, np.int64), *(each.pairs for each in settled)])
    held = np.bincount(
        ground.in_clique, weights=area_m2[ground.of_pair], minlength=len(ground.clique_free_m2)
    )
    room = ground.most_m2.copy()
    np.minimum.at(room, ground.of_pair, (ground.clique_free_m2 - held)[ground.in_clique])
    wish = wanted.settled_m2
    for pair in np.setdiff1d(wanted.pairs, spoken_for):
        if ground.least_m2[pair] <= wish <= room[pair]:
            return int(pair)
    return None


def place(ground: GroundTables, kept: tuple[Kept, ...], wish_m2: Floats, limits: Limits) -> Floats:
    """Choose pairs that hold the pins, in few patches; give (P) their areas [m²].

    Parameters
    ----------
    ground, kept
        The ground's tables, and the pins as settled.
    wish_m2
        (P) areas of another plan: the pairs it uses are taken sooner [m²].
    limits
        The limits set by hand.
    """
    cost = 1.0 - LIKED * np.minimum(1.0, wish_m2 / ground.least_m2)
    return _areas(ground, kept, None, limits, cost)


def _areas(
    ground: GroundTables,
    held: tuple[Kept, ...],
    wanted: Kept | None,
    limits: Limits,
    patch_cost: Floats | None = None,
) -> Floats:
    """Give (P) areas that hold some pins and come as near as can be to one more."""
    area_m2 = np.zeros(len(ground.pair_sowing))
    kept = held if wanted is None else (*held, wanted)
    if not kept:
        return area_m2
    pairs = np.unique(np.concatenate([each.pairs for each in kept]))
    cost = np.zeros(len(pairs)) if patch_cost is None else patch_cost[pairs]
    model = Assembler()
    area, used = lay_patches(model, ground, pairs, cost)
    here = limits.of_pairs(pairs)
    lay_caps(model, here, area)
    lay_apart(model, here, used)
    slack = np.array([np.inf if each is wanted else SLACK_M2 for each in kept])
    exact = np.array([each.exact for each in kept])
    short = model.columns(len(kept), cost=1.0, upper=slack)
    over = model.columns(
        len(kept), cost=np.where(exact, OVER, 0.0), upper=np.where(exact, slack, np.inf)
    )
    rows, one = np.arange(len(kept)), np.ones(len(kept))
    entries: list[Entries] = [(rows, short, one), (rows, over, -one)]
    for row, each in enumerate(kept):
        at = area[np.searchsorted(pairs, each.pairs)]
        entries.append((np.full(len(at), row), at, np.ones(len(at))))
    settled = np.array([each.settled_m2 for each in kept])
    model.rows("pin", (settled, settled), entries)
    found = solve_whole(model.seal(), Manner(SEED), NODES)
    if found.values is not None:
        area_m2[pairs] = np.where(found.values[used] > HALF, found.values[area], 0.0)
    return area_m2


def lay_patches(
    model: Assembler, ground: GroundTables, pairs: Ints, cost: Floats
) -> tuple[Ints, Ints]:
    """Lay the columns of area and use of some pairs, their sizes, and the ground they share."""
    most, least = ground.most_m2[pairs], ground.least_m2[pairs]
    area = model.columns(len(pairs), upper=most)
    used = model.columns(len(pairs), cost=cost, upper=1.0, whole=True)
    row, one, none = np.arange(len(pairs)), np.ones(len(pairs)), np.zeros(len(pairs))
    without = np.full(len(pairs), -np.inf)
    model.rows("most", (without, none), [(row, area, one), (row, used, -most)])
    model.rows("least", (without, none), [(row, area, -one), (row, used, least)])
    here = np.isin(ground.of_pair, pairs)
    cliques, of_clique = np.unique(ground.in_clique[here], return_inverse=True)
    at = area[np.searchsorted(pairs, ground.of_pair[here])]
    free = ground.clique_free_m2[cliques]
    model.rows("ground", (np.full(len(free), -np.inf), free), [(of_clique, at, np.ones(len(at)))])
    return area, used
