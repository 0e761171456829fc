"""The bed sheet: one bed, one day's planting, to scale, with the measure of every row."""

from dataclasses import dataclass

from haulm.ground.records import Bed, Shape
from haulm.plan.records import Planting
from haulm.sheets.bed_drawing import (
    Ground,
    draw_dimensions,
    draw_north,
    draw_outline,
    draw_scale,
    draw_stations,
    holds,
)
from haulm.sheets.bed_facts import FactsBlock
from haulm.sheets.bed_names import Older, OlderName, draw_older, draw_row_names, place_older
from haulm.sheets.bundle import Paper, SheetBundle
from haulm.sheets.draw.canvas import Canvas, Pen
from haulm.sheets.draw.type import Face, Style, fitted_size, width_of, wrapped
from haulm.sheets.measure_table import (
    LEAST_HEIGHT_MM,
    LEAST_WIDTH_MM,
    Slot,
    TablePart,
    Wanted,
    draw_part,
    flow,
)
from haulm.sheets.measures import in_whole_centimetres, measure_of
from haulm.sheets.moments import Moment, doings_text, moments_of
from haulm.sheets.wording import area_text, day_text

MARGIN = 12.0
# Past 1:100 a hole is hardly seen; the scales after it are for ground too long for that.
SCALES = (20, 25, 40, 50, 100, 200, 500, 1000, 2000, 5000, 10000)
_TOP = 33.0
# A scale so near the largest may be taken instead, if it brings all measures on the sheet.
_NEAR = 2.0
_SMALLEST_BY_CHOICE = 100
_LEFT_ROOM, _RIGHT_ROOM, _TOP_ROOM, _FOOT_ROOM = 26.0, 14.0, 12.0, 24.0
_GUTTER = 8.0
_KEY_SIZE, _KEY_LEADING = 4.1, 5.4
_LEAST_KEY_MM, _KEY_ABREAST_MM = 52.0, 80.0


@dataclass(frozen=True, slots=True)
class _Page:
    """A sheet being laid out: where the drawing stands, and what stands on the white beside it."""

    ground: Ground
    scale: int
    parts: list[TablePart]
    left: list[Wanted]
    key: Slot | None
    key_lines: list[str]
    older: list[OlderName]


@dataclass(frozen=True, slots=True)
class _Task:
    """What a sheet has to show: the bed, the measures, what stands, and the room it has [mm]."""

    bed: Bed
    wanted: list[Wanted]
    older: list[Older]
    width: float
    foot: float
    units: str


def draw_bed_sheets(bundle: SheetBundle, bed_id: str, paper: Paper) -> tuple[str, ...]:
    """Draw a bed's sheets: one for each day, or days near together, on which something goes in.

    Every sheet shows what stands in the bed that day; the new plantings with every station and a
    measure of every row, which runs over to further sheets where it must.

    Raises
    ------
    LabelsDifferError
        If no bed has that id, or a planting of the bed has no layout.
    """
    bed = bundle.bed(bed_id)
    canvases: list[tuple[Canvas, Moment]] = []
    for moment in moments_of(bundle.plantings_in(bed_id)):
        canvases += [(canvas, moment) for canvas in _moment_sheets(bundle, bed, moment, paper)]
    total = len(canvases)
    return tuple(
        _finished(bundle, bed, canvas, moment, f"sheet {number} of {total}")
        for number, (canvas, moment) in enumerate(canvases, start=1)
    )


def _finished(bundle: SheetBundle, bed: Bed, canvas: Canvas, moment: Moment, number: str) -> str:
    _draw_head(bundle, bed, canvas, moment, number)
    told = "; ".join(
        f"{bundle.full_name(planting)}: {planting.plants} plants" for planting in moment.fresh
    )
    what = f"Bed sheet of {bed.name}, {doings_text(moment.fresh)}, {number}"
    return canvas.svg(what, f"{told}. The same figures stand in plantings.csv.")


def _draw_head(bundle: SheetBundle, bed: Bed, canvas: Canvas, moment: Moment, number: str) -> None:
    right = canvas.width - MARGIN
    size = fitted_size(bed.name, Face.NAME, 15, 96)
    canvas.text((MARGIN, 25.5), bed.name, Style(Face.NAME, size))
    x = MARGIN + width_of(bed.name, Face.NAME, size) + 4
    order = [one.id for one in bundle.beds].index(bed.id) + 1
    canvas.text((x, 19.2), f"bed {order} of {len(bundle.beds)}", Style(Face.FIRM, 4.4))
    area = area_text(bed.outline.area_m2, bundle.units)
    canvas.text((x, 25.5), f"{area}{_shape_words(bed)}", Style(Face.FIRM, 4.4))
    doing = doings_text(moment.fresh)
    canvas.text((right, 19.2), doing, Style(Face.FIRM, 4.4, anchor="end"))
    printed = f"printed {day_text(bundle.printed_on)}, {number}"
    canvas.text((right, 25.5), printed, Style(Face.TEXT, 4.4, anchor="end"))
    canvas.line((MARGIN, 29.5), (right, 29.5), Pen(0.8))
    foot = f"{bundle.garden_words}. "
    foot += "Invented garden. " if bundle.invented else ""
    foot += f"Plan of {day_text(bundle.plan.made_on, year=True)}."
    at = (right, canvas.height - 5.5)
    canvas.text(at, foot, Style(Face.SLANTED, 3.6, anchor="end"))


