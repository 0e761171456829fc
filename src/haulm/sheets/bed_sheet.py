"""The bed sheet: one bed, what goes into it with one sheet in hand, the measure of every row."""

from dataclasses import dataclass, replace
from functools import cached_property

from haulm.ground.records import Bed, Shape
from haulm.measure.day_words import day_text
from haulm.plan.records import Planting
from haulm.sheets.bed_detail import Bedding, draw_frame, draw_framed, taken_by
from haulm.sheets.bed_drawing import (
    draw_north,
    draw_odd_sides,
    draw_outline,
    draw_overall,
    draw_scale,
    draw_stations,
    scale_end,
)
from haulm.sheets.bed_facts import FactsBlock
from haulm.sheets.bed_names import Older, draw_older, draw_older_names, draw_row_names
from haulm.sheets.bed_page import Page, Task, laid_out
from haulm.sheets.bundle import Paper, SheetBundle
from haulm.sheets.draw.canvas import Canvas, Pen
from haulm.sheets.draw.type import Face, Style, fitted_size, width_of
from haulm.sheets.measure_table import TablePart, Wanted, draw_part, flow
from haulm.sheets.measures import Measure, in_whole_centimetres, measure_of
from haulm.sheets.moments import Moment, doings_text, moments_of
from haulm.sheets.reading_key import Key, draw_key, key_in, key_texts
from haulm.sheets.sheet_white import MARGIN, TOP, columns_below
from haulm.sheets.wording import area_text

LETTERS = "ABCD"
NOWHERE, BY_DRAWING, AT_FOOT = "", "by the drawing", "at the foot"
_NORTH = (MARGIN + 8.4, TOP + 5)
_SCALE_BELOW_MM = 15.5
# Smaller than this, two sheets are better than one.
_SMALLEST_SHARED = 50


@dataclass(frozen=True)
class _Sheet:
    """What is new in a bed with one sheet in hand, laid out on the paper.

    ``guide`` says where it must be told how to measure: by the drawing, at the foot, or nowhere.
    """

    bundle: SheetBundle
    moment: Moment
    place: Bedding
    paper: Paper
    guide: str

    @property
    def measures(self) -> tuple[Measure, ...]:
        """The measures of the new plantings."""
        return tuple(measure for _, measure in self.place.fresh)

    @property
    def ways(self) -> set[str]:
        """How the rows run; how to measure them must be told once."""
        return {measure.along for measure in self.measures if measure.rows}

    @cached_property
    def block(self) -> FactsBlock:
        """The facts at the sheet's foot."""
        width = self.paper.upright[0] - 2 * MARGIN
        texts = key_texts(self.measures, self.bundle.units) if self.guide == AT_FOOT else ()
        return FactsBlock(self.bundle, self.moment.fresh, self.place, width, texts)

    @property
    def guided(self) -> bool:
        """Whether the sheet tells how to measure."""
        return self.guide == AT_FOOT or self.page.guided or bool(self.overleaf and self.guide)

    @property
    def foot(self) -> float:
        """Where the facts begin [mm]."""
        return self.paper.upright[1] - 11 - self.block.height

    @cached_property
    def page(self) -> Page:
        """The sheet laid out."""
        wanted: list[Wanted] = [
            (self.bundle.crop_name(planting), measure, 0)
            for planting, (_, measure) in zip(self.moment.fresh, self.place.fresh, strict=True)
        ]
        width = self.paper.upright[0]
        return laid_out(Task(self.place, wanted, width, self.foot - 3, self.guide == BY_DRAWING))

    @cached_property
    def overleaf(self) -> list[tuple[list[TablePart], Key | None]]:
        """What goes on overleaf: the tables of each further page, and the key if it is there."""
        return _overleaf(self)

    @property
    def cost(self) -> int:
        """Count pages; a sheet drawn too small to read counts for one more."""
        drawn = self.page.frames or self.page.scale <= _SMALLEST_SHARED
        return 1 + len(self.overleaf) + (0 if drawn else 1)


def draw_bed_sheets(bundle: SheetBundle, bed_id: str, paper: Paper) -> tuple[str, ...]:
    """Draw a bed's sheets: one for each day, or days near together, on which something goes in.

    Every sheet shows what stands in the bed that day; the new plantings with every station and a
    measure of every row, which runs over to further sheets where it must. How to measure is told on
    every sheet that has room for it, and at least once.

    Raises
    ------
    LabelsDifferError
        If no bed has that id, or a planting of the bed has no layout.
    """
    bed = bundle.bed(bed_id)
    canvases = [
        (canvas, sheet.moment)
        for sheet in _sheets_of(bundle, bed, paper)
        for canvas in _drawn(sheet)
    ]
    total = len(canvases)
    return tuple(
        _finished(bundle, bed, canvas, moment, f"sheet {number} of {total}")
        for number, (canvas, moment) in enumerate(canvases, start=1)
    )


