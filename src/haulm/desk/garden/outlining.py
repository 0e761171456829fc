"""A bed's outline while it is drawn and typed: measured, walked round, and checked at once.

What is refused here is refused by the same checks as in the notebook; beside them stands a look at
the size, which catches a slip of the unit.
"""

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from enum import StrEnum

from haulm.ground.outlines import circle, polygon, rectangle
from haulm.ground.records import Outline
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.measure.units import FOOT_M, Units, parse_length_m

Corner = tuple[float, float]
Faults = dict[str, Finding]
"""Faults by the field of the form they lie in; a line of a list is numbered from 0."""

LEAST_M2 = 0.01
MOST_M = 1000.0
CLOSED_M, ASTRAY_M = 0.01, 0.25
"""How near its start a walk ends that is closed, and one that was measured amiss."""


class Way(StrEnum):
    """By what an outline is given."""

    RECTANGLE = "rectangle"
    ROUND = "round"
    CORNERS = "corners"
    SIDES = "sides"


@dataclass(frozen=True, slots=True)
class OutlineTyped:
    """An outline as typed into a form; fields of other ways than the chosen one are kept by.

    Attributes
    ----------
    way
        By what it is given.
    width, length, diameter
        A rectangle's sides, a round bed's breadth.
    corners
        East and north of each line of the list; an empty line is no corner.
    sides
        Length and turn of the side that begins at each line's corner.
    """

    way: Way
    width: str = ""
    length: str = ""
    diameter: str = ""
    corners: tuple[tuple[str, str], ...] = ()
    sides: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class Side:
    """One side of an outline, by its length [m] and its turn [°].

    The turn is to the left of the side before; that of the first side is to the left of east.
    """

    length_m: float
    turn_deg: float


@dataclass(frozen=True, slots=True)
class Measured:
    """What an outline measures.

    Attributes
    ----------
    corners_m
        The corners as far as they could be read [m], where they were typed; none for a round bed.
    lines
        The line of the form that each corner stands on.
    sides
        The sides from each corner to the next.
    outline
        The outline; None while there is something to mend.
    faults
        What is to be mended, by field.
    """

    corners_m: tuple[Corner, ...] = ()
    lines: tuple[int, ...] = ()
    sides: tuple[Side, ...] = ()
    outline: Outline | None = None
    faults: Mapping[str, Finding] = field(default_factory=dict)


def measure_outline(typed: OutlineTyped, units: Units) -> Measured:
    """Measure an outline as typed; nothing is raised, every fault is told beside its field."""
    faults: Faults = {}
    if typed.way is Way.ROUND:
        across = _length(typed.diameter, "diameter", faults)
        return _checked((), (), "diameter", lambda: circle(across), faults)
    if typed.way is Way.RECTANGLE:
        width, length = (_length(getattr(typed, key), key, faults) for key in ("width", "length"))
        corners: tuple[Corner, ...] = (
            () if faults else ((0.0, 0.0), (width, 0.0), (width, length), (0.0, length))
        )
        return _checked(corners, (), "width", lambda: rectangle(width, length), faults)
    read = _walked_lines if typed.way is Way.SIDES else _corner_lines
    corners, lines = read(typed, units, faults)
    return _checked(corners, lines, "corners", lambda: polygon(corners), faults)


def sides_of(corners: Sequence[Corner]) -> tuple[Side, ...]:
    """Give the sides of an outline, each from its corner to the next, the last back to the first.

    The turn lies above −180° and up to 180°; it has no meaning at a side without length.
    """
    after = [*corners[1:], *corners[:1]]
    steps = [
        (there[0] - here[0], there[1] - here[1]) for here, there in zip(corners, after, strict=True)
    ]
    headings = [math.degrees(math.atan2(north, east)) for east, north in steps]
    before = [0.0, *headings[:-1]]
    return tuple(
        Side(math.hypot(*step), _half_turn(heading - last))
        for step, heading, last in zip(steps, headings, before, strict=True)
    )


