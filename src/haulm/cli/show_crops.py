"""Show the catalogue on a terminal: every figure with what it rests on."""

from collections.abc import Iterator, Sequence
from dataclasses import fields, is_dataclass

from haulm.catalogue.footing import crop_stands, kind_stands
from haulm.catalogue.naming import FigureAt, figures_by_name
from haulm.catalogue.records import (
    Absent,
    Catalogue,
    Crop,
    Family,
    Figure,
    Food,
    Hardy,
    Kind,
)
from haulm.cli.show import line, table
from haulm.desk.showing.crop_footing import footing_words
from haulm.desk.showing.crop_pages import HARDY, NOT_KNOWN, crop_page, plain_number, worded
from haulm.desk.showing.seed_told import seed_told
from haulm.desk.table.foods_held import amount_text, held_by
from haulm.desk.worth.figures_told import rests_on

Found = Sequence[tuple[Crop, tuple[Kind, ...]]]


def crops(catalogue: Catalogue, found: Found, *, whole: bool) -> None:
    """Print crops with their kinds; the whole of each when asked by name."""
    if not whole:
        table(
            ("crop", "footing", "family", "kinds", "foods"),
            (
                (
                    crop.name,
                    crop_stands(catalogue, crop).footing.value,
                    catalogue.families[crop.family].name,
                    ", ".join(kind.id for kind in kinds),
                    ", ".join(food.id for food in catalogue.foods.values() if food.crop == crop.id),
                )
                for crop, kinds in found
            ),
        )
        line("Footing says how firmly a crop's figures stand: firm, fair or thin.")
        line("Kinds and foods stand as garden.toml names them.")
        line("haulm crops NAME shows every figure of one, with its source and basis;")
        line("with --names, by the names that garden.toml has for them.")
        return
    for crop, kinds in found:
        line(f"{crop.name} ({crop.latin}), {catalogue.families[crop.family].name}")
        line(f"Footing: {footing_words(crop_stands(catalogue, crop))}")
        for kind in kinds:
            table(
                ("figure", ">value", ">8 years in 10", "unit", "rests on"),
                (row for name, figure in figures(kind) for row in rows(name, figure, catalogue)),
                title=f"\n{kind.name} ({kind.id}); methods: {methods(kind)}; "
                f"footing: {footing_words(kind_stands(catalogue, kind))}",
            )
        seed(catalogue, crop)
        foods_held(catalogue, crop)
        for caution in crop_page(catalogue, crop, ()).cautions:
            line(f"\nCaution: {caution.text} Consult: {caution.authority}")


def seed(catalogue: Catalogue, crop: Crop) -> None:
    """Print how soon a crop's seed shows, by the soil's warmth, and how much of it does."""
    told = seed_told(catalogue, crop)
    if told is None:
        return
    table(
        (">soil, °C", ">days to show", ">seedlings of 100 seeds"),
        (
            (
                f"{one.soil_c:g}",
                "not tried" if one.days is None else f"{one.days:g}" if one.days else "none show",
                "not known" if one.share is None else f"{100 * one.share:.0f}",
            )
            for one in told.lines
        ),
        title="\nHow soon seed shows, in moist soil held at one temperature",
    )
    line(f"Rests on: {told.rests_on}.")
    for source in told.sources:
        line(f"{source.title}, {source.publisher}.")


def foods_held(catalogue: Catalogue, crop: Crop) -> None:
    """Print what 100 g of each of a crop's foods hold, and the row that says so."""
    held = held_by(catalogue, crop)
    if held.amounts:
        table(
            ("nutrient", *(f">{one.food.name}" for one in held.known), "unit"),
            (
                (nutrient.name, *(amount_text(amount) for amount in amounts), nutrient.unit)
                for nutrient, amounts in held.amounts
            ),
            title="\nWhat 100 g of the edible part hold",
        )
    for one in held.foods:
        if one.facts is None:
            line(f"What {one.food.name} holds is not known: {one.absent}.")
        else:
            note = f"; {one.facts.note}" if one.facts.note else ""
            line(f"{one.food.name}: the row “{one.facts.row}”{note}. {held.origin}.")


def names(catalogue: Catalogue, found: Found) -> None:
    """Print every figure of crops by the name that garden.toml has for it."""
    for crop, kinds in found:
        foods = [food for food in catalogue.foods.values() if food.crop == crop.id]
        holders: tuple[Kind | Food | Family, ...] = (
            *kinds,
            *foods,
            catalogue.families[crop.family],
        )
        for holder in holders:
            table(
                ("figure", ">value", "unit", "rests on"),
                map(name_row, figures_by_name(holder).values()),
                title=f'\n{holder.name}: of = "{holder.id}"',
            )


def name_row(at: FigureAt) -> tuple[str, ...]:
    """Give the cells of one figure's line, by its name in garden.toml."""
    unit = at.unit if at.unit != "1" else ""
    if at.figure is None:
        return at.name, "not known", unit, ""
    return at.name, plain_number(at.figure.value), unit, str(at.figure.basis)


def methods(kind: Kind) -> str:
    """List the ways of starting a kind, as garden.toml names them."""
    return ", ".join(method.id for method in kind.methods)


def figures(record: object, path: str = "") -> Iterator[tuple[str, Figure | Absent | Hardy]]:
    """Walk a record and give every figure in it, or why there is none, named by the way to it."""
    if isinstance(record, Figure | Absent | Hardy):
        yield path, record
    elif isinstance(record, tuple):
        for number, part in enumerate(record, start=1):
            name = getattr(part, "food", None) or getattr(part, "form", None)
            label = str(name or getattr(part, "id", None) or number)
            yield from figures(part, f"{path} {label}".strip())
    elif is_dataclass(record):
        for field in fields(record):
            word = worded(field.name)
            named = isinstance(getattr(record, field.name), tuple)
            yield from figures(getattr(record, field.name), path if named else f"{path} {word}")


def rows(
    name: str, figure: Figure | Absent | Hardy, catalogue: Catalogue
) -> Iterator[tuple[str, ...]]:
    """Give the cells of a figure's line, and of a line for each other source."""
    name = name.strip()
    if not isinstance(figure, Figure):
        word = NOT_KNOWN if isinstance(figure, Absent) else HARDY
        yield (
            name,
            NOT_KNOWN if isinstance(figure, Absent) else "none",
            "",
            "",
            f"{word}: {figure.why}",
        )
        return
    yield (name, *cells(figure, catalogue))
    for other in figure.others:
        yield (f"{name}, another source", *cells(other, catalogue))


def cells(figure: Figure, catalogue: Catalogue) -> tuple[str, ...]:
    """Give a figure's value, spread, unit, and what it rests on."""
    spread = NOT_KNOWN
    if figure.low is not None and figure.high is not None:
        spread = f"{plain_number(figure.low)} to {plain_number(figure.high)}"
    unit = figure.unit if figure.unit != "1" else ""
    return plain_number(figure.value), spread, unit, rests_on(figure, catalogue)
