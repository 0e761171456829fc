"""What is written on a page's larder tide: layers, high and low water, hungry gaps, figures."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import timedelta

import numpy as np

from haulm.measure.day_words import day_text, short_month, span_text
from haulm.measure.sentences import capital
from haulm.sheets.bundle import SheetBundle
from haulm.sheets.draw.canvas import PAPER, Pen
from haulm.sheets.draw.time_axis import TimeAxis
from haulm.sheets.draw.type import Face, Style, width_of
from haulm.sheets.page.drawing import NOW, PageCanvas
from haulm.sheets.tide_marks import place_for_name, stacked, whole_weight
from haulm.sheets.tide_sums import Gap, Tide, TideMonth, Weekly
from haulm.sheets.wording import shown_a_kg, ticks, weight_figure, weight_text

_NOTHING_KG = 0.05
# A store lower than this has no room for its mark [px]; at a plan's very ends it is low anyway.
_LEAST_TIDE_PX, _EDGE_WEEKS, _LOW_SHARE, _APART_PX = 30.0, 4, 0.6, 170.0
_LINE_PX = 18.0
# A layer this thin has no name; its line is so long.
_THIN_PX, _LEAD_PX = 4.0, 64.0
_FIGURE = Style(Face.TEXT, 14, anchor="end")
_HEAVY = Style(Face.STRONG, 14, anchor="end", ink=NOW)


@dataclass(frozen=True, slots=True)
class TideField:
    """The field of a tide [px]: axis, first week, levels, kilograms to a pixel."""

    axis: TimeAxis
    first_week: int
    store_foot: float
    store_top: float
    zero: float
    store_kg_px: float
    table_kg_px: float
    table_px: float
    short_px: float

    @property
    def weeks(self) -> range:
        """The weeks shown."""
        return range(self.first_week, self.first_week + self.axis.weeks)

    @property
    def most_store(self) -> float:
        """The most the store's field can show [kg]."""
        return (self.store_foot - self.store_top) * self.store_kg_px

    def week_x(self, week: int) -> float:
        """Where a week begins [px]."""
        return self.axis.left + (week - self.first_week) * self.axis.week_step

    def store_y(self, kg: float) -> float:
        """How high so much stands in store [px]."""
        return self.store_foot - kg / self.store_kg_px

    def table_y(self, kg: float) -> float:
        """How high so much stands at table; a shortage, given as less than 0, hangs below [px]."""
        return self.zero - kg / self.table_kg_px

    def table_marks(self, shown: float) -> list[float]:
        """Give round figures for table and shortage, in the unit shown."""
        up = ticks(self.table_px * self.table_kg_px * shown, 4)
        deep = self.short_px * self.table_kg_px * shown
        return [*(-mark for mark in up[:0:-1] if mark <= deep), *up]


def draw_ticks(canvas: PageCanvas, field: TideField, units: str, right: float) -> None:
    """Write the scales of store and table so that they end at ``right``."""
    shown, style = shown_a_kg(units), Style(Face.TEXT, 12, anchor="end")
    for mark in ticks(field.most_store * shown, 4):
        canvas.text((right, field.store_y(mark / shown) + 4), f"{mark:g}", style)
    for mark in field.table_marks(shown):
        canvas.text((right, field.table_y(mark / shown) + 4), f"{abs(mark):g}", style)


def name_layers(canvas: PageCanvas, tide: Tide, field: TideField) -> None:
    """Write each layer's name where it is thickest, if it is thick enough to carry it."""
    thin: list[tuple[str, Weekly, Weekly]] = []
    for layer, lower, upper in stacked(tide.store):
        name = capital(layer)
        half = width_of(name, Face.NAME, 14) / 2
        reach = math.ceil((half + 4) / field.axis.week_step)
        place = place_for_name(field.weeks, lower, upper, reach)
        if place is None or place.thick_kg / field.store_kg_px < _LINE_PX:
            thin.append((name, lower, upper))
        else:
            _write_name(canvas, field, name, (place.week, field.store_y(place.middle_kg)))
    _lead_out(canvas, field, thin)


