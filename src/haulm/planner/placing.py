"""Placing: patches whose sizes are chosen find their beds, by ruin and recreate.

Each patch is put, one after another, where it costs least: years of rest missing for itself and
for what of its family follows, ground that a rotation keeps for others, and ground beyond what is
free. Then a few patches are lifted again
and again (a family, two beds, a week, or any) and put back in another order; what is no worse is
kept. Schrimpf and others (2000), "Record breaking optimization results using the ruin and recreate
principle", Journal of Computational Physics 159. Trials are counted.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from haulm.planner.allotted import allotted
from haulm.planner.arrays import Flags, Floats, Ints
from haulm.planner.stopping import Manner
from haulm.planner.tables import Tables

TRIALS = 600
LIFTED = 20
"""No more patches than this are lifted at a time."""
CROWDED_M2 = 2.0
"""What a square metre beyond the free ground counts, against a kilogram of unmet appetite."""
SHUFFLE = 0.3
"""Large patches come first, but for this share of chance [1]."""
LOOK_UP_TRIALS = 20
TIE = 1e-6


@dataclass(frozen=True, slots=True)
class Patches:
    """Patches to place: the sowing and the area of each [m²]."""

    sowing: Ints
    area_m2: Floats


def patches_of(tables: Tables, wanted_m2: Floats) -> Patches:
    """Cut (S) the area wanted of each sowing into as few equal patches as its beds can hold."""
    ground = tables.ground
    largest = np.zeros(ground.chosen_count)
    np.maximum.at(largest, ground.pair_sowing, ground.most_m2)
    sown = np.nonzero((wanted_m2 > TIE) & (largest > 0))[0]
    pieces = np.maximum(1, np.ceil(wanted_m2[sown] / largest[sown] - TIE)).astype(np.int64)
    return Patches(np.repeat(sown, pieces), np.repeat(wanted_m2[sown] / pieces, pieces))


def place_patches(tables: Tables, wanted_m2: Floats, held_m2: Floats, manner: Manner) -> Floats:
    """Find a bed for every patch.

    Parameters
    ----------
    tables
        The tables.
    wanted_m2
        (S) area wanted of each sowing to choose, beside what is held [m²].
    held_m2
        (P) areas that have their place already [m²].
    manner
        What is drawn from, and who watches.

    Returns
    -------
    Floats
        (P) the area of each pair, what is held included; beds may be fuller than they can be [m²].
    """
    placer = _Placer(tables, patches_of(tables, wanted_m2), held_m2, manner)
    placer.place_all()
    placer.improve()
    return placer.area_m2()


class _Placer:
    """Patches in their beds, and what that costs. What is held are patches that never move."""

    def __init__(self, tables: Tables, patches: Patches, held_m2: Floats, manner: Manner) -> None:
        ground = tables.ground
        held = np.nonzero(held_m2 > 0)[0]
        self._moving = len(patches.sowing)
        self._sowing = np.concatenate([patches.sowing, ground.pair_sowing[held]])
        self._area = np.concatenate([patches.area_m2, held_m2[held]])
        self._pair = np.full((ground.chosen_count, len(ground.beds)), -1, dtype=np.int64)
        self._pair[ground.pair_sowing, ground.pair_bed] = np.arange(len(ground.pair_sowing))
        self._pairs = len(ground.pair_sowing)
        pair = self._pair[self._sowing]
        self._open = pair >= 0
        self._past = np.where(self._open, _of_pairs(ground.missing, pair), 0.0)
        self._beyond = np.where(self._open, _of_pairs(_beyond(tables), pair), 0.0)
        self._most = np.where(self._open, _of_pairs(ground.most_m2, pair), 0.0)
        self._start = np.array([max(0, s.ground_from_week) for s in ground.sowings])
        self._end = np.array([min(tables.weeks, s.ground_until_week) for s in ground.sowings])
        self._room = _free_ground(tables, self._start, self._end)
        self._family, self._kin, self._rest = _families(tables, self._sowing)
        self._rotation = tables.question.prices.rotation_m2
        self._bed = np.full(len(self._sowing), -1, dtype=np.int64)
        self._lack = np.zeros(len(self._sowing))
        self._draw = np.random.default_rng(manner.seed)
        self._look_up = manner.look_up
        for patch, bed in enumerate(ground.pair_bed[held], start=self._moving):
            self._put(patch, int(bed))

    def area_m2(self) -> Floats:
        """(P) The area of each pair [m²]."""
        area_m2: Floats = np.zeros(self._pairs)
        np.add.at(area_m2, self._pair[self._sowing, self._bed], self._area)
        return area_m2

    def place_all(self) -> None:
        """Put every patch that moves for the first time."""
        self._put_back(np.arange(self._moving))

    def improve(self) -> None:
        """Lift some and put them back, for so many trials."""
        if self._moving == 0:
            return
        best = self._cost()
        for trial in range(TRIALS):
            if self._look_up is not None and trial % LOOK_UP_TRIALS == 0:
                self._look_up()
            lifted = self._some()
            before = self._bed.copy(), self._lack.copy(), self._room.copy()
            for patch in lifted:
                self._lift(patch)
            self._put_back(lifted)
            cost = self._cost()
            if cost <= best:
                best = cost
            else:
                self._bed, self._lack, self._room = before

    def _some(self) -> Ints:
        """Choose the patches to lift: of a family, of two beds, of a week, or any."""
        draw, moving = self._draw, np.arange(self._moving)
        families, beds, weeks = len(self._kin), *self._room.shape
        choices: tuple[Callable[[], Flags], ...] = (
            lambda: self._family[moving] == draw.integers(families),
            lambda: np.isin(self._bed[moving], draw.integers(beds, size=2)),
            lambda: self._stands(moving, int(draw.integers(weeks))),
            lambda: np.ones(self._moving, dtype=np.bool_),
        )
        some = moving[choices[int(draw.integers(len(choices)))]()]
        return draw.permutation(some)[:LIFTED]

    def _stands(self, patches: Ints, week: int) -> Flags:
        of = self._sowing[patches]
        stands: Flags = (self._start[of] <= week) & (self._end[of] > week)
        return stands

    def _put_back(self, patches: Ints) -> None:
        of = self._sowing[patches]
        size = self._area[patches] * (self._end[of] - self._start[of])
        chance = self._draw.uniform(1.0 - SHUFFLE, 1.0 + SHUFFLE, len(patches))
        for patch in patches[np.argsort(-size * chance, kind="stable")]:
            cost = self._costs(patch) + TIE * self._draw.random(len(self._room))
            self._put(patch, int(np.argmin(cost)))

    def _costs(self, patch: int) -> Floats:
        """(B) What it costs to put a patch in each bed."""
        of, area = self._sowing[patch], self._area[patch]
        room = self._room[:, self._start[of] : self._end[of]].min(axis=1, initial=np.inf)
        crowded = np.minimum(area, np.maximum(0.0, area - room))
        crowded += np.maximum(0.0, area - self._most[patch])
        kin, rest = self._kin[self._family[patch]], self._rest[self._family[patch]]
        at = int(np.searchsorted(kin, patch))
        set_ = self._bed[kin] >= 0
        beds = self._bed[kin[set_]]
        lack = self._past[patch].copy()
        np.maximum.at(lack, beds, rest[set_, at])
        more = np.maximum(0.0, rest[at, set_] - self._lack[kin[set_]]) * self._area[kin[set_]]
        broken = lack * area + np.bincount(beds, weights=more, minlength=len(self._room))
        cost = CROWDED_M2 * crowded + self._rotation * broken + self._beyond[patch] * area
        return np.where(self._open[patch], cost, np.inf)

    def _put(self, patch: int, bed: int) -> None:
        of = self._sowing[patch]
        self._room[bed, self._start[of] : self._end[of]] -= self._area[patch]
        self._bed[patch] = bed
        self._reckon(self._family[patch], bed)

    def _lift(self, patch: int) -> None:
        of, bed = self._sowing[patch], int(self._bed[patch])
        self._room[bed, self._start[of] : self._end[of]] += self._area[patch]
        self._bed[patch] = -1
        self._reckon(self._family[patch], bed)

    def _reckon(self, family: int, bed: int) -> None:
        """Reckon anew the years of rest missing of a family's patches in a bed."""
        here = np.nonzero(self._bed[self._kin[family]] == bed)[0]
        if len(here):
            kin = self._kin[family][here]
            rest = self._rest[family][np.ix_(here, here)].max(axis=0)
            self._lack[kin] = np.maximum(self._past[kin, bed], rest)

    def _cost(self) -> float:
        """Price what is broken and crowded now; a rise of what is too much counts once."""
        too_much = np.maximum(0.0, -self._room)
        rises = np.maximum(0.0, np.diff(too_much, axis=1, prepend=0.0)).sum()
        here = np.arange(len(self._bed)), self._bed
        crowded = float(rises) + float(np.maximum(0.0, self._area - self._most[here]).sum())
        broken = self._rotation * self._lack + self._beyond[here]
        return CROWDED_M2 * crowded + float(broken @ self._area)


