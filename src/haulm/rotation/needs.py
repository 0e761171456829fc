"""What each family takes in a year, read from a plan that was free to break rests."""

from collections import defaultdict
from collections.abc import Collection, Mapping
from dataclasses import dataclass

from haulm.plan.records import Plan, Planting
from haulm.rotation.records import FamilyNeed
from haulm.rotation.seasons import held, season_of, touched

SEASONS_PLANNED = 2
"""A plan covers two growing seasons; a year's need is their mean."""


@dataclass(frozen=True, slots=True)
class PlanFacts:
    """What is known beside a plan.

    Attributes
    ----------
    line_weight
        What a kilogram of each line of the table weighs.
    crops_apart
        Crops that a disease keeps off some bed by themselves.
    too_dark
        (bed, kind) for each kind whose bed gets less sun than it needs.
    lasting
        Kinds that stay for years: they are no part of a year's need.
    """

    line_weight: Mapping[str, float]
    crops_apart: frozenset[str] = frozenset()
    too_dark: Collection[tuple[str, str]] = ()
    lasting: frozenset[str] = frozenset()


def family_needs(plan: Plan, facts: PlanFacts) -> tuple[FamilyNeed, ...]:
    """Gather a plan's plantings by family, cover, sun and seasons: what one year takes of each.

    Every planting counts half, since the plan covers two seasons. What a square metre is worth is
    all it brings to the table, each line by its weight.
    """
    groups: dict[tuple[str, str | None, bool, frozenset[str], tuple[int, ...]], list[Planting]] = (
        defaultdict(list)
    )
    for planting in plan.plantings:
        if planting.kind in facts.lasting:
            continue
        start = season_of(planting.clear_by.year, 0)
        seasons = tuple(s - start for s in held(planting.in_ground_from, planting.clear_by))
        crop = planting.crop if planting.crop in facts.crops_apart else None
        dark = frozenset(bed for bed, kind in facts.too_dark if kind == planting.kind)
        groups[planting.family, crop, planting.under_cover, dark, seasons].append(planting)
    ordered = sorted(
        groups.items(), key=lambda one: (one[0][0], one[0][1] or "", one[0][2:3], one[0][4])
    )
    return tuple(
        FamilyNeed(
            id=f"{key[0]}-{number}",
            family=key[0],
            crop=key[1],
            area_m2=sum(p.area_m2 for p in plantings) / SEASONS_PLANNED,
            worth_m2=_worth(plantings, facts) / sum(p.area_m2 for p in plantings),
            seasons=key[4],
            touches=_touches(plantings),
            under_cover=key[2],
            dark=key[3],
        )
        for number, (key, plantings) in enumerate(ordered, start=1)
    )


def _touches(plantings: Collection[Planting]) -> tuple[int, ...]:
    """Gather the seasons that any of some plantings keeps a green manure out of."""
    return tuple(
        sorted(
            {
                season - season_of(p.clear_by.year, 0)
                for p in plantings
                for season in touched(p.in_ground_from, p.clear_by)
            }
        )
    )


def _worth(plantings: Collection[Planting], facts: PlanFacts) -> float:
    """Weigh all that plantings bring to the table."""
    return sum(
        served.kg * facts.line_weight.get(served.line, 0.0)
        for planting in plantings
        for served in planting.serves
    )
