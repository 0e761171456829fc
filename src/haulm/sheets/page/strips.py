"""Bed strips on a page: a row a bed, its name held at the left while time runs sideways."""

from dataclasses import dataclass
from datetime import timedelta

from haulm.ground.records import Bed
from haulm.measure.day_words import day_text
from haulm.sheets.bundle import SheetBundle
from haulm.sheets.draw.canvas import PAPER, Pen
from haulm.sheets.draw.hatches import Hatch
from haulm.sheets.draw.time_axis import TimeAxis
from haulm.sheets.draw.type import Face, Style, fitted_size, shortened
from haulm.sheets.page.drawing import PageCanvas
from haulm.sheets.page.patch import Row, draw_row, row_of
from haulm.sheets.page.time_edge import (
    draw_frost,
    draw_month_lines,
    draw_now,
    draw_now_label,
    draw_rule,
)
from haulm.sheets.page.view import (
    BAND_PAD_PX,
    FOOT_PX,
    HEAD_PX,
    NAMES_PX,
    YearView,
    axis_of,
)
from haulm.sheets.strip_names import closed_marks
from haulm.sheets.wording import area_text

HATCHES = (Hatch.GROWING, Hatch.READY, Hatch.DIG, Hatch.CLOSED, Hatch.SHORT)
"""The hatches that the head of the strips carries for all their rows."""

CHART = "strips"
_RULE_Y = 67.0


@dataclass(frozen=True, slots=True)
class StripRow:
    """One bed's row: names and field are drawings of one height [px].

    ``letters`` says what each letter of the field stands for, where its white had no room to.
    """

    bed: str
    height_px: float
    names: str
    field: str
    letters: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class StripParts:
    """The strips in parts, so that a page can hold names and head still and part the rows.

    The head's field carries every hatch; rows do not show rightly without it on the page.
    """

    width_px: float
    head_names: str
    head: str
    rows: tuple[StripRow, ...]
    foot: str


def strip_parts(bundle: SheetBundle, view: YearView) -> StripParts:
    """Draw the strips of all beds in parts: head, one row a bed, foot."""
    axis = axis_of(bundle, view)
    return StripParts(
        width_px=axis.right,
        head_names=_head_names(bundle).hidden(),
        head=_head(bundle, axis).hidden(HATCHES),
        rows=tuple(
            _strip_row(bundle, view, bed, number) for number, bed in enumerate(bundle.beds, start=1)
        ),
        foot=_foot(bundle, axis).hidden(),
    )


def page_strips(bundle: SheetBundle, view: YearView) -> str:
    """Draw the strips of all beds as one field of time; the names stand in ``page_strip_names``."""
    return _whole(bundle, view, bundle.beds)


def page_bed(bundle: SheetBundle, bed_id: str, view: YearView) -> str:
    """Draw one bed's strip with its own edge of time.

    Raises
    ------
    LabelsDifferError
        If no bed has that id.
    """
    return _whole(bundle, view, (bundle.bed(bed_id),))


def page_strip_names(bundle: SheetBundle, view: YearView) -> str:
    """Draw the column of bed names that stands beside ``page_strips``, row by row as high."""
    heights = [row_of(bundle, axis_of(bundle, view), view, bed).height for bed in bundle.beds]
    canvas = PageCanvas(CHART, NAMES_PX, HEAD_PX + sum(heights) + FOOT_PX)
    canvas.raw(_nested(_head_names(bundle).hidden(), 0))
    top = HEAD_PX
    for number, (bed, height) in enumerate(zip(bundle.beds, heights, strict=True), start=1):
        canvas.raw(_nested(_names(bundle, view, bed, number, height).hidden(), top))
        top += height
    return canvas.hidden()


def _whole(bundle: SheetBundle, view: YearView, beds: tuple[Bed, ...]) -> str:
    axis = axis_of(bundle, view)
    rows = [row_of(bundle, axis, view, bed) for bed in beds]
    canvas = PageCanvas(CHART, axis.right, HEAD_PX + sum(row.height for row in rows) + FOOT_PX)
    canvas.raw(_head(bundle, axis).hidden())
    top = HEAD_PX
    for row in rows:
        canvas.raw(_nested(_field(bundle, view, axis, row).links(_about(bundle, row.bed)), top))
        top += row.height
    canvas.raw(_nested(_foot(bundle, axis).hidden(), top))
    first, last = axis.first_day, axis.end_day - timedelta(days=1)
    whose = bundle.plan.garden if len(beds) != 1 else beds[0].name
    span = f"{day_text(first, year=True)} to {day_text(last, year=True)}"
    return canvas.links(f"Bed strips of {whose}, {span}", HATCHES)


