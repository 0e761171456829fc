"""What the diary makes of the catalogue's figures, and planning by it until it is taken back."""

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import date, datetime
from pathlib import Path
from typing import Any

from haulm.desk.garden.editing import Change, Parts, change_garden, mark_of, parts_of
from haulm.desk.season.diary import find_entry
from haulm.desk.season.lesson_gathering import Gathered, gather
from haulm.desk.season.lesson_records import (
    NOTE,
    OWN_FIGURE,
    OWN_PACE,
    Lessons,
    Moved,
    Written,
)
from haulm.desk.season.lessons_ground import ground_lessons
from haulm.desk.season.lessons_store import store_lessons
from haulm.desk.season.lessons_table import eaten_of
from haulm.desk.season.lessons_work import work_lessons
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding, Grade
from haulm.measure.near import near_names
from haulm.notebook.diary import read_diary
from haulm.notebook.file import open_notebook
from haulm.notebook.odd_records import SaidOfRecord, say_of_record


def lessons_of(path: Path, day: date) -> Lessons:
    """Learn what a notebook's diary teaches, up to a day.

    Figures are moved from the catalogue's own, or from what the household gave by hand, never from
    what was learnt before, so that no record counts twice.

    Raises
    ------
    FaultsFoundError
        When the path is no notebook.
    """
    told = gather(path, day)
    parts = parts_of(path)
    moved = (*ground_lessons(told), *store_lessons(told), *work_lessons(told))
    names = {food.id: food.name for food in told.usual.foods.values()}
    names |= {kind.id: kind.name for kind in told.usual.kinds.values()}
    return Lessons(
        moved=tuple(_beside_own(one, parts) for one in moved),
        eaten=tuple(eaten_of(told)),
        said={
            SaidOfRecord.RIGHT.value: tuple(sorted(told.confirmed)),
            SaidOfRecord.ASIDE.value: tuple(sorted(told.aside)),
        },
        told=tuple(_not_taken(told)),
        names=names,
    )


def figures_named(lessons: Lessons, names: Iterable[str]) -> tuple[Moved, ...]:
    """Find figures by their names in words, or by their keys, in the order they are asked for.

    Raises
    ------
    FaultsFoundError
        When a name is of none of the figures moved.
    """
    by_name = {word.casefold(): one for one in lessons.moved for word in (one.key, one.name)}
    asked = [(name, " ".join(name.split()).casefold()) for name in names]
    known = {one.name: one for one in lessons.moved}
    faults = [_no_such(name, known) for name, folded in asked if folded not in by_name]
    if faults:
        raise FaultsFoundError(faults)
    return tuple({by_name[folded].key: by_name[folded] for _, folded in asked}.values())


def keep_lessons(
    path: Path, lessons: Lessons, at: datetime, only: Collection[str] | None = None
) -> int:
    """Put the figures moved in the place of the catalogue's, and say how many there were.

    One that the household gave itself, by hand, is left: it knows better. Of all figures, those of
    too few records are left as well.

    Parameters
    ----------
    path, lessons, at
        The notebook, what it teaches, and the time of the change.
    only
        The keys of the figures wanted; None for all of which there is enough to tell.

    Raises
    ------
    FaultsFoundError
        When a figure wanted is none of those moved, or may not be kept.
    """
    wanted = _wanted(lessons, only)
    parts = parts_of(path)
    changes = [
        Change(written.part, _mark(parts, written), {**written.typed, "note": _note(moved)})
        for moved in wanted
        for written in moved.writes
    ]
    if changes:
        change_garden(path, changes, at)
    return len(wanted)


def take_lessons_back(path: Path, at: datetime, only: Sequence[Written] | None = None) -> int:
    """Take figures that were learnt out of the garden, all or some, and say how many there were."""
    parts = parts_of(path)
    changes = [
        Change(name, mark_of(part), None)
        for name in (OWN_FIGURE, OWN_PACE)
        for part in parts[name]
        if _is_learnt(part)
        and (only is None or any(one.part == name and one.is_of(part) for one in only))
    ]
    if changes:
        change_garden(path, changes, at)
    return len(changes)


def say_of(path: Path, entry: str, said: SaidOfRecord, at: datetime) -> str:
    """Say of a record that was asked about that it is right, or is to be set aside; give its name.

    Raises
    ------
    FaultsFoundError
        When there is no such entry, or there are several.
    """
    with open_notebook(path, writing=True) as notebook:
        found = find_entry(read_diary(notebook), entry)
        say_of_record(notebook, found.id, said, at)
    return found.id


def _wanted(lessons: Lessons, only: Collection[str] | None) -> list[Moved]:
    if only is None:
        return [one for one in lessons.moved if one.may_be_kept and not one.few]
    by_key = {one.key: one for one in lessons.moved}
    faults = [_no_such(key, by_key) for key in only if key not in by_key]
    faults += [
        Finding(by_key[key].name, "you gave this figure yourself.", "Take yours out first.")
        for key in only
        if key in by_key and by_key[key].by_hand
    ]
    if faults:
        raise FaultsFoundError(faults)
    return [by_key[key] for key in only if by_key[key].records]


def _no_such(key: str, known: Mapping[str, Moved]) -> Finding:
    near = near_names(key, known)
    remedy = f"Did you mean {' or '.join(near)}?" if near else "haulm learn lists what is moved."
    return Finding("what the year teaches", f"nothing moves “{key}”.", remedy)


def _beside_own(moved: Moved, parts: Parts) -> Moved:
    """Tell with a figure what the household plans by today."""
    own = [part for one in moved.writes for part in parts[one.part] if one.is_of(part)]
    if not own:
        return moved
    if not all(map(_is_learnt, own)):
        return replace(moved, by_hand=True)
    value = own[-1].get("value", own[-1].get("times"))
    return replace(moved, now=float(value) if isinstance(value, int | float) else None)


def _mark(parts: Parts, written: Written) -> str:
    """Give the mark of the figure that is there already; empty where there is none."""
    return next((mark_of(part) for part in parts[written.part] if written.is_of(part)), "")


def _is_learnt(part: Mapping[str, Any]) -> bool:
    return str(part.get("note", "")).startswith(NOTE)


def _note(moved: Moved) -> str:
    share = f"{moved.prior_weight:.0%}"
    records = "1 record" if moved.records == 1 else f"{moved.records} records"
    return f"{NOTE}: {records}; the usual {moved.usual:.4g} still weighs {share}"


def _not_taken(told: Gathered) -> Iterator[Finding]:
    """Tell of pickings that are of no planting, for no yield of that food is learnt meanwhile."""
    names = told.usual.foods
    for food, entries in sorted(told.loose.items()):
        name = names[food].name if food in names else food
        number = "1 picking" if len(entries) == 1 else f"{len(entries)} pickings"
        yield Finding(
            where=f"the diary, {name}",
            what=f"{number} cannot be told to be of one planting; what was picked of plantings"
            " then is not taken for all they gave.",
            remedy="Write with a picking its planting, or the bed.",
            grade=Grade.NOTE,
        )
