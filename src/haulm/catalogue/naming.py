"""Figures of the catalogue by name: the way to each, as in ``stand.depth_m``."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, fields, is_dataclass, replace
from functools import cache
from typing import Any, TypeVar, get_args, get_type_hints

from haulm.catalogue.reading import NAMED_BY, PHASE_UNITS, UNITS
from haulm.catalogue.records import Figure, Phase

R = TypeVar("R")

_WITHOUT = frozenset({"module_weeks", "seed_life_years"})
"""Fields that say by being empty that there is no such thing: no tray, no seed."""


@dataclass(frozen=True, slots=True)
class FigureAt:
    """A place in a record where a figure stands or may stand.

    ``name`` is the way to it, as in ``stand.depth_m`` or ``givings.leek.yield_kg_m2``; ``figure``
    is None where nobody has one.
    """

    name: str
    unit: str
    figure: Figure | None


def figures_by_name(record: object) -> dict[str, FigureAt]:
    """Give every place for a figure in a record of the catalogue, by name, in order."""
    return {one.name: one for one in _places(record, "")}


def with_figures(record: R, figures: Mapping[str, Figure]) -> R:
    """Put figures into a record, each at its name; the others stay.

    Every name must be one of `figures_by_name`.
    """
    return _filled(record, "", figures)  # type: ignore[no-any-return]


def _places(record: Any, before: str) -> Iterator[FigureAt]:  # noqa: ANN401 -- any record of the catalogue
    """Walk a record in the order of its fields."""
    for field, takes_figure in _fields_in(record.__class__):
        name, value = f"{before}{field}", getattr(record, field)
        if value is None and field in _WITHOUT:
            continue
        if takes_figure:
            known = value if isinstance(value, Figure) else None
            yield FigureAt(name, _unit(record, field), known)
        elif isinstance(value, tuple):
            for part in filter(is_dataclass, value):
                yield from _places(part, f"{name}.{_label(part)}.")
        elif is_dataclass(value):
            yield from _places(value, f"{name}.")


def _filled(record: Any, before: str, figures: Mapping[str, Figure]) -> Any:  # noqa: ANN401 -- as above
    """Rebuild a record where any of the figures lies in it."""
    if not any(name.startswith(before) for name in figures):
        return record
    changed: dict[str, Any] = {}
    for field in fields(record):
        name, value = f"{before}{field.name}", getattr(record, field.name)
        if name in figures:
            changed[field.name] = figures[name]
        elif isinstance(value, tuple):
            changed[field.name] = tuple(
                _filled(part, f"{name}.{_label(part)}.", figures) if is_dataclass(part) else part
                for part in value
            )
        elif is_dataclass(value) and not isinstance(value, Figure):
            changed[field.name] = _filled(value, f"{name}.", figures)
    return replace(record, **changed)


def _label(part: Any) -> str:  # noqa: ANN401 -- as above
    """Give the name of a record that stands among others of its sort."""
    return str(getattr(part, NAMED_BY[type(part)]))


def _unit(record: object, field: str) -> str:
    """Give the unit that a figure's field implies."""
    if isinstance(record, Phase):
        return PHASE_UNITS[record.rule]
    return UNITS[field]


@cache
def _fields_in(record: type) -> tuple[tuple[str, bool], ...]:
    """Name the fields of a record in order, and say whether each is for a figure, there or not."""
    hints = get_type_hints(record)
    taking = {name for name, hint in hints.items() if hint is Figure or Figure in get_args(hint)}
    return tuple((field.name, field.name in taking) for field in fields(record))
