"""The smaller questions: is my garden sound, what is its climate, how do rows fall."""

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from haulm.catalogue.loader import load_catalogue
from haulm.catalogue.near import find_crop, find_food, find_kind
from haulm.catalogue.records import Catalogue, Crop, Kind
from haulm.desk.beds.ground import closures_told
from haulm.desk.beds.soil_told import soils_told
from haulm.desk.garden.opening import open_garden
from haulm.desk.planning.question import kinds_for
from haulm.desk.table.storing import unkept
from haulm.ground.outlines import circle, rectangle
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.measure.near import near_names
from haulm.measure.units import parse_dimensions_m, parse_length_m
from haulm.notebook.garden import Garden
from haulm.planting.records import Layout
from haulm.planting.rows import rows_as_dict, rows_of
from haulm.site.seasons import model_for
from haulm.site.summary import SiteSummary, summarise

ROUND = "round"


def check_garden(path: Path) -> tuple[Finding, ...]:
    """Read a garden and give everything worth knowing about its data.

    Raises
    ------
    FaultsFoundError
        With every fault at once; last, where the weather is too thin to plan through.
    """
    opened = open_garden(path)
    model_for(opened.garden.weather, opened.garden.place)
    kinds = kinds_for(opened.garden, opened.catalogue)
    return (
        *opened.findings,
        *unkept(opened.garden, kinds),
        *closures_told(opened.garden, opened.catalogue),
        *soils_told(opened.garden, opened.catalogue, kinds),
    )


def climate_of(path: Path, seed: int) -> tuple[SiteSummary, Garden]:
    """Sum up the climate of a garden's place; the garden says in which units it is read."""
    garden = open_garden(path).garden
    return summarise(garden.weather, garden.place, seed), garden


def rows_in(size: str, spacing: str, edge: str | None, row_gap: str | None) -> Layout:
    """Lay rows into a bed given as typed: ``1.2 x 4.8 m`` or ``2.4 m round``.

    Raises
    ------
    FaultsFoundError
        When a size cannot be read or makes no bed.
    """
    typed = size.strip()
    if typed.lower().endswith(ROUND):
        outline = circle(parse_length_m(typed[: -len(ROUND)].strip(), "bed"), "bed")
    else:
        outline = rectangle(*parse_dimensions_m(typed, "bed"), "bed")
    return rows_of(
        outline,
        parse_length_m(spacing, "--spacing"),
        None if edge is None else parse_length_m(edge, "--edge"),
        None if row_gap is None else parse_length_m(row_gap, "--row-gap"),
    )


def rows_data(layout: Layout) -> Mapping[str, Any]:
    """Give a layout as plain values."""
    return rows_as_dict(layout)


def crops_named(
    name: str | None, garden: Path | None = None
) -> tuple[Catalogue, tuple[tuple[Crop, tuple[Kind, ...]], ...]]:
    """Find crops with their kinds by the name of a crop, kind or food; all when no name is given.

    They are those of a garden's catalogue where one is given, the household's own among them.

    Raises
    ------
    FaultsFoundError
        When nothing has that name; near names are suggested.
    """
    catalogue = load_catalogue() if garden is None else open_garden(garden).catalogue
    return catalogue, found_crops(catalogue, name)


def found_crops(
    catalogue: Catalogue, name: str | None
) -> tuple[tuple[Crop, tuple[Kind, ...]], ...]:
    """Find crops with their kinds in a catalogue by any of their names.

    Raises
    ------
    FaultsFoundError
        When nothing has that name; near names are suggested.
    """
    if name is None:
        return tuple((crop, kinds_of(catalogue, crop)) for crop in catalogue.crops.values())
    kind = find_kind(catalogue, name)
    if kind is not None:
        return ((catalogue.crops[kind.crop], (kind,)),)
    crop = find_crop(catalogue, name)
    food = find_food(catalogue, name)
    if crop is None and food is not None:
        crop = catalogue.crops[food.crop]
    if crop is None:
        near = near_names(name, [*catalogue.crops, *catalogue.kinds, *catalogue.foods])
        remedy = f"Did you mean {', '.join(near)}?" if near else "haulm crops lists them all."
        raise FaultsFoundError(
            [Finding("catalogue", f"no crop, kind or food is called {name}.", remedy)]
        )
    return ((crop, kinds_of(catalogue, crop)),)


def kinds_of(catalogue: Catalogue, crop: Crop) -> tuple[Kind, ...]:
    """Give the kinds of a crop."""
    return tuple(kind for kind in catalogue.kinds.values() if kind.crop == crop.id)