def _shape_words(bed: Bed) -> str:
    corners = len(bed.outline.corners_m)
    if bed.outline.shape is Shape.CIRCLE:
        return ", round"
    return {3: ", a triangle", 6: ", an L"}.get(corners, "")


def _moment_sheets(bundle: SheetBundle, bed: Bed, moment: Moment, paper: Paper) -> list[Canvas]:
    width, height = paper.upright
    layouts = [bundle.layout_of(planting) for planting in moment.fresh]
    if bundle.units != "us":
        layouts = [in_whole_centimetres(layout, bed) for layout in layouts]
    measures = [
        measure_of(layout, letter, planting.plants)
        for layout, letter, planting in zip(layouts, "AB", moment.fresh, strict=False)
    ]
    wanted: list[Wanted] = [
        (bundle.crop_name(planting), measure, 0)
        for planting, measure in zip(moment.fresh, measures, strict=True)
    ]
    block = FactsBlock(bundle, moment.fresh, width - 2 * MARGIN)
    foot = height - 11 - block.height
    older = [_older(bundle, planting) for planting in moment.older]
    page = _laid_out(_Task(bed, wanted, older, width, foot - 3, bundle.units))
    canvas = Canvas("bed", width, height)
    draw_older(canvas, page.ground, page.older)
    draw_dimensions(canvas, page.ground, bed)
    draw_north(canvas, (MARGIN + 8.4, _TOP + 5))
    draw_scale(canvas, page.ground, page.scale, bundle.units)
    for layout, measure in zip(layouts, measures, strict=True):
        draw_stations(canvas, page.ground, layout, measure)
    draw_outline(canvas, page.ground, bed)
    draw_row_names(canvas, page.ground, list(zip(layouts, measures, strict=True)), page.older)
    for part in page.parts:
        draw_part(canvas, part, bundle.units)
    if page.key:
        _draw_key(canvas, page.key, page.key_lines)
    block.draw(canvas, MARGIN, foot)
    further = _further_sheets(page, (width, height), bundle.units)
    if page.key is None:
        # The key must stand somewhere: under the last rows, or on a sheet of its own.
        further = further or [Canvas("bed", width, height)]
        tall = _key_height(page.key_lines, 100)
        _draw_key(further[-1], Slot(MARGIN, height - 14 - tall, 100, tall), page.key_lines)
    return [canvas, *further]


def _older(bundle: SheetBundle, planting: Planting) -> Older:
    until = f"until {day_text(planting.clear_by)}"
    return Older(bundle.layout_of(planting), bundle.crop_name(planting), until)


def _laid_out(task: _Task) -> _Page:
    """Choose the largest scale that fits; one smaller if that brings the measures on the sheet."""
    pages: list[_Page] = []
    for scale in SCALES:
        page = _page_at(task, scale)
        near = bool(pages) and scale <= min(_NEAR * pages[0].scale, _SMALLEST_BY_CHOICE)
        if page is not None and (near or not pages):
            pages.append(page)
    whole = [page for page in pages if not page.left and page.key]
    return (whole or pages)[0]


def _page_at(task: _Task, scale: int) -> _Page | None:
    mm_a_metre = 1000 / scale
    corners = task.bed.outline.corners_m
    long, high = max(x for x, _ in corners), max(y for _, y in corners)
    if task.bed.outline.diameter_m:
        long = high = task.bed.outline.diameter_m
    drawn = (long * mm_a_metre, high * mm_a_metre)
    room = (
        task.width - 2 * MARGIN - _LEFT_ROOM - _RIGHT_ROOM,
        task.foot - _TOP - _TOP_ROOM - _FOOT_ROOM,
    )
    if (drawn[0] > room[0] or drawn[1] > room[1]) and scale < SCALES[-1]:
        return None
    peg = (MARGIN + _LEFT_ROOM, _TOP + _TOP_ROOM + drawn[1])
    ground = Ground(corners, peg, mm_a_metre, task.units)
    older = place_older(ground, task.older)
    slots = _slots(ground, task.width, task.foot)
    parts, left, free = flow(task.wanted, slots)
    tables = any(slot.y == _TOP for slot in slots)
    beside = None if tables else _empty_corner(ground, task.width, _LEAST_KEY_MM)
    for slot in [*free, *([beside] if beside else [])]:
        lines = _key_lines(task, older, slot.width)
        if slot.height >= _key_height(lines, slot.width):
            return _Page(ground, scale, parts, left, slot, lines, older)
    return _Page(ground, scale, parts, left, None, _key_lines(task, older, 88), older)


