"""Small gardens over years, and what the best for them is, found by trying everything."""

from collections.abc import Iterator, Sequence
from datetime import date
from itertools import product

import numpy as np
from scipy.optimize import linprog

from haulm.rotation.records import (
    FamilyNeed,
    RotationBed,
    RotationPrices,
    RotationQuestion,
)

MADE_ON = date(2027, 1, 4)
SUMMER = (1, 2)
"""Spring and summer: whatever needs them needs the bed for itself."""
ONE_SLICE = ((1.0, 1.0),)


def bed(name: str, area_m2: float, *past: tuple[str, int], covered: bool = False) -> RotationBed:
    """Make a bed with its past."""
    return RotationBed(name, area_m2, covered, past)


def need(
    family: str,
    area_m2: float,
    worth_m2: float = 5.0,
    seasons: Sequence[int] = SUMMER,
    **more: object,
) -> FamilyNeed:
    """Make what a family takes in a year."""
    return FamilyNeed(family, family, None, area_m2, worth_m2, tuple(seasons), **more)  # type: ignore[arg-type]


def question(
    beds: Sequence[RotationBed],
    needs: Sequence[FamilyNeed],
    years: int,
    gaps: dict[str, int],
    **more: object,
) -> RotationQuestion:
    """Put a small question, made in January 2027 for the years from 2027 on."""
    asked: dict[str, object] = {"prices": RotationPrices(slices=ONE_SLICE)} | more
    return RotationQuestion(
        "quill yard",
        MADE_ON,
        2027,
        years,
        tuple(beds),
        tuple(needs),
        gaps,
        **asked,  # type: ignore[arg-type]
    )


def least_cost(asked: RotationQuestion) -> float:
    """Find what the best rotation costs: every set of families in every bed and year is tried.

    For needs of one slice that all stand in the same seasons, one need a family. What is tried is
    parted into areas by a linear programme of its own.
    """
    keys = [(bed, year, need) for bed in asked.beds for year in asked.span for need in asked.needs]
    return min(_cost(asked, keys, there) for there in product((False, True), repeat=len(keys)))


def _cost(
    asked: RotationQuestion,
    keys: Sequence[tuple[RotationBed, int, FamilyNeed]],
    there: Sequence[bool],
) -> float:
    """Part the ground among the families that are there, as well as can be."""
    used = [key for key, yes in zip(keys, there, strict=True) if yes]
    if any(need.area_m2 < asked.least_m2 for _, _, need in used):
        return np.inf
    rest = [
        asked.prices.rest_m2_year * _missing(asked, bed, year, need, used)
        for bed, year, need in used
    ]
    worth = [need.worth_m2 for _, _, need in used]
    wanted = sum(need.worth_m2 * need.area_m2 for need in asked.needs) * asked.years
    fixed = asked.prices.patch * len(used)
    if not used:
        return wanted
    rows: list[list[float]] = []
    most: list[float] = []
    for ground, year in product(asked.beds, asked.span):
        rows.append([float((b.id, y) == (ground.id, year)) for b, y, _ in used])
        most.append(ground.area_m2)
    for need, year in product(asked.needs, asked.span):
        rows.append([float((n.id, y) == (need.id, year)) for _, y, n in used])
        most.append(need.area_m2)
    found = linprog(
        c=np.array(rest) - np.array(worth),
        A_ub=np.array(rows),
        b_ub=most,
        bounds=[(min(asked.least_m2, need.area_m2), None) for _, _, need in used],
    )
    return float(wanted + fixed + found.fun) if found.success else np.inf


def _missing(
    asked: RotationQuestion,
    ground: RotationBed,
    year: int,
    need: FamilyNeed,
    used: Sequence[tuple[RotationBed, int, FamilyNeed]],
) -> int:
    """Count the years of rest missing after the last stand before."""
    before = [when for family, when in ground.lifted if family == need.family and when < year]
    before += [
        when
        for bed, when, other in used
        if bed.id == ground.id and other.family == need.family and when < year
    ]
    return max(0, asked.gap_years[need.family] - (year - max(before))) if before else 0


def schedules(years: int, gaps: dict[str, int], fallow: int) -> Iterator[tuple[str | None, ...]]:
    """List every schedule of one plot: a family or none each year, intervals kept, some fallow."""
    for plan in product((None, *gaps), repeat=years):
        stands = [
            (one, other)
            for one in range(years)
            for other in range(one)
            if plan[one] is not None and plan[one] == plan[other]
        ]
        rested = all(one - other >= gaps[str(plan[one])] for one, other in stands)
        if rested and plan.count(None) >= fallow:
            yield plan
