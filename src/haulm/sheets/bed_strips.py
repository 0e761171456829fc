"""Bed strips: every bed a band as tall as it is large, every patch its share, through the year."""

from collections.abc import Sequence
from datetime import date, timedelta

from haulm.ground.records import Bed
from haulm.measure.day_words import day_text
from haulm.measure.sentences import capital
from haulm.plan.records import Planting
from haulm.planting.records import Piece
from haulm.sheets.bundle import Paper, SheetBundle
from haulm.sheets.draw.canvas import HAIR, Canvas, Pen
from haulm.sheets.draw.hatches import Hatch
from haulm.sheets.draw.time_axis import (
    TimeAxis,
    draw_axis_names,
    draw_hachures,
    draw_today,
    draw_today_label,
    draw_week_rule,
)
from haulm.sheets.draw.type import Face, Style, fitted_size, shortened, width_of
from haulm.sheets.frost import frost_days, frost_has_come, frost_still_to_come
from haulm.sheets.strip_names import (
    LIST_MM,
    MARGIN,
    Band,
    Strip,
    box_of,
    closed_marks,
    draw_legend,
    list_lines,
    listed,
    name_patches,
    pick_spans,
    to_dig_in,
)
from haulm.sheets.wording import area_text, from_trays, main_ready

_NAMES_MM = 27.0
_PAGE_WEEKS = 52
_LEAST_SCALE, _MOST_SCALE, _PAGE_SCALE = 1.0, 2.0, 1.4
_LOOKS = 5
_BAND_GAP, _LEAST_PITCH = 2.2, 8.2
_HEAD_MM, _FOOT_MM = 41.0, 33.0


def draw_bed_strips(bundle: SheetBundle) -> str:
    """Draw all beds through the whole horizon as one long sheet, for a screen."""
    horizon = bundle.plan.horizon
    width = 2 * MARGIN + _NAMES_MM + 3.6 * horizon.weeks
    bands, foot = _stacked(bundle.beds, bundle.beds, _PAGE_SCALE)
    axis = TimeAxis(horizon.first_day, horizon.weeks, MARGIN + _NAMES_MM, width - MARGIN)
    strip = Strip(axis, bands, "")
    lists = len(list_lines(listed(bundle, strip), width)) * LIST_MM
    return _drawn(bundle, Canvas("strips", width, foot + lists + _FOOT_MM), strip)


def bed_strip_sheets(bundle: SheetBundle, paper: Paper) -> tuple[str, ...]:
    """Draw the strips on lying sheets of 52 weeks each, as many beds to a sheet as stay readable.

    All sheets are drawn at one scale, so that areas compare from sheet to sheet.
    """
    width, height = paper.lying
    room = height - _HEAD_MM - _FOOT_MM
    # A list of letters takes room from the bands, which may make more letters: look again.
    for _ in range(_LOOKS):
        strips = _strips(bundle, width, room)
        lists = max(len(list_lines(listed(bundle, strip), width)) for strip in strips)
        needs = height - _HEAD_MM - _FOOT_MM - lists * LIST_MM
        if room <= needs:
            break
        room = needs
    return tuple(_drawn(bundle, Canvas("strips", width, height), strip) for strip in strips)


def _strips(bundle: SheetBundle, width: float, room: float) -> list[Strip]:
    groups, scale = _paged(bundle.beds, room)
    horizon = bundle.plan.horizon
    starts = range(0, horizon.weeks, _PAGE_WEEKS)
    total = len(groups) * len(starts)
    strips: list[Strip] = []
    for first_week in starts:
        weeks = min(_PAGE_WEEKS, horizon.weeks - first_week)
        right = MARGIN + _NAMES_MM + (width - 2 * MARGIN - _NAMES_MM) * weeks / _PAGE_WEEKS
        axis = TimeAxis(horizon.monday(first_week), weeks, MARGIN + _NAMES_MM, right)
        for group in groups:
            bands, _ = _stacked(group, bundle.beds, scale)
            which = f"sheet {len(strips) + 1} of {total}" if total > 1 else ""
            strips.append(Strip(axis, bands, which))
    return strips


def _height_of(beds: Sequence[Bed], scale: float) -> float:
    return sum(max(bed.outline.area_m2 * scale + _BAND_GAP, _LEAST_PITCH) for bed in beds)


