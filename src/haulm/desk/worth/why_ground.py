"""Why a bed holds what it holds, when it is full, and what more of it would bring."""

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from haulm.desk.beds.ground import closed_ground, kept_off
from haulm.desk.worth.why_more import one_more_of
from haulm.desk.worth.why_records import (
    Grounds,
    Part,
    Reckoned,
    See,
    Shown,
    Why,
    once_each,
    parts_of_use,
    reckoned,
)
from haulm.ground.closures import closure_sentence
from haulm.measure.day_words import long_day
from haulm.plan.records import PlanBed, Planting
from haulm.planner.one_more import stretches
from haulm.planner.records import Scarce
from haulm.planner.words import month, stretch
from haulm.sheets.shopping_sums import LITRES_A_M3

FULL_M2 = 1e-4
"""A bed with less than this left is full [m²]."""


def why_bed(bed: PlanBed, grounds: Grounds) -> Why:
    """Say what a bed holds and when it is full, and what one more piece of it would bring."""
    plan = grounds.made.plan
    here = sorted(
        (p for p in plan.plantings if p.bed == bed.id), key=lambda p: (p.in_ground_from, p.id)
    )
    held = held_m2(bed, grounds)
    full = list(stretches(held >= bed.area_m2 - FULL_M2))
    when = [stretch(grounds.question, first, last) for first, last in full]
    answer = (
        f"{grounds.area(bed.area_m2)}, full {', '.join(when)}."
        if when
        else f"{grounds.area(bed.area_m2)}, never full: at most {grounds.area(held.max())} held."
    )
    enough = "More of it would bring nothing to the plantings it has; others might use it."
    return Why(
        path=f"bed/{bed.id}",
        name=bed.name,
        answer=answer,
        parts=parts_of_use(
            one_more_of((Scarce.GROUND, bed.id), "One more piece of it", enough, grounds),
            Part("What it holds", shown=_holds(here, grounds)),
            Part("What is kept off it", tuple(_closed(bed, grounds))),
            Part("Compost", tuple(_compost(here, grounds))),
            Part("How full, month by month", shown=_months(held, bed, grounds), folded=True),
            Part("The sum", tuple(_sum(here, held, bed, grounds))),
        ),
        figures=_figures(here, grounds),
        see=tuple(See(f"planting/{p.id}", f"{p.id}, {grounds.name(p.kind)}") for p in here),
    )


def held_m2(bed: PlanBed, grounds: Grounds) -> NDArray[np.float64]:
    """Give (weeks) the ground that plantings hold in a bed [m²]."""
    plan = grounds.made.plan
    held = np.zeros(plan.horizon.weeks)
    for p in plan.plantings:
        if p.bed == bed.id:
            held[max(0, p.from_week) : max(0, p.until_week)] += p.area_m2
    return held


def _holds(here: list[Planting], grounds: Grounds) -> Shown | None:
    rows = tuple(
        (
            p.id,
            grounds.name(p.kind),
            "stands" if p.standing else long_day(p.in_ground_from),
            long_day(p.clear_by),
            grounds.area(p.area_m2),
            p.bounds[0].sentence.partition(";")[0] if p.bounds else "it stands already",
        )
        for p in here
    )
    heads = ("planting", "kind", "from", "until", ">ground", "what bound it")
    return Shown(heads, rows) if rows else None


def _closed(bed: PlanBed, grounds: Grounds) -> Iterator[str]:
    catalogue = grounds.made.catalogue
    for closure in closed_ground(grounds.made.garden, catalogue):
        if closure.bed == bed.id:
            disease = catalogue.diseases[closure.disease]
            off = kept_off(closure, catalogue)
            yield f"{closure_sentence(closure, bed.name, off, disease.name)}."


def _months(held: NDArray[np.float64], bed: PlanBed, grounds: Grounds) -> Shown:
    by_month: dict[str, float] = {}
    for week, m2 in enumerate(held.tolist()):
        when = month(grounds.question, week)
        by_month[when] = max(by_month.get(when, 0.0), m2)
    rows = tuple(
        (when, grounds.area(m2), grounds.area(max(0.0, bed.area_m2 - m2)))
        for when, m2 in by_month.items()
    )
    return Shown(("month", ">most held", ">left then"), rows)


def _compost(here: list[Planting], grounds: Grounds) -> Iterator[str]:
    kinds = grounds.made.catalogue.kinds
    for p in here:
        depth = kinds[p.kind].stand.compost_m.value if p.kind in kinds else 0.0
        if depth > 0 and not p.standing:
            litres = p.area_m2 * depth * LITRES_A_M3
            laid = f"{grounds.area(p.area_m2)} × {grounds.length(depth)} deep"
            yield f"{p.id}: {laid} = {grounds.volume(litres)}"


def _sum(
    here: list[Planting], held: NDArray[np.float64], bed: PlanBed, grounds: Grounds
) -> Iterator[str]:
    """Add up the bed in the week in which it is fullest."""
    week = int(held.argmax())
    there = [p for p in here if p.from_week <= week < p.until_week]
    if not there:
        return
    added = " + ".join(f"{grounds.area(p.area_m2)} {p.id}" for p in there)
    when = long_day(grounds.made.plan.horizon.monday(week))
    yield (
        f"in the week of {when}: {added} = {grounds.area(float(held[week]))} of"
        f" {grounds.area(bed.area_m2)}"
    )


def _figures(here: list[Planting], grounds: Grounds) -> tuple[Reckoned, ...]:
    catalogue = grounds.made.catalogue
    families = dict.fromkeys(p.family for p in here)
    rest = [
        reckoned(
            f"{catalogue.families[family].name}: years between its stands",
            catalogue.families[family].rotation_gap_years,
            catalogue,
        )
        for family in families
        if family in catalogue.families
    ]
    kinds = [k for k in dict.fromkeys(p.kind for p in here) if k in catalogue.kinds]
    laid = [
        reckoned(
            f"{grounds.name(kind)}: compost laid before it",
            catalogue.kinds[kind].stand.compost_m,
            catalogue,
        )
        for kind in kinds
    ]
    return once_each([*rest, *laid])
