"""Give every planting its place in its bed, and say where fewer plants fit than planned."""

import pickle
from collections import defaultdict
from collections.abc import Mapping, Sequence
from hashlib import sha256

from haulm.catalogue.records import Catalogue
from haulm.catalogue.stand import station_spacing
from haulm.ground.records import Bed
from haulm.measure.findings import Finding, Grade
from haulm.plan.records import Plan, Planting
from haulm.planting.records import PatchLayout, PatchWish
from haulm.planting.sharing import share_out_bed

FITS_SHARE = 0.9
"""A patch that holds less than this share of its planned plants is told of [1]."""


def lay_out_plan(
    plan: Plan, beds: Sequence[Bed], catalogue: Catalogue
) -> dict[str, tuple[PatchLayout, ...]]:
    """Share out every bed among its plantings; each layout carries its planting's id as name."""
    by_bed: dict[str, list[Planting]] = defaultdict(list)
    for planting in plan.plantings:
        by_bed[planting.bed].append(planting)
    return {
        bed.id: share_out_bed(
            bed.outline, [patch_wish(planting, catalogue) for planting in by_bed[bed.id]]
        )
        for bed in beds
    }


def mark_of_layout(plan: Plan, beds: Sequence[Bed], catalogue: Catalogue) -> str:
    """Give a mark of all that a plan laid out in its beds rests on."""
    stands = [
        catalogue.kinds[kind].stand
        for kind in sorted({planting.kind for planting in plan.plantings})
        if kind in catalogue.kinds
    ]
    rests_on = (plan.plantings, [bed.outline for bed in beds], stands)
    return sha256(pickle.dumps(rests_on)).hexdigest()


def patch_wish(planting: Planting, catalogue: Catalogue) -> PatchWish:
    """Say what ground a planting wants, for how long, and how its stations stand."""
    spacing_m, row_gap_m = station_spacing(catalogue.kinds[planting.kind].stand)
    return PatchWish(
        name=planting.id,
        area_m2=planting.area_m2,
        spacing_m=spacing_m,
        row_gap_m=row_gap_m,
        edge_m=spacing_m / 2,
        from_week=planting.from_week,
        until_week=planting.until_week,
        plants=planting.plants,
    )


def crowded(
    plan: Plan, layouts: Mapping[str, Sequence[PatchLayout]], names: Mapping[str, str]
) -> tuple[Finding, ...]:
    """Tell where fewer stations fit than the plan counted on.

    A planting that holds none at all is a warning of its own; those that hold clearly fewer are
    told bed by bed, in the plan's order.
    """
    fits = {
        patch.name: sum(piece.layout.count for piece in patch.pieces)
        for patches in layouts.values()
        for patch in patches
    }
    short = [each for each in plan.plantings if fits[each.id] < FITS_SHARE * each.plants]
    told: dict[str, list[str]] = defaultdict(list)
    for planting in short:
        if fits[planting.id]:
            of = f"{fits[planting.id]} of {planting.plants}"
            first = planting.bed not in told
            told[planting.bed].append(
                f"{planting.id} holds {of} plants" if first else f"{planting.id} {of}"
            )
    return (
        *(_none_fits(each, names) for each in short if not fits[each.id]),
        *(
            Finding(where=names[bed], what=f"{', '.join(held)}.", grade=Grade.NOTE)
            for bed, held in told.items()
        ),
    )


def _none_fits(planting: Planting, names: Mapping[str, str]) -> Finding:
    return Finding(
        where=f"{names[planting.bed]}, {names[planting.kind]} ({planting.id})",
        what=f"its ground holds none of the plants planned ({planting.plants}).",
        remedy="Plant at the bed's edge, or give it more room in a wider bed.",
        grade=Grade.WARNING,
    )
