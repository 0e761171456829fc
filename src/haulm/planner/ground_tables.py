"""The ground's tables: which sowing may go in which bed, at what size, beside and after what."""

from collections import defaultdict
from dataclasses import dataclass
from itertools import pairwise
from math import inf

import numpy as np

from haulm.growing.records import Sowing
from haulm.plan.pins import PinRule
from haulm.planner.arrays import Floats, Ints
from haulm.planner.pins import asked_m2, asking, forbidden, left_m2, matches, speaks_of
from haulm.planner.question import BedGround, PlanQuestion
from haulm.planner.rules.closed_beds import open_to
from haulm.planner.rules.least_patch import least_patch_m2
from haulm.planner.rules.sun import sunny_enough


@dataclass(frozen=True, slots=True)
class GroundTables:
    """Sowings (S), beds (B) and the pairs (P) of one sowing with one bed.

    Attributes
    ----------
    beds
        The beds of the question, in its order.
    sowings
        The sowings to choose from, then those of what stands.
    chosen_count
        How many of the sowings are to choose from.
    year
        (S) calendar year in which the sowing's ground is cleared.
    fixed_m2
        (S) area that stands already [m²]; 0 for a sowing to choose.
    fixed_bed
        (S) index of the bed it stands in; −1 for a sowing to choose.
    pair_sowing, pair_bed
        (P) indices.
    least_m2, most_m2
        (P) smallest and largest useful patch [m²].
    missing
        (P) years of rest missing after what grew or stands in the bed [years].
    before, after, after_missing
        (F) pairs of one family in one bed, of which ``after`` takes ground once ``before`` is
        cleared, and the years of rest then missing [years].
    clique_bed, clique_week, clique_free_m2
        (K) beds and weeks at which the ground must be counted, and the area not yet standing [m²].
    in_clique, of_pair
        (N) clique and pair: the pair holds ground in that bed and week.
    """

    beds: tuple[BedGround, ...]
    sowings: tuple[Sowing, ...]
    chosen_count: int
    year: Ints
    fixed_m2: Floats
    fixed_bed: Ints
    pair_sowing: Ints
    pair_bed: Ints
    least_m2: Floats
    most_m2: Floats
    missing: Floats
    before: Ints
    after: Ints
    after_missing: Floats
    clique_bed: Ints
    clique_week: Ints
    clique_free_m2: Floats
    in_clique: Ints
    of_pair: Ints


def useful_ground(question: PlanQuestion, useful_m2: Floats) -> GroundTables:
    """Tabulate the ground, given the area of each sowing beyond which nobody would eat more.

    Parameters
    ----------
    question
        The question.
    useful_m2
        (sowings) largest useful area [m²]; 0 drops the sowing, unless a pin keeps it.
    """
    pinned = [(pin, asked_m2(question, pin)) for _, pin in asking(question)]
    kept = [
        index
        for index, sowing in enumerate(question.sowings)
        if useful_m2[index] > 0 or any(a > 0 and speaks_of(pin, sowing) for pin, a in pinned)
    ]
    sowings = tuple(question.sowings[index] for index in kept)
    standing = tuple(stand.sowing for stand in question.standing)
    everything = sowings + standing
    bed_at = {bed.id: index for index, bed in enumerate(question.beds)}
    year = np.array([_year(question, sowing) for sowing in everything], dtype=np.int64)
    pairs = [
        (s, b)
        for s, sowing in enumerate(sowings)
        for b, bed in enumerate(question.beds)
        if sowing.under_cover == bed.under_cover
        and bed.area_m2 >= least_patch_m2(question, sowing, bed)
        and open_to(question, sowing, bed)
        and sunny_enough(question, sowing, bed)
        and not forbidden(question, sowing, bed.id)
        and (useful_m2[kept[s]] > 0 or any(matches(pin, sowing, bed.id) for pin, _ in pinned))
    ]
    pair_sowing = np.array([s for s, _ in pairs], dtype=np.int64)
    pair_bed = np.array([b for _, b in pairs], dtype=np.int64)
    bed_area = np.array([bed.area_m2 for bed in question.beds], dtype=np.float64)
    least = np.array(
        [least_patch_m2(question, sowings[s], question.beds[b]) for s, b in pairs], dtype=np.float64
    )
    useful = useful_m2[np.array(kept, dtype=np.int64)][pair_sowing]
    for row, (s, b) in enumerate(pairs):
        by_hand = [a for pin, a in pinned if matches(pin, sowings[s], question.beds[b].id)]
        useful[row] = max(useful[row], *by_hand, 0.0)
        useful[row] = min(useful[row], _most_m2(question, sowings[s], question.beds[b].id))
    fixed_bed = np.array(
        [-1] * len(sowings) + [bed_at[stand.bed] for stand in question.standing], dtype=np.int64
    )
    fixed_m2 = np.array(
        [0.0] * len(sowings) + [stand.area_m2 for stand in question.standing], dtype=np.float64
    )
    follows = _follows(question, everything, year, pairs)
    cliques = _cliques(question, everything, pairs, (fixed_bed, fixed_m2))
    return GroundTables(
        beds=question.beds,
        sowings=everything,
        chosen_count=len(sowings),
        year=year,
        fixed_m2=fixed_m2,
        fixed_bed=fixed_bed,
        pair_sowing=pair_sowing,
        pair_bed=pair_bed,
        least_m2=least,
        most_m2=np.minimum(bed_area[pair_bed], np.maximum(least, useful)),
        missing=_missing(question, everything, year, pairs),
        before=follows[0],
        after=follows[1],
        after_missing=follows[2],
        clique_bed=cliques[0],
        clique_week=cliques[1],
        clique_free_m2=cliques[2],
        in_clique=cliques[3],
        of_pair=cliques[4],
    )


