"""Changes applied to a garden part by part, as plain values; nothing is read or written here."""

import hashlib
import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from haulm.measure.errors import ChangedElsewhereError, FaultsFoundError
from haulm.measure.findings import Finding
from haulm.notebook.parts import MODELS, SINGLE_PARTS, Parts, plain
from haulm.notebook.table_lines import slug

NAMED_BY = {"bed": "id", "store": "id", "eater": "name", "own_kind": "id"}
"""The key by which other parts name a part of this list."""

NAMING = {
    "bed": (
        ("standing", "bed"),
        ("pin", "bed"),
        ("pin", "beds"),
        ("allotment", "bed"),
        ("noted", "bed"),
    ),
    "store": (("in_store", "place"), ("noted", "place")),
    "eater": (("away", "who"),),
    "own_kind": (
        ("own_kind", "like"),
        ("own_figure", "of"),
        ("standing", "kind"),
        ("stock", "kind"),
        ("in_store", "kind"),
        ("price", "what"),
        ("pin", "kind"),
        ("pin", "apart_from"),
        ("noted", "kind"),
        ("garden", "grow"),
    ),
}
"""For each such list, the parts and keys that name its parts."""


@dataclass(frozen=True, slots=True)
class Change:
    """One part of a garden changed, added or taken out.

    A part is found by the mark it had when it was looked at, never by its position: two windows
    that change different parts both succeed, though one of them has moved the other's up or down
    the list; two that change the same part do not, for after the first its mark is another. Parts
    that are alike in every key cannot be told apart and need not be: it is the same to the garden
    which of them is changed.

    Attributes
    ----------
    part
        The part's name in garden.toml: bed, table, place and so on.
    seen
        The mark of the part as it was looked at, by :func:`mark_of`; empty to add a part.
    typed
        The part as it shall be, keys as in garden.toml; None to take it out. A bed or store
        without an id keeps its own, or is given one made of its name.
    """

    part: str
    seen: str
    typed: Mapping[str, object] | None


@dataclass(frozen=True, slots=True)
class Applied:
    """A garden after changes: its parts, where the changed ones now stand, and what was done."""

    parts: Parts
    places: tuple[tuple[str, int] | None, ...]
    what: str


def mark_of(part: Mapping[str, object] | None) -> str:
    """Give a short mark of a part as typed; another mark for any other content, empty for none."""
    if part is None:
        return ""
    text = json.dumps(plain(part), sort_keys=True, default=str, ensure_ascii=False)
    return hashlib.sha256(text.encode()).hexdigest()[:16]


def apply(before: Parts, changes: Sequence[Change]) -> Applied:
    """Apply changes to a garden, all of them as seen before the first.

    ``places`` says for each change where its part stands now (part, number from 0), None where it
    was taken out. A new name of a bed, store or eater is followed through wherever it is named.

    Raises
    ------
    ChangedElsewhereError
        When a part is no longer what it was when it was looked at.
    FaultsFoundError
        When a part is taken out that others name.
    """
    positions = _positions(before, changes)
    now: dict[str, list[Mapping[str, Any] | None]] = {
        name: list(before.get(name, ())) for name in MODELS
    }
    ends = []
    for change, position in zip(changes, positions, strict=True):
        listed = now[change.part]
        typed = None if change.typed is None else _as_typed(change, position, before, listed)
        if position is None:
            listed.append(typed)
        else:
            listed[position] = typed
        ends.append((change.part, len(listed) - 1 if position is None else position))
    _refuse_orphans(before, now, changes, positions)
    _follow_names(before, now, changes, positions)
    return Applied(
        {name: tuple(part for part in listed if part is not None) for name, listed in now.items()},
        tuple(_place(now[name], name, position) for name, position in ends),
        "; ".join(
            _told(change, None if position is None else before[change.part][position])
            for change, position in zip(changes, positions, strict=True)
        ),
    )


def _place(
    listed: Sequence[Mapping[str, Any] | None], name: str, position: int
) -> tuple[str, int] | None:
    """Say where a part stands once those taken out are gone."""
    if listed[position] is None:
        return None
    return name, sum(part is not None for part in listed[:position])


def _positions(before: Parts, changes: Sequence[Change]) -> list[int | None]:
    """Find the part each change is about; None for what is added."""
    taken: set[tuple[str, int]] = set()
    positions: list[int | None] = []
    for change in changes:
        if change.part not in MODELS:
            what = f"a garden has no part “{change.part}”."
            raise FaultsFoundError([Finding("the change", what, "Open the page again.")])
        listed = before.get(change.part, ())
        if not change.seen and not (change.part in SINGLE_PARTS and listed):
            positions.append(None)
            continue
        found = next(
            (
                position
                for position, part in enumerate(listed)
                if mark_of(part) == change.seen and (change.part, position) not in taken
            ),
            None,
        )
        if found is None:
            raise _changed_elsewhere(change, listed)
        taken.add((change.part, found))
        positions.append(found)
    return positions


def _changed_elsewhere(
    change: Change, listed: Sequence[Mapping[str, Any]]
) -> ChangedElsewhereError:
    """Say that a part was changed elsewhere, with what it is now where that can be told."""
    now: Mapping[str, Any] | None = None
    key = NAMED_BY.get(change.part)
    if change.part in SINGLE_PARTS:
        now = listed[0] if listed else None
    elif key is not None and change.typed is not None:
        now = next((part for part in listed if part.get(key) == change.typed.get(key)), None)
    name = _name(change.part, now or change.typed or {})
    return ChangedElsewhereError(
        f"{name} was changed or taken out in another window since this one was opened. Nothing "
        "was written: look at it as it is now, and change it again if it still needs it.",
        change.part,
        now,
    )


