"""The catalogue as pages show it: crops by name, each with its figures, sources and cautions."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, fields, is_dataclass, replace
from datetime import datetime
from pathlib import Path

from haulm.catalogue.caution_records import Caution
from haulm.catalogue.cautions import cautions_of_crop
from haulm.catalogue.footing import Weighed, crop_stands, kind_stands
from haulm.catalogue.records import (
    Absent,
    Catalogue,
    Crop,
    Figure,
    Food,
    Hardy,
    Kind,
    Source,
)
from haulm.desk.garden.answers import found_crops, kinds_of
from haulm.desk.garden.editing import Change, Parts, change_garden, mark_of
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.measure.sentences import capital

UNIT_ENDINGS = ("_min_m2_week", "_min_m2", "_min_kg", "_l_kg", "_kg_m2", "_weeks", "_h", "_m", "_c")
FIELD_WORDS = {
    "spacing_in_row_m": "apart in the row",
    "spacing_between_rows_m": "between rows",
    "spacing_offset_m": "apart in offset rows",
    "depth_m": "depth",
    "compost_m": "compost laid before it",
    "base_c": "grows above",
    "upper_c": "no faster above",
    "germination_min_c": "soil to come up at all",
    "germination_best_c": "soil to come up best",
    "killing_frost_c": "killed by frost of",
    "earliest_day_length_h": "started from days of",
    "latest_day_length_h": "started until days of",
    "bolt_day_length_h": "runs to seed past days of",
    "soil_at_most_c": "soil cooled to",
    "stand_years": "a stand lasts",
    "pick_until_days": "picked until so long after midwinter",
    "resting_frost_c": "year's picking ended by frost of",
    "share": "share of the full yield",
    "picking_weeks": "picked for",
    "after_days": "so long after midwinter",
    "later_days": "ready later than reckoned by",
    "rest_weeks": "rest between digging in and what follows",
    "span_weeks": "taken over",
    "yield_kg_m2": "gives",
    "cure_weeks": "cured for",
    "sound_90_weeks": "9 in 10 still sound after",
    "sound_50_weeks": "half still sound after",
    "units_per_station": "units at a station",
    "module_weeks": "time in the tray",
    "units_per_kg": "units in a kilogram",
    "seed_life_years": "seed lives",
    "parts_per_unit": "units got from one lifted",
    "space_l_kg": "room in store",
    "work_min_kg": "work",
    "tend_min_m2_week": "tending",
    "start_min_m2": "starting",
    "pick_min_kg": "picking",
    "rooting_m": "roots down to",
    "kc_initial": "crop coefficient, initial",
    "kc_middle": "crop coefficient, middle",
    "kc_end": "crop coefficient, end",
    "kcb_initial": "leaves' own coefficient, initial",
    "kcb_middle": "leaves' own coefficient, middle",
    "kcb_end": "leaves' own coefficient, end",
    "height_m": "stands",
    "stage_initial": "share of its season, initial",
    "stage_growth": "share of its season, growing",
    "stage_middle": "share of its season, middle",
    "stage_late": "share of its season, late",
    "yield_response": "yield lost for each share of water gone without",
    "portion_kg": "a usual portion",
    "piece_kg": "weighs",
    "kitchen_share": "share that reaches the plate",
    "rotation_gap_years": "years between its stands",
    "common_years": "years closed, by common advice",
    "published_years": "years closed, by published survival",
}
"""Fields whose names alone would not be understood."""
NOT_KNOWN = "not known"
HARDY = "hardy beyond any record"


@dataclass(frozen=True, slots=True)
class NamedFigure:
    """A figure with its name in words; ``figure`` is None where it is not known, as ``said``.

    ``of`` and ``at`` name it as a garden does: the id of what has it, and the figure's own name.
    """

    name: str
    figure: Figure | None
    said: str = ""
    of: str = ""
    at: str = ""


@dataclass(frozen=True, slots=True)
class FigureGroup:
    """Figures that belong together, under a name, with a remark in words."""

    name: str
    figures: tuple[NamedFigure, ...]
    remark: str = ""


@dataclass(frozen=True, slots=True)
class KindPage:
    """A kind with its figures, how firmly they stand, and whether plans may choose it."""

    kind: Kind
    groups: tuple[FigureGroup, ...]
    wanted: bool
    stands: Weighed


@dataclass(frozen=True, slots=True)
class CropPage:
    """All that is known of a crop; ``sources`` stand in the order in which they are first used."""

    crop: Crop
    stands: Weighed
    family: FigureGroup
    kinds: tuple[KindPage, ...]
    foods: tuple[FigureGroup, ...]
    diseases: tuple[FigureGroup, ...]
    cautions: tuple[Caution, ...]
    sources: tuple[Source, ...]


@dataclass(frozen=True, slots=True)
class CropLine:
    """A crop in the list: how firmly it stands, its family, and its kinds and foods by name."""

    crop: Crop
    footing: str
    family: str
    kinds: tuple[tuple[str, bool], ...]
    foods: tuple[str, ...]


def crop_lines(
    catalogue: Catalogue, words: str, wanted: Sequence[str]
) -> tuple[tuple[CropLine, ...], tuple[Finding, ...]]:
    """List the crops whose own, botanical, kinds' or foods' names hold the words; all for none.

    Where there is none, what near names there are is told.
    """
    sought = words.casefold()
    lines = [
        CropLine(
            crop,
            crop_stands(catalogue, crop).footing.value,
            catalogue.families[crop.family].name,
            tuple((kind.name, _wanted(kind, wanted)) for kind in kinds_of(catalogue, crop)),
            tuple(food.name for food in _foods(catalogue, crop)),
        )
        for crop in sorted(catalogue.crops.values(), key=lambda crop: crop.name.casefold())
    ]
    found = tuple(line for line in lines if any(sought in name for name in _names(line)))
    return (found, ()) if found else ((), _near(catalogue, words))


def crop_page(catalogue: Catalogue, crop: Crop, wanted: Sequence[str]) -> CropPage:
    """Gather all that the catalogue holds of a crop."""
    family = catalogue.families[crop.family]
    kinds = tuple(
        KindPage(
            kind,
            tuple(_kind_groups(catalogue, kind)),
            _wanted(kind, wanted),
            kind_stands(catalogue, kind),
        )
        for kind in kinds_of(catalogue, crop)
    )
    foods = tuple(
        FigureGroup(food.name, tuple(_figures(food, food.id)), food.piece)
        for food in _foods(catalogue, crop)
    )
    diseases = tuple(
        FigureGroup(disease.name, tuple(_figures(disease, disease.id)), disease.advice)
        for disease in catalogue.diseases.values()
        if crop.family in disease.closes or crop.id in disease.closes_crops
    )
    own = FigureGroup(family.name, tuple(_figures(family, family.id)), family.latin)
    groups = [*(group for kind in kinds for group in kind.groups), *foods, own, *diseases]
    shown = [named.figure for group in groups for named in group.figures if named.figure]
    shown += [figure.replaced for figure in shown if figure.replaced]
    shown = [one for figure in shown for one in (figure, *figure.others)]
    ids = dict.fromkeys(figure.source for figure in shown if figure.source is not None)
    sources = tuple(catalogue.sources[one] for one in ids)
    return CropPage(
        crop=crop,
        stands=crop_stands(catalogue, crop),
        family=own,
        kinds=kinds,
        foods=foods,
        diseases=diseases,
        cautions=cautions_of_crop(catalogue, crop.id),
        sources=sources,
    )


@dataclass(frozen=True, slots=True)
class KindsChosen:
    """The kinds of a crop that were left ticked, and the mark of the garden's part as shown."""

    crop: Crop
    kinds: tuple[str, ...]
    seen: str


