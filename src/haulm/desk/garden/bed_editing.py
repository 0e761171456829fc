"""Write a bed as it was typed into a form, with what stands on it, all in one change."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path

from haulm.desk.garden.applying import Change, apply, mark_of
from haulm.desk.garden.editing import change_garden, parts_of
from haulm.desk.garden.outlining import (
    Measured,
    OutlineTyped,
    Way,
    length_text,
    measure_outline,
    side_texts,
)
from haulm.desk.garden.writing import checked
from haulm.ground.records import Cover, Sun
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.measure.units import Units
from haulm.notebook.parts import Parts

BedPart = Mapping[str, object]
Lines = tuple[tuple[str, str], ...]
SPOTS_PARTED_BY = ", "
OUTLINE_KEYS = ("width", "length", "diameter", "corners", "sides", "outline")


@dataclass(frozen=True, slots=True)
class StandingTyped:
    """What stands on a bed, as typed; ``seen`` is its mark, empty for a new line."""

    seen: str = ""
    kind: str = ""
    method: str = ""
    started: str = ""
    area: str = ""

    @property
    def is_empty(self) -> bool:
        """Whether nothing is typed in any of its fields."""
        return not (self.kind or self.method or self.started or self.area)


@dataclass(frozen=True, slots=True)
class BedTyped:
    """A bed as typed into its form; empty lines of its lists say nothing.

    Attributes
    ----------
    name, outline, cover, sun, spot
        What it is called, its edge, what stands over it, its sun, what makes its nights other.
    past, found
        Crop and year, disease and year.
    standing
        What stands on it now.
    ph
        What its soil was tested at.
    soil, mulch, watered
        Its soil's class, the share under mulch, and how it is watered; empty for the usual.
    """

    name: str
    outline: OutlineTyped
    cover: str = Cover.OPEN.value
    sun: str = Sun.FULL.value
    spot: str = ""
    past: Lines = ()
    found: Lines = ()
    standing: tuple[StandingTyped, ...] = ()
    ph: str = ""
    soil: str = ""
    mulch: str = ""
    watered: str = ""


def new_bed(way: Way, units: Units) -> BedTyped:
    """Give the form of a bed that is to be added, at a size from which to draw."""
    width, length, across = ("4 ft", "12 ft", "6 ft") if units == "us" else ("1.2 m", "4 m", "2 m")
    none = length_text(0.0, units)
    corners = ((none, none), (width, none), (width, length), (none, length))
    return BedTyped("", OutlineTyped(way, width, length, across, corners))


def like(bed: BedTyped) -> BedTyped:
    """Give the form of a bed made like another: outline, cover, sun and spot, not its past."""
    return BedTyped("", bed.outline, bed.cover, bed.sun, bed.spot)


def bed_as_typed(part: BedPart, standing: Sequence[BedPart], units: Units) -> BedTyped:
    """Give a bed's form as it is stored, each value as it was typed."""
    return BedTyped(
        str(part.get("name", part["id"])),
        _outline_as_typed(part, units),
        str(part.get("cover", Cover.OPEN.value)),
        str(part.get("sun", Sun.FULL.value)),
        _spots(part.get("spot")),
        _pairs(part.get("past"), "crop"),
        _pairs(part.get("found"), "disease"),
        tuple(
            StandingTyped(
                mark_of(stand),
                str(stand["kind"]),
                str(stand["method"]),
                str(stand["started"]),
                _text(stand["area"], "m2"),
            )
            for stand in standing
        ),
        _number_text(part.get("ph")),
        str(part.get("soil", "")),
        _number_text(part.get("mulch")),
        str(part.get("watered", "")),
    )


def stands_on(parts: Parts, bed: str) -> tuple[BedPart, ...]:
    """List what stands on a bed, as typed."""
    return tuple(stand for stand in parts["standing"] if stand.get("bed") == bed)


def save_bed(path: Path, seen: str, typed: BedTyped, units: Units, at: datetime) -> str:
    """Write a bed and what stands on it; give the bed's id.

    Parameters
    ----------
    path
        The notebook.
    seen
        The bed's mark as it was looked at; empty to add it.
    typed, units
        What was typed, and the units in which a walk's corners are written.
    at
        The time of the change.

    Raises
    ------
    ChangedElsewhereError
        When the bed, or what stands on it, is no longer what it was; nothing is written.
    FaultsFoundError
        With every fault; its place is the form's field, and for lists the line from 0.
    """
    before = parts_of(path)
    stored = next((part for part in before["bed"] if mark_of(part) == seen), {})
    measured = measure_outline(typed.outline, units)
    stands, rows = _standing_changes(before, str(stored.get("id", "")), typed.standing)
    changes = [Change("bed", seen, _part(typed, measured, stored, units)), *stands]
    applied = apply(before, changes)
    found = [replace(fault, place=_place(key)) for key, fault in measured.faults.items()]
    try:
        checked(path.name, before, applied, record=None)
    except FaultsFoundError as error:
        where = {place: row for place, row in zip(applied.places[1:], rows, strict=True) if place}
        placed = (_placed(fault, typed, measured, where) for fault in error.findings)
        found += [
            fault
            for fault in placed
            if not (found and fault.place[:1] and fault.place[0] in OUTLINE_KEYS)
        ]
    if found:
        raise FaultsFoundError(found)
    change_garden(path, changes, at)
    place = applied.places[0]
    return str(applied.parts["bed"][place[1]]["id"]) if place else ""