def _most_m2(question: PlanQuestion, sowing: Sowing, bed: str) -> float:
    """Give what the pins with a most leave to a sowing in a bed [m²]."""
    most = [pin for pin in question.pins if pin.rule is PinRule.AT_MOST]
    return min((left_m2(question, pin) for pin in most if matches(pin, sowing, bed)), default=inf)


def _year(question: PlanQuestion, sowing: Sowing) -> int:
    return question.horizon.monday(sowing.ground_until_week).year


def _missing(
    question: PlanQuestion,
    sowings: tuple[Sowing, ...],
    year: Ints,
    pairs: list[tuple[int, int]],
) -> Floats:
    """Count the years of rest missing after the bed's past and after what stands in it."""
    last: dict[tuple[int, str], int] = {
        (b, family): lifted
        for b, bed in enumerate(question.beds)
        for family, lifted in bed.last_year_of_family
    }
    first_standing = len(sowings) - len(question.standing)
    standing: dict[tuple[str, str], list[int]] = defaultdict(list)
    for offset, stand in enumerate(question.standing):
        standing[stand.bed, stand.sowing.family].append(first_standing + offset)
    missing = np.zeros(len(pairs))
    for row, (s, b) in enumerate(pairs):
        sowing = sowings[s]
        gap = question.rotation_gap_years.get(sowing.family, 0)
        lifted = last.get((b, sowing.family))
        years = [] if lifted is None else [lifted]
        years += [
            int(year[other])
            for other in standing.get((question.beds[b].id, sowing.family), ())
            if sowings[other].ground_until_week <= sowing.ground_from_week
        ]
        missing[row] = max([gap - (int(year[s]) - lifted) for lifted in years] + [0])
    return missing


def _follows(
    question: PlanQuestion,
    sowings: tuple[Sowing, ...],
    year: Ints,
    pairs: list[tuple[int, int]],
) -> tuple[Ints, Ints, Floats]:
    """List the pairs of one family in one bed that follow each other too soon."""
    groups: dict[tuple[int, str], list[int]] = defaultdict(list)
    for row, (s, b) in enumerate(pairs):
        if question.rotation_gap_years.get(sowings[s].family, 0) > 0:
            groups[b, sowings[s].family].append(row)
    before: list[Ints] = []
    after: list[Ints] = []
    missing: list[Floats] = []
    for (_, family), rows in groups.items():
        members = np.array(rows, dtype=np.int64)
        of = [pairs[row][0] for row in rows]
        start = np.array([sowings[s].ground_from_week for s in of])
        end = np.array([sowings[s].ground_until_week for s in of])
        short = question.rotation_gap_years[family] - (year[of][None, :] - year[of][:, None])
        first, second = np.nonzero((end[:, None] <= start[None, :]) & (short > 0))
        before.append(members[first])
        after.append(members[second])
        missing.append(short[first, second].astype(np.float64))
    if not before:
        return np.zeros(0, np.int64), np.zeros(0, np.int64), np.zeros(0)
    return np.concatenate(before), np.concatenate(after), np.concatenate(missing)


def _cliques(
    question: PlanQuestion,
    sowings: tuple[Sowing, ...],
    pairs: list[tuple[int, int]],
    fixed: tuple[Ints, Floats],
) -> tuple[Ints, Ints, Floats, Ints, Ints]:
    """Find the weeks at which a bed is fullest: maximal sets of patches that meet in a week.

    A week counts when something starts in it and something ends before the next start, so that
    every other week holds a subset of the patches of a week counted.
    """
    start = np.array([max(0, s.ground_from_week) for s in sowings], dtype=np.int64)
    end = np.array([s.ground_until_week for s in sowings], dtype=np.int64)
    fixed_bed, fixed_m2 = fixed
    by_bed: dict[int, list[int]] = defaultdict(list)
    for row, (_, b) in enumerate(pairs):
        by_bed[b].append(row)
    beds: list[int] = []
    weeks: list[int] = []
    free: list[float] = []
    in_clique: list[Ints] = []
    of_pair: list[Ints] = []
    for b, rows in by_bed.items():
        members = np.array(rows, dtype=np.int64)
        of = np.array([pairs[row][0] for row in rows], dtype=np.int64)
        here = np.nonzero(fixed_bed == b)[0]
        for week in fullest_weeks(
            np.concatenate([start[of], start[here]]),
            np.concatenate([end[of], end[here]]),
            question.horizon.weeks,
        ):
            held = members[(start[of] <= week) & (end[of] > week)]
            stands = here[(start[here] <= week) & (end[here] > week)]
            in_clique.append(np.full(len(held), len(beds), dtype=np.int64))
            of_pair.append(held)
            beds.append(b)
            weeks.append(week)
            free.append(max(0.0, question.beds[b].area_m2 - float(fixed_m2[stands].sum())))
    return (
        np.array(beds, dtype=np.int64),
        np.array(weeks, dtype=np.int64),
        np.array(free, dtype=np.float64),
        np.concatenate(in_clique) if in_clique else np.zeros(0, np.int64),
        np.concatenate(of_pair) if of_pair else np.zeros(0, np.int64),
    )


def fullest_weeks(start: Ints, end: Ints, weeks: int) -> list[int]:
    """Keep each start week at which something ends before the next start."""
    starts = [int(week) for week in np.unique(start) if week < weeks]
    return [
        week
        for week, following in pairwise([*starts, weeks])
        if following == weeks or bool(np.any((start <= week) & (end > week) & (end <= following)))
    ]
