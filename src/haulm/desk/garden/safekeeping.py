"""Copies of a notebook, putting one back, and what can be read of a damaged one."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from functools import cache
from glob import escape
from pathlib import Path

from haulm.catalogue.records import Figure
from haulm.catalogue.room_figures import room_figures
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding, Grade
from haulm.notebook.copies import COPY, copy_notebook, put_back
from haulm.notebook.rescue import Rescued, rescue

COPIES = "copies"
"""The folder beside a notebook where its copies go."""
NAMED_BY = "%Y-%m-%d-%H%M%S"
WEEKLY = ".weekly"
"""What stands in the name of a copy made by itself, before its end."""
_DAY = re.compile(r"\d{4}-\d{2}-\d{2}(-\d{6})?")
_BY_HAND = re.compile(rf"\d{{4}}-\d{{2}}-\d{{2}}-\d{{6}}{re.escape(COPY)}")
_BY_ITSELF = re.compile(rf"\d{{4}}-\d{{2}}-\d{{2}}-\d{{6}}{re.escape(WEEKLY + COPY)}")

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
    "lookout": "what the look-out goes by",
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


@dataclass(frozen=True, slots=True)
class Copy:
    """A copy of a notebook: where it is, and when it was made, by the clock of then."""

    path: Path
    made_at: datetime

    def age_days(self, now: datetime) -> int:
        """Give its age in whole days."""
        return max(0, (now.replace(tzinfo=None) - self.made_at).days)


def copies_of(path: Path) -> tuple[Copy, ...]:
    """List the copies that lie beside a notebook and in its folder of copies, the oldest first.

    Each is taken at the word of its name: its own date of change is that of whoever moved it last.
    """
    found = []
    for folder in (path.parent, path.parent / COPIES):
        for copy in folder.glob(f"{escape(path.name)}.*{COPY}"):
            made_at = _made_at(copy.name.removeprefix(f"{path.name}."))
            if made_at is not None:
                found.append(Copy(copy, made_at))
    return tuple(sorted(found, key=lambda copy: (copy.made_at, copy.path.name)))


def _made_at(name: str) -> datetime | None:
    """Read when a copy was made in its name; one from before a step says the day alone."""
    day = _DAY.match(name)
    if day is None:
        return None
    try:
        return datetime.strptime(day[0], NAMED_BY if day[1] else "%Y-%m-%d")  # noqa: DTZ007
    except ValueError:
        return None


def drop_oldest(path: Path, folder: Path | None, keep: int) -> tuple[Path, ...]:
    """Take out the oldest copies that :func:`back_up` made in a folder, so that some are kept.

    Copies from before a step of haulm, and notebooks put aside, are left; so is every other file.
    """
    return _drop_oldest(path, folder, keep, _BY_HAND)


def _drop_oldest(
    path: Path, folder: Path | None, keep: int, named: re.Pattern[str]
) -> tuple[Path, ...]:
    """Take out the oldest copies of one sort, so that some are kept."""
    into = folder or path.parent / COPIES
    made = sorted(
        copy
        for copy in into.glob(f"{escape(path.name)}.*{COPY}")
        if named.fullmatch(copy.name.removeprefix(f"{path.name}."))
    )
    old = tuple(made[: max(0, len(made) - keep)])
    for copy in old:
        copy.unlink()
    return old


def copy_weekly(path: Path, now: datetime) -> tuple[Finding, ...]:
    """Copy a notebook that was written in, if its newest copy is a week old or there is none.

    So many copies made by itself are kept; those made by hand, and from before a step of haulm, are
    left. Nothing is ever raised: what was written stays written. A copy that fails is told of, and
    tried again at the next writing.

    Returns
    -------
    What stood in the way; empty where a copy was made, or none was due.
    """
    figures = safekeeping_figures()
    copies = copies_of(path)
    if copies and copies[-1].age_days(now) < figures["weekly_days"].value:
        return ()
    copy = path.parent / COPIES / f"{path.name}.{now:{NAMED_BY}}{WEEKLY}{COPY}"
    try:
        copy_notebook(path, copy)
        _drop_oldest(path, None, round(figures["weekly_kept"].value), _BY_ITSELF)
    except FaultsFoundError as error:
        return tuple(_not_copied(f"{one.what} {one.remedy}") for one in error.findings)
    except OSError as error:
        return (_not_copied(f"{error.strerror}."),)
    return ()


def _not_copied(why: str) -> Finding:
    what = f"what you wrote is kept, but the week's copy could not be made: {why}"
    return Finding("copies", what, "Make one elsewhere with haulm backup --to.", Grade.WARNING)


@cache
def safekeeping_figures() -> Mapping[str, Figure]:
    """Read how often a notebook is copied by itself, and how many copies are kept, by name."""
    return room_figures("haulm.desk", "safekeeping.toml")


def back_up(path: Path, folder: Path | None, now: datetime) -> Path:
    """Copy a notebook, named by the minute, and give the copy's path.

    ``folder`` is where it goes; None for a folder *copies* beside the notebook.

    Raises
    ------
    FaultsFoundError
        When there is no such notebook, or no copy can be made.
    """
    into = folder or path.parent / COPIES
    copy = into / f"{path.name}.{now:{NAMED_BY}}{COPY}"
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
    aside = path.with_name(f"{path.name}.{now:{NAMED_BY}}.before{COPY}")
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
