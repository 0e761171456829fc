"""Why a patch is in this bed and begun in this week: what the next best would cost the plan.

The patch is taken out and put in elsewhere, as large as is best there; all others stay, and what is
beside it in its new place gives way. The plan's own programme is then solved again.
"""

from collections.abc import Mapping

from haulm.growing.records import Sowing
from haulm.planner.held import HeldPlan, Patch, with_sowings
from haulm.planner.left_out import GONE_M2
from haulm.planner.one_more import by_line
from haulm.planner.question import PlanQuestion
from haulm.planner.records import Elsewhere
from haulm.planner.tables import Tables, tabulate

WEEKS_TRIED = 6
"""So many other weeks of beginning are tried, the nearest ones."""


def elsewhere(
    question: PlanQuestion, patches_m2: Mapping[Patch, float], patch: Patch
) -> tuple[tuple[Elsewhere, ...], tuple[Elsewhere, ...]]:
    """Try a patch in every other bed that may hold it, and in the nearest other weeks in its own.

    Parameters
    ----------
    question, patches_m2
        What the plan answers, and its patches but for what stands [m²].
    patch
        One of them.

    Returns
    -------
    tuple
        The other beds and the other weeks, each by what the plan would lose, least first; neither
        where a pin asks for the patch.

    Raises
    ------
    OtherGardenError
        When the question knows nothing of one of the patches.
    """
    sowings = {sowing.id: sowing for sowing in question.sowings}
    if patch[0] not in sowings:
        HeldPlan(question, patches_m2)
    mine = sowings[patch[0]]
    weeks = sorted(
        (s for s in question.sowings if _alike(s, mine)),
        key=lambda s: (abs((s.sow_on - mine.sow_on).days), s.id),
    )[:WEEKS_TRIED]
    places = _places(tabulate(with_sowings(question, {mine.id, *(s.id for s in weeks)})))
    others = [to for to in places if to[0] == mine.id and to not in patches_m2]
    later = [(s.id, patch[1]) for s in weeks]
    then = [to for to in later if to in places and to not in patches_m2]
    held = HeldPlan(question, patches_m2, [*others, *then])
    if held.settled_by_hand(patch):
        return (), ()
    return _tried(held, patch, others), _tried(held, patch, then)


def _alike(other: Sowing, mine: Sowing) -> bool:
    """Say whether a sowing is another's but for its week."""
    return (
        other.id != mine.id
        and other.kind == mine.kind
        and other.method == mine.method
        and other.under_cover == mine.under_cover
    )


def _places(tables: Tables) -> set[Patch]:
    ground = tables.ground
    return {
        (ground.sowings[s].id, ground.beds[b].id)
        for s, b in zip(ground.pair_sowing, ground.pair_bed, strict=True)
    }


def _tried(held: HeldPlan, patch: Patch, places: list[Patch]) -> tuple[Elsewhere, ...]:
    """Put the patch in each place that has room for it, and say what the plan loses."""
    found = []
    for to in places:
        if held.room_m2(to, leaving=patch) < float(held.tables.ground.least_m2[held.pair(to)]):
            continue
        after = held.moved(patch, to)
        gone = int((held.used & (after.area_m2 < GONE_M2)).sum()) - 1
        cost = after.cost - held.cost - held.question.prices.sowing * gone
        area = float(after.area_m2[held.pair(to)])
        found.append(Elsewhere(*to, area, by_line(held, held.eaten, after), cost))
    return tuple(sorted(found, key=lambda each: (each.cost_kg, each.sowing, each.bed)))
