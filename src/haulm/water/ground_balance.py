"""The water of many patches on many beds, day by day through many runs of weather."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.water.balance_tables import BalanceTables
from haulm.water.evaporation import bare_wet_share, drying, soil_coefficient
from haulm.water.figures import water_figures
from haulm.water.records import Array, Climate, GroundBalance, GroundNow, Watering
from haulm.water.root_zone import easy_share, stress_factor
from haulm.water.tank_stock import DROP_L, TankStock

Rows = NDArray[np.int64]

#: What is kept of each day, in the order of `GroundBalance`.
_KEPT = (
    "depletion_mm",
    "below_mm",
    "easy_mm",
    "watered_mm",
    "rained_mm",
    "crop_use_mm",
    "evaporated_mm",
    "drained_mm",
    "stress",
)

_STATES = frozenset({"depletion_mm", "below_mm", "easy_mm", "stress"})


@dataclass(slots=True, eq=False)
class _Ground:
    """What the ground lacks at a moment, shape (rows, runs) [mm].

    ``depletion`` in the root zone, ``below`` under it, ``top`` in the drying top layer; ``wetted``
    is the share of the ground that the last wetting reached [1].
    """

    depletion: Array
    below: Array
    top: Array
    wetted: Array

    @classmethod
    def of(cls, now: GroundNow) -> "_Ground":
        """Take the ground as it was left; what was left stays as it is."""
        return cls(now.depletion.copy(), now.below.copy(), now.top.copy(), now.wetted.copy())

    def now(self) -> GroundNow:
        """Give the ground as it is left."""
        return GroundNow(self.depletion, self.below, self.top, self.wetted)


def ground_balance(
    tables: BalanceTables,
    climate: Climate,
    watering: Watering | None = None,
    first_lack_mm: Array | None = None,
    begun: tuple[int, GroundNow] | None = None,
) -> GroundBalance:
    """Carry the water of every patch, and of the bare ground of every bed, through the days.

    Each morning what falls and is given enters; the surplus drains, first into what the ground
    under the roots lacks, then away; then the day takes its water, as worked examples 35 and 38 do.
    Where something is sown or lifted, the ground that changes hands is mixed by area with its
    bed's bare ground, and what it lacks goes with it. Nothing runs off; nothing rises from below.

    Parameters
    ----------
    tables
        From `balance_tables`.
    climate
        Rain and reference use, shape (runs, days).
    watering
        How it is watered; None for not at all.
    first_lack_mm
        What each row lacks on the first morning, spread evenly down to the deepest root, shape
        (rows,) [mm]; None for ground at field capacity.
    begun
        To carry on from an earlier answer over the same tables: the day to begin with, and how the
        ground was left on the evening before. What is before that day is not told.

    Raises
    ------
    FaultsFoundError
        When rain, use and tables are of different shapes or the rain is not known.

    Notes
    -----
    FAO-56, equations 71 to 80 and 82 to 88.
    """
    _refuse_wrong(tables, climate)
    runs, days = climate.use_mm.shape
    rows = len(tables.labels)
    kept = {
        name: np.full((days, rows, runs), np.nan if name in _STATES else 0.0, np.float32)
        for name in _KEPT
    }
    start, ground = 0, _first_ground(tables, runs, first_lack_mm)
    if begun is not None:
        start, ground = begun[0], _Ground.of(begun[1])
    how = watering or Watering()
    stock = TankStock(how.tanks, runs) if how.tanks else None
    for first, until in _stretches(tables, start):
        if first:
            _hand_over(ground, tables, first)
        here = np.flatnonzero(tables.area_m2[first] > 0)
        _run_stretch(ground, tables, climate, (how, stock), (first, until, here), kept)
    shaped = {name: np.moveaxis(values, 0, -1) for name, values in kept.items()}
    return GroundBalance(tables.labels, tables.area_m2.T, **shaped, left=ground.now())


def _stretches(tables: BalanceTables, start: int) -> Iterator[tuple[int, int]]:
    """Give each stretch of days from a day on in which no ground changes hands, first and until."""
    area = tables.area_m2
    turns = np.flatnonzero((area[1:] != area[:-1]).any(axis=1)) + 1
    edges = [start, *(int(turn) for turn in turns if turn > start), area.shape[0]]
    yield from pairwise(edges)


def _first_ground(tables: BalanceTables, runs: int, lack_mm: Array | None) -> _Ground:
    """Give the ground on the first morning."""
    rows = len(tables.labels)
    lack = np.zeros(rows) if lack_mm is None else np.asarray(lack_mm, dtype=np.float64)
    within = lack * tables.root_m[0] / tables.deep_m
    top_m = water_figures().evaporating_depth_m.value
    top = np.minimum(lack * top_m / tables.deep_m, tables.top_mm)

    def spread(values: Array) -> Array:
        """Repeat a row's value for every run."""
        return np.repeat(values[:, None], runs, axis=1)

    return _Ground(
        spread(within), spread(lack - within), spread(top), np.ones((rows, runs), np.float64)
    )


