"""What was left out, and how far it was from being worth it.

For each kind that could serve a line of the table and has no patch, the most promising sowing and
bed are tried: one patch is put in by force, what is beside it gives way, and the plan's own
programme is solved again. What the plan loses by it is how far the kind was from being worth it.
The same patch is then tried at higher priorities of its line, and with so many times its yield,
until the plan no longer loses by it.
"""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from haulm.planner.arrays import Floats
from haulm.planner.held import HeldPlan, Patch, with_sowings
from haulm.planner.one_more import by_line, ground_piece_m2
from haulm.planner.pieces import pieces
from haulm.planner.promise import promise
from haulm.planner.question import PlanQuestion
from haulm.planner.records import Barred, LeftOut
from haulm.planner.tables import Tables, tabulate

TRIED = 2
"""So many of a kind's most promising places are tried."""
STEPS = (1.25, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0)
"""Yields tried, as times the sowing's own; then halved between the last that failed and the first
that did not."""
HALVINGS = 4
HIGHEST_PRIORITY = 5
GONE_M2 = 1e-6


@dataclass(frozen=True, slots=True)
class _Trial:
    """One patch put in by force: where, how large, and what the plan loses by it."""

    patch: Patch
    area_m2: float
    cost_kg: float


def left_out(
    question: PlanQuestion, patches_m2: Mapping[Patch, float], line: str | None = None
) -> tuple[LeftOut, ...]:
    """Say of every kind that could serve the table and is not planted how far it was from it.

    Parameters
    ----------
    question, patches_m2
        What the plan answers, and its patches but for what stands [m²].
    line
        The line of the table that is asked about; None for all.

    Returns
    -------
    tuple
        By kind, the nearest to being worth it first; kinds that no bed may hold last.

    Raises
    ------
    OtherGardenError
        When the question knows nothing of one of the patches.
    """
    kinds = {s.id: s.kind for s in question.sowings}
    here = {kinds[sowing] for sowing, _ in patches_m2 if sowing in kinds}
    here |= {stand.sowing.kind for stand in question.standing}
    lines = {
        kind: of
        for kind, of in _line_of_kind(question).items()
        if kind not in here and line in {None, of}
    }
    wanted = {sowing.id for sowing in question.sowings if sowing.kind in lines}
    others = tabulate(with_sowings(question, wanted))
    places = _places(HeldPlan(question, patches_m2), others, lines)
    held = HeldPlan(question, patches_m2, [patch for at in places.values() for patch in at])
    eaten = {sowing.kind for sowing in others.ground.sowings[: others.ground.chosen_count]}
    found = [
        _told(held, kind, line, places[kind])
        if kind in places
        else _barred(kind, line, Barred.NO_BED if kind in eaten else Barred.NOT_EATEN)
        for kind, line in lines.items()
    ]
    return tuple(sorted(found, key=lambda each: (not each.bed, each.cost_kg, each.kind)))


def _line_of_kind(question: PlanQuestion) -> dict[str, str]:
    """Give the line that each kind on offer could serve: by its main food where it can."""
    line_of: dict[str, str] = {}
    for sowing in question.sowings:
        for given in sowing.foods:
            for appetite in question.appetites:
                if given.food in appetite.foods and any(appetite.kg):
                    line_of.setdefault(sowing.kind, appetite.line)
    return line_of


def _places(held: HeldPlan, others: Tables, lines: Mapping[str, str]) -> dict[str, list[Patch]]:
    """Give the most promising places of each kind left out."""
    ground = others.ground
    promised = promise(held, others)
    places: dict[str, list[Patch]] = defaultdict(list)
    for pair in np.argsort(-promised, kind="stable"):
        sowing = ground.sowings[ground.pair_sowing[pair]]
        if sowing.kind in lines and len(places[sowing.kind]) < TRIED:
            places[sowing.kind].append((sowing.id, ground.beds[ground.pair_bed[pair]].id))
    return dict(places)