def remove_bed(path: Path, seen: str, at: datetime) -> None:
    """Take a bed out, and with it the ground that a rotation allots there.

    Raises
    ------
    ChangedElsewhereError
        When it is no longer what it was; nothing is written.
    FaultsFoundError
        When something stands or is pinned there.
    """
    parts = parts_of(path)
    gone = {bed.get("id") for bed in parts["bed"] if mark_of(bed) == seen}
    allotted = [one for one in parts["allotment"] if one.get("bed") in gone]
    changes = [Change("allotment", mark_of(one), None) for one in allotted]
    change_garden(path, [Change("bed", seen, None), *changes], at)


def move_bed(path: Path, seen: str, by: int, at: datetime) -> None:
    """Move a bed up (−1) or down (1) the list; at the list's end it stays.

    Raises
    ------
    ChangedElsewhereError
        When it is no longer what it was; nothing is written.
    """
    beds = parts_of(path)["bed"]
    marks = [mark_of(bed) for bed in beds]
    here = marks.index(seen) if seen in marks else None
    there = None if here is None else here + by
    if here is None:
        change_garden(path, [Change("bed", seen or "none", {})], at)
    elif there is not None and 0 <= there < len(beds):
        swap = [Change("bed", marks[here], beds[there]), Change("bed", marks[there], beds[here])]
        change_garden(path, swap, at)


def _outline_as_typed(part: BedPart, units: Units) -> OutlineTyped:
    """Give an outline's form: the way it was given, and what the other ways would start from."""
    width, length, across = (
        _text(part[key], "m") if key in part else "" for key in ("width", "length", "diameter")
    )
    corners = tuple(
        (_text(east, "m"), _text(north, "m")) for east, north in _rows(part.get("corners"))
    )
    way = Way.CORNERS if corners else Way.ROUND if across else Way.RECTANGLE
    typed = OutlineTyped(way, width, length, across, corners)
    return with_every_way(typed, measure_outline(typed, units), units)


def with_every_way(typed: OutlineTyped, measured: Measured, units: Units) -> OutlineTyped:
    """Fill in the fields of the ways not chosen, so that another may be chosen from where it is."""
    if measured.outline is None:
        return typed
    low = measured.outline.corners_m
    width, length = (length_text(max(corner[axis] for corner in low), units) for axis in (0, 1))
    corners = typed.corners
    if typed.way is Way.SIDES:
        corners = _corner_texts(measured, units)
    elif typed.way is not Way.CORNERS:
        east, north = width, length
        if typed.way is Way.RECTANGLE:
            east, north = typed.width, typed.length
        none = length_text(0.0, units)
        corners = ((none, none), (east, none), (east, north), (none, north))
    filled = replace(
        typed,
        width=typed.width if typed.way is Way.RECTANGLE else width,
        length=typed.length if typed.way is Way.RECTANGLE else length,
        diameter=typed.diameter if typed.way is Way.ROUND else width,
        corners=corners,
    )
    if typed.way is Way.SIDES:
        return filled
    drawn = measure_outline(replace(filled, way=Way.CORNERS), units)
    sides = dict(zip(drawn.lines, side_texts(drawn.sides, units), strict=False))
    return replace(filled, sides=tuple(sides.get(line, ("", "")) for line in range(len(corners))))


def _corner_texts(measured: Measured, units: Units) -> Lines:
    return tuple((length_text(x, units), length_text(y, units)) for x, y in measured.corners_m)


