"""Write docs/catalogue.md: the words of docs/parts/catalogue.md, with tables of the catalogue."""

import re
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import fields, is_dataclass
from pathlib import Path

from haulm.catalogue.footing import Footing, crop_stands, footing_rule
from haulm.catalogue.gaps import CatalogueGap, GapSort, gaps_of
from haulm.catalogue.loader import load_catalogue, load_with_places
from haulm.catalogue.records import (
    Absent,
    Basis,
    Catalogue,
    Crop,
    Disease,
    Family,
    Figure,
    Food,
    Kind,
    Source,
)
from haulm.desk.showing.crop_footing import lacking_words
from haulm.desk.showing.crop_pages import plain_number, worded
from haulm.growing.timing import main_giving
from pages import table
from truth.checks.yields import CHART_ROWS, EXPLAINED, chart_kg_m2

ROOT = Path(__file__).parents[1]
PAGE = ROOT / "docs" / "catalogue.md"
PROSE = ROOT / "docs" / "parts" / "catalogue.md"
BASES = (Basis.PUBLISHED, Basis.COMMON_PRACTICE, Basis.FROM_MEMORY, Basis.JUDGED)
CHARTS = {"kansas-mf315": "Kansas MF-315", "maine-chart": "Maine"}
PLACE = re.compile(r"<!-- (\w+) -->")

Held = tuple[str, str, Figure | Absent]
"""A figure: whose it is, its field, and itself."""


def written() -> str:
    """Put the tables into the words."""
    catalogue = load_catalogue()
    tables = {
        "counts": counts(),
        "matters": matters(),
        "words": words(),
        "crops": crops(catalogue),
        "conflicts": conflicts(catalogue),
        "charts": charts(catalogue),
        "gaps": gaps(gaps_of(load_with_places())),
        "sources": sources(catalogue),
    }
    return PLACE.sub(lambda found: tables[found[1]], PROSE.read_text(encoding="utf-8"))


def counts() -> str:
    """Tell what each basis counts."""
    rule = footing_rule()
    bases = [(basis.value, plain_number(rule.counts[basis.value])) for basis in (*BASES, Basis.OWN)]
    factor = plain_number(rule.counts["without spread"])
    more = [
        ("checked, at least", plain_number(rule.counts["checked"])),
        ("standing in from kin, at most", plain_number(rule.counts[Basis.JUDGED.value])),
        ("absent", plain_number(rule.counts["absent"])),
        ("any of these without a spread", f"times {factor}"),
    ]
    return table(("a figure that is", "counts"), [*bases, *more])


def matters() -> str:
    """Tell what each matter weighs, and why."""
    rule = footing_rule()
    rows = [(name, plain_number(w), rule.reasons[name]) for name, w in rule.weights.items()]
    return table(("matter", "weighs", "because"), rows)


def words() -> str:
    """Tell from what share on each word holds."""
    least = footing_rule().least
    return (
        f"A share of {plain_number(least[Footing.FIRM])} and more is *firm*, "
        f"{plain_number(least[Footing.FAIR])} and more *fair*, less *thin*. All these numbers are "
        "judged; they stand in `footing.toml`."
    )


def held_by(record: object, whose: str, field: str = "") -> Iterator[Held]:
    """Walk the figures of a record, absent ones among them."""
    if isinstance(record, Figure | Absent):
        yield whose, field, record
    elif isinstance(record, tuple):
        for part in record:
            name = next((getattr(part, n) for n in ("id", "food", "form") if hasattr(part, n)), "")
            yield from held_by(part, f"{whose}, {name}")
    elif is_dataclass(record):
        for one in fields(record):
            yield from held_by(getattr(record, one.name), whose, one.name)


def of_crop(catalogue: Catalogue, crop: Crop) -> list[Held]:
    """Gather a crop's figures, one that several kinds share once."""
    records: list[Kind | Food] = [one for one in catalogue.kinds.values() if one.crop == crop.id]
    records += [food for food in catalogue.foods.values() if food.crop == crop.id]
    gathered: dict[tuple[str, str, Figure | Absent], Held] = {}
    for record in records:
        for whose, field, figure in held_by(record, record.name):
            within = whose.removeprefix(record.name)
            gathered.setdefault((within, field, figure), (whose, field, figure))
    return list(gathered.values())