def _lead_out(
    canvas: PageCanvas, field: TideField, thin: Sequence[tuple[str, Weekly, Weekly]]
) -> None:
    """Name layers too thin for their names beside the tide, a line leading to each.

    The words stand right of the tide's greatest height, where it falls away below them; a layer
    for which there is no such place is told by the key and the table.
    """
    taken: list[tuple[float, float, float]] = []
    for name, lower, upper in reversed(thin):
        width = width_of(name, Face.NAME, 14)
        weeks = list(field.weeks)
        thick = max(weeks, key=lambda week: float(upper[week] - lower[week]))
        if (upper[thick] - lower[thick]) / field.store_kg_px < _THIN_PX:
            continue
        for week in weeks[weeks.index(thick) :]:
            y = field.store_y(float(upper[week] + lower[week]) / 2)
            x = field.week_x(week + 1)
            start = x + _LEAD_PX
            over = [one for one in weeks if field.week_x(one + 1) >= start - 8]
            clear = all(field.store_y(float(upper[one])) > y + 6 for one in over) and all(
                start > end or start + width < left or abs(y - base) > _LINE_PX
                for left, end, base in taken
            )
            thick_here = (upper[week] - lower[week]) / field.store_kg_px >= _THIN_PX
            if clear and thick_here and start + width <= field.axis.right:
                canvas.line((x, y), (start - 5, y), Pen(0.8))
                canvas.text((start, y + 5), name, Style(Face.NAME, 14, halo=3.6))
                taken.append((x, start + width, y))
                break


def name_table(canvas: PageCanvas, tide: Tide, field: TideField) -> None:
    """Name what is eaten fresh and what comes from store, each where there is most of it."""
    none = np.zeros_like(tide.fresh)
    for name, lower, upper in (
        ("fresh from the ground", none, tide.fresh),
        ("from store", tide.fresh, tide.fresh + tide.all_from_store),
    ):
        reach = math.ceil((width_of(name, Face.NAME, 14) / 2 + 4) / field.axis.week_step)
        place = place_for_name(field.weeks, lower, upper, reach)
        if place is not None and place.thick_kg / field.table_kg_px >= _LINE_PX:
            _write_name(canvas, field, name, (place.week, field.table_y(place.middle_kg)))


def _write_name(canvas: PageCanvas, field: TideField, name: str, at: tuple[int, float]) -> None:
    """Write a name upon its band: its middle in a week, at a height [px]."""
    week, y = at
    middle = (field.week_x(week) + field.axis.week_step / 2, y + 5)
    style = Style(Face.NAME, 14, anchor="middle")
    canvas.plate((middle, name, style))
    canvas.text(middle, name, style)


def name_waters(bundle: SheetBundle, canvas: PageCanvas, tide: Tide, field: TideField) -> None:
    """Mark the field's high water, and its low water if that is well below, with their weight."""
    weeks = list(field.weeks)
    store = tide.all_store[weeks]
    high = int(np.argmax(store))
    if store[high] / field.store_kg_px < _LEAST_TIDE_PX:
        return
    _name_water(bundle, canvas, field, (weeks[high], "High water", float(store[high])))
    inner = store[_EDGE_WEEKS:-_EDGE_WEEKS]
    if not inner.size:
        return
    low = int(np.argmin(inner)) + _EDGE_WEEKS
    if store[low] < _LOW_SHARE * store[high] and abs(high - low) * field.axis.week_step > _APART_PX:
        _name_water(bundle, canvas, field, (weeks[low], "Low water", float(store[low])))


