"""An opened planting on the page's axis of time: dates with their odds, and its bed's ground."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import groupby
from math import exp

from haulm.measure.day_words import day_text, span_text
from haulm.measure.errors import LabelsDifferError
from haulm.measure.sentences import capital
from haulm.plan.records import Planting, Ready
from haulm.sheets.acts import JobKind, acts_of
from haulm.sheets.bundle import SheetBundle
from haulm.sheets.draw.canvas import INK, PAPER, Pen
from haulm.sheets.draw.hump import spread_days
from haulm.sheets.draw.time_axis import TimeAxis
from haulm.sheets.draw.type import Face, Style, width_of
from haulm.sheets.page.drawing import ChartTable, PageCanvas
from haulm.sheets.page.time_edge import draw_now
from haulm.sheets.page.view import YearView, axis_of
from haulm.sheets.wording import area_text, food_name

_HEIGHT, _BASE, _LANE_PX, _GROUND = 132.0, 68.0, 34.0, 96.0
_HUMP_PX, _PIN_PX = 40.0, 44.0
_NAME, _NOTE = Style(Face.NAME, 14), Style(Face.TEXT, 12)
_FREE_M2, _CLEAR_PX = 0.05, 8.0
_SAID = {
    JobKind.SOW_TRAYS: "Sown in trays",
    JobKind.SOW: "Sown",
    JobKind.PLANT: "Planted",
    JobKind.SET_OUT: "Set out",
    JobKind.LIFT: "Clear by",
    JobKind.CLEAR: "Clear by",
}


@dataclass(frozen=True, slots=True)
class _Mark:
    """One thing on the date row: its name, what is said of it, from and to where it reaches."""

    name: str
    note: str
    left: float
    right: float
    ready: Ready | None
    kind: JobKind | None


def fold_out(bundle: SheetBundle, planting_id: str, view: YearView) -> str:
    """Draw the date row of a planting, on the axis of the strips, and its bed's free ground below.

    Raises
    ------
    LabelsDifferError
        If the plan has no planting of that id.
    """
    planting = _planting(bundle, planting_id)
    axis = axis_of(bundle, view)
    marks = sorted(_marks(bundle, axis, planting), key=lambda mark: (mark.left, mark.name))
    placed = _placed(axis, marks)
    lanes = max((lane for _, _, _, lane in placed), default=0)
    shift = lanes * _LANE_PX
    canvas = PageCanvas("fold", axis.right, _HEIGHT + shift)
    base = _BASE + shift
    canvas.line((axis.left, base), (axis.right, base), Pen(0.9))
    ground = _GROUND + shift
    _draw_ground(bundle, canvas, axis, planting, ground)
    draw_now(canvas, axis, bundle.printed_on, (0, ground + 12))
    for mark, x, anchor, lane in placed:
        y = base - 34 - lane * _LANE_PX
        _draw_mark(canvas, axis, mark, base, y)
        canvas.text((x, y + 10), mark.name, Style(Face.NAME, 14, anchor=anchor, halo=3.6))
        canvas.text((x, y + 25), mark.note, Style(Face.TEXT, 12, anchor=anchor, halo=3.6))
    table = fold_out_rows(bundle, planting_id)
    told = " ".join(f"{row[0]}: {row[1]}." for row in table.rows)
    return canvas.picture(table.caption, told)


def fold_out_rows(bundle: SheetBundle, planting_id: str) -> ChartTable:
    """Give what the date row shows: dates with their odds, then the bed's free ground by weeks."""
    planting = _planting(bundle, planting_id)
    rows = [
        (_SAID[act.kind], day_text(act.day, year=True))
        for act in acts_of(planting, stays=bundle.stays(planting))
        if act.kind not in {JobKind.LIFT, JobKind.CLEAR}
    ]
    if planting.standing and not planting.in_trays:
        rows.append(("In the ground since", day_text(planting.in_ground_from, year=True)))
    for ready in planting.ready:
        food = capital(food_name(bundle.catalogue, ready.food))
        span, middle = span_text(ready.early, ready.late), day_text(ready.middle, year=True)
        rows.append((f"{food} ready", f"{span}, 8 years in 10; half of years by {middle}"))
    free = "not in this plan: it stays for years"
    if not bundle.stays(planting):
        free = day_text(planting.clear_by, year=True)
    rows.append(("Ground free again", free))
    horizon = bundle.plan.horizon
    for first, last, free_m2 in free_ground(bundle, planting.bed):
        end = horizon.monday(last + 1) - timedelta(days=1)
        rows.append((span_text(horizon.monday(first), end), _free_text(bundle, free_m2)))
    bed = bundle.bed(planting.bed).name
    caption = f"Dates of {bundle.full_name(planting)}, and the ground of {bed}"
    return ChartTable(caption, ("what", "when, or how much"), tuple(rows))


