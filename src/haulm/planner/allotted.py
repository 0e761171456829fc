"""Which pairs a rotation's allotments speak of: by bed, year of clearing and family."""

from collections import defaultdict
from dataclasses import dataclass

import numpy as np

from haulm.planner.arrays import Floats, Ints
from haulm.planner.question import PlanQuestion
from haulm.planner.tables import Tables


def rests_more_than_a_year(question: PlanQuestion, family: str) -> bool:
    """Say whether a family that stands in a bed keeps itself off it in the year after."""
    return question.rotation_gap_years.get(family, 0) > 1


@dataclass(frozen=True, slots=True)
class Allotted:
    """One family in one bed and year of clearing: its pairs, and the ground it may take [m²]."""

    bed: int
    year: int
    family: str
    pairs: Ints
    most_m2: float


def allotted(tables: Tables) -> tuple[Allotted, ...]:
    """Group the pairs by bed, year of clearing and family, in the years that were laid out.

    Where beds are counted as one, no pair has a bed, and there is nothing to hold it to.
    """
    ground, question = tables.ground, tables.question
    most: dict[tuple[str, int, str], float] = defaultdict(float)
    for one in question.allotments:
        most[one.bed, one.year, one.family] += one.area_m2
    years = {one.year for one in question.allotments}
    groups: dict[tuple[int, int, str], list[int]] = defaultdict(list)
    for pair, (s, b) in enumerate(zip(ground.pair_sowing, ground.pair_bed, strict=True)):
        year, family = int(ground.year[s]), ground.sowings[s].family
        if b >= 0 and year in years and rests_more_than_a_year(question, family):
            groups[int(b), year, family].append(pair)
    return tuple(
        Allotted(
            b,
            year,
            family,
            np.array(pairs, dtype=np.int64),
            most.get((ground.beds[b].id, year, family), 0.0),
        )
        for (b, year, family), pairs in groups.items()
    )


def beyond_allotment(tables: Tables, area_m2: Floats) -> tuple[tuple[Allotted, float], ...]:
    """Give each bed, year and family with more than its allotment, and by how much [m²]."""
    over = ((one, float(area_m2[one.pairs].sum()) - one.most_m2) for one in allotted(tables))
    return tuple((one, beyond) for one, beyond in over if beyond > 0)