def _of_pairs(figure: Floats, pair: Ints) -> Floats:
    """Look a figure of the pairs up; what stands where there is no pair means nothing."""
    return figure[pair] if len(figure) else np.zeros(pair.shape)


def _beyond(tables: Tables) -> Floats:
    """(P) The price of ground where a later year waits for the pair's family to rest [1/m²]."""
    price: Floats = np.zeros(len(tables.ground.pair_sowing))
    for one in allotted(tables):
        if one.most_m2 <= 0:
            price[one.pairs] = tables.question.prices.allotment_m2 * one.years_missing
    return price


def _free_ground(tables: Tables, start: Ints, end: Ints) -> Floats:
    """(B × weeks) The ground of each bed that nothing stands on [m²]."""
    ground = tables.ground
    area = np.array([bed.area_m2 for bed in ground.beds])
    room = np.repeat(area[:, None], tables.weeks, axis=1)
    for stand in np.nonzero(ground.fixed_bed >= 0)[0]:
        room[ground.fixed_bed[stand], start[stand] : end[stand]] -= ground.fixed_m2[stand]
    return room


def _families(tables: Tables, sowing: Ints) -> tuple[Ints, list[Ints], list[Floats]]:
    """Give each patch's family; each family's patches; the rest missing of one after another."""
    ground, gaps = tables.ground, tables.question.rotation_gap_years
    names, family = np.unique(
        np.array([ground.sowings[s].family for s in sowing], dtype=np.str_), return_inverse=True
    )
    first = np.array([s.ground_from_week for s in ground.sowings], dtype=np.int64)
    last = np.array([s.ground_until_week for s in ground.sowings], dtype=np.int64)
    kin, rest = [], []
    for number, name in enumerate(names):
        members = np.nonzero(family == number)[0]
        of = sowing[members]
        short = gaps.get(str(name), 0) - (ground.year[of][None, :] - ground.year[of][:, None])
        after = last[of][:, None] <= first[of][None, :]
        kin.append(members)
        rest.append(np.where(after, np.maximum(0, short), 0).astype(np.float64))
    return family, kin, rest
