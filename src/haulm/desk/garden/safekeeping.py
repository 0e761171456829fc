"""Copies of a notebook, putting one back, and what can be read of a damaged one."""

from datetime import datetime
from pathlib import Path

from haulm.measure.findings import Finding, Grade
from haulm.notebook.copies import COPY, copy_notebook, put_back
from haulm.notebook.rescue import Rescued, rescue

TABLE_WORDS = {
    "garden": "the garden",
    "place": "the place",
    "weather": "the weather",
    "hours": "the hours of work",
    "eaters": "who eats",
    "days_away": "days away",
    "table_lines": "the table",
    "beds": "the beds",
    "bed_past": "what grew on the beds",
    "bed_found": "diseases found",
    "stores": "the stores",
    "tanks": "the rain tanks",
    "watering": "the watering",
    "water_rules": "the rules on watering",
    "food_in_store": "food in store",
    "standing": "what stands",
    "planting_stock": "planting stock",
    "prices": "prices",
    "pins": "what is settled by hand",
    "own_kinds": "own kinds",
    "own_figures": "own figures",
    "own_paces": "own paces at work",
    "weather_record": "the weather record",
    "weather_days": "days of weather",
    "plans": "plans",
    "diary": "the diary",
    "diary_photos": "pictures of the diary",
    "odd_records": "what was said of odd records",
    "earlier_gardens": "earlier gardens",
}


def back_up(path: Path, folder: Path | None, now: datetime) -> Path:
    """Copy a notebook, named by the minute, and give the copy's path.

    ``folder`` is where it goes; None for a folder *copies* beside the notebook.

    Raises
    ------
    FaultsFoundError
        When there is no such notebook, or no copy can be made.
    """
    into = folder or path.parent / "copies"
    copy = into / f"{path.name}.{now:%Y-%m-%d-%H%M%S}{COPY}"
    copy_notebook(path, copy)
    return copy


def restore(copy: Path, path: Path, now: datetime) -> Path | None:
    """Put a copy back, and give where the notebook that was there is kept; None where none was.

    Raises
    ------
    FaultsFoundError
        When the copy cannot be read whole; the notebook is as it was then.
    """
    there = path.exists()
    aside = path.with_name(f"{path.name}.{now:%Y-%m-%d-%H%M%S}.before{COPY}")
    put_back(copy, path, aside)
    return aside if there else None


def rescued(damaged: Path, new: Path) -> tuple[tuple[Rescued, ...], tuple[Finding, ...]]:
    """Read what can be read of a damaged notebook into a new one, and tell what is not whole.

    Raises
    ------
    FaultsFoundError
        When nothing can be read, or the new notebook is there already.
    """
    found = rescue(damaged, new)
    told = tuple(
        Finding(
            TABLE_WORDS.get(one.table, one.table),
            f"{one.rows} were read, and a part could not be.",
            "Look it over; what is missing is in a copy from before, if anywhere.",
            Grade.WARNING,
        )
        for one in found
        if one.damaged
    )
    return found, told
