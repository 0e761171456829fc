"""The handover: all that whoever takes the garden over needs, on just two pages."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date

from haulm.sheets.bundle import Paper
from haulm.sheets.draw.canvas import HAIR, Canvas, Pen
from haulm.sheets.draw.type import Face, Style, shortened, width_of, wrapped
from haulm.sheets.paper import to_pdf
from haulm.sheets.wording import long_day

MARGIN = 12.0
_TOP, _NEXT_TOP, _FOOT = 36.0, 20.0, 15.0
_GAP_MM = 7.0
_TITLE_MM, _LINE_MM, _AFTER_MM = 9.0, 4.15, 3.4
_TEXT = Style(Face.TEXT, 3.45)
_LEAD = Style(Face.FIRM, 3.45)
_HANG_MM, _SPACE_MM = 3.0, 0.8
_MAP_MM = 46.0
_COLUMNS = 4
"""Two on each of the two pages."""
_SECOND_PAGE = 2


@dataclass(frozen=True, slots=True)
class Told:
    """One line of a section: what it begins with, set firmer, and the rest."""

    lead: str
    words: str = ""


@dataclass(frozen=True, slots=True)
class Section:
    """One matter of the handover.

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
        Whether the second page begins with it where there is room.
    """

    title: str
    lines: tuple[Told, ...]
    least: int
    gives_way: int
    more: str = ""
    turns: bool = False


@dataclass(frozen=True, slots=True)
class BedShape:
    """A bed as it is sketched: its name and its corners [m]."""

    name: str
    corners_m: tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True)
class Handover:
    """All that the handover says, nothing left out yet."""

    garden: str
    invented: bool
    day: date
    shapes: tuple[BedShape, ...]
    sections: tuple[Section, ...]


@dataclass(frozen=True, slots=True)
class Fitted:
    """The handover cut to its two pages, and how many lines each section had to leave out."""

    sections: tuple[Section, ...]
    left_out: tuple[tuple[str, int], ...]


def handover_sheets(told: Handover, paper: Paper) -> tuple[str, str]:
    """Draw the two pages; what found no room is counted where it would stand, and at the end."""
    fitted = fit(told, paper)
    columns = _columns(fitted.sections, paper, has_map=bool(told.shapes))
    if columns is None:
        # Not even the least lines fit: the ends of the last column are cut, and that is told.
        columns = _cut(fitted.sections, paper, has_map=bool(told.shapes))
    first, second = (_page(told, fitted, paper, columns, number) for number in (0, 1))
    return first, second


def handover_pdf(told: Handover, paper: Paper) -> tuple[bytes, tuple[tuple[str, int], ...]]:
    """Put the two pages into a PDF; give it with what found no room, by section."""
    return to_pdf(handover_sheets(told, paper)), fit(told, paper).left_out


def fit(told: Handover, paper: Paper) -> Fitted:
    """Leave lines out until the rest stands on two pages, in the order in which sections give way.

    A section gives its last lines, down to its least; only when all are at their least do they
    give more, down to one line each.
    """
    sections = list(told.sections)
    gone = dict.fromkeys((section.title for section in sections), 0)
    has_map = bool(told.shapes)
    for number in _giving_way(sections):
        if _columns(_with_more(sections, gone), paper, has_map=has_map) is not None:
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


def _width(paper: Paper) -> float:
    return (paper.upright[0] - 2 * MARGIN - _GAP_MM) / 2


def _set_lines(told: Told, width: float) -> list[str]:
    """Break one line of a section to a column's width; all but its first hang in."""
    text = f"{told.lead} {told.words}".strip()
    # The lead, being firmer, runs a little wider than it is reckoned.
    return wrapped(text, _TEXT.face, _TEXT.size, width - _HANG_MM - _SPACE_MM)


def _height(section: Section, width: float) -> float:
    lines = sum(len(_set_lines(told, width)) for told in section.lines)
    return _TITLE_MM + lines * _LINE_MM + _AFTER_MM


def _rooms(paper: Paper, *, has_map: bool) -> list[tuple[float, float]]:
    """Give where each of the four columns begins and ends [mm]."""
    foot = paper.upright[1] - _FOOT
    first = _TOP + (_MAP_MM if has_map else 0.0)
    return [(first, foot), (first, foot), (_NEXT_TOP, foot), (_NEXT_TOP, foot)]


Placed = list[list[tuple[Section, int, int, float]]]
"""By column: a section, which of its lines from and until, and where it begins [mm]."""


def _columns(sections: Sequence[Section], paper: Paper, *, has_map: bool) -> Placed | None:
    """Stand sections in the four columns in their order; None where they do not fit.

    A section that does not fit to its end goes on in the next column, two lines or more on each
    side.
    """
    turned = _in_order(sections, paper, has_map=has_map, turning=True)
    return turned or _in_order(sections, paper, has_map=has_map, turning=False)