def choose_kinds(
    path: Path, parts: Parts, catalogue: Catalogue, chosen: KindsChosen, at: datetime
) -> None:
    """Let plans choose only some of a crop's kinds; other crops' kinds stay as they are.

    Raises
    ------
    ChangedElsewhereError
        When the garden's part was changed meanwhile.
    FaultsFoundError
        When no kind of any crop would be left.
    """
    garden = parts["garden"][0]
    before = _listed(garden.get("grow"))
    now = [
        kind.id
        for kind in catalogue.kinds.values()
        if (kind.id in chosen.kinds if kind.crop == chosen.crop.id else _wanted(kind, before))
    ]
    if not now:
        what = "no kind of any crop would be left to choose from."
        raise FaultsFoundError([Finding("the kinds", what, "Leave at least one.")])
    rest = {key: value for key, value in garden.items() if key != "grow"}
    typed = rest if len(now) == len(catalogue.kinds) else rest | {"grow": now}
    change_garden(path, [Change("garden", chosen.seen, typed)], at)


def every_kind(path: Path, parts: Parts, at: datetime) -> None:
    """Let plans choose any kind again."""
    garden = parts["garden"][0]
    typed = {key: value for key, value in garden.items() if key != "grow"}
    change_garden(path, [Change("garden", mark_of(garden), typed)], at)


def plain_number(value: float) -> str:
    """Write a number to four figures, without an exponent and with a true minus sign."""
    least = 10_000
    text = f"{value:.0f}" if abs(value) >= least else f"{value:.4g}"
    return text.replace("-", "−")


def worded(name: str) -> str:
    """Name a field in words, without the unit at its end, which stands with the figure."""
    if name in FIELD_WORDS:
        return FIELD_WORDS[name]
    ending = next((end for end in UNIT_ENDINGS if name.endswith(end)), "")
    return name.removesuffix(ending).replace("_", " ")


