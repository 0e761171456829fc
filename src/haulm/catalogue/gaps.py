"""What is weakest in the catalogue: where it lies, and what would mend it.

Absent figures come first. Then come judged figures that a plan leans on most, of which nobody has
said how far they stray or held them against anything; then crops whose footing is thin.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, fields, is_dataclass
from enum import StrEnum

from haulm.catalogue.footing import Footing, Weighed, crop_stands, footing_rule
from haulm.catalogue.loader import CatalogueRead
from haulm.catalogue.reading import NAMED_BY
from haulm.catalogue.records import Absent, Basis, Catalogue, Figure, Food, Hardy, Kind

OTHER = "other"
"""The matter of a figure that no matter of the rule claims."""
ASK = "A published figure, or a measured one."
"""What would mend such a figure."""


class GapSort(StrEnum):
    """Why something is a gap."""

    ABSENT = "absent"
    JUDGED = "judged alone"
    THIN = "thin footing"


@dataclass(frozen=True, slots=True)
class CatalogueGap:
    """Something weak in the catalogue.

    Attributes
    ----------
    sort
        Why it is one.
    crop
        The crop's id.
    matter
        What a plan takes of it: timing, yield, keeping and so on.
    figures
        The fields of the figures meant; empty for a whole crop.
    kinds
        How many of the crop's kinds rest on them.
    where
        Files and lines.
    what, mend
        What is lacking, and what would mend it, in sentences.
    """

    sort: GapSort
    crop: str
    matter: str
    figures: tuple[str, ...]
    kinds: int
    where: tuple[str, ...]
    what: str
    mend: str


@dataclass(frozen=True, slots=True)
class _Weak:
    """One weak figure, where it stands."""

    crop: str
    owner: str
    field: str
    figure: Figure | Absent
    where: str


def gaps_of(read: CatalogueRead) -> tuple[CatalogueGap, ...]:
    """List what is weakest in a catalogue, the gravest first."""
    weak = list(_weak_figures(read))
    absent = [one for one in weak if isinstance(one.figure, Absent)]
    alone = [one for one in weak if isinstance(one.figure, Figure)]
    return (
        *_gathered(GapSort.ABSENT, absent),
        *_gathered(GapSort.JUDGED, alone),
        *_thin_crops(read.catalogue),
    )


def _weak_figures(read: CatalogueRead) -> Iterator[_Weak]:
    """Walk every figure that is absent, or judged alone where a plan leans on it."""
    catalogue = read.catalogue
    records: tuple[Kind | Food, ...] = (*catalogue.kinds.values(), *catalogue.foods.values())
    for record in records:
        for way, field, figure in _walk(record, record.id):
            if isinstance(figure, Absent) or (leant_on(field) and judged_alone(figure)):
                place = read.place(f"{way}, {field}")
                yield _Weak(record.crop, record.id, field, figure, str(place or ""))


def judged_alone(figure: Figure) -> bool:
    """Tell whether a figure is judged, its spread unknown, and held against nothing."""
    return figure.basis is Basis.JUDGED and figure.low is None and not figure.check


def leant_on(field: str) -> bool:
    """Tell whether a field belongs to a matter that a plan leans on most."""
    rule = footing_rule()
    return rule.matters.get(field) in rule.leant_on


def _walk(record: object, way: str) -> Iterator[tuple[str, str, Figure | Absent]]:
    """Walk the figures of a record: the way to each, its field, and itself."""
    if isinstance(record, tuple):
        for part in record:
            name = next(
                (getattr(part, key) for key in ("id", "food", "form") if hasattr(part, key)), ""
            )
            yield from _walk(part, f"{way}, {name}")
        return
    if not is_dataclass(record) or isinstance(record, Hardy):
        return
    for field in fields(record):
        value = getattr(record, field.name)
        if isinstance(value, Figure | Absent):
            yield way, field.name, value
        elif isinstance(value, tuple) or is_dataclass(value):
            yield from _walk(value, f"{way}, {field.name}")


def _label(part: object) -> str:
    """Give the name by which a record stands among its like."""
    return str(getattr(part, NAMED_BY[type(part)])) if type(part) in NAMED_BY else ""


def _gathered(sort: GapSort, weak: list[_Weak]) -> Iterator[CatalogueGap]:
    """Gather weak figures by crop and matter, those that weigh most first."""
    groups: dict[tuple[str, str], list[_Weak]] = defaultdict(list)
    rule = footing_rule()
    for one in weak:
        groups[one.crop, rule.matters.get(one.field, OTHER)].append(one)

    def gravest(item: tuple[tuple[str, str], list[_Weak]]) -> tuple[float, int, str]:
        (crop, matter), some = item
        return -rule.weights.get(matter, 0.0), -len({one.where for one in some}), crop

    for (crop, matter), some in sorted(groups.items(), key=gravest):
        names = tuple(dict.fromkeys(one.field for one in some))
        yield CatalogueGap(
            sort=sort,
            crop=crop,
            matter=matter,
            figures=names,
            kinds=len({one.owner for one in some}),
            where=_lines_by_file(one.where for one in some),
            what=_lacking(some),
            mend=rule.mends.get(names[0], rule.mends.get(matter, ASK)),
        )


def _lines_by_file(places: Iterable[str]) -> tuple[str, ...]:
    """Gather places, each a file and a line, into one text a file."""
    lines: dict[str, list[int]] = defaultdict(list)
    for place in dict.fromkeys(filter(None, places)):
        file, _, line = place.rpartition(", line ")
        lines[file].append(int(line))
    return tuple(
        f"{file}, {'line' if len(some) == 1 else 'lines'} {', '.join(map(str, sorted(some)))}"
        for file, some in lines.items()
    )


def _lacking(some: list[_Weak]) -> str:
    """Say what is lacking in some figures of one sort."""
    whys = dict.fromkeys(one.figure.why for one in some if isinstance(one.figure, Absent))
    if whys:
        return f"Not known: {'; '.join(whys)}."
    return "Judged, without a spread, and held against nothing."


def _thin_crops(catalogue: Catalogue) -> Iterator[CatalogueGap]:
    """Tell of crops whose footing is thin, the thinnest first."""
    stands = {crop.id: crop_stands(catalogue, crop) for crop in catalogue.crops.values()}
    thin = {id_: one for id_, one in stands.items() if one.footing is Footing.THIN}
    for id_, one in sorted(thin.items(), key=lambda item: item[1].share):
        yield CatalogueGap(
            sort=GapSort.THIN,
            crop=id_,
            matter=one.least_firm[0],
            figures=(),
            kinds=sum(kind.crop == id_ for kind in catalogue.kinds.values()),
            where=(),
            what=thin_words(one),
            mend=footing_rule().mends[one.least_firm[0]],
        )


def thin_words(one: Weighed) -> str:
    """Say on what a footing is thinnest."""
    return f"Its figures are mostly judged, above all of {' and '.join(one.least_firm)}."