def _in_order(
    sections: Sequence[Section], paper: Paper, *, has_map: bool, turning: bool
) -> Placed | None:
    """Stand sections one after another, those that begin the second page there if asked."""
    width, rooms = _width(paper), _rooms(paper, has_map=has_map)
    placed: Placed = [[] for _ in rooms]
    column, y = 0, rooms[0][0]
    for section in sections:
        start = 0
        if turning and section.turns and column < _SECOND_PAGE:
            column, y = _SECOND_PAGE, rooms[_SECOND_PAGE][0]
        while start < len(section.lines):
            until, end = _filled(section, start, y, rooms[column][1], width)
            if until > start:
                placed[column].append((section, start, until, y))
                start, y = until, end
            if start < len(section.lines):
                column += 1
                if column == len(rooms):
                    return None
                y = rooms[column][0]
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


def _cut(sections: Sequence[Section], paper: Paper, *, has_map: bool) -> Placed:
    """Place as many sections as there is room for, from the first on."""
    for count in range(len(sections), 0, -1):
        placed = _columns(sections[:count], paper, has_map=has_map)
        if placed is not None:
            return placed
    return [[] for _ in range(_COLUMNS)]


def _page(told: Handover, fitted: Fitted, paper: Paper, columns: Placed, number: int) -> str:
    """Draw one of the two pages."""
    width, height = paper.upright
    canvas = Canvas(f"handover-{number + 1}", width, height)
    if number == 0:
        _draw_head(told, canvas)
        _draw_shapes(told.shapes, canvas)
    else:
        canvas.text((MARGIN, 14), f"Handover of {told.garden}", Style(Face.NAME, 5.2))
        canvas.line((MARGIN, 16.5), (width - MARGIN, 16.5), Pen(0.5))
    for side in (0, 1):
        x = MARGIN + side * (_width(paper) + _GAP_MM)
        for section, start, until, y in columns[2 * number + side]:
            _draw_section(canvas, (section, start, until), (x, y), _width(paper))
    _draw_foot(told, fitted, canvas, number)
    return canvas.svg(f"Handover of {told.garden}, page {number + 1} of 2", _described(told))


def _described(told: Handover) -> str:
    return "; ".join(section.title for section in told.sections)


def _draw_head(told: Handover, canvas: Canvas) -> None:
    right = canvas.width - MARGIN
    canvas.text((MARGIN, 20), "Handover", Style(Face.NAME, 9))
    name = shortened(told.garden, Face.FIRM, 4.4, 110)
    canvas.text((right, 15), name, Style(Face.FIRM, 4.4, anchor="end"))
    as_of = f"as of {long_day(told.day)}"
    canvas.text((right, 20), as_of, Style(Face.TEXT, 4.0, anchor="end"))
    canvas.line((MARGIN, 23.5), (right, 23.5), Pen(0.8))
    words = (
        "What stands where, what is due, where things lie. Beds to one scale, not in their places."
    )
    canvas.text((MARGIN, 29.5), words, Style(Face.TEXT, 3.8))


def _draw_shapes(shapes: tuple[BedShape, ...], canvas: Canvas) -> None:
    """Sketch every bed to one scale, in the grower's order, each with its number and name."""
    if not shapes:
        return
    rows = 1 if len(shapes) <= 7 else 2  # noqa: PLR2004 - so many names stand side by side
    a_row = -(-len(shapes) // rows)
    cell = (canvas.width - 2 * MARGIN) / a_row
    high = (_MAP_MM - 4) / rows
    long = max(max(x for x, _ in shape.corners_m) for shape in shapes)
    tall = max(max(y for _, y in shape.corners_m) for shape in shapes)
    mm_a_metre = min((cell - 4) / long, (high - 7) / tall)
    for number, shape in enumerate(shapes):
        left = MARGIN + (number % a_row) * cell
        base = _TOP + (number // a_row + 1) * high - 5
        corners = [(left + x * mm_a_metre, base - y * mm_a_metre) for x, y in shape.corners_m]
        canvas.polygon(corners, Pen(0.35, fill="#fff"))
        words = shortened(f"{number + 1} {shape.name}", Face.NAME, 3.6, cell - 2)
        canvas.text((left, base + 4), words, Style(Face.NAME, 3.6))


def _draw_section(
    canvas: Canvas, part: tuple[Section, int, int], at: tuple[float, float], width: float
) -> None:
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


def _draw_foot(told: Handover, fitted: Fitted, canvas: Canvas, number: int) -> None:
    right, y = canvas.width - MARGIN, canvas.height - 6
    if number and fitted.left_out:
        parts = ", ".join(f"{count} of {title.lower()}" for title, count in fitted.left_out)
        words = f"Left out for want of room: {parts}."
        room = right - MARGIN - 60
        canvas.text((MARGIN, y), shortened(words, Face.SLANTED, 3.3, room), _LEFT_OUT)
    foot = f"page {number + 1} of 2" + (", invented garden" if told.invented else "")
    canvas.text((right, y), foot, Style(Face.SLANTED, 3.4, anchor="end"))


_LEFT_OUT = Style(Face.SLANTED, 3.3)
