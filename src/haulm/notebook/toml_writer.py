"""Write garden.toml, and the daily record beside it: every value kept, in the document's order."""

from pathlib import Path
from typing import Any

import tomli_w

from haulm.notebook.document import GardenDocument
from haulm.notebook.weather_file import write_record
from haulm.site.records import DailyRecord


def write_garden_toml(
    document: GardenDocument, record: DailyRecord | None, path: Path
) -> tuple[Path, ...]:
    """Write a garden as garden.toml, with the daily record in the file that it names.

    The record is written in haulm's own columns, so a map of columns is no longer needed and is
    left out. Files of those names are replaced.

    Returns
    -------
    The files written.
    """
    raw = document.model_dump(by_alias=True, exclude_none=True)
    written = []
    if record is not None and document.weather.record is not None:
        raw["weather"].pop("columns", None)
        record_path = path.parent / document.weather.record
        record_path.parent.mkdir(parents=True, exist_ok=True)
        write_record(record, record_path)
        written.append(record_path)
    text = tomli_w.dumps(_without_empty(raw))
    unfinished = path.with_name(path.name + ".unfinished")
    try:
        unfinished.write_text(text, encoding="utf-8", newline="\n")
        unfinished.replace(path)
    finally:
        unfinished.unlink(missing_ok=True)
    return (path, *written)


def _without_empty(value: Any) -> Any:  # noqa: ANN401 (any value that TOML knows)
    """Leave out empty lists, which mean the same as no key at all."""
    if isinstance(value, dict):
        return {key: _without_empty(inner) for key, inner in value.items() if inner not in ([], ())}
    if isinstance(value, list | tuple):
        return [_without_empty(inner) for inner in value]
    return value
