"""Rotation in the bound: where a bed is the only one of its cover, it cannot be rotated away.

For each family and such a bed, ``come`` (0 or 1) says that a patch cleared in some year was cleared
by some week. Patches of one set that all stand in one week and take ground no earlier than that
share the bed's area, so that Σ area − Σ broken / years missing ≤ area · (1 − come).
"""

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from haulm.planner.arrays import Floats, Ints
from haulm.planner.assembler import Assembler
from haulm.planner.rules.registry import ROTATION
from haulm.planner.tables import Tables


@dataclass(frozen=True, slots=True)
class _Family:
    """A family in a lone bed: of each of its sowings, when it stands and what it misses already."""

    bed_m2: float
    gap_years: int
    sowing: Ints
    start: Ints
    end: Ints
    year: Ints
    missing: Floats


def lone_rotation(model: Assembler, tables: Tables, total: Ints, patches: Ints) -> None:
    """Lay rotation on the beds that are the only ones of their cover.

    Parameters
    ----------
    model, tables
        The pooled model, still open, and the tables.
    total, patches
        (S) columns of the area and of the number of patches of each sowing; no sowing of a lone bed
        has more than one patch.
    """
    for family in _families(tables):
        broken = model.columns(len(family.sowing), cost=tables.question.prices.rotation_m2)
        for year in np.unique(family.year):
            before = -1
            so_far: Ints | None = None
            for week in np.unique(family.start):
                cleared = (family.year == year) & (family.end <= week) & (family.end > before)
                if not cleared.any():
                    continue
                come = model.columns(1, upper=1.0, whole=True)
                earlier = patches[family.sowing[cleared]]
                if so_far is not None:
                    earlier = np.concatenate([earlier, so_far])
                _implies(model, earlier, come)
                _breaks(model, family, (int(year), int(week)), (total, broken, come))
                before, so_far = int(week), come


def _families(tables: Tables) -> Iterator[_Family]:
    ground, gaps = tables.ground, tables.question.rotation_gap_years
    covers = [bed.under_cover for bed in ground.beds]
    members: dict[tuple[int, str], list[int]] = defaultdict(list)
    for pair, (s, b) in enumerate(zip(ground.pair_sowing, ground.pair_bed, strict=True)):
        family = ground.sowings[s].family
        if covers.count(covers[b]) == 1 and gaps[family] > 0:
            members[int(b), family].append(pair)
    for (b, family), pairs in members.items():
        of = ground.pair_sowing[pairs]
        yield _Family(
            bed_m2=ground.beds[b].area_m2,
            gap_years=gaps[family],
            sowing=of,
            start=np.array([ground.sowings[s].ground_from_week for s in of], dtype=np.int64),
            end=np.array([ground.sowings[s].ground_until_week for s in of], dtype=np.int64),
            year=ground.year[of],
            missing=ground.missing[pairs],
        )


def _implies(model: Assembler, earlier: Ints, come: Ints) -> None:
    """For each column that is 0 or 1: it ≤ come."""
    rows, one = np.arange(len(earlier)), np.ones(len(earlier))
    model.rows(
        ROTATION.name,
        (np.full(len(rows), -np.inf), np.zeros(len(rows))),
        [(rows, earlier, one), (rows, np.repeat(come, len(rows)), -one)],
    )


def _breaks(
    model: Assembler,
    family: _Family,
    since: tuple[int, int],
    columns: tuple[Ints, Ints, Ints],
) -> None:
    """For each later year and week of standing: what breaks once ``come`` is 1."""
    (year, week), (total, broken, come) = since, columns
    for later in np.unique(family.year):
        more = family.gap_years - (later - year) - family.missing
        after = (family.year == later) & (family.start >= week) & (more > 0)
        for at in np.unique(family.start[after]):
            held = np.nonzero(after & (family.start <= at) & (family.end > at))[0]
            none, full = np.zeros(len(held), dtype=np.int64), np.array([family.bed_m2])
            model.rows(
                ROTATION.name,
                (np.array([-np.inf]), full),
                [
                    (none, total[family.sowing[held]], np.ones(len(held))),
                    (none, broken[held], -1.0 / more[held]),
                    (none[:1], come, full),
                ],
            )
