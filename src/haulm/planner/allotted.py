"""Which pairs a rotation's allotments speak of: by bed, year of clearing and family."""

from collections import defaultdict
from dataclasses import dataclass

import numpy as np

from haulm.planner.arrays import Floats, Ints
from haulm.planner.question import PlanQuestion
from haulm.planner.tables import Tables


@dataclass(frozen=True, slots=True)
class Allotted:
    """One family in one bed and year of clearing, where a later year waits for its rest.

    Attributes
    ----------
    bed, year, family, pairs
        Which, and its pairs.
    most_m2
        The ground it may take all the same [m²].
    later_year, years_missing
        The year for which the bed is kept, and the years of rest that would then be missing.
    """

    bed: int
    year: int
    family: str
    pairs: Ints
    most_m2: float
    later_year: int
    years_missing: int


def allotted(tables: Tables) -> tuple[Allotted, ...]:
    """Group the pairs by bed, year of clearing and family, where a later year waits for its rest.

    Where beds are counted as one, no pair has a bed, and there is nothing to hold it to.
    """
    ground, question = tables.ground, tables.question
    most: dict[tuple[str, int, str], float] = defaultdict(float)
    for one in question.allotments:
        most[one.bed, one.year, one.family] += one.area_m2
    groups: dict[tuple[int, int, str], list[int]] = defaultdict(list)
    for pair, (s, b) in enumerate(zip(ground.pair_sowing, ground.pair_bed, strict=True)):
        if b >= 0:
            groups[int(b), int(ground.year[s]), ground.sowings[s].family].append(pair)
    found = []
    for (b, year, family), pairs in groups.items():
        bed = ground.beds[b].id
        later = waiting_year(question, bed, year, family)
        if later is not None:
            missing = question.rotation_gap_years[family] - (later - year)
            rows = np.array(pairs, dtype=np.int64)
            held = most.get((bed, year, family), 0.0)
            found.append(Allotted(b, year, family, rows, held, later, missing))
    return tuple(found)


def waiting_year(question: PlanQuestion, bed: str, year: int, family: str) -> int | None:
    """Give the first later year that has ground for a family in a bed before its rest is over.

    None where there is none: who stands there then spends no rest that anyone waits for.
    """
    gap = question.rotation_gap_years.get(family, 0)
    waiting = (
        one.year
        for one in question.allotments
        if (one.bed, one.family) == (bed, family) and year < one.year < year + gap
    )
    return min(waiting, default=None)


def beyond_allotment(tables: Tables, area_m2: Floats) -> tuple[tuple[Allotted, float], ...]:
    """Give each bed, year and family with more than its allotment, and by how much [m²]."""
    over = ((one, float(area_m2[one.pairs].sum()) - one.most_m2) for one in allotted(tables))
    return tuple((one, beyond) for one, beyond in over if beyond > 0)