def free_ground(bundle: SheetBundle, bed_id: str) -> tuple[tuple[int, int, float], ...]:
    """Give a bed's free ground as runs of weeks: first week, last week, free [m²].

    Ground is reckoned as the plan does, by whole weeks and by area.
    """
    area = bundle.bed(bed_id).outline.area_m2
    plantings = bundle.plantings_in(bed_id)
    free = []
    for week in range(bundle.plan.horizon.weeks):
        taken = sum(one.area_m2 for one in plantings if one.from_week <= week < one.until_week)
        left = max(0.0, area - taken)
        free.append(round(left, 2) if left >= _FREE_M2 else 0.0)
    runs = []
    for left, group in groupby(enumerate(free), key=lambda pair: pair[1]):
        weeks = [week for week, _ in group]
        runs.append((weeks[0], weeks[-1], left))
    return tuple(runs)


def _planting(bundle: SheetBundle, planting_id: str) -> Planting:
    for planting in bundle.plan.plantings:
        if planting.id == planting_id:
            return planting
    message = f"The plan has no planting called {planting_id}."
    raise LabelsDifferError(message)


def _free_text(bundle: SheetBundle, free_m2: float) -> str:
    return f"{area_text(free_m2, bundle.units)} free" if free_m2 else "full"


def _marks(bundle: SheetBundle, axis: TimeAxis, planting: Planting) -> Iterator[_Mark]:
    for act in acts_of(planting, stays=bundle.stays(planting)):
        x = axis.open_x(act.day)
        if axis.first_day <= act.day < axis.end_day:
            yield _Mark(_SAID[act.kind], day_text(act.day), x, x, None, act.kind)
    for ready in planting.ready:
        if ready.late > axis.first_day and ready.early < axis.end_day:
            first, last, _, _ = spread_days((ready.early, ready.middle, ready.late))
            left, right = (
                axis.open_x(ready.middle) + day / 7 * axis.week_step for day in (first, last)
            )
            note = f"{span_text(ready.early, ready.late, year=False)}, 8 in 10"
            name = capital(food_name(bundle.catalogue, ready.food))
            yield _Mark(name, note, max(left, axis.left), min(right, axis.right), ready, None)


def _placed(axis: TimeAxis, marks: Sequence[_Mark]) -> list[tuple[_Mark, float, str, int]]:
    """Find each mark's words a place beside it, in the lowest lane in which they meet no other."""
    taken: list[tuple[float, float, int]] = [(mark.left - 4, mark.right + 4, 0) for mark in marks]
    placed = []
    for mark in marks:
        width = max(
            width_of(mark.name, Face.NAME, _NAME.size), width_of(mark.note, Face.TEXT, _NOTE.size)
        )
        x, anchor, lane = _place(axis, mark, width, taken)
        span = (x, x + width) if anchor == "start" else (x - width, x)
        taken.append((*span, lane))
        placed.append((mark, x, anchor, lane))
    return placed


