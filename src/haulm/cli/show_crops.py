"""Show the catalogue on a terminal: every figure with what it rests on."""

from collections.abc import Iterator, Sequence
from dataclasses import fields, is_dataclass

from haulm.catalogue.records import Catalogue, Crop, Figure, Kind
from haulm.cli.show import line, table

Found = Sequence[tuple[Crop, tuple[Kind, ...]]]


def crops(catalogue: Catalogue, found: Found, *, whole: bool) -> None:
    """Print crops with their kinds; the whole of each when asked by name."""
    if not whole:
        table(
            ("crop", "family", "kinds"),
            (
                (
                    crop.name,
                    catalogue.families[crop.family].name,
                    ", ".join(kind.name for kind in kinds),
                )
                for crop, kinds in found
            ),
        )
        line("haulm crops NAME shows every figure of one, with its source and basis.")
        return
    for crop, kinds in found:
        line(f"{crop.name} ({crop.latin}), {catalogue.families[crop.family].name}")
        for kind in kinds:
            table(
                ("figure", ">value", ">8 years in 10", "unit", "rests on"),
                (figure_row(name, figure, catalogue) for name, figure in figures(kind)),
                title=f"\n{crop.name}, {kind.name}",
            )
        for caution in cautions(catalogue, crop):
            line(f"\nCaution: {caution}")


def figures(record: object, path: str = "") -> Iterator[tuple[str, Figure]]:
    """Walk a record and give every figure in it, named by the way to it."""
    if isinstance(record, Figure):
        yield path, record
    elif isinstance(record, tuple):
        for number, part in enumerate(record, start=1):
            name = getattr(part, "food", None) or getattr(part, "form", None)
            label = str(name or getattr(part, "id", None) or number)
            yield from figures(part, f"{path} {label}".strip())
    elif is_dataclass(record):
        for field in fields(record):
            word = field.name.replace("_", " ")
            named = isinstance(getattr(record, field.name), tuple)
            yield from figures(getattr(record, field.name), path if named else f"{path} {word}")


def figure_row(name: str, figure: Figure, catalogue: Catalogue) -> tuple[str, ...]:
    """Give the cells of one figure's line."""
    known = figure.low is not None and figure.high is not None
    rests_on = str(figure.basis)
    if figure.source is not None:
        source = catalogue.sources[figure.source]
        rests_on += f": {source.title}, {source.publisher}"
    return (
        name.strip(),
        f"{figure.value:g}",
        f"{figure.low:g} to {figure.high:g}" if known else "not known",
        figure.unit if figure.unit != "1" else "share",
        f"{rests_on}. {figure.note}".rstrip(". "),
    )


def cautions(catalogue: Catalogue, crop: Crop) -> list[str]:
    """Gather the cautions of a crop and its foods, each with the authority to consult."""
    ids = list(crop.cautions)
    for food in catalogue.foods.values():
        if food.crop == crop.id:
            ids += [caution for caution in food.cautions if caution not in ids]
    return [
        f"{catalogue.cautions[caution].text} Consult: {catalogue.cautions[caution].authority}"
        for caution in ids
    ]