def _slots(ground: Ground, width: float, foot: float) -> list[Slot]:
    """Find the white on a sheet: the empty corner or side of the drawing, then what is below."""
    corner = _empty_corner(ground, width, LEAST_WIDTH_MM)
    slots = [corner] if corner and corner.height >= LEAST_HEIGHT_MM else []
    below = ground.peg[1] + _FOOT_ROOM
    column = (width - 2 * MARGIN - _GUTTER) / 2
    beside = bool(slots) and slots[0].x > ground.right
    if beside:
        # White beside the whole drawing reaches down to the foot, and leaves one column below.
        side = slots[0]
        column = side.x - _GUTTER - MARGIN
        slots = [Slot(side.x, side.y, side.width, foot - side.y)]
    if foot - below > 0:
        slots += [
            Slot(MARGIN + number * (column + _GUTTER), below, column, foot - below)
            for number in range(2)
            if number == 0 or not beside
        ]
    return [slot for slot in slots if slot.width >= _LEAST_KEY_MM]


def _empty_corner(ground: Ground, width: float, least: float) -> Slot | None:
    """Find the widest empty rectangle in the drawing's upper right, out to the margin."""
    long, high = ground.size_m
    steps = 12
    found = []
    right = width - MARGIN
    for across in range(1, steps + 1):
        for up in range(steps):
            x, y = long * across / steps, high * up / steps
            if any(
                holds(ground.corners_m, (x + (long - x) * a / 7, y + (high - y) * b / 7))
                for a in range(1, 7)
                for b in range(1, 7)
            ):
                continue
            beyond = across == steps
            left = ground.at((x, 0))[0] + (20 if beyond else 8)
            foot = ground.peg[1] + _FOOT_ROOM - 4 if beyond else ground.at((0, y))[1] - 7
            found.append(Slot(left, _TOP, min(right - left, 100.0), foot - _TOP))
    fitting = [slot for slot in found if slot.width >= least]
    best = max(fitting, key=lambda slot: slot.height, default=None)
    # Ranged right, so that its figures end at the margin.
    return best and Slot(right - best.width, best.y, best.width, best.height)


def _key_lines(task: _Task, older: list[OlderName], width: float) -> list[str]:
    measures = [measure for _, measure, _ in task.wanted]
    unit = "inches" if task.units == "us" else "cm"
    texts = [f"All figures in {unit}."]
    ways = {measure.along for measure in measures}
    if "base" in ways:
        texts.append(
            "From base: pull a string from the peg east along the base; measure the row up from "
            "it, and the first hole in from the west line."
        )
    if "west" in ways:
        texts.append(
            "From west: pull a string from the peg north; measure the row in from it, and the "
            "first hole up from the base."
        )
    if "slant" in ways:
        texts.append(
            "First and last hole: measure east of the peg, then north; stretch a string between "
            "the two and step along it."
        )
    if any(
        row.half_step and measure.along != "slant" for measure in measures for row in measure.rows
    ):
        texts.append("A wedge marks a row that starts half a step in.")
    texts.append("Tick the box when the row is planted.")
    texts += [
        f"{measure.letter}: this ground holds {measure.holes} of the {measure.planned} plants."
        for measure in measures
        if measure.holes < measure.planned
    ]
    lettered = [f"{one.letter} {one.older.name} {one.older.until}" for one in older if one.letter]
    texts += [f"Standing already: {'; '.join(lettered)}."] if lettered else []
    return [line for text in texts for line in wrapped(text, Face.TEXT, _KEY_SIZE, min(width, 96))]


def _key_height(lines: list[str], width: float) -> float:
    return len(lines) * _KEY_LEADING + (9 if width >= _KEY_ABREAST_MM else 16)


def _draw_key(canvas: Canvas, slot: Slot, lines: list[str]) -> None:
    for number, line in enumerate(lines):
        at = (slot.x, slot.y + 4 + number * _KEY_LEADING)
        canvas.text(at, line, Style(Face.TEXT, _KEY_SIZE))
    y = slot.y + 4 + len(lines) * _KEY_LEADING + 1.4
    canvas.circle((slot.x + 1.5, y - 1.4), 1.15, Pen(0, fill="#000"))
    canvas.text((slot.x + 4.4, y), "first hole", Style(Face.TEXT, _KEY_SIZE))
    canvas.circle((slot.x + 26, y - 1.4), 1.15, Pen(0.35, fill="#fff"))
    canvas.text((slot.x + 29, y), "hole", Style(Face.TEXT, _KEY_SIZE))
    low = slot.width < _KEY_ABREAST_MM
    x, y = (slot.x - 0.4, y + 7) if low else (slot.x + 41, y)
    canvas.circle((x + 2, y - 1.4), 2.2, Pen(0.16))
    canvas.text((x + 6.2, y), "the plant full grown", Style(Face.TEXT, _KEY_SIZE))


def _further_sheets(page: _Page, sheet: tuple[float, float], units: str) -> list[Canvas]:
    width, height = sheet
    column = (width - 2 * MARGIN - _GUTTER) / 2
    left = page.left
    canvases = []
    while left:
        canvas = Canvas("bed", width, height)
        slots = [
            Slot(MARGIN + number * (column + _GUTTER), _TOP + 2, column, height - _TOP - 14)
            for number in range(2)
        ]
        parts, left, _ = flow(left, slots)
        for part in parts:
            draw_part(canvas, part, units)
        canvases.append(canvas)
    return canvases
