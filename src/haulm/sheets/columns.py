"""Matters told in columns: sections flow from one to the next, and give lines away in turn."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from haulm.sheets.draw.canvas import HAIR, Canvas
from haulm.sheets.draw.type import Face, Style, width_of, wrapped

_TITLE_MM, _LINE_MM, _AFTER_MM = 9.0, 4.15, 3.4
_TEXT = Style(Face.TEXT, 3.45)
_LEAD = Style(Face.FIRM, 3.45)
_HANG_MM, _SPACE_MM = 3.0, 0.8


@dataclass(frozen=True, slots=True)
class ColumnRooms:
    """The columns that sections stand in, in the order they are read.

    Attributes
    ----------
    width_mm
        How wide each is [mm].
    spans_mm
        Where each begins and ends, from the sheet's upper edge [mm].
    turn
        The number of the first column of the next page, where sections that turn begin.
    """

    width_mm: float
    spans_mm: tuple[tuple[float, float], ...]
    turn: int = 0


@dataclass(frozen=True, slots=True)
class Told:
    """One line of a section: what it begins with, set firmer, and the rest."""

    lead: str
    words: str = ""


@dataclass(frozen=True, slots=True)
class Section:
    """One matter told under a title.

    Attributes
    ----------
    title, lines
        What it is called, and what it says.
    least
        So many lines stay, whatever the room.
    gives_way
        Where room is short, sections with a lower number give lines away first; at the end of a
        list first.
    more
        Where the lines left out are to be found.
    turns
        Whether the next page begins with it where there is room.
    """

    title: str
    lines: tuple[Told, ...]
    least: int
    gives_way: int
    more: str = ""
    turns: bool = False


@dataclass(frozen=True, slots=True)
class Fitted:
    """Sections cut to their columns, and how many lines each had to leave out."""

    sections: tuple[Section, ...]
    left_out: tuple[tuple[str, int], ...]


def fit_columns(given: Sequence[Section], rooms: ColumnRooms) -> Fitted:
    """Leave lines out, in the order in which sections give way, until the rest has its room.

    A section gives its last lines, down to its least; only when all are at their least do they
    give more, down to one line each.
    """
    sections = list(given)
    gone = dict.fromkeys((section.title for section in sections), 0)
    for number in _giving_way(sections):
        if _columns(_with_more(sections, gone), rooms) is not None:
            break
        section = sections[number]
        sections[number] = replace(section, lines=section.lines[:-1])
        gone[section.title] += 1
    left_out = tuple((title, count) for title, count in gone.items() if count)
    return Fitted(tuple(_with_more(sections, gone)), left_out)


def _giving_way(sections: Sequence[Section]) -> Iterator[int]:
    """Give, one line at a time, the number of the section that loses its last line."""
    order = sorted(range(len(sections)), key=lambda number: sections[number].gives_way)
    for least in (lambda section: section.least, lambda _: 1):
        for number in order:
            spare = len(sections[number].lines) - least(sections[number])
            if least(sections[number]) == 1:
                spare = min(spare, sections[number].least - 1)
            yield from [number] * max(0, spare)


def _with_more(sections: Sequence[Section], gone: dict[str, int]) -> list[Section]:
    """Tell at the end of a section how many lines it lacks."""
    return [
        replace(section, lines=(*section.lines, Told("", f"and {gone[section.title]} more{tail}")))
        if gone[section.title]
        else section
        for section in sections
        for tail in [f": {section.more}" if section.more else ""]
    ]


def _set_lines(told: Told, width: float) -> list[str]:
    """Break one line of a section to a column's width; all but its first hang in."""
    text = f"{told.lead} {told.words}".strip()
    # The lead, being firmer, runs a little wider than it is reckoned.
    return wrapped(text, _TEXT.face, _TEXT.size, width - _HANG_MM - _SPACE_MM)


Placed = list[list[tuple[Section, int, int, float]]]
"""By column: a section, which of its lines from and until, and where it begins [mm]."""


def stand(sections: Sequence[Section], rooms: ColumnRooms) -> Placed:
    """Stand sections in their columns; where they do not fit, as many as do, from the first on."""
    for count in range(len(sections), 0, -1):
        placed = _columns(sections[:count], rooms)
        if placed is not None:
            return placed
    return [[] for _ in rooms.spans_mm]


def _columns(sections: Sequence[Section], rooms: ColumnRooms) -> Placed | None:
    """Stand sections in the columns in their order; None where they do not fit.

    A section that does not fit to its end goes on in the next column, two lines or more on each
    side.
    """
    turned = _in_order(sections, rooms, turning=True)
    return turned or _in_order(sections, rooms, turning=False)


def _in_order(sections: Sequence[Section], rooms: ColumnRooms, *, turning: bool) -> Placed | None:
    """Stand sections one after another, those that begin the next page there if asked."""
    spans = rooms.spans_mm
    placed: Placed = [[] for _ in spans]
    column, y = 0, spans[0][0]
    for section in sections:
        start = 0
        if turning and section.turns and column < rooms.turn:
            column, y = rooms.turn, spans[rooms.turn][0]
        while start < len(section.lines):
            until, end = _filled(section, start, y, spans[column][1], rooms.width_mm)
            if until > start:
                placed[column].append((section, start, until, y))
                start, y = until, end
            if start < len(section.lines):
                column += 1
                if column == len(spans):
                    return None
                y = spans[column][0]
    return placed


def _filled(section: Section, start: int, y: float, foot: float, width: float) -> tuple[int, float]:
    """Say how many lines of a section fit above the foot, and where they end."""
    end = y + _TITLE_MM
    number = start
    for told in section.lines[start:]:
        high = len(_set_lines(told, width)) * _LINE_MM
        if end + high > foot:
            break
        end, number = end + high, number + 1
    whole = number == len(section.lines)
    if not whole and number - start < min(2, len(section.lines) - start):
        return start, y
    return number, end + _AFTER_MM


def draw_section(
    canvas: Canvas, part: tuple[Section, int, int], at: tuple[float, float], width: float
) -> None:
    """Draw some lines of a section, from one and until another, under its title."""
    section, start, until = part
    x, y = at
    title = section.title if not start else f"{section.title}, more"
    canvas.text((x, y + 5), title, Style(Face.NAME, 4.6))
    canvas.line((x, y + 6.2), (x + width, y + 6.2), HAIR)
    y += _TITLE_MM
    for told in section.lines[start:until]:
        for number, line in enumerate(_set_lines(told, width)):
            left = x + (_HANG_MM if number else 0)
            if not number and told.lead and line.startswith(told.lead):
                canvas.text((left, y + 2.2), told.lead, _LEAD)
                left += width_of(told.lead, _LEAD.face, _LEAD.size)
                line = line.removeprefix(told.lead)  # noqa: PLW2901 - the rest of the line
                left += _SPACE_MM if line else 0
            canvas.text((left, y + 2.2), line.lstrip(), _TEXT)
            y += _LINE_MM
