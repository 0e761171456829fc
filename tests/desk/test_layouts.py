import re
from collections.abc import Mapping, Sequence
from dataclasses import replace
from itertools import combinations, product
from math import ceil, dist

import pytest
from shapely import Polygon

from haulm.desk.beds.layouts import FITS_SHARE, crowded, lay_out_plan, patch_wish
from haulm.desk.planning.plans import Made
from haulm.measure.findings import Grade
from haulm.planting.records import PatchLayout, Piece

TAPE_M = 0.0051
"""Rows and first holes are measured to the nearest centimetre [m]."""


def test_every_planting_has_its_place_in_its_own_bed(made: Made) -> None:
    """Each planting is laid out once, in the bed the plan gave it, at its own size."""
    laid = {(bed, patch.name): patch for bed, some in made.layouts.items() for patch in some}
    assert set(laid) == {(planting.bed, planting.id) for planting in made.plan.plantings}
    for planting in made.plan.plantings:
        assert laid[planting.bed, planting.id].area_m2 == pytest.approx(planting.area_m2)


def test_no_two_plants_stand_closer_than_their_spacing(made: Made) -> None:
    """Within a patch, any two holes are the kind's spacing apart, to half a centimetre of tape."""
    for planting in made.plan.plantings:
        spacing_m = patch_wish(planting, made.catalogue).spacing_m
        patch = next(one for one in made.layouts[planting.bed] if one.name == planting.id)
        for piece in patch.pieces:
            apart = (dist(a, b) for a, b in combinations(piece.layout.stations_m, 2))
            assert min(apart, default=spacing_m) >= spacing_m - TAPE_M


def test_what_stands_at_the_same_time_shares_no_ground(made: Made) -> None:
    """Two patches that hold ground in the same weeks of a bed lie side by side, never over."""
    weeks = {planting.id: planting for planting in made.plan.plantings}
    for some in made.layouts.values():
        for one, other in combinations(some, 2):
            first, second = weeks[one.name], weeks[other.name]
            if first.until_week <= second.from_week or second.until_week <= first.from_week:
                continue
            for a, b in product(one.pieces, other.pieces):
                shared = Polygon(a.corners_m).intersection(Polygon(b.corners_m))
                assert shared.area < 1e-4, (one.name, other.name)


def test_a_bed_without_plantings_has_no_patches(made: Made) -> None:
    """A bed to which the plan gives nothing is laid out empty, not left out."""
    bare = replace(made.plan, plantings=())
    assert lay_out_plan(bare, made.garden.beds, made.catalogue) == {"north": (), "south": ()}


def test_a_patch_that_holds_clearly_fewer_plants_is_told(made: Made) -> None:
    """Wherever more than a tenth of the plants find no room it is told, and nowhere else."""
    fits = {
        patch.name: sum(piece.layout.count for piece in patch.pieces)
        for patches in made.layouts.values()
        for patch in patches
    }
    short = {one.id for one in made.plan.plantings if fits[one.id] < FITS_SHARE * one.plants}
    assert told_of(made, made.layouts) == short
    assert all(one.grade is not Grade.FAULT for one in crowded(made.plan, made.layouts, made.names))


def test_plants_that_find_no_room_at_all_are_told(made: Made) -> None:
    """Where not one plant of a planting fits, it is told, whichever planting it is."""
    bare = {
        bed: tuple(replace(patch, pieces=()) for patch in some)
        for bed, some in made.layouts.items()
    }
    assert told_of(made, bare) == {one.id for one in made.plan.plantings}


def told_of(made: Made, layouts: Mapping[str, Sequence[PatchLayout]]) -> set[str]:
    """Give the plantings that are told of as crowded."""
    told = crowded(made.plan, layouts, made.names)
    text = " ".join(f"{finding.where} {finding.what}" for finding in told)
    return {
        one.id
        for one in made.plan.plantings
        if re.search(rf"(?<![\w-]){re.escape(one.id)}(?![\w-])", text)
    }


def test_the_planned_plants_go_into_the_wish(made: Made) -> None:
    """The bed is shared out with an eye on how many plants each patch was planned to hold."""
    for planting in made.plan.plantings:
        assert patch_wish(planting, made.catalogue).plants == planting.plants


def with_holes(made: Made, kept: float) -> dict[str, tuple[PatchLayout, ...]]:
    """Keep a share of every patch's rows, as if the rest had found no room."""
    return {
        bed: tuple(
            replace(patch, pieces=tuple(_thinned(piece, kept) for piece in patch.pieces))
            for patch in some
        )
        for bed, some in made.layouts.items()
    }


def _thinned(piece: Piece, kept: float) -> Piece:
    rows = piece.layout.rows
    return replace(piece, layout=replace(piece.layout, rows=rows[: ceil(kept * len(rows))]))


def test_patches_that_hold_clearly_fewer_plants_are_told_bed_by_bed(made: Made) -> None:
    """Wherever a tenth of the plants find no room it is said how many do, once for each bed."""
    layouts = with_holes(made, 0.5)
    told = {finding.where: finding for finding in crowded(made.plan, layouts, made.names)}
    short: dict[str, list[str]] = {}
    for planting in made.plan.plantings:
        patch = next(one for one in layouts[planting.bed] if one.name == planting.id)
        held = sum(piece.layout.count for piece in patch.pieces)
        if held < FITS_SHARE * planting.plants:
            words = f"{planting.id} {held} of {planting.plants}"
            short.setdefault(made.names[planting.bed], []).append(words)
    assert short
    assert set(told) == set(short)
    for where, plantings in short.items():
        assert told[where].grade is Grade.NOTE
        plainly = told[where].what.replace(" holds", "").replace(" plants", "")
        assert plainly == f"{', '.join(plantings)}."


def test_a_planting_that_finds_no_room_at_all_is_a_warning(made: Made) -> None:
    """A planting of which not one plant fits is warned of by itself, with what to do."""
    told = crowded(made.plan, with_holes(made, 0.0), made.names)
    assert len(told) == len(made.plan.plantings)
    for finding, planting in zip(told, made.plan.plantings, strict=True):
        assert finding.grade is Grade.WARNING
        assert planting.id in finding.where
        assert finding.remedy


def test_nothing_is_told_where_every_plant_fits(made: Made) -> None:
    """A plan whose patches hold all their plants is left without a word about room."""
    plantings = tuple(replace(planting, plants=1) for planting in made.plan.plantings)
    assert crowded(replace(made.plan, plantings=plantings), made.layouts, made.names) == ()