def _part(typed: BedTyped, measured: Measured, stored: BedPart, units: Units) -> dict[str, object]:
    """Make the bed's part; what still reads as it is stored stays as it is stored."""
    part: dict[str, object] = {key: stored[key] for key in ("id",) if key in stored}
    if typed.name != stored.get("name", stored.get("id")) or "name" in stored:
        part["name"] = typed.name
    outline = typed.outline
    if outline.way is Way.RECTANGLE:
        given: dict[str, object] = {"width": outline.width, "length": outline.length}
    elif outline.way is Way.ROUND:
        given = {"diameter": outline.diameter}
    elif outline.way is Way.SIDES:
        given = {"corners": [list(corner) for corner in _corner_texts(measured, units)]}
    else:
        given = {"corners": [list(corner) for corner in outline.corners if any(corner)]}
    as_stored = {key: _as_text(stored.get(key)) for key in given}
    part |= {key: stored[key] if as_stored[key] == value else value for key, value in given.items()}
    for key, value, usual in (("cover", typed.cover, Cover.OPEN), ("sun", typed.sun, Sun.FULL)):
        if value != usual or key in stored:
            part[key] = value
    spots = [spot for spot in typed.spot.split(SPOTS_PARTED_BY) if spot]
    part |= {"spot": spots} if spots or "spot" in stored else {}
    for key, value in (("ph", typed.ph), ("mulch", typed.mulch)):
        if value:
            part[key] = stored[key] if _number_text(stored.get(key)) == value else value
    part |= {
        key: value for key, value in (("soil", typed.soil), ("watered", typed.watered)) if value
    }
    part["past"] = _listed(typed.past, "crop")
    part["found"] = _listed(typed.found, "disease")
    return part


def _spots(listed: object) -> str:
    """Write a bed's spots, stored as one or as several, as the form's one choice."""
    spots = [listed] if isinstance(listed, str) else listed if isinstance(listed, list) else []
    return SPOTS_PARTED_BY.join(str(spot) for spot in spots)


def _listed(lines: Lines, key: str) -> list[dict[str, object]]:
    """Make a list's entries of its lines that are not empty."""
    return [
        {key: word, "year": int(year) if year.isdecimal() and year.isascii() else year}
        for word, year in lines
        if word or year
    ]


def _standing_changes(
    before: Parts, bed: str, typed: Sequence[StandingTyped]
) -> tuple[list[Change], list[int]]:
    """List the changes to what stands there, and the form's line of each."""
    stored = {mark_of(stand): stand for stand in stands_on(before, bed)}
    changes, rows = [], []
    for row, stand in enumerate(typed):
        there = stored.get(stand.seen, {})
        as_stored = {key: _text(value, "m2") for key, value in there.items() if key != "bed"}
        now = {key: getattr(stand, key) for key in ("kind", "method", "started", "area")}
        if as_stored == now or (stand.is_empty and not stand.seen):
            continue
        part = None if stand.is_empty else {"bed": bed, **now}
        if part and as_stored.get("area") == stand.area:
            part["area"] = there["area"]
        changes.append(Change("standing", stand.seen, part))
        rows.append(row)
    return changes, rows


def _placed(
    fault: Finding,
    typed: BedTyped,
    measured: Measured,
    standing: Mapping[tuple[str, int], int],
) -> Finding:
    """Put a fault at the form's field it belongs to; elsewhere it has no place."""
    part, number, *rest = (*fault.place, None, None)[: max(2, len(fault.place))]
    if part == "standing" and (part, number) in standing:
        key = rest[0] if rest else "kind"
        return replace(fault, place=(f"stands_{key}", standing[part, int(str(number))]))
    if part != "bed":
        return replace(fault, place=())
    return replace(fault, place=_bed_place(rest, typed, measured))


def _bed_place(
    rest: Sequence[object], typed: BedTyped, measured: Measured
) -> tuple[str | int, ...]:
    """Say which field of a bed's form a place within the bed is."""
    key, *more = rest or ["outline"]
    if key == "corners" and more:
        return "corners", measured.lines[int(str(more[0]))]
    if key in {"past", "found"} and more:
        lines = typed.past if key == "past" else typed.found
        filled = [line for line, pair in enumerate(lines) if any(pair)]
        return f"{key}_{more[1] if len(more) > 1 else 'year'}", filled[int(str(more[0]))]
    return (str(key),)


def _place(key: str) -> tuple[str | int, ...]:
    name, _, line = key.partition(".")
    return (name, int(line)) if line else (name,)


def _pairs(listed: object, key: str) -> Lines:
    entries = listed if isinstance(listed, list | tuple) else ()
    return tuple((str(entry[key]), str(entry["year"])) for entry in entries)


def _rows(listed: object) -> list[tuple[object, object]]:
    entries = listed if isinstance(listed, list | tuple) else ()
    return [(east, north) for east, north in entries]


def _number_text(value: object) -> str:
    """Write a plain number as typed; nothing where there is none."""
    return "" if value is None else str(value)


def _as_text(value: object) -> object:
    """Give a quantity, or a list of corners, as the texts that a form shows."""
    if isinstance(value, list | tuple):
        return [[_text(length, "m") for length in corner] for corner in value]
    return None if value is None else _text(value, "m")


def _text(value: object, unit: str) -> str:
    """Write a value as typed; a plain number with the unit it stands for."""
    number = isinstance(value, int | float) and not isinstance(value, bool)
    return f"{value:.12g} {unit}" if number else str(value)
