"""The daily weather record beside garden.toml."""

from pathlib import Path

from haulm.notebook.document import WeatherPart
from haulm.notebook.faults import Gathered
from haulm.site.records import DailyRecord


def record_of(part: WeatherPart, folder: Path, gathered: Gathered) -> DailyRecord | None:
    """Read the record that a document names; its faults are noted."""
    if part.record is None:
        return None
    gathered.fault(("weather", "record"), f"{folder / part.record} cannot be read.", "Mend it.")
    return None