def _sheets_of(bundle: SheetBundle, bed: Bed, paper: Paper) -> list[_Sheet]:
    """Lay out a bed's sheets; each way of measuring is told on the first that has room for it."""
    costs: dict[tuple[str, ...], int] = {}

    def cost(moment: Moment) -> int:
        ids = tuple(planting.id for planting in moment.fresh)
        if ids not in costs:
            costs[ids] = _sheet(bundle, bed, moment, paper).cost
        return costs[ids]

    told: set[str] = set()
    sheets: list[_Sheet] = []
    for moment in moments_of(bundle.plantings_in(bed.id), cost):
        sheet = _sheet(bundle, bed, moment, paper)
        if not sheet.guided and not sheet.ways <= told:
            most = (len(sheet.overleaf), sheet.cost)
            fitting = (one for one in _guided(sheet) if (len(one.overleaf), one.cost) <= most)
            sheet = next(fitting, sheet)
        told |= sheet.ways if sheet.guided else set()
        sheets.append(sheet)
    for number, sheet in enumerate(sheets):
        if not sheet.ways <= told:
            sheets[number] = min(_guided(sheet), key=lambda one: len(one.overleaf))
            told |= sheet.ways
    return sheets


def _guided(sheet: _Sheet) -> list[_Sheet]:
    return [replace(sheet, guide=guide) for guide in (BY_DRAWING, AT_FOOT)]


def _sheet(bundle: SheetBundle, bed: Bed, moment: Moment, paper: Paper) -> _Sheet:
    layouts = [bundle.layout_of(planting) for planting in moment.fresh]
    if bundle.units != "us":
        layouts = [in_whole_centimetres(layout, bed) for layout in layouts]
    fresh = tuple(
        (layout, measure_of(layout, letter, planting.plants))
        for layout, letter, planting in zip(layouts, LETTERS, moment.fresh, strict=False)
    )
    older = tuple(_older(bundle, planting) for planting in moment.older)
    return _Sheet(bundle, moment, Bedding(bed, fresh, older, bundle.units), paper, NOWHERE)


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
    printed = f"printed {day_text(bundle.printed_on, year=True)}, {number}"
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


def _older(bundle: SheetBundle, planting: Planting) -> Older:
    until = f"until {day_text(planting.clear_by)}"
    if bundle.stays(planting):
        until = "stays for years"
    return Older(bundle.layout_of(planting), bundle.crop_name(planting), until)


def _drawn(sheet: _Sheet) -> list[Canvas]:
    page, units = sheet.page, sheet.bundle.units
    canvas = Canvas("bed", *sheet.paper.upright)
    if page.frames:
        _draw_plan_and_details(canvas, sheet)
    else:
        _draw_bed(canvas, sheet)
    for part in page.parts:
        draw_part(canvas, part, units)
    if page.key:
        draw_key(canvas, page.key)
    sheet.block.draw(canvas, (MARGIN, sheet.foot), page.older)
    canvases = [canvas]
    for parts, key in sheet.overleaf:
        canvases.append(Canvas("bed", *sheet.paper.upright))
        for part in parts:
            draw_part(canvases[-1], part, units)
        if key:
            draw_key(canvases[-1], key)
    return canvases


def _draw_bed(canvas: Canvas, sheet: _Sheet) -> None:
    """Draw the bed once, with every station."""
    page, place = sheet.page, sheet.place
    ground = page.ground
    draw_older(canvas, ground, page.older)
    draw_overall(canvas, ground)
    if not place.bed.outline.diameter_m:
        draw_odd_sides(canvas, ground)
    draw_north(canvas, _NORTH)
    draw_scale(canvas, ground, scale_end(ground), ground.peg[1] + _SCALE_BELOW_MM)
    for layout, measure in place.fresh:
        draw_stations(canvas, ground, layout, measure)
    draw_outline(canvas, ground, place.bed)
    draw_older_names(canvas, page.older)
    draw_row_names(canvas, ground, place.fresh, page.older)


def _draw_plan_and_details(canvas: Canvas, sheet: _Sheet) -> None:
    """Draw a small plan of the bed, and its new ground larger."""
    page, place = sheet.page, sheet.place
    ground = page.ground
    draw_older(canvas, ground, page.older)
    draw_overall(canvas, ground)
    draw_north(canvas, _NORTH)
    draw_framed(canvas, ground, page.frames, place.fresh)
    draw_outline(canvas, ground, place.bed)
    draw_older_names(canvas, page.older)
    draw_scale(canvas, ground, scale_end(ground), ground.peg[1] + _SCALE_BELOW_MM)
    for frame in page.frames:
        draw_frame(canvas, frame, place)
    detail = page.frames[0].ground
    right, foot = taken_by(page.frames)
    draw_scale(canvas, detail, right - 12, foot - 8)


def _overleaf(sheet: _Sheet) -> list[tuple[list[TablePart], Key | None]]:
    page, left = sheet.page, sheet.page.left
    width, height = sheet.paper.upright
    texts = key_texts(sheet.measures, sheet.bundle.units)
    pages: list[tuple[list[TablePart], Key | None]] = []
    key = page.key
    while left or key is None:
        parts, left, free = flow(left, columns_below(TOP + 2, width, height - 12))
        if not left and key is None:
            key = key_in(free, texts)
            pages.append((parts, key))
        else:
            pages.append((parts, None))
    return pages
