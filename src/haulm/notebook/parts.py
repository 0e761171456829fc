"""A garden part by part, as typed: the plain values between garden.toml, tables and pages.

Every part is a tuple of mappings from key to value, keys as in garden.toml; a part that there is
one of is a tuple of one, or of none. What was not typed has no key.
"""

from collections.abc import Mapping
from types import UnionType
from typing import Any, Union, get_args, get_origin

from pydantic import BaseModel

from haulm.notebook.declaring import Part
from haulm.notebook.document import GardenDocument

Parts = Mapping[str, tuple[Mapping[str, Any], ...]]
"""Every part of a garden, by its name in garden.toml."""


def model_in(annotation: object) -> type[BaseModel] | None:
    """Find the model inside ``X``, ``X | None`` or ``tuple[X, ...]``."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    if get_origin(annotation) in {tuple, Union, UnionType}:
        return next(filter(None, map(model_in, get_args(annotation))), None)
    return None


MODELS: Mapping[str, type[BaseModel]] = {
    name: model_in(field.annotation) or Part for name, field in GardenDocument.model_fields.items()
}
"""The model of each part."""

SINGLE_PARTS = frozenset(
    name
    for name, field in GardenDocument.model_fields.items()
    if get_origin(field.annotation) is not tuple
)
"""The parts there is one of."""

KEYS: Mapping[str, Mapping[str, str]] = {
    name: {
        field_name: field.alias or field_name for field_name, field in model.model_fields.items()
    }
    for name, model in MODELS.items()
}
"""For each part, the key in garden.toml of each of its fields."""


def parts_from(document: GardenDocument) -> Parts:
    """Lay a document out part by part."""
    dumped = document.model_dump(by_alias=True, exclude_none=True)
    return {
        name: tuple(
            plain(part) for part in ([dumped[name]] if name in SINGLE_PARTS else dumped[name])
        )
        if name in dumped
        else ()
        for name in MODELS
    }


def raw_from(parts: Parts) -> dict[str, Any]:
    """Put parts together as the tables of a garden.toml; what is empty is left out."""
    return {
        name: dict(listed[0]) if name in SINGLE_PARTS else [dict(part) for part in listed]
        for name, listed in parts.items()
        if listed
    }


def plain(part: Mapping[str, Any]) -> dict[str, Any]:
    """Make a part's values plain: lists for tuples, texts for words of a choice, nothing empty."""
    return {key: _plain(value) for key, value in part.items() if not _is_empty(value)}


def _is_empty(value: object) -> bool:
    return value is None or (isinstance(value, list | tuple) and not value)


def _plain(value: Any) -> Any:  # noqa: ANN401 (any value that TOML knows)
    if isinstance(value, Mapping):
        return plain(value)
    if isinstance(value, list | tuple):
        return [_plain(inner) for inner in value]
    return str(value) if isinstance(value, str) else value
