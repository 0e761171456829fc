"""How firm the footing of a kind or crop is, computed from what its figures rest on.

Each figure counts by its basis, less where nobody has said how far it strays; figures of one
matter (timing, yield, keeping and so on) are averaged, and the matters weighed by how much of a
plan hangs on them. The numbers stand in ``data/footing.toml``; nobody types a footing.
"""

import tomllib
from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, fields, is_dataclass
from enum import StrEnum
from functools import cache
from importlib.resources import files

from haulm.catalogue.records import (
    Absent,
    Basis,
    Catalogue,
    Crop,
    Figure,
    Hardy,
    Kind,
)


class Footing(StrEnum):
    """How far the figures of a kind may be leant on."""

    FIRM = "firm"
    FAIR = "fair"
    THIN = "thin"


@dataclass(frozen=True, slots=True)
class FootingRule:
    """The rule by which footings are computed.

    Attributes
    ----------
    counts
        What a figure counts [1], by its basis; ``checked``, ``without spread`` and ``absent``
        beside them.
    least
        The least share [1] for *firm* and for *fair*; what is below is *thin*.
    weights, reasons
        What each matter weighs [1], and why, in the order of the file.
    leant_on
        The matters that a plan leans on most.
    matters
        The matter to which each figure's field belongs.
    mends
        What would mend a weak figure, by matter, and for some fields by field.
    """

    counts: Mapping[str, float]
    least: Mapping[Footing, float]
    weights: Mapping[str, float]
    reasons: Mapping[str, str]
    leant_on: frozenset[str]
    matters: Mapping[str, str]
    mends: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class Weighed:
    """How firmly a kind or crop stands: its footing, the share behind it, and each matter's [1].

    ``matters`` come with the least firm first; a matter without any figure is left out.
    """

    footing: Footing
    share: float
    matters: Mapping[str, float]

    @property
    def least_firm(self) -> tuple[str, str]:
        """The two matters in which it is least firm, of those that a plan leans on most."""
        first, second, *_ = (one for one in self.matters if one in footing_rule().leant_on)
        return first, second


@cache
def footing_rule() -> FootingRule:
    """Read the rule from its file."""
    text = files("haulm.catalogue").joinpath("data/footing.toml").read_text(encoding="utf-8")
    table = tomllib.loads(text)
    matters = table["matters"]
    return FootingRule(
        counts={name: float(entry["value"]) for name, entry in table["counts"].items()},
        least={Footing(name): float(entry["value"]) for name, entry in table["words"].items()},
        weights={name: float(entry["value"]) for name, entry in matters.items()},
        reasons={name: entry["note"] for name, entry in matters.items()},
        leant_on=frozenset(
            name for name, entry in matters.items() if entry["value"] >= table["leant_on"]["value"]
        ),
        matters={field: name for name, entry in matters.items() for field in entry["fields"]},
        mends={name: entry["mend"] for name, entry in matters.items()} | table["mends"],
    )


def figure_counts(figure: Figure | Absent) -> float:
    """Give what a figure counts, from 0 for one nobody has to 1 [1]."""
    counts = footing_rule().counts
    if isinstance(figure, Absent):
        return counts["absent"]
    count = counts[figure.basis.value]
    if figure.borrowed_from:
        count = min(count, counts[Basis.JUDGED.value])
    if figure.check:
        count = max(count, counts["checked"])
    return count if figure.low is not None else count * counts["without spread"]


def kind_stands(catalogue: Catalogue, kind: Kind) -> Weighed:
    """Weigh a kind's figures, and those of the foods it gives."""
    counted: dict[str, list[float]] = defaultdict(list)
    records = (kind, *(catalogue.foods[giving.food] for giving in kind.givings))
    for record in records:
        for field, figure in _leant_on(record):
            matter = footing_rule().matters.get(field)
            if matter is not None:
                counted[matter].append(figure_counts(figure))
    means = {matter: sum(counts) / len(counts) for matter, counts in counted.items()}
    weights = footing_rule().weights
    whole = sum(weights[matter] for matter in means)
    share = sum(weights[matter] * mean for matter, mean in means.items()) / whole
    return _weighed(share, means)


def crop_stands(catalogue: Catalogue, crop: Crop) -> Weighed:
    """Weigh a crop: the mean of its kinds, matter by matter."""
    kinds = [
        kind_stands(catalogue, kind) for kind in catalogue.kinds.values() if kind.crop == crop.id
    ]
    gathered: dict[str, list[float]] = defaultdict(list)
    for kind in kinds:
        for matter, share in kind.matters.items():
            gathered[matter].append(share)
    means = {matter: sum(shares) / len(shares) for matter, shares in gathered.items()}
    return _weighed(sum(kind.share for kind in kinds) / len(kinds), means)


def _weighed(share: float, means: Mapping[str, float]) -> Weighed:
    rule = footing_rule()
    footing = next((word for word, bound in rule.least.items() if share >= bound), Footing.THIN)
    return Weighed(footing, share, dict(sorted(means.items(), key=lambda item: item[1])))


def _leant_on(record: object) -> Iterator[tuple[str, Figure | Absent]]:
    """Walk the figures of a record that a plan leans on, each with its field."""
    if isinstance(record, tuple):
        for part in record:
            yield from _leant_on(part)
    elif is_dataclass(record) and not isinstance(record, Hardy):
        for field in fields(record):
            value = getattr(record, field.name)
            if isinstance(value, Figure | Absent):
                yield field.name, value
            else:
                yield from _leant_on(value)
