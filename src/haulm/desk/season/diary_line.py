"""An entry written as one line: “watered bed 3, 4 cans”."""

import re
from collections.abc import Mapping
from pathlib import Path

from haulm.desk.garden.opening import open_garden
from haulm.desk.season.diary_typed import TypedEntry
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.notebook.file import open_notebook
from haulm.notebook.names import known_names, one_of, spellings
from haulm.season.records import EntryKind

_AMOUNT = re.compile(r"(?:^|\s)(\d.*)$", re.DOTALL)
_BEFORE = ("in ", "from ", "of ", "bed ")
"""Small words that may stand before a name."""


def is_line(text: str) -> bool:
    """Say whether a text is a whole entry: it begins with a kind of entry, and goes on."""
    return _kind_of(text) is not None and text.strip().casefold() not in set(EntryKind)


def typed_line(path: Path, text: str, day: str) -> TypedEntry:
    """Read a line: the kind of entry, then names and an amount, parted by commas or not.

    A name is that of a bed, a planting of the plan that is kept, a food, a kind, a store or a rain
    tank. A word that is none of these is refused, and never taken for something near.

    Parameters
    ----------
    path
        The notebook.
    text
        The line.
    day
        The day it tells of, as typed.

    Raises
    ------
    FaultsFoundError
        When it begins with no kind of entry, or says something that nothing here is called.
    """
    kind = _kind_of(text)
    if kind is None:
        what = f"“{text}” begins with no kind of entry."
        raise FaultsFoundError([Finding("the line", what, one_of(list(EntryKind)))])
    known = _names(path)
    found = {"kind": kind.value, "day": day}
    faults = []
    for piece in re.split(r"[,;]", text.strip()[len(kind.value) :]):
        rest = piece.strip()
        name, amount = (rest, "") if _known(rest, known) else _parted(rest)
        if name:
            field = _known(name, known)
            if field is None or field[0] in found:
                faults.append(_unknown(name, twice=field is not None))
            else:
                found[field[0]] = field[1]
        if amount and found.setdefault("amount", amount) != amount:
            faults.append(_unknown(amount, twice=True))
    if faults:
        raise FaultsFoundError(faults)
    return TypedEntry(**found)


def _kind_of(text: str) -> EntryKind | None:
    """Find the kind of entry that a line begins with, the longest that does."""
    line = text.strip().casefold()
    begins = [
        kind
        for kind in EntryKind
        if line == kind.value or line.startswith((f"{kind.value} ", f"{kind.value},"))
    ]
    return max(begins, key=lambda kind: len(kind.value), default=None)


def _names(path: Path) -> Mapping[str, Mapping[str, str]]:
    """Gather what may be named, by the field of an entry it goes into; beds come first."""
    opened = open_garden(path)
    garden, known = opened.garden, known_names(opened.catalogue)
    with open_notebook(path) as notebook:
        plan = notebook.newest_plan()
    plantings = plan.plantings if plan else ()
    return {
        "bed": spellings((one.id, one.name) for one in garden.beds),
        "planting": {one.id.casefold(): one.id for one in plantings},
        "tank": spellings((one.name, one.name) for one in garden.tanks),
        "store": spellings((one.id, one.name) for one in garden.stores),
        "food": known.foods,
        "crop_kind": known.kinds,
    }


def _known(name: str, known: Mapping[str, Mapping[str, str]]) -> tuple[str, str] | None:
    """Find what a name stands for: the field and the id."""
    words = name.casefold()
    spelt = [words, *(words.removeprefix(one) for one in _BEFORE if words.startswith(one))]
    for field, ids in known.items():
        for word in spelt:
            if word in ids:
                return field, ids[word]
    return None


def _parted(piece: str) -> tuple[str, str]:
    """Part a name from the amount that follows it: “slate 4 cans”."""
    found = _AMOUNT.search(piece)
    if found is None:
        return piece, ""
    return piece[: found.start()].strip(), found[1].strip()


def _unknown(name: str, *, twice: bool) -> Finding:
    what = f"“{name}” is one too many." if twice else f"nothing here is called “{name}”."
    return Finding("the line", what, "Name a bed, a planting, a food, a kind, a store or a tank.")