def _hand_over(ground: _Ground, tables: BalanceTables, day: int) -> None:
    """Mix the ground that changes hands on a day into its bed's bare ground, and deal it out.

    A patch that ends gives its ground back; one that begins takes of the mixture.
    """
    before, now = tables.area_m2[day - 1], tables.area_m2[day]
    ended = tables.grown & (before > 0) & (now == 0)
    begun = tables.grown & (before == 0) & (now > 0)
    for bare in np.unique(tables.bare_row[ended | begun]):
        of_bed = tables.bare_row == bare
        givers = np.flatnonzero(of_bed & (ended | (~tables.grown & (before > 0))))
        takers = np.flatnonzero(of_bed & (begun | (~tables.grown & (now > 0))))
        if givers.size and takers.size:
            _deal_out(ground, tables, (givers, takers), day)


def _deal_out(ground: _Ground, tables: BalanceTables, who: tuple[Rows, Rows], day: int) -> None:
    """Give takers the mean, by area, of what the givers' ground lacks at each depth."""
    givers, takers = who
    weight = tables.area_m2[day - 1, givers]
    weight = weight / weight.sum()
    deep = tables.deep_m[givers[0]]
    old_m = tables.root_m[day - 1, givers][:, None]
    whole = weight @ (ground.depletion[givers] + ground.below[givers])
    top, wetted = weight @ ground.top[givers], weight @ ground.wetted[givers]
    taken = []
    for taker in takers:
        new_m = tables.root_m[day, taker]
        within = ground.depletion[givers] * np.minimum(new_m / old_m, 1.0)
        under = np.maximum(new_m - old_m, 0.0) / np.maximum(deep - old_m, 1e-9)
        taken.append(weight @ (within + ground.below[givers] * np.minimum(under, 1.0)))
    for taker, depletion in zip(takers, taken, strict=True):
        ground.depletion[taker] = depletion
        ground.below[taker] = np.maximum(whole - depletion, 0.0)
        ground.top[taker], ground.wetted[taker] = top, wetted


def _run_stretch(
    ground: _Ground,
    tables: BalanceTables,
    climate: Climate,
    watered: tuple[Watering, TankStock | None],
    stretch: tuple[int, int, Rows],
    kept: dict[str, NDArray[np.float32]],
) -> None:
    """Carry the rows that have ground through a stretch of days on which none changes hands."""
    first, until, here = stretch
    watering, stock = watered
    area_m2 = tables.area_m2[first, here][:, None]
    figures = water_figures()
    part = _Ground(
        ground.depletion[here], ground.below[here], ground.top[here], ground.wetted[here]
    )
    use = climate.use_mm[None, :, first:until] * tables.use_share[here][:, None, None]
    fallen = climate.rain_mm[None, :, first:until] * tables.open_share[here][:, None, None]
    # Light rain wets leaves and mulch and is gone the same day.
    rain = np.where(fallen < figures.light_rain_share.value * use, 0.0, fallen)
    fixed = _Fixed.of(tables, here)
    for step in range(until - first):
        day = first + step
        given = None if watering.given_mm is None else watering.given_mm[day, here][:, None]
        today = _Day.of(tables, here, day, (rain[..., step], use[..., step], given), part)
        awaited = watering.until_day is None or day < watering.until_day
        refill = watering.refill if watering.when_due and awaited else 0.0
        if stock is not None:
            stock.fill(climate.rain_mm[:, day])
        hose = _Hose(refill, stock, area_m2)
        for name, values in zip(_KEPT, _one_day(part, fixed, today, hose), strict=True):
            kept[name][day, here] = values
    ground.depletion[here], ground.below[here] = part.depletion, part.below
    ground.top[here], ground.wetted[here] = part.top, part.wetted


@dataclass(frozen=True, slots=True, eq=False)
class _Fixed:
    """What does not change from day to day, each shaped (rows, 1)."""

    mm_per_m: Array
    ready_mm: Array
    top_mm: Array
    table_share: Array
    kept_in: Array
    wetted: Array
    grown: NDArray[np.bool_]

    @classmethod
    def of(cls, tables: BalanceTables, here: Rows) -> "_Fixed":
        """Take the rows that have ground."""
        return cls(*(getattr(tables, name)[here][:, None] for name in cls.__slots__))