def _paged(beds: Sequence[Bed], room: float) -> tuple[list[tuple[Bed, ...]], float]:
    """Share beds out over sheets: the fewest at a readable scale, then the largest scale."""
    tallest = max((bed.outline.area_m2 for bed in beds), default=1.0)
    least = min(_LEAST_SCALE, (room - _BAND_GAP) / tallest)
    fewest = len(_packed(beds, room, least))
    scale = _MOST_SCALE
    while scale > least and (
        len(_packed(beds, room, scale)) > fewest or tallest * scale + _BAND_GAP > room
    ):
        scale *= 0.98
    scale = max(scale, least)
    return _packed(beds, room, scale), scale


def _packed(beds: Sequence[Bed], room: float, scale: float) -> list[tuple[Bed, ...]]:
    groups: list[tuple[Bed, ...]] = []
    for bed in beds:
        if groups and _height_of((*groups[-1], bed), scale) <= room:
            groups[-1] = (*groups[-1], bed)
        else:
            groups.append((bed,))
    return groups


def _stacked(
    beds: Sequence[Bed], everything: Sequence[Bed], scale: float
) -> tuple[tuple[Band, ...], float]:
    order = {bed.id: number for number, bed in enumerate(everything, start=1)}
    bands: list[Band] = []
    top = _HEAD_MM
    for bed in beds:
        height = bed.outline.area_m2 * scale
        bands.append(Band(bed, order[bed.id], top, height))
        top += max(height + _BAND_GAP, _LEAST_PITCH)
    return tuple(bands), top


def _drawn(bundle: SheetBundle, canvas: Canvas, strip: Strip) -> str:
    axis = strip.axis
    foot = max((band.top + max(band.height, 6) for band in strip.bands), default=_HEAD_MM) + 2.2
    _draw_head(bundle, canvas, strip)
    _draw_frost(bundle, canvas, axis)
    draw_week_rule(canvas, axis, 36)
    for month, start, _ in axis.months():
        if month > axis.first_day:
            canvas.line((start, _HEAD_MM), (start, foot - 2.2), Pen(0.15, dash="0.3 1.6"))
    for band in strip.bands:
        _draw_band(bundle, canvas, axis, band)
    for month, start, _ in axis.months():
        if month.month == 1 and month > axis.first_day:
            canvas.line((start, _HEAD_MM - 1), (start, foot - 2), Pen(0.25))
    draw_week_rule(canvas, axis, foot + 2.2, foot=True)
    draw_today(canvas, axis, bundle.printed_on, (31.5, foot + 8))
    draw_axis_names(canvas, axis, 36)
    draw_axis_names(canvas, axis, foot + 2.2, foot=True)
    for band in strip.bands:
        name_patches(bundle, canvas, axis, band)
    draw_today_label(canvas, axis, bundle.printed_on, foot + 8)
    draw_legend(bundle, canvas, foot + 14.2, listed(bundle, strip))
    first, last = axis.first_day, axis.end_day - timedelta(days=1)
    what = f"Bed strips of {bundle.plan.garden}, {day_text(first, year=True)} to "
    what += day_text(last, year=True)
    return canvas.svg(what, f"{_told(bundle, strip)} The same figures stand in plantings.csv.")


def _told(bundle: SheetBundle, strip: Strip) -> str:
    sentences = []
    for band in strip.bands:
        names = [
            f"{_full_name(bundle, planting)} from {day_text(planting.in_ground_from, year=True)} "
            f"to {day_text(planting.clear_by, year=True)}"
            for planting in bundle.plantings_in(band.bed.id)
        ]
        what = "; ".join(names) or "nothing planted"
        sentences.append(
            f"{band.bed.name}, {area_text(band.bed.outline.area_m2, 'metric')}: {what}."
        )
    return " ".join(sentences)


def _full_name(bundle: SheetBundle, planting: Planting) -> str:
    return bundle.full_name(planting)


def _draw_head(bundle: SheetBundle, canvas: Canvas, strip: Strip) -> None:
    right = canvas.width - MARGIN
    canvas.text((MARGIN, 16.5), "The beds", Style(Face.NAME, 7.4))
    area = area_text(sum(bed.outline.area_m2 for bed in bundle.beds), bundle.units)
    count = "one bed" if len(bundle.beds) == 1 else f"{len(bundle.beds)} beds"
    text = (
        f"{bundle.garden_words}. {capital(count)}, {area}. "
        "A band is as tall as its bed is large; white is empty ground."
    )
    canvas.text((MARGIN, 21.6), text, Style(Face.TEXT, 3.5))
    made = f"plan of {day_text(bundle.plan.made_on, year=True)}"
    made += f", {strip.which}" if strip.which else ""
    canvas.text((right, 16.5), made, Style(Face.FIRM, 3.5, anchor="end"))