def _nested(svg: str, top: float) -> str:
    """Set a drawing into another, so far down."""
    return svg.replace("<svg ", f'<svg y="{top:g}" ', 1)


def _strip_row(bundle: SheetBundle, view: YearView, bed: Bed, number: int) -> StripRow:
    axis = axis_of(bundle, view)
    row = row_of(bundle, axis, view, bed)
    return StripRow(
        bed=bed.id,
        height_px=row.height,
        names=_names(bundle, view, bed, number, row.height).hidden(),
        field=_field(bundle, view, axis, row).links(_about(bundle, bed)),
        letters=row.letters,
    )


def _about(bundle: SheetBundle, bed: Bed) -> str:
    about = f"{bed.name}, {area_text(bed.outline.area_m2, bundle.units)}"
    marks = closed_marks(bundle, bed)
    return f"{about}, closed to {', '.join(marks)}" if marks else about


def _head_names(bundle: SheetBundle) -> PageCanvas:
    canvas = PageCanvas(CHART, NAMES_PX, HEAD_PX)
    style = Style(Face.TEXT, 12, anchor="end")
    if bundle.frost:
        canvas.text((NAMES_PX - 12, 28), "frost odds", style)
    canvas.text((NAMES_PX - 12, 84), "week", style)
    return canvas


def _head(bundle: SheetBundle, axis: TimeAxis) -> PageCanvas:
    canvas = PageCanvas(CHART, axis.right, HEAD_PX)
    draw_frost(bundle, canvas, axis)
    draw_rule(canvas, axis, _RULE_Y)
    draw_now(canvas, axis, bundle.printed_on, (36, HEAD_PX))
    draw_now_label(canvas, axis, bundle.printed_on, 32)
    return canvas


def _foot(bundle: SheetBundle, axis: TimeAxis) -> PageCanvas:
    canvas = PageCanvas(CHART, axis.right, FOOT_PX)
    draw_now(canvas, axis, bundle.printed_on, (0, 20))
    draw_rule(canvas, axis, 17, foot=True)
    return canvas


def _names(bundle: SheetBundle, view: YearView, bed: Bed, number: int, height: float) -> PageCanvas:
    canvas = PageCanvas(CHART, NAMES_PX, height)
    band = bed.outline.area_m2 * view.m2_px
    canvas.line((0, BAND_PAD_PX), (NAMES_PX, BAND_PAD_PX), Pen(0.8))
    canvas.text((0, BAND_PAD_PX + 14), str(number), Style(Face.TEXT, 12))
    right, room = NAMES_PX - 12, NAMES_PX - 36
    size = max(12.0, fitted_size(bed.name, Face.NAME, 15, room))
    name = shortened(bed.name, Face.NAME, size, room)
    canvas.text((right, BAND_PAD_PX + 14), name, Style(Face.NAME, size, anchor="end"))
    about = area_text(bed.outline.area_m2, bundle.units)
    marks = closed_marks(bundle, bed)
    about += f", closed to {', '.join(marks)}" if marks else ""
    about = shortened(about, Face.TEXT, 11, right)
    canvas.text((right, BAND_PAD_PX + 26), about, Style(Face.TEXT, 11, anchor="end"))
    if marks:
        canvas.rectangle((NAMES_PX - 6, BAND_PAD_PX), 6, band, Pen(0.8, Hatch.CLOSED))
    return canvas


def _field(bundle: SheetBundle, view: YearView, axis: TimeAxis, row: Row) -> PageCanvas:
    canvas = PageCanvas(CHART, axis.right, row.height)
    draw_month_lines(canvas, axis, (0, row.height))
    band = row.band
    canvas.rectangle((0, band.top), axis.right, band.height, Pen(0.8, fill=PAPER))
    draw_row(bundle, canvas, axis, view, row)
    return canvas