def _name_water(
    bundle: SheetBundle, canvas: PageCanvas, field: TideField, water: tuple[int, str, float]
) -> None:
    week, name, kg = water
    x, y = field.week_x(week + 1), field.store_y(kg)
    day = bundle.plan.horizon.monday(week + 1) - timedelta(days=1)
    words = f"{name} {day_text(day)}"
    width = width_of(words, Face.NAME, 15)
    low = name == "Low water"
    to_left = x - field.axis.left > width + 40 and not (low and x + width < field.axis.right)
    way, anchor = (-8, "end") if to_left else (8, "start")
    top = y - 44 if low else max(y, field.store_top - 8)
    if low:
        canvas.line((x, y), (x, top), Pen(0.8))
        way = 0
    canvas.circle((x, y), 4, Pen(1.2, fill=PAPER))
    canvas.text((x + way, top - 18), words, Style(Face.NAME, 15, anchor=anchor, halo=3.6))
    weight = f"{weight_text(kg, bundle.units)} expected" if kg > _NOTHING_KG else "nothing in store"
    canvas.text((x + way, top - 4), weight, Style(Face.TEXT, 12, anchor=anchor, halo=3.6))


def draw_gaps(
    bundle: SheetBundle,
    canvas: PageCanvas,
    field: TideField,
    gaps: Sequence[Gap],
    named_at: tuple[str, float],
) -> None:
    """Bracket, name, date and weigh the gaps; one without room keeps its bracket alone.

    ``named_at`` is what a gap is called, and how high the brackets lie [px].
    """
    called, y = named_at
    horizon, axis = bundle.plan.horizon, field.axis
    free_from = axis.left
    for gap in gaps:
        start, end = field.week_x(gap.first_week), field.week_x(gap.last_week + 1)
        if end <= axis.left or start >= axis.right:
            continue
        start, end = max(start, axis.left), min(end, axis.right)
        canvas.polyline(((start, y - 6), (start, y), (end, y), (end, y - 6)), Pen(1.6, ink=NOW))
        last = horizon.monday(gap.last_week + 1) - timedelta(days=1)
        short = weight_figure(gap.short_kg, bundle.units)
        wanted = weight_text(gap.wanted_kg, bundle.units)
        lines = (span_text(horizon.monday(gap.first_week), last), f"{short} of {wanted} short")
        half = max(*(width_of(line, Face.FIRM, 12) for line in lines), 76) / 2
        x = max(min((start + end) / 2, axis.right - half), free_from + half)
        if x + half > axis.right + 1 or x - half > end:
            continue
        free_from = x + half + 12
        name = Style(Face.NAME_LEANING, 17, anchor="middle", ink=NOW)
        canvas.text((x, y + 18), called, name)
        for number, line in enumerate(lines):
            style = Style(Face.FIRM, 12, anchor="middle", ink=NOW)
            canvas.text((x, y + 33 + 15 * number), line, style)


def draw_month_figures(
    bundle: SheetBundle, canvas: PageCanvas, field: TideField, months: Sequence[TideMonth], y: float
) -> None:
    """Write the figures by month, each under its month; the three worst shortages stand out.

    A month of which the axis shows too little for its figure is left to the table of texts.
    """
    axis = field.axis
    rows = (
        [row.fresh_kg for row in months],
        [row.stored_kg for row in months],
        [row.short_kg for row in months],
        [row.store_kg for row in months],
    )
    worst = sorted(rows[2], reverse=True)[:3]
    for level, thick in ((y, 1.4), *((y + 24 + 23 * n, 0.8) for n in range(4)), (y + 116, 1.4)):
        canvas.line((axis.left, level), (axis.right, level), Pen(thick))
    spans = {month: (start, end) for month, start, end in axis.months()}
    for number, row in enumerate(months):
        start, end = spans[row.month]
        if end - start < 2 * axis.week_step:
            continue
        right = start + min(end - start, 44)
        head = Style(Face.STRONG, 12, anchor="end")
        canvas.text((right, y + 17), short_month(row.month.month), head)
        for line, figures in enumerate(rows):
            kg = figures[number]
            heavy = line == 2 and kg in worst and kg > _NOTHING_KG  # noqa: PLR2004 - the shortages
            style = _HEAVY if heavy else _FIGURE
            canvas.text((right, y + 40 + 23 * line), whole_weight(kg, bundle.units), style)