def crops(catalogue: Catalogue) -> str:
    """Tell each crop's kinds, its footing, and its figures by what they rest on."""
    rows: list[Sequence[object]] = []
    for crop in sorted(catalogue.crops.values(), key=lambda one: one.name.casefold()):
        stands = crop_stands(catalogue, crop)
        figures = [figure for _, _, figure in of_crop(catalogue, crop)]
        there = [figure for figure in figures if isinstance(figure, Figure)]
        bases = Counter(figure.basis for figure in there)
        kinds = ", ".join(one.name for one in catalogue.kinds.values() if one.crop == crop.id)
        rows.append(
            (
                crop.name,
                kinds,
                stands.footing.value,
                " and ".join(stands.least_firm),
                *(bases[basis] for basis in BASES),
                sum(bool(figure.borrowed_from) for figure in there),
                len(figures) - len(there),
            )
        )
    heads = ("crop", "kinds", "footing", "least firm in", *(basis.value for basis in BASES))
    total = f"{len(catalogue.crops)} crops in {len(catalogue.kinds)} kinds."
    return f"{total}\n\n{table((*heads, 'lent', 'absent'), rows)}"


def every_figure(catalogue: Catalogue) -> list[Held]:
    """Gather every figure of the catalogue: crop by crop, then families and diseases."""
    held = [one for crop in catalogue.crops.values() for one in of_crop(catalogue, crop)]
    shared: tuple[Family | Disease, ...] = (
        *catalogue.families.values(),
        *catalogue.diseases.values(),
    )
    for record in shared:
        held += list(held_by(record, record.name))
    return held


def amount(figure: Figure) -> str:
    """Write a figure with its spread, its unit and where it is from."""
    text = figure.printed or plain_number(figure.value)
    if figure.low is not None and figure.high is not None and not figure.printed:
        text += f" ({plain_number(figure.low)} to {plain_number(figure.high)})"
    if figure.unit != "1" and not figure.printed:
        text += f" {figure.unit}"
    return f"{text}, {figure.source or figure.basis.value}"


def conflicts(catalogue: Catalogue) -> str:
    """Tell every figure on which sources disagree, what was chosen, and why."""
    chosen: dict[tuple[str, str, Figure], Held] = {}
    for whose, field, figure in every_figure(catalogue):
        if isinstance(figure, Figure) and figure.others and not figure.borrowed_from:
            # One seed is sown in two ways: its life is told once.
            chosen.setdefault((whose.partition(", ")[0], field, figure), (whose, field, figure))
    rows = [
        (
            whose,
            worded(field),
            amount(figure),
            "; ".join(f"{amount(other)}: {other.note}" for other in figure.others),
            figure.note,
        )
        for (_, field, figure), (whose, _, _) in chosen.items()
    ]
    return table(("of", "figure", "used", "also", "why"), rows)


def charts(catalogue: Catalogue) -> str:
    """Tell every chart that lies outside the catalogue's range, and why."""
    rows = []
    for row in CHART_ROWS:
        why = EXPLAINED.get((row["source"], row["kind"]))
        if why is not None:
            kind = catalogue.kinds[row["kind"]]
            ours = main_giving(kind).yield_kg_m2
            span = f"{ours.low:g} to {ours.high:g}"
            shown = f"{chart_kg_m2(row, kind):.1f}"
            rows.append((CHARTS[row["source"]], kind.name, shown, span, why))
    return table(("chart", "kind", "chart, kg/m²", "ours, kg/m²", "why"), sorted(rows))


def gaps(found: Sequence[CatalogueGap]) -> str:
    """Tell what is weakest, the gravest first."""
    rows = [
        (
            gap.crop,
            gap.sort.value,
            gap.matter,
            lacking_words(gap) + (f". {gap.what}" if gap.sort is GapSort.ABSENT else ""),
            gap.mend,
        )
        for gap in found
    ]
    return table(("crop", "gap", "of", "figures", "what would mend it"), rows)


def sources(catalogue: Catalogue) -> str:
    """Tell every source, where it was read, and how much rests on it."""
    used: Counter[str] = Counter()
    beside: Counter[str] = Counter()
    for _, _, figure in every_figure(catalogue):
        if isinstance(figure, Figure) and not figure.borrowed_from:
            used.update([figure.source] if figure.source else [])
            beside.update(other.source for other in figure.others if other.source)
    cautioned = {caution.source for caution in catalogue.cautions.values()}

    def row(source: Source) -> tuple[object, ...]:
        rests = [f"{used[source.id]} used"] if used[source.id] else []
        rests += [f"{beside[source.id]} beside others"] if beside[source.id] else []
        rests += ["a caution"] if source.id in cautioned else []
        year = f", {source.year}" if source.year else ""
        title = f"{source.title}. {source.publisher}{year}"
        return source.id, title, source.read, "; ".join(rests) or "tables beside the catalogue"

    return table(
        ("source", "text", "read", "what rests on it"),
        map(row, sorted(catalogue.sources.values(), key=lambda one: one.id)),
    )