def _as_typed(
    change: Change,
    position: int | None,
    before: Parts,
    listed: Sequence[Mapping[str, Any] | None],
) -> Mapping[str, Any]:
    """Give a part as typed; a bed or store with its id: the one it had, or one of its name."""
    typed = plain(change.typed or {})
    if NAMED_BY.get(change.part) != "id" or "id" in typed:
        return typed
    if position is not None:
        return {"id": before[change.part][position].get("id")} | typed
    taken = [part.get("id") for part in listed if part is not None]
    return {"id": new_id(str(typed.get("name", change.part)), taken)} | typed


def new_id(name: str, taken: Sequence[object]) -> str:
    """Make an id of a name that no other part has."""
    stem = slug(name)
    ids = [stem, *(f"{stem}-{number}" for number in range(2, len(taken) + 3))]
    return next(id_ for id_ in ids if id_ not in taken)


def _names(part: Mapping[str, Any], key: str) -> list[str]:
    """List the names that stand in a key: one, or several; what is no name is left to others."""
    named = part.get(key, [])
    listed = named if isinstance(named, list) else [named]
    return [name for name in listed if isinstance(name, str)]


def _changed_names(
    before: Parts,
    now: Mapping[str, Sequence[Mapping[str, Any] | None]],
    changes: Sequence[Change],
    positions: Sequence[int | None],
) -> Iterator[tuple[str, str, str | None]]:
    """Give each name that is another now, or gone: the part, the name, and the new name."""
    for change, position in zip(changes, positions, strict=True):
        key = NAMED_BY.get(change.part)
        if key is None or position is None:
            continue
        old, part = before[change.part][position].get(key), now[change.part][position]
        new = None if part is None else part.get(key, old)
        left = [one.get(key) for one in now[change.part] if one is not None]
        if isinstance(new, str | None) and old not in left:
            yield change.part, str(old), new


def _refuse_orphans(
    before: Parts,
    now: Mapping[str, Sequence[Mapping[str, Any] | None]],
    changes: Sequence[Change],
    positions: Sequence[int | None],
) -> None:
    """Refuse to take out what other parts still name."""
    orphans = [
        Finding(
            where=_name(part, next(one for one in before[part] if one.get(NAMED_BY[part]) == old)),
            what=f"it is still named by {_name(other, naming)}.",
            remedy="Change or take out that one first.",
            place=(other, number, key),
        )
        for part, old, new in _changed_names(before, now, changes, positions)
        if new is None
        for other, key in NAMING[part]
        for number, naming in enumerate(one for one in now[other] if one is not None)
        if old in _names(naming, key)
    ]
    if orphans:
        raise FaultsFoundError(orphans)


def _follow_names(
    before: Parts,
    now: dict[str, list[Mapping[str, Any] | None]],
    changes: Sequence[Change],
    positions: Sequence[int | None],
) -> None:
    """Put a new name wherever the old one stands."""
    new_names: dict[str, dict[str, str]] = {}
    for part, old, new in _changed_names(before, now, changes, positions):
        if new is not None:
            new_names.setdefault(part, {})[old] = new
    for part, renamed in new_names.items():
        for other, key in NAMING[part]:
            now[other] = [naming and _renamed(naming, key, renamed) for naming in now[other]]


def _renamed(naming: Mapping[str, Any], key: str, renamed: Mapping[str, str]) -> Mapping[str, Any]:
    """Give a part with its names renewed."""
    names = [renamed.get(name, name) for name in _names(naming, key)]
    if names == _names(naming, key):
        return naming
    return {**naming, key: names[0] if isinstance(naming[key], str) else names}


def _told(change: Change, before: Mapping[str, Any] | None) -> str:
    """Say in a few words what a change does."""
    if change.typed is None:
        return f"{_name(change.part, before or {})} taken out"
    done = "added" if before is None else "changed"
    return f"{_name(change.part, change.typed if before is None else before)} {done}"


_WORDS = {
    "garden": "the garden's name and ways",
    "place": "the place",
    "weather": "the weather",
    "hours": "the hours of work",
    "eater": "the eater",
    "away": "the days away",
    "table": "the line of the table",
    "bed": "the bed",
    "store": "the store",
    "in_store": "the food in store",
    "standing": "the standing crop",
    "stock": "the planting stock",
    "price": "the price",
    "pin": "the pin",
    "allotment": "the ground allotted",
    "tank": "the rain tank",
    "watering": "the watering",
    "water_rule": "the rule on watering",
    "lookout": "what the look-out goes by",
    "noted": "the note",
    "own_kind": "your own kind",
    "own_figure": "your own figure",
    "own_pace": "your own pace",
}


def _name(part: str, typed: Mapping[str, Any]) -> str:
    """Call a part by name, as in: the bed “Slate”."""
    if part in SINGLE_PARTS:
        return _WORDS[part]
    keys = ("name", "id", "figure", "eat", "food", "kind", "crop", "family", "what", "from")
    named = next((typed[key] for key in keys if typed.get(key)), "")
    words = " or ".join(map(str, named)) if isinstance(named, list | tuple) else str(named)
    return f"{_WORDS[part]} “{words}”" if words else _WORDS[part]