def walked(sides: Sequence[Side]) -> tuple[Corner, ...]:
    """Give the corners reached by walking along sides from (0, 0), the end of the last among them.

    Lengths are in metres and turns in degrees, as :func:`sides_of` gives them.
    """
    corners: list[Corner] = [(0.0, 0.0)]
    heading = 0.0
    for side in sides:
        heading += math.radians(side.turn_deg)
        east, north = corners[-1]
        corners.append(
            (east + side.length_m * math.cos(heading), north + side.length_m * math.sin(heading))
        )
    return tuple(corners)


def with_corner_after(typed: OutlineTyped, line: int, units: Units) -> OutlineTyped:
    """Add a corner halfway along the side that begins at a line; an empty one where none can be."""
    measured = measure_outline(replace(typed, way=Way.CORNERS), units)
    added = ("", "")
    if line in measured.lines:
        at = measured.lines.index(line)
        ends = measured.corners_m[at], measured.corners_m[(at + 1) % len(measured.corners_m)]
        east, north = ((ends[0][axis] + ends[1][axis]) / 2 for axis in (0, 1))
        added = (length_text(east, units), length_text(north, units))
    corners = (*typed.corners[: line + 1], added, *typed.corners[line + 1 :])
    return replace(typed, corners=corners)


def without_corner(typed: OutlineTyped, line: int) -> OutlineTyped:
    """Take a line's corner out."""
    return replace(typed, corners=typed.corners[:line] + typed.corners[line + 1 :])


def length_text(metres: float, units: Units) -> str:
    """Write a length to be typed again: metres to 0.1 mm, or feet to a ten-thousandth."""
    amount = metres / FOOT_M if units == "us" else metres
    return f"{_plain(amount)} {'ft' if units == 'us' else 'm'}"


def turn_text(degrees: float) -> str:
    """Write a turn to be typed again, to 0.1°."""
    return f"{_plain(degrees, 1)}°"


def side_texts(sides: Sequence[Side], units: Units) -> tuple[tuple[str, str], ...]:
    """Write sides to be typed again."""
    return tuple((length_text(side.length_m, units), turn_text(side.turn_deg)) for side in sides)


def _plain(amount: float, decimals: int = 4) -> str:
    text = f"{amount:.{decimals}f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _half_turn(degrees: float) -> float:
    """Bring a turn between −180° (left out) and 180°, free of the dust of binary arithmetic."""
    turn = round(-((180.0 - degrees) % 360.0) + 180.0, 9)
    return 180.0 if turn <= -180.0 else turn  # noqa: PLR2004 - half a circle


def _length(text: str, key: str, faults: Faults) -> float:
    """Read a length; a fault is noted at its field."""
    try:
        return parse_length_m(text, key)
    except FaultsFoundError as error:
        faults.setdefault(key, error.findings[0])
        return math.nan


def _corner_lines(
    typed: OutlineTyped, _units: Units, faults: Faults
) -> tuple[tuple[Corner, ...], tuple[int, ...]]:
    """Read the corners that were typed; a line with a fault is left out of them."""
    corners, lines = [], []
    for line, (east, north) in enumerate(typed.corners):
        if not (east or north):
            continue
        corner = (
            _length(east, f"corners.{line}", faults),
            _length(north, f"corners.{line}", faults),
        )
        if not any(map(math.isnan, corner)):
            corners.append(corner)
            lines.append(line)
    return tuple(corners), tuple(lines)