@dataclass(frozen=True, slots=True, eq=False)
class _Day:
    """One day: rain and use (rows, runs); the crop's figures (rows, 1); what hand gave."""

    rain: Array
    use: Array
    given: Array | None
    basal: Array
    highest: Array
    covered: Array
    total_mm: Array

    @classmethod
    def of(
        cls,
        tables: BalanceTables,
        here: Rows,
        day: int,
        weather: tuple[Array, Array, Array | None],
        part: _Ground,
    ) -> "_Day":
        """Take one day of the tables; roots that deepened reach what the ground below lacks."""
        root = tables.root_m[day, here][:, None]
        if day and (grew := root - tables.root_m[day - 1, here][:, None]).any():
            under = tables.deep_m[here][:, None] - (root - grew)
            share = np.clip(grew / np.maximum(under, 1e-9), 0.0, 1.0)
            # On the day a patch begins its depth came with its ground.
            share = np.where(tables.area_m2[day - 1, here][:, None] > 0, share, 0.0)
            reached = part.below * share
            part.depletion += reached
            part.below -= reached
        total = np.maximum(
            root * tables.mm_per_m[here][:, None],
            np.where(tables.grown[here], 0.0, tables.top_mm[here])[:, None],
        )
        basal, highest, covered = (
            table[day, here][:, None] for table in (tables.basal, tables.highest, tables.covered)
        )
        return cls(*weather, basal, highest, covered, total)


@dataclass(frozen=True, slots=True, eq=False)
class _Hose:
    """What is given where it is due: the share of the lack [1], and out of what.

    ``stock`` is None where there is as much as one wants; ``area_m2`` is shaped (rows, 1) [m²].
    """

    refill: float
    stock: TankStock | None
    area_m2: Array

    def given_mm(self, wanted_mm: Array) -> Array:
        """Give what there is of what is wanted, shape (rows, runs) [mm]."""
        if self.stock is None:
            return wanted_mm
        wanted_l = (wanted_mm * self.area_m2).sum(axis=0)
        share: Array = self.stock.draw(wanted_l) / np.maximum(wanted_l, DROP_L)
        return wanted_mm * share


def _one_day(
    part: _Ground,
    fixed: _Fixed,
    today: _Day,
    hose: _Hose,
) -> tuple[Array, ...]:
    """Carry the ground through one day and tell what happened, in the order of what is kept."""
    lack = part.depletion - today.rain
    top = part.top - today.rain
    wetted = np.where(today.rain > 0, 1.0, part.wetted)
    given = np.zeros_like(lack) if today.given is None else np.broadcast_to(today.given, lack.shape)
    if hose.refill:
        bare_wet = bare_wet_share(today.covered, wetted)
        unwatered = np.maximum(lack, 0.0), np.maximum(top, 0.0), bare_wet
        evaporated = _evaporation_mm(fixed, today, *unwatered)
        share = easy_share(fixed.table_share, today.basal * today.use + evaporated)
        due = fixed.grown & (lack > 0) & (lack >= share * today.total_mm)
        given = given + hose.given_mm(np.where(due, hose.refill * lack, 0.0))
    if hose.refill or today.given is not None:
        wet = given > 0
        wetted = np.where(wet & (today.rain <= 0), fixed.wetted, wetted)
        lack, top = lack - given, top - given / wetted
    surplus = np.maximum(-lack, 0.0)
    lack, top = np.maximum(lack, 0.0), np.maximum(top, 0.0)
    soaked = np.minimum(surplus, part.below)

    bare_wet = bare_wet_share(today.covered, wetted)
    evaporated = _evaporation_mm(fixed, today, lack, top, bare_wet)
    share = easy_share(fixed.table_share, today.basal * today.use + evaporated)
    stress = stress_factor(lack, today.total_mm, share)
    left = np.maximum(today.total_mm - lack - evaporated, 0.0)
    drunk = np.minimum(stress * today.basal * today.use, left)

    part.depletion = lack + evaporated + drunk
    part.below = part.below - soaked
    part.top = top + evaporated / bare_wet
    part.wetted = wetted
    easy = share * today.total_mm
    sunk = surplus - soaked
    flows = (given, today.rain, drunk, evaporated, sunk)
    return (part.depletion, part.below, easy, *flows, stress)


def _evaporation_mm(fixed: _Fixed, today: _Day, lack: Array, top: Array, bare_wet: Array) -> Array:
    """Give what the soil gives to the air, under mulch where there is some, while it has any."""
    free = drying(top, fixed.ready_mm, fixed.top_mm)
    coefficient = soil_coefficient(today.highest, today.basal, free, bare_wet)
    wanted = coefficient * (fixed.kept_in * today.use)
    held = np.minimum(bare_wet * (fixed.top_mm - top), today.total_mm - lack)
    return np.asarray(np.maximum(np.minimum(wanted, held), 0.0))


def _refuse_wrong(tables: BalanceTables, climate: Climate) -> None:
    """Refuse weather that does not fit the tables, or without rain."""
    days = tables.area_m2.shape[0]
    what = ""
    if climate.rain_mm.shape != climate.use_mm.shape or climate.use_mm.shape[-1] != days:
        what = "rain, use and the beds' days are of different lengths."
    elif not (np.isfinite(climate.rain_mm) & np.isfinite(climate.use_mm)).all():
        what = "the rain of some day is not known."
    if what:
        raise FaultsFoundError([Finding("water", what, "Give a record with rain.")])