def _barred(kind: str, line: str, why: Barred) -> LeftOut:
    """Tell of a kind that was not tried anywhere."""
    return LeftOut(line, kind, "", "", 0.0, (), np.inf, None, None, why)


def _told(held: HeldPlan, kind: str, line: str, places: Sequence[Patch]) -> LeftOut:
    """Try a kind's places, and tell of the best."""
    trials = [trial for patch in places if (trial := _try(held, patch)) is not None]
    if not trials:
        return _barred(kind, line, Barred.NO_ROOM)
    best = min(trials, key=lambda trial: trial.cost_kg)
    fed = by_line(held, held.eaten, held.with_patch(best.patch, best.area_m2))
    # What feeds nobody more is not wanted more dearly, nor in greater amounts, into a plan.
    feeds = best.cost_kg <= 0 or any(kg > 0 for _, kg in fed)
    return LeftOut(
        line,
        kind,
        *best.patch,
        best.area_m2,
        fed,
        best.cost_kg,
        times=_times(held, best) if feeds else None,
        priority=_priority(held, best, line) if feeds else None,
    )


def _try(held: HeldPlan, patch: Patch) -> _Trial | None:
    """Put a patch in by force: a piece of ground, or the least there may be; None without room."""
    ground, room = held.tables.ground, held.room_m2(patch)
    least = float(ground.least_m2[held.pair(patch)])
    if room < least:
        return None
    area = min(max(least, ground_piece_m2(held.question)), room)
    return _Trial(patch, area, loss(held, patch, area))


def loss(
    held: HeldPlan, patch: Patch, area_m2: float, times: float = 1.0, prices: Floats | None = None
) -> float:
    """Say what the plan would lose by one more patch, each patch's own price counted [weighted kg].

    Parameters
    ----------
    held
        The plan, with the patch among those it may try.
    patch, area_m2
        The patch.
    times, prices
        As in :meth:`HeldPlan.with_patch`.
    """
    before = held.eaten if prices is None else held.as_priced(prices)
    after = held.with_patch(patch, area_m2, times, prices)
    gone = int((held.used & (after.area_m2 < GONE_M2)).sum())
    return after.cost - before.cost + held.question.prices.sowing * (1 - gone)


def _times(held: HeldPlan, trial: _Trial) -> float | None:
    """Find how many times as much it would have to give: the least found at which nothing is lost.

    What is lost falls ever slower as the yield rises, so that between two tries it crosses once.
    """
    failed = 1.0
    if trial.cost_kg <= 0:
        return failed
    most = pieces().most_times.value
    for step in (step for step in STEPS if step <= most):
        if loss(held, trial.patch, trial.area_m2, step) <= 0:
            return _halved(held, trial, failed, step)
        failed = step
    return None


def _halved(held: HeldPlan, trial: _Trial, failed: float, enough: float) -> float:
    for _ in range(HALVINGS):
        between = (failed + enough) / 2
        if loss(held, trial.patch, trial.area_m2, between) <= 0:
            enough = between
        else:
            failed = between
    return enough


def _priority(held: HeldPlan, trial: _Trial, line: str) -> int | None:
    """Find the lowest priority of its line at which nothing is lost by it; None where none is."""
    question = held.question
    own = next(a.priority for a in question.appetites if a.line == line)
    if trial.cost_kg <= 0:
        return own
    for priority in range(own + 1, HIGHEST_PRIORITY + 1):
        if loss(held, trial.patch, trial.area_m2, prices=prices_with(held, line, priority)) <= 0:
            return priority
    return None


def prices_with(held: HeldPlan, line: str, priority: int) -> Floats:
    """Give (wants, slices) the prices of what is short, one line having another priority."""
    prices, appetites = held.question.prices, held.question.appetites
    raised = [replace(a, priority=priority) if a.line == line else a for a in appetites]
    weight = np.array([prices.priority_weight[a.priority - 1] for a in raised])
    each = np.array([price for _, price in prices.shortage_slices])
    return np.outer(weight[held.tables.food.want_line], each)
