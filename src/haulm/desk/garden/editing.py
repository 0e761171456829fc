"""Change a garden in its notebook part by part, as a page does; nothing is overwritten unseen.

A page shows parts as :func:`parts_of` gives them, remembers the mark of each, and sends back
changes: the part, the mark it was shown with, and what was typed. All of a call's changes are
written in one transaction or none is. Faults that the garden had elsewhere do not stand in the
way; they are told with the warnings.
"""

from collections.abc import Mapping, Sequence
from datetime import datetime
from enum import StrEnum
from pathlib import Path
from typing import get_args

from haulm.desk.garden.applying import Change, apply, mark_of
from haulm.desk.garden.uploads import garden_text, load_garden, load_record, record_csv
from haulm.desk.garden.writing import checked, normal, within, write
from haulm.measure.errors import ChangedElsewhereError, FaultsFoundError
from haulm.measure.findings import Finding
from haulm.notebook.file import create_notebook, open_notebook
from haulm.notebook.history import EarlierGarden, bring_back, earlier_gardens
from haulm.notebook.parts import MODELS, Parts

__all__ = [
    "Change",
    "EarlierGarden",
    "Parts",
    "change_garden",
    "choices_of",
    "faults_by_place",
    "faults_elsewhere",
    "faults_of",
    "garden_text",
    "history",
    "index_of",
    "load_garden",
    "load_record",
    "mark_of",
    "parts_of",
    "record_csv",
    "stamp",
    "undo_last",
    "write_first",
]

_COUNTER_AT = 24
_COUNTER_BYTES = 4


def parts_of(path: Path) -> Parts:
    """Give a notebook's garden part by part, as typed, keys as in garden.toml.

    Each part is a tuple of mappings; one that there is one of (garden, place, weather, hours) is a
    tuple of one, or of none. Nothing is checked, so a garden with faults can be shown and mended.

    Raises
    ------
    FaultsFoundError
        When the file is missing, is no notebook, is damaged, or is from a newer haulm.
    """
    with open_notebook(path) as notebook:
        return notebook.parts()


def choices_of(part: str, key: str) -> tuple[str, ...]:
    """List the words that a key of a part may have; empty where it is not one of a choice."""
    field = MODELS[part].model_fields[key]
    kinds = [field.annotation, *get_args(field.annotation)]
    return tuple(
        str(word)
        for kind in kinds
        if isinstance(kind, type) and issubclass(kind, StrEnum)
        for word in kind
    )


def change_garden(path: Path, changes: Sequence[Change], at: datetime) -> tuple[Finding, ...]:
    """Make changes in a notebook's garden, all of them or none.

    Parameters
    ----------
    path
        The notebook.
    changes
        What to change; marks are those of the garden as it was looked at.
    at
        The time of the change, by which it is listed in the history.

    Returns
    -------
    Warnings and notes on the whole garden, and faults that it had elsewhere before.

    Raises
    ------
    ChangedElsewhereError
        When a part is no longer what it was when it was looked at; nothing is written.
    FaultsFoundError
        With every fault in the parts changed, or elsewhere because of the change; nothing is
        written. Places are those of the garden as it would be: see :func:`faults_of`.
    """
    with open_notebook(path, writing=True) as notebook:
        before = notebook.parts()
        applied = apply(before, changes)
        _refuse_record_typed(before, applied.parts)
        told = checked(path.name, before, applied, record=notebook.record())
        write(notebook, before, normal(applied), applied.what, at)
    return told


def _refuse_record_typed(before: Parts, after: Parts) -> None:
    """Refuse another record's name: a record comes as a file, with its days."""
    was, now = ([part.get("record") for part in parts["weather"]] for parts in (before, after))
    if now != was and any(now):
        what = "a daily record cannot be typed; it comes as a file."
        place = ("weather", "record")
        raise FaultsFoundError([Finding("the weather", what, "Load the file.", place=place)])


