"""Records as plain data for other programs."""

import json
from collections.abc import Mapping
from dataclasses import asdict, is_dataclass
from datetime import date
from enum import Enum
from typing import Any


def as_plain(value: object) -> Any:  # noqa: ANN401  # what JSON holds is any of six types
    """Turn records, dates and enumerations into what JSON can hold."""
    if is_dataclass(value) and not isinstance(value, type):
        return as_plain(asdict(value))
    if isinstance(value, Enum):
        return value.value
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, Mapping):
        return {str(key): as_plain(inner) for key, inner in value.items()}
    if isinstance(value, list | tuple | set | frozenset):
        return [as_plain(inner) for inner in value]
    return value


def as_json(value: object) -> str:
    """Write records as JSON text; a figure that is not a number is refused, never written."""
    return json.dumps(as_plain(value), indent=2, ensure_ascii=False, allow_nan=False)