def _walked_lines(
    typed: OutlineTyped, units: Units, faults: Faults
) -> tuple[tuple[Corner, ...], tuple[int, ...]]:
    """Walk round the sides that were typed, from the first corner; the last side may be left out.

    A side that still reads as the corners measured is taken as exactly as they are.
    """
    there, at = _corner_lines(typed, units, {})
    exact = dict(zip(at, sides_of(there), strict=True)) if len(there) > 1 else {}
    lines = tuple(line for line, side in enumerate(typed.sides) if any(side))
    sides = []
    for line in lines:
        texts = typed.sides[line]
        if line in exact and side_texts([exact[line]], units)[0] == texts:
            sides.append(exact[line])
            continue
        key = f"sides.{line}"
        turn = 0.0 if line == lines[0] and not texts[1] else _turn(texts[1], key, faults)
        length = _length(texts[0], key, faults)
        if length <= 0:
            what, remedy = (
                f"“{texts[0]}” is no length to walk.",
                "Give a length above 0, as in 1.2 m.",
            )
            faults.setdefault(key, Finding(key, what, remedy))
        sides.append(Side(length, turn))
    if faults:
        return (), ()
    start = there[0] if there else (0.0, 0.0)
    ends = walked(sides)
    corners = tuple((round(start[0] + x, 4), round(start[1] + y, 4)) for x, y in ends)
    return _closed(corners, lines, faults)


def _closed(
    corners: tuple[Corner, ...], lines: tuple[int, ...], faults: Faults
) -> tuple[tuple[Corner, ...], tuple[int, ...]]:
    """Close a walk: where it came back its end is let fall, else the last side leads back."""
    last = lines[-1] + 1 if lines else 0
    astray = math.dist(corners[0], corners[-1])
    if len(corners) > 1 and astray <= CLOSED_M:
        return corners[:-1], lines
    if len(corners) > 1 and astray <= ASTRAY_M:
        what = f"the walk ends {astray * 100:.0f} cm from where it began."
        remedy = "Mend a length or a turn; or leave the last side out, and it closes by itself."
        faults["corners"] = Finding("corners", what, remedy)
    return corners, (*lines, last)


def _turn(text: str, key: str, faults: Faults) -> float:
    """Read a turn [°]; a fault is noted at its field."""
    plain = text.replace("−", "-").removesuffix("°").strip().replace(",", ".")
    try:
        degrees = float(plain)
    except ValueError:
        degrees = math.nan
    if abs(degrees) <= 360:  # noqa: PLR2004 - a circle
        return degrees
    what = f"“{text}” is no turn." if text else "this side has no turn."
    remedy = "Write how many degrees it turns left, as in 90; to the right as in −90."
    faults.setdefault(key, Finding(key, what, remedy))
    return math.nan


def _checked(
    corners: tuple[Corner, ...],
    lines: tuple[int, ...],
    key: str,
    make: Callable[[], Outline],
    faults: Faults,
) -> Measured:
    """Make the outline if nothing stands against it, and look at its size."""
    sides = sides_of(corners) if len(corners) > 1 else ()
    outline = None
    if not faults:
        try:
            outline = make()
        except FaultsFoundError as error:
            for fault in error.findings:
                _put(faults, _field_of(fault, key), fault)
    size = _size_fault(outline, key) if outline else None
    if size:
        faults[key] = size
    return Measured(corners, lines, sides, None if faults else outline, faults)


def _field_of(fault: Finding, key: str) -> str:
    """Say which side of a rectangle a fault is about; else it is in the field named."""
    named = (side for side in ("width", "length") if fault.what.startswith(f"the {side} "))
    return next(named, key)


def _put(faults: Faults, key: str, fault: Finding) -> None:
    """Put a fault at its field, behind those that are there already."""
    there = faults.get(key)
    faults[key] = replace(fault, what=f"{there.what} {fault.what}") if there else fault


def _size_fault(outline: Outline, key: str) -> Finding | None:
    """Say what is wrong with the size of an outline, where something is."""
    longest = max(max(corner) for corner in outline.corners_m)
    if outline.area_m2 < LEAST_M2:
        what = f"that is {outline.area_m2 * 10_000:.2g} cm², too small for one plant."
    elif longest > MOST_M:
        what = f"that is {longest:,.0f} m from end to end, too large for a bed."
    else:
        return None
    return Finding(key, what, "Is the unit the one you mean? Write it as in 1.2 m or 4 ft.")
