"""Note what went otherwise than planned: of a planting of the kept plan, or of food in store."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path
from typing import Any

from haulm.desk.garden.applying import Change, mark_of
from haulm.desk.garden.editing import change_garden, parts_of
from haulm.desk.garden.opening import open_garden
from haulm.desk.planning.note_words import note_words
from haulm.desk.planning.plans import find_planting
from haulm.desk.planning.question import display_names
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.notebook.file import open_notebook
from haulm.plan.records import Planting
from haulm.plan.state import speaks_of

NOTED = "noted"


@dataclass(frozen=True, slots=True)
class NoteWish:
    """A note as it was given, in typed values; what is empty was not said."""

    what: str
    on: date
    days: str = ""
    share: str = ""
    place: str = ""


@dataclass(frozen=True, slots=True)
class NoteTold:
    """A note of a garden: its number counted from 1, its mark, and what it says."""

    number: int
    mark: str
    sentence: str


def notes_told(path: Path) -> tuple[NoteTold, ...]:
    """Tell everything that is noted in a garden, in its order.

    Raises
    ------
    FaultsFoundError
        With every fault in the garden at once.
    """
    opened = open_garden(path)
    parts: Sequence[Mapping[str, Any]] = ()
    if opened.notebook is not None:
        parts = parts_of(path)[NOTED]
    names = display_names(opened.garden, opened.catalogue)
    marks = [mark_of(part) for part in parts] or [""] * len(opened.garden.noted)
    return tuple(
        NoteTold(number, mark, note_words(note, names))
        for number, (note, mark) in enumerate(zip(opened.garden.noted, marks, strict=True), start=1)
    )


def notes_about(planting: Planting, path: Path) -> tuple[NoteTold, ...]:
    """Tell what is noted of one planting."""
    notes = open_garden(path).garden.noted
    return tuple(
        told
        for told, note in zip(notes_told(path), notes, strict=True)
        if speaks_of(note, planting)
    )


def note(path: Path, about: str, wish: NoteWish, at: datetime) -> tuple[Finding, ...]:
    """Write a note into a notebook: about a planting of its kept plan by its id, or about a food.

    Raises
    ------
    FaultsFoundError
        When there is no such planting, or the note lacks or cannot have something; nothing is
        written.
    """
    return change_garden(path, [Change(NOTED, "", _typed(path, about, wish))], at)


def take_back(path: Path, number: int, at: datetime) -> tuple[Finding, ...]:
    """Take a note out of a notebook by its number counted from 1.

    Raises
    ------
    FaultsFoundError
        When there is no such note; nothing is written.
    """
    notes = parts_of(path)[NOTED]
    if not 1 <= number <= len(notes):
        what = f"there is no note {number}; there are {len(notes)}."
        remedy = "Look at their numbers with haulm note."
        raise FaultsFoundError([Finding("--take-back", what, remedy)])
    return change_garden(path, [Change(NOTED, mark_of(notes[number - 1]), None)], at)


def _typed(path: Path, about: str, wish: NoteWish) -> dict[str, object]:
    """Put a note into the keys of its part; what is wrong with them is found when it is written."""
    typed: dict[str, object] = {"what": wish.what.strip().casefold().replace("-", " ")}
    typed["on"] = wish.on
    opened = open_garden(path)
    foods = {food.id.casefold(): food.id for food in opened.catalogue.foods.values()}
    if about.casefold() in foods:
        typed["food"] = foods[about.casefold()]
    else:
        with open_notebook(path) as notebook:
            planting = find_planting(notebook.plan(), about)
        typed |= {"kind": planting.kind, "bed": planting.bed, "sown": planting.sow_on}
    for key in ("days", "share", "place"):
        if value := getattr(wish, key):
            typed[key] = value
    return typed