def _draw_frost(bundle: SheetBundle, canvas: Canvas, axis: TimeAxis) -> None:
    canvas.text((MARGIN, 39), "week", Style(Face.TEXT, 2.9))
    if not bundle.frost:
        return
    frost, southern = bundle.frost[0], bundle.place.southern

    def odds(day: date) -> float:
        still = frost_still_to_come(frost, day, southern=southern) or 0.0
        come = frost_has_come(frost, day, southern=southern) or 0.0
        return max(still, come)

    canvas.text((MARGIN, 29.5), "frost odds", Style(Face.TEXT, 2.9))
    draw_hachures(canvas, axis, 27.6, 3.2, odds)
    taken: list[tuple[float, float]] = []
    for day, text in frost_days(frost, axis, southern=southern):
        x, room = axis.x(day), width_of(text, Face.TEXT, 2.6) + 1.6
        ways = {"end": (x - room, x + 0.8), "start": (x - 0.8, x + room)}
        # The long names stand before their day, the short after it; where two would meet, turned
        # about; where that does not help, the strokes alone tell.
        for anchor in ("end", "start") if text.startswith("frost") else ("start", "end"):
            left, right = ways[anchor]
            free = all(right <= start or end <= left for start, end in taken)
            if free and axis.left <= left and right <= axis.right:
                taken.append((left, right))
                canvas.line((x, 24.6), (x, 27.6), Pen(0.2))
                at = (x + (0.8 if anchor == "start" else -0.8), 26.2)
                canvas.text(at, text, Style(Face.TEXT, 2.6, anchor=anchor))
                break


def _draw_band(bundle: SheetBundle, canvas: Canvas, axis: TimeAxis, band: Band) -> None:
    canvas.line((MARGIN, band.top), (axis.left, band.top), HAIR)
    canvas.text((MARGIN, band.top + 3.6), str(band.number), Style(Face.TEXT, 2.8))
    right = axis.left - 2.2
    room = _NAMES_MM - 6.5
    size = max(2.7, fitted_size(band.bed.name, Face.NAME, 3.6, room))
    name = shortened(band.bed.name, Face.NAME, size, room)
    canvas.text((right, band.top + 3.6), name, Style(Face.NAME, size, anchor="end"))
    about = area_text(band.bed.outline.area_m2, bundle.units)
    marks = closed_marks(bundle, band.bed)
    about += f", closed to {', '.join(marks)}" if marks else ""
    canvas.text((right, band.top + 6.6), about, Style(Face.TEXT, 2.6, anchor="end"))
    canvas.rectangle(
        (axis.left, band.top), axis.right - axis.left, band.height, Pen(0.25, fill="#fff")
    )
    for planting in bundle.plantings_in(band.bed.id):
        for piece in bundle.layout_of(planting).pieces:
            _draw_patch(bundle, canvas, axis, band, (planting, piece))
    if marks:
        canvas.rectangle((axis.left - 1.5, band.top), 1.5, band.height, Pen(0.2, Hatch.CLOSED))


def _draw_patch(
    bundle: SheetBundle,
    canvas: Canvas,
    axis: TimeAxis,
    band: Band,
    patch: tuple[Planting, Piece],
) -> None:
    planting, piece = patch
    box = box_of(axis, band, planting, piece)
    if box is None:
        return
    foot, right = box.y + box.height, box.x + box.width
    ground = Hatch.DIG if to_dig_in(bundle, planting) else Hatch.GROWING
    canvas.rectangle((box.x, box.y), box.width, box.height, Pen(0.25, ground))
    ready = main_ready(planting)
    if bundle.stays(planting):
        for left, end in pick_spans(bundle, axis, planting):
            canvas.rectangle((left, box.y), end - left, box.height, Pen(0.25, Hatch.READY))
    elif ready is not None and ready.early < planting.clear_by:
        early = max(box.x, min(right, axis.open_x(ready.early)))
        late = max(box.x, min(right, axis.open_x(ready.late)))
        if early < right:
            corners = ((early, box.y), (right, box.y), (right, foot), (late, foot))
            canvas.polygon(corners, Pen(0.25, Hatch.READY))
    if planting.in_ground_from >= axis.first_day:
        if planting.standing and not planting.in_trays:
            canvas.line((box.x, box.y), (box.x, foot), Pen(0.7))
        fill = "#000" if from_trays(planting) else "#fff"
        canvas.circle((box.x, box.y + min(0.9, box.height / 2)), 0.6, Pen(0.2, fill=fill))
    if planting.under_cover:
        canvas.line((box.x, box.y + 0.7), (right, box.y + 0.7), Pen(0.2))
