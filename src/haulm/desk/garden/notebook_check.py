"""A notebook checked from end to end: its file, its rows, its garden, its plan, its copies."""

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from haulm.desk.garden.answers import check_garden
from haulm.desk.garden.opening import TOML, open_garden
from haulm.desk.garden.safekeeping import Copy, copies_of, safekeeping_figures
from haulm.desk.planning.readding import re_added
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding, Grade, faults
from haulm.notebook.soundness import LookedAt, look_through


@dataclass(frozen=True, slots=True)
class Checked:
    """What a check looked at, and what it found."""

    looked_at: tuple[LookedAt, ...]
    findings: tuple[Finding, ...]


def check_all(path: Path, now: datetime) -> Checked:
    """Check a garden.toml, or a notebook with everything in it.

    Raises
    ------
    FaultsFoundError
        With every fault at once.
    """
    if path.suffix.lower() == TOML:
        return Checked((), check_garden(path))
    sound = look_through(path)
    copies, told = _of_copies(path, now)
    if faults(sound.findings):
        raise FaultsFoundError((*sound.findings, *told))
    garden = check_garden(path)
    plan = re_added(open_garden(path))
    looked_at = [*sound.looked_at, *([LookedAt("the newest plan", plan[0])] if plan else [])]
    found = (*sound.findings, *garden, *(plan[1] if plan else ()), *told)
    if faults(found):
        raise FaultsFoundError(found)
    return Checked((*looked_at, copies), found)


def _of_copies(path: Path, now: datetime) -> tuple[LookedAt, tuple[Finding, ...]]:
    """Tell of a notebook's copies."""
    copies = copies_of(path)
    remedy = "Make one with haulm backup, and keep one on another disk too."
    if not copies:
        what = "there is no copy of it in its folder."
        return LookedAt("copies", "none"), (Finding(path.name, what, remedy, Grade.WARNING),)
    newest = copies[-1]
    days = newest.age_days(now)
    told = LookedAt("copies", f"{len(copies)}, the newest {_ago(newest, now)}")
    if days <= safekeeping_figures()["old_days"].value:
        return told, ()
    what = f"its newest copy is {days} days old."
    return told, (Finding(path.name, what, remedy, Grade.WARNING),)


def _ago(copy: Copy, now: datetime) -> str:
    days = copy.age_days(now)
    return {0: "of today", 1: "of yesterday"}.get(days, f"{days} days old")
