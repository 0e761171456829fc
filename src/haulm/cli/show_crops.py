"""Show the catalogue on a terminal: every figure with what it rests on."""

from collections.abc import Iterator, Sequence
from dataclasses import fields, is_dataclass

from haulm.catalogue.records import Catalogue, Crop, Figure, Kind
from haulm.cli.show import line, table

UNIT_ENDINGS = ("_min_m2_week", "_min_m2", "_min_kg", "_l_kg", "_kg_m2", "_weeks", "_h", "_m", "_c")
FIELD_WORDS = {
    "sound_90_weeks": "9 in 10 still sound after",
    "sound_50_weeks": "half still sound after",
    "units_per_station": "units at a station",
    "module_weeks": "time in the tray",
    "units_per_kg": "units in a kilogram",
    "parts_per_unit": "units got from one lifted",
    "space_l_kg": "room in store",
    "work_min_kg": "work",
    "tend_min_m2_week": "tending",
    "start_min_m2": "starting",
    "pick_min_kg": "picking",
    "kc_initial": "crop coefficient, initial",
    "kc_middle": "crop coefficient, middle",
    "kc_end": "crop coefficient, end",
}
"""Fields whose names alone would not be understood."""

Found = Sequence[tuple[Crop, tuple[Kind, ...]]]


def crops(catalogue: Catalogue, found: Found, *, whole: bool) -> None:
    """Print crops with their kinds; the whole of each when asked by name."""
    if not whole:
        table(
            ("crop", "family", "kinds", "foods"),
            (
                (
                    crop.name,
                    catalogue.families[crop.family].name,
                    ", ".join(kind.id for kind in kinds),
                    ", ".join(food.id for food in catalogue.foods.values() if food.crop == crop.id),
                )
                for crop, kinds in found
            ),
        )
        line("Kinds and foods stand as garden.toml names them.")
        line("haulm crops NAME shows every figure of one, with its source and basis.")
        return
    for crop, kinds in found:
        line(f"{crop.name} ({crop.latin}), {catalogue.families[crop.family].name}")
        for kind in kinds:
            table(
                ("figure", ">value", ">8 years in 10", "unit", "rests on"),
                (figure_row(name, figure, catalogue) for name, figure in figures(kind)),
                title=f"\n{kind.name} ({kind.id}); methods: {methods(kind)}",
            )
        for caution in cautions(catalogue, crop):
            line(f"\nCaution: {caution}")


def methods(kind: Kind) -> str:
    """List the ways of starting a kind, as garden.toml names them."""
    return ", ".join(method.id for method in kind.methods)


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
            word = worded(field.name)
            named = isinstance(getattr(record, field.name), tuple)
            yield from figures(getattr(record, field.name), path if named else f"{path} {word}")


def worded(name: str) -> str:
    """Name a field in words, without the unit at its end, which has a column of its own."""
    if name in FIELD_WORDS:
        return FIELD_WORDS[name]
    ending = next((end for end in UNIT_ENDINGS if name.endswith(end)), "")
    return name.removesuffix(ending).replace("_", " ")


def number(value: float) -> str:
    """Write a number with a true minus sign."""
    return f"{value:g}".replace("-", "−")


def figure_row(name: str, figure: Figure, catalogue: Catalogue) -> tuple[str, ...]:
    """Give the cells of one figure's line."""
    rests_on = str(figure.basis)
    if figure.source is not None:
        source = catalogue.sources[figure.source]
        rests_on += f": {source.title}, {source.publisher}"
    return (
        name.strip(),
        number(figure.value),
        f"{number(figure.low)} to {number(figure.high)}"
        if figure.low is not None and figure.high is not None
        else "not known",
        figure.unit if figure.unit != "1" else "",
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