def _kind_groups(catalogue: Catalogue, kind: Kind) -> Iterator[FigureGroup]:
    """Give a kind's figures, group by group, in the order of a season's work."""
    id_ = kind.id
    yield FigureGroup("How it stands", tuple(_figures(kind.stand, id_, "stand.")), kind.soil)
    for method in kind.methods:
        figures = tuple(_figures(method, id_, f"methods.{method.id}."))
        yield FigureGroup(f"Started as {method.id}", figures, method.unit)
    yield FigureGroup("Warmth", tuple(_figures(kind.warmth, id_, "warmth.")))
    yield FigureGroup("When it may be started", tuple(_figures(kind.season, id_, "season.")))
    phases = tuple(
        NamedFigure(
            f"{phase.id}, {phase.rule.value}",
            phase.amount,
            of=id_,
            at=f"phases.{phase.id}.amount",
        )
        for phase in kind.phases
    )
    later = tuple(one for one in _figures(kind, id_) if one.at == "later_days")
    yield FigureGroup("Growth", (*phases, *later))
    for giving in kind.givings:
        food = catalogue.foods[giving.food].name
        here = f"givings.{giving.food}."
        figures = tuple(_figures(giving, id_, here))
        yield FigureGroup(f"Gives {food}", figures, giving.role.value)
        for keeping in giving.keeping:
            places = " or ".join(store.value for store in keeping.stores)
            name = f"{capital(food)}, {keeping.form.value}"
            figures = tuple(_figures(keeping, id_, f"{here}keeping.{keeping.form}."))
            yield FigureGroup(name, figures, f"{places}; {keeping.conditions}")
    yield from _lasting_groups(catalogue, kind)
    yield FigureGroup("Work", tuple(_figures(kind.labour, id_, "labour.")))
    yield FigureGroup("Water", tuple(_figures(kind.water, id_, "water.")))


def _lasting_groups(catalogue: Catalogue, kind: Kind) -> Iterator[FigureGroup]:
    """Give how a kind stays for years, and what it does for its ground."""
    if kind.perennial is not None:
        figures = list(_figures(kind.perennial, kind.id, "perennial."))
        for year in kind.perennial.years:
            figures.extend(
                replace(figure, name=f"year {year.year}, {figure.name}")
                for figure in _figures(year, kind.id, f"perennial.years.{year.year}.")
            )
        for care in kind.perennial.care:
            figures.extend(
                replace(figure, name=f"{care.id}, {figure.name}")
                for figure in _figures(care, kind.id, f"perennial.care.{care.id}.")
            )
        yield FigureGroup("Stays for years", tuple(figures), "each year counted from midwinter")
    if kind.green_manure is not None:
        manure = kind.green_manure
        fixes = "It fixes nitrogen." if manure.fixes_nitrogen else "It fixes no nitrogen."
        source = catalogue.sources[manure.source] if manure.source else None
        rests = f"{source.title}, {source.publisher}" if source else manure.basis.value
        figures = list(_figures(manure, kind.id, "green_manure."))
        yield FigureGroup("Dug in", tuple(figures), f"{manure.gives} {fixes} ({rests})")


def _figures(record: object, of: str, before: str = "") -> Iterator[NamedFigure]:
    """Give the figures that stand in a record itself, by name; ``before`` is the way to it."""
    if not is_dataclass(record):
        return
    for field in fields(record):
        value = getattr(record, field.name)
        if isinstance(value, Figure):
            yield NamedFigure(worded(field.name), value, of=of, at=before + field.name)
        elif isinstance(value, Absent | Hardy):
            word = HARDY if isinstance(value, Hardy) else NOT_KNOWN
            said = f"{word}: {value.why}"
            yield NamedFigure(worded(field.name), None, said, of, before + field.name)


def _foods(catalogue: Catalogue, crop: Crop) -> tuple[Food, ...]:
    return tuple(food for food in catalogue.foods.values() if food.crop == crop.id)


def _names(line: CropLine) -> tuple[str, ...]:
    kinds = (name for name, _wanted in line.kinds)
    names = (line.crop.name, line.crop.latin, line.family, *kinds, *line.foods)
    return tuple(name.casefold() for name in names)


def _near(catalogue: Catalogue, words: str) -> tuple[Finding, ...]:
    try:
        found_crops(catalogue, words)
    except FaultsFoundError as error:
        return error.findings
    return ()


def _wanted(kind: Kind, wanted: Sequence[str]) -> bool:
    """Whether plans may choose a kind; where none is named, any may be."""
    return not wanted or kind.id in wanted


def _listed(names: object) -> list[str]:
    if isinstance(names, str):
        return [names]
    return [str(name) for name in names] if isinstance(names, list | tuple) else []