def _place(
    axis: TimeAxis, mark: _Mark, width: float, taken: Sequence[tuple[float, float, int]]
) -> tuple[float, str, int]:
    lane = 0
    while True:
        # In a higher lane words stand by the line that leads up from their mark.
        middle = (mark.left + mark.right) / 2
        after, before = (middle + 5, middle - 5) if lane else (mark.right + 8, mark.left - 8)
        for x, anchor in ((after, "start"), (before, "end")):
            left, right = (x, x + width) if anchor == "start" else (x - width, x)
            free = all(
                right + _CLEAR_PX < start or end + _CLEAR_PX < left or at != lane
                for start, end, at in taken
            )
            if free and left >= axis.left and right <= axis.right:
                return x, anchor, lane
        lane += 1
        if lane > len(taken):
            return axis.left, "start", lane


def _draw_mark(canvas: PageCanvas, axis: TimeAxis, mark: _Mark, base: float, lane_y: float) -> None:
    top = min(base - _PIN_PX, lane_y + 8)
    if mark.ready is not None:
        _draw_odds(canvas, axis, (mark.ready.early, mark.ready.middle, mark.ready.late), base)
        if lane_y < base - _HUMP_PX:
            x = (mark.left + mark.right) / 2
            canvas.line((x, base - _HUMP_PX - 2), (x, lane_y + 2), Pen(0.7))
        return
    heavy = 2.2 if mark.kind not in {JobKind.LIFT, JobKind.CLEAR} else 0.9
    canvas.line((mark.left, base + 6), (mark.left, top), Pen(heavy))
    if mark.kind == JobKind.SET_OUT:
        canvas.circle((mark.left, top), 4, Pen(1.2, fill=INK))
    elif heavy > 1:
        canvas.circle((mark.left, top), 4, Pen(1.2, fill=PAPER))


def _draw_odds(
    canvas: PageCanvas, axis: TimeAxis, dates: tuple[date, date, date], base: float
) -> None:
    """Draw a hump of daily hachures over a bar that spans 8 years in 10, on the axis itself."""
    early, middle, late = dates
    first, last, before, after = spread_days(dates)
    strokes = []
    for day in range(round(first), round(last) + 1):
        x = axis.open_x(middle) + day / 7 * axis.week_step
        if axis.left <= x <= axis.right:
            high = _HUMP_PX * exp(-0.5 * (day / (before if day < 0 else after)) ** 2)
            strokes.append(f"M{x:.1f} {base:g}v-{high:.1f}")
    width = max(0.6, min(1.4, axis.week_step / 14))
    ink = canvas.colour(INK)
    canvas.raw(f'<path d="{"".join(strokes)}" stroke="{ink}" stroke-width="{width:g}"/>')
    start, end = axis.x(early), axis.x(late)
    canvas.line((start, base + 5), (max(end, start + 3), base + 5), Pen(2.8))


def _draw_ground(
    bundle: SheetBundle, canvas: PageCanvas, axis: TimeAxis, planting: Planting, y: float
) -> None:
    """Draw the bed's ground as a bar, black where it is full, white where some is free."""
    canvas.rectangle((axis.left, y), axis.right - axis.left, 7, Pen(0.9, fill=PAPER))
    first_week = bundle.plan.horizon.week_of(axis.first_day)
    for first, last, free_m2 in free_ground(bundle, planting.bed):
        start = axis.left + (first - first_week) * axis.week_step
        end = axis.left + (last + 1 - first_week) * axis.week_step
        start, end = max(start, axis.left), min(end, axis.right)
        if end <= start:
            continue
        if not free_m2:
            canvas.rectangle((start, y), end - start, 7, Pen(0, fill=INK))
        canvas.line((start, y), (start, y + 7), Pen(0.9))
        words = _free_text(bundle, free_m2)
        if width_of(words, Face.TEXT, _NOTE.size) + 6 <= end - start:
            style = Style(Face.TEXT, 12, anchor="middle")
            canvas.text(((start + end) / 2, y + 22), words, style)