def write_first(path: Path, parts: Parts) -> tuple[Finding, ...]:
    """Make a new notebook of parts; beds and stores without an id are given one.

    Raises
    ------
    FaultsFoundError
        With every fault in the parts, or when there is such a file already; nothing is made.
    """
    changes = [Change(name, "", part) for name, listed in parts.items() for part in listed]
    nothing: Parts = dict.fromkeys(MODELS, ())
    applied = apply(nothing, changes)
    told = checked(path.name, nothing, applied, record=None)
    with create_notebook(path) as notebook:
        notebook.write_parts(normal(applied))
    return told


def undo_last(path: Path, number: int | None = None) -> str | None:
    """Take back the last change, and say what it was; None where there is none.

    Parameters
    ----------
    path
        The notebook.
    number
        The change that was shown as the last, by :func:`history`; None to take back whichever is.

    Raises
    ------
    ChangedElsewhereError
        When that change is no longer the last; nothing is written.
    """
    with open_notebook(path, writing=True) as notebook:
        earlier = earlier_gardens(notebook)
        if number is not None and (not earlier or earlier[0].number != number):
            what = "the garden was changed in another window since. Look at the last change again."
            raise ChangedElsewhereError(what, "garden")
        if not earlier:
            return None
        bring_back(notebook, earlier[0].number)
        return earlier[0].what


def history(path: Path) -> tuple[EarlierGarden, ...]:
    """List the last changes, up to 50, the newest first: number, time, what was done."""
    with open_notebook(path) as notebook:
        return earlier_gardens(notebook)


def stamp(path: Path) -> str:
    """Give a mark of a notebook's whole content, at the cost of reading a few bytes.

    It is another after everything that was written: SQLite counts up bytes 24 to 27 of the file
    with each transaction that changes it (SQLite, "Database File Format": file change counter).
    Size, time and number of the file are in it too, for a file put in the place of another. Empty
    where there is no such file.

    Raises
    ------
    FaultsFoundError
        When the file cannot be read.
    """
    try:
        with path.open("rb") as file:
            counter = file.read(_COUNTER_AT + _COUNTER_BYTES)[_COUNTER_AT:].hex()
        about = path.stat()
    except FileNotFoundError:
        return ""
    except OSError as error:
        what = f"it cannot be read: {error.strerror}."
        raise FaultsFoundError([Finding(path.name, what, "Name a file you may read.")]) from None
    return f"{about.st_ino:x}-{about.st_size:x}-{about.st_mtime_ns:x}-{counter}"


def index_of(parts: Parts, change: Change) -> int:
    """Say where a change's part would stand: in its own place, or at the end where it is added.

    With this number :func:`faults_of` finds the faults in it, where it is changed by itself.
    """
    listed = parts.get(change.part, ())
    marks = [mark_of(part) for part in listed]
    return marks.index(change.seen) if change.seen in marks else len(listed)


def faults_of(error: FaultsFoundError, part: str, index: int = 0) -> Mapping[str, Finding]:
    """Give the faults in one part by key, so that each stands beside its field.

    A fault in a list's entry has the entry's number behind the key, from 0: ``corners.2``,
    ``past.0.crop``, ``normals.tmin.11``. One that is of the whole part has the empty key. Where
    there are several in one place, the first is given.
    """
    by_key: dict[str, Finding] = {}
    for finding in error.findings:
        rest = within(finding, part, index)
        if rest is not None:
            by_key.setdefault(".".join(map(str, rest)), finding)
    return by_key


def faults_elsewhere(error: FaultsFoundError, part: str, index: int = 0) -> tuple[Finding, ...]:
    """Give the faults that are not in one part: what a change would break elsewhere."""
    return tuple(finding for finding in error.findings if within(finding, part, index) is None)


def faults_by_place(
    error: FaultsFoundError, parts: Parts, change: Change
) -> tuple[Mapping[str, Finding], tuple[Finding, ...]]:
    """Sort the faults of a change that was made by itself: those in its part by key, the others.

    ``parts`` are the garden's as they were before it.
    """
    index = index_of(parts, change)
    return faults_of(error, change.part, index), faults_elsewhere(error, change.part, index)
