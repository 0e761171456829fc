"""Write garden.toml, and the daily record beside it: every value kept, in the document's order."""

from pathlib import Path

import tomli_w

from haulm.notebook.document import GardenDocument
from haulm.notebook.parts import Parts, parts_from, raw_from
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
    written = []
    if record is not None and document.weather.record is not None:
        record_path = path.parent / document.weather.record
        record_path.parent.mkdir(parents=True, exist_ok=True)
        write_record(record, record_path)
        written.append(record_path)
    text = garden_text(parts_from(document))
    unfinished = path.with_name(path.name + ".unfinished")
    try:
        unfinished.write_text(text, encoding="utf-8", newline="\n")
        unfinished.replace(path)
    finally:
        unfinished.unlink(missing_ok=True)
    return (path, *written)


def garden_text(parts: Parts) -> str:
    """Write parts as the text of garden.toml.

    A daily record is always written in haulm's own columns, so a map of columns is left out.
    """
    raw = raw_from(parts)
    if "weather" in raw:
        raw["weather"].pop("columns", None)
    return tomli_w.dumps(raw)
