"""The larder tide: what lies in store above, what the table takes and lacks below."""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import timedelta

import numpy as np

from haulm.sheets.bundle import Paper, SheetBundle
from haulm.sheets.draw.canvas import HAIR, Canvas, Pen, Point
from haulm.sheets.draw.hatches import Hatch
from haulm.sheets.draw.time_axis import TimeAxis, draw_today, draw_today_label, draw_week_rule
from haulm.sheets.draw.type import Face, Style, width_of
from haulm.sheets.tide_sums import (
    GAP_SHARE,
    GAP_WEEKS,
    Gap,
    Tide,
    TideMonth,
    Weekly,
    hungry_gaps,
    tide_of,
    tide_table,
)
from haulm.sheets.wording import (
    LAYERS,
    day_text,
    short_month,
    span_text,
    weight_figure,
    weight_text,
    weight_unit,
)

MARGIN = 12.0
_LEFT_MM = 29.0
_PAGE_WEEKS = 52
_STORE_TOP, _RULE_GAP, _TABLE_MM = 36.0, 6.0, 27.0
_HATCH = dict(zip(LAYERS, (Hatch.CELLAR, Hatch.HUNG, Hatch.JARS, Hatch.FROZEN), strict=True))
_TICK = Style(Face.TEXT, 2.9, anchor="end")
_NOTE = Style(Face.TEXT, 2.9)


@dataclass(frozen=True, slots=True)
class _Chart:
    """One sheet of the tide: axis, weeks shown, levels on the sheet [mm], kg to a mm."""

    axis: TimeAxis
    first_week: int
    store_foot: float
    rule: float
    zero: float
    store_kg_mm: float
    table_kg_mm: float
    which: str

    @property
    def weeks(self) -> range:
        """The weeks this sheet shows."""
        return range(self.first_week, self.first_week + self.axis.weeks)

    def week_x(self, week: int) -> float:
        """Where a week begins on the sheet [mm]."""
        return self.axis.left + (week - self.first_week) * self.axis.week_mm


def draw_larder_tide(bundle: SheetBundle) -> str:
    """Draw the tide through the whole horizon as one long sheet, for a screen."""
    weeks = bundle.plan.horizon.weeks
    width = 2 * MARGIN + _LEFT_MM + 3.6 * weeks
    tide = tide_of(bundle.plan)
    canvas = Canvas("tide", width, 205.0)
    return _drawn(bundle, canvas, tide, _chart(bundle, tide, canvas, 0, weeks, ""))


def larder_tide_sheets(bundle: SheetBundle, paper: Paper) -> tuple[str, ...]:
    """Draw the tide on lying sheets of 52 weeks, all at one scale of weight."""
    width, height = paper.lying
    horizon = bundle.plan.horizon
    tide = tide_of(bundle.plan)
    starts = range(0, horizon.weeks, _PAGE_WEEKS)
    sheets = []
    for number, first_week in enumerate(starts, start=1):
        weeks = min(_PAGE_WEEKS, horizon.weeks - first_week)
        which = f"sheet {number} of {len(starts)}" if len(starts) > 1 else ""
        canvas = Canvas("tide", width, height)
        chart = _chart(bundle, tide, canvas, first_week, weeks, which)
        sheets.append(_drawn(bundle, canvas, tide, chart))
    return tuple(sheets)


def _chart(
    bundle: SheetBundle, tide: Tide, canvas: Canvas, first_week: int, weeks: int, which: str
) -> _Chart:
    full = _PAGE_WEEKS if canvas.width < 400 else weeks  # noqa: PLR2004 - paper, not a screen
    left = MARGIN + _LEFT_MM
    right = left + (canvas.width - MARGIN - left) * weeks / full
    axis = TimeAxis(bundle.plan.horizon.monday(first_week), weeks, left, right)
    store_foot = canvas.height - 119
    zero = store_foot + 20 + _TABLE_MM
    most_store = max(float(tide.all_store.max(initial=0.0)), 1.0)
    table = tide.fresh + tide.all_from_store
    most_table = max(float(table.max(initial=0.0)), 0.5)
    most_short = float(tide.short.max(initial=0.0))
    # One scale for table and shortage, so that the two compare; the rest is 14 mm deep at most.
    kg_mm = max(most_table / _TABLE_MM, most_short / 15.0)
    return _Chart(
        axis,
        first_week,
        store_foot,
        store_foot + _RULE_GAP,
        zero,
        most_store / (store_foot - _STORE_TOP - 4),
        kg_mm,
        which,
    )


def _drawn(bundle: SheetBundle, canvas: Canvas, tide: Tide, chart: _Chart) -> str:
    _draw_head(bundle, canvas, chart)
    _draw_store(bundle, canvas, tide, chart)
    _draw_table(bundle, canvas, tide, chart)
    draw_week_rule(canvas, chart.axis, chart.rule)
    canvas.text((MARGIN, chart.rule + 1.6), "week", _NOTE)
    draw_today(canvas, chart.axis, bundle.printed_on, (_STORE_TOP - 3, chart.zero + 17))
    _name_layers(canvas, tide, chart)
    _name_high_and_low(bundle, canvas, tide, chart)
    draw_today_label(canvas, chart.axis, bundle.printed_on, _STORE_TOP - 6)
    told = [_draw_gap(bundle, canvas, chart, gap) for gap in hungry_gaps(tide)]
    months = [
        month
        for month in tide_table(bundle.plan, tide)
        if chart.axis.first_day.replace(day=1) <= month.month < chart.axis.end_day
    ]
    _draw_tide_table(bundle, canvas, months, chart)
    _draw_legend(bundle, canvas, tide)
    first, last = chart.axis.first_day, chart.axis.end_day - timedelta(days=1)
    what = f"Larder tide of {bundle.plan.garden}, {span_text(first, last)}"
    more = " ".join(line for line in told if line)
    return canvas.svg(
        what, f"{_told(bundle, months)} {more} By the week in weeks.csv and lots.csv."
    )


def _told(bundle: SheetBundle, months: Sequence[TideMonth]) -> str:
    units = bundle.units
    return " ".join(
        f"{short_month(row.month.month)} {row.month.year}: fresh "
        f"{weight_text(row.fresh_kg, units)}, from store {weight_text(row.stored_kg, units)}, "
        f"short {weight_text(row.short_kg, units)}, in store {weight_text(row.store_kg, units)}."
        for row in months
    )


def _draw_head(bundle: SheetBundle, canvas: Canvas, chart: _Chart) -> None:
    right = canvas.width - MARGIN
    canvas.text((MARGIN, 16.5), "The larder tide", Style(Face.NAME, 7.4))
    text = (
        "What lies in store, and below it what the week’s table takes and lacks. "
        "All figures are what the plan expects of a middle year."
    )
    canvas.text((MARGIN, 21.6), text, Style(Face.TEXT, 3.5))
    made = f"plan of {day_text(bundle.plan.made_on, year=True)}"
    made += f", {chart.which}" if chart.which else ""
    canvas.text((right, 16.5), made, Style(Face.FIRM, 3.5, anchor="end"))


def ticks(most: float, about: int) -> list[float]:
    """Give round figures from 0 to ``most``, about so many: steps of 1, 2 or 5 times a ten."""
    if most <= 0:
        return [0.0]
    rough = most / about
    ten = 10 ** math.floor(math.log10(rough))
    step = next(ten * by for by in (1, 2, 5, 10) if ten * by >= rough)
    return [step * number for number in range(int(most / step + 1e-9) + 1)]


def _draw_grid(
    bundle: SheetBundle,
    canvas: Canvas,
    chart: _Chart,
    marks: Sequence[float],
    y: Callable[[float], float],
) -> None:
    for kg in marks:
        level = y(kg)
        if kg:
            canvas.line(
                (chart.axis.left, level), (chart.axis.right, level), Pen(0.15, dash="0.3 1.2")
            )
        canvas.text((chart.axis.left - 1.8, level + 1), _tick_text(kg), _TICK)
    _ = bundle


def _tick_text(kg: float) -> str:
    return f"{kg:g}"


def _steps(chart: _Chart, lower: Weekly, upper: Weekly, y: Callable[[float], float]) -> list[Point]:
    """Outline the band between two weekly figures as steps, out along the one, back the other."""
    out: list[Point] = []
    back: list[Point] = []
    for week in chart.weeks:
        ends = (chart.week_x(week), chart.week_x(week + 1))
        out += [(x, y(float(upper[week]))) for x in ends]
        back += [(x, y(float(lower[week]))) for x in ends]
    return out + back[::-1]


def _slopes(
    chart: _Chart, lower: Weekly, upper: Weekly, y: Callable[[float], float]
) -> list[Point]:
    """Outline the band between two stocks: a stock is known at a week's end and flows between."""
    first = max(0, chart.first_week - 1)
    weeks = range(first, chart.first_week + chart.axis.weeks)
    places = [min(max(chart.week_x(week + 1), chart.axis.left), chart.axis.right) for week in weeks]
    if chart.first_week == 0:
        weeks, places = range(-1, chart.axis.weeks), [chart.axis.left, *places]
    out = [(x, y(float(upper[max(week, 0)]))) for week, x in zip(weeks, places, strict=True)]
    back = [(x, y(float(lower[max(week, 0)]))) for week, x in zip(weeks, places, strict=True)]
    return out + back[::-1]


def _stacked(layers: dict[str, Weekly]) -> list[tuple[str, Weekly, Weekly]]:
    """Stack the layers that hold anything, the heaviest lowest: name, lower and upper edge."""
    order = sorted(layers, key=lambda layer: (-float(layers[layer].sum()), LAYERS.index(layer)))
    found = []
    lower = np.zeros_like(next(iter(layers.values())))
    for layer in order:
        if layers[layer].sum() > 0:
            found.append((layer, lower, lower + layers[layer]))
            lower = lower + layers[layer]
    return found


def _shown(bundle: SheetBundle) -> float:
    """Give how many of the shown units make a kilogram."""
    return 1 / 0.45359237 if bundle.units == "us" else 1.0


def _draw_store(bundle: SheetBundle, canvas: Canvas, tide: Tide, chart: _Chart) -> None:
    shown = _shown(bundle)

    def y(kg: float) -> float:
        return chart.store_foot - kg / chart.store_kg_mm

    most = (chart.store_foot - _STORE_TOP) * chart.store_kg_mm * shown
    _draw_grid(bundle, canvas, chart, ticks(most, 4), lambda mark: y(mark / shown))
    unit = f"{weight_unit(bundle.units)} in store"
    canvas.text((chart.axis.left - 1.8, _STORE_TOP - 4), unit, _TICK)
    for layer, lower, upper in _stacked(tide.store):
        outline = _slopes(chart, lower, upper, y)
        canvas.polygon(outline, Pen(0, _HATCH[layer]))
        canvas.polyline(outline[: len(outline) // 2], Pen(0.15))
    top = _slopes(chart, np.zeros_like(tide.fresh), tide.all_store, y)
    canvas.polyline(top[: len(top) // 2], Pen(0.45))
    canvas.line((chart.axis.left, chart.store_foot), (chart.axis.right, chart.store_foot), HAIR)
    middle = (chart.store_foot + _STORE_TOP) / 2
    canvas.text((MARGIN, middle), "In store", Style(Face.NAME, 4.4))


def _draw_table(bundle: SheetBundle, canvas: Canvas, tide: Tide, chart: _Chart) -> None:
    shown = _shown(bundle)

    def y(kg: float) -> float:
        return chart.zero - kg / chart.table_kg_mm

    up = _TABLE_MM * chart.table_kg_mm * shown
    down = 15.0 * chart.table_kg_mm * shown
    step = ticks(up, 3)
    _draw_grid(bundle, canvas, chart, step, lambda mark: y(mark / shown))
    below = [mark for mark in step[1:] if mark <= down]
    _draw_grid(bundle, canvas, chart, below, lambda mark: y(-mark / shown))
    zeros = np.zeros_like(tide.fresh)
    canvas.polygon(_steps(chart, zeros, tide.fresh, y), Pen(0.3, fill="#fff"))
    for layer, lower, upper in _stacked(tide.from_store):
        band = _steps(chart, tide.fresh + lower, tide.fresh + upper, y)
        canvas.polygon(band, Pen(0, _HATCH[layer]))
        canvas.polyline(band[: len(band) // 2], Pen(0.15))
    whole = _steps(chart, zeros, tide.fresh + tide.all_from_store, y)
    canvas.polyline(whole[: len(whole) // 2], Pen(0.3))
    canvas.polygon(_steps(chart, -tide.short, zeros, y), Pen(0.3, Hatch.SHORT))
    canvas.line((chart.axis.left, chart.zero), (chart.axis.right, chart.zero), Pen(0.5))
    canvas.text((MARGIN, chart.zero - 13), "At table", Style(Face.NAME, 4.4))
    canvas.text((MARGIN, chart.zero - 9.4), f"{weight_unit(bundle.units)} a week", _NOTE)
    canvas.text((MARGIN, chart.zero + 6), "Short", Style(Face.NAME, 4.4))
    canvas.text((MARGIN, chart.zero + 9.6), "wanted, not there", _NOTE)


def _name_layers(canvas: Canvas, tide: Tide, chart: _Chart) -> None:
    """Write each layer's name where it is thickest, if it is thick enough to carry it."""
    weeks = list(chart.weeks)
    for layer, lower, upper in _stacked(tide.store):
        size = 3.4
        half = width_of(layer, Face.NAME, size) / 2
        reach = math.ceil((half + 1) / chart.axis.week_mm)
        # A name stands where the band is thick along its whole length and level enough to hold it.
        best, room, y = 0, 0.0, 0.0
        for at in range(reach, len(weeks) - reach):
            span = slice(weeks[at - reach], weeks[at + reach] + 1)
            ceiling, floor = float(upper[span].min()), float(lower[span].max())
            if (ceiling - floor) / chart.store_kg_mm > room:
                best, room = at, (ceiling - floor) / chart.store_kg_mm
                y = chart.store_foot - (ceiling + floor) / 2 / chart.store_kg_mm + 1.2
        if room < 4:  # noqa: PLR2004 - a line of type and its white
            continue
        x = chart.week_x(weeks[best]) + chart.axis.week_mm / 2
        name = layer[0].upper() + layer[1:]
        canvas.text((x, y), name, Style(Face.NAME, size, anchor="middle", halo=1.2))


def _name_high_and_low(bundle: SheetBundle, canvas: Canvas, tide: Tide, chart: _Chart) -> None:
    """Mark the sheet's high water with its weight."""
    weeks = list(chart.weeks)
    store = tide.all_store[weeks]
    if store.max(initial=0.0) / chart.store_kg_mm < 8:  # noqa: PLR2004 - room for two lines
        return
    best = int(np.argmax(store))
    x = chart.week_x(weeks[best] + 1)
    y = chart.store_foot - float(store[best]) / chart.store_kg_mm
    day = bundle.plan.horizon.monday(weeks[best] + 1) - timedelta(days=1)
    words = f"High water {day_text(day)}"
    kg = weight_text(float(store[best]), bundle.units)
    left = x - chart.axis.left > width_of(words, Face.NAME, 3.6) + 8
    way, anchor = (-1, "end") if left else (1, "start")
    canvas.circle((x, y), 0.9, Pen(0.3, fill="#fff"))
    canvas.text((x + way * 3, y - 1.4), words, Style(Face.NAME, 3.6, anchor=anchor, halo=1.0))
    style = Style(Face.FIRM, 2.9, anchor=anchor, halo=1.0)
    canvas.text((x + way * 3, y + 1.9), f"{kg} expected", style)


def _draw_gap(bundle: SheetBundle, canvas: Canvas, chart: _Chart, gap: Gap) -> str:
    """Bracket, name, date and weigh a hungry gap; give the same in words."""
    horizon = bundle.plan.horizon
    first = horizon.monday(gap.first_week)
    last = horizon.monday(gap.last_week + 1) - timedelta(days=1)
    if last < chart.axis.first_day or first >= chart.axis.end_day:
        return ""
    short = weight_figure(gap.short_kg, bundle.units)
    wanted = weight_text(gap.wanted_kg, bundle.units)
    lines = (span_text(first, last), f"{short} of {wanted} short")
    start = max(chart.week_x(gap.first_week), chart.axis.left)
    end = min(chart.week_x(gap.last_week + 1), chart.axis.right)
    y = chart.zero + 18
    canvas.polyline(((start, y - 1.4), (start, y), (end, y), (end, y - 1.4)), Pen(0.35))
    half = max(width_of(line, Face.FIRM, 2.9) for line in lines) / 2
    x = min(max((start + end) / 2, chart.axis.left + half), chart.axis.right - half)
    canvas.text((x, y + 4.4), "Hungry gap", Style(Face.NAME_SLANTED, 4.2, anchor="middle"))
    for number, line in enumerate(lines):
        at = (x, y + 8 + number * 3.5)
        canvas.text(at, line, Style(Face.FIRM, 2.9, anchor="middle"))
    return f"Hungry gap {lines[0]}: {lines[1]}."


def _draw_tide_table(
    bundle: SheetBundle, canvas: Canvas, months: Sequence[TideMonth], chart: _Chart
) -> None:
    top = chart.zero + 33.5
    right = chart.axis.right
    heads = [short_month(row.month.month) for row in months]
    step = (right - chart.axis.left) / max(1, len(months))
    ends = [chart.axis.left + (number + 1) * step - step * 0.18 for number in range(len(months))]
    canvas.line((MARGIN, top), (right, top), Pen(0.45))
    canvas.text(
        (MARGIN, top + 4), f"Tide table, {weight_unit(bundle.units)}", Style(Face.NAME, 3.6)
    )
    for end, head in zip(ends, heads, strict=True):
        canvas.text((end, top + 4), head, Style(Face.STRONG, 2.9, anchor="end"))
    rows = (
        ("Eaten fresh", [row.fresh_kg for row in months]),
        ("From store", [row.stored_kg for row in months]),
        ("Short", [row.short_kg for row in months]),
        ("In store, month’s end", [row.store_kg for row in months]),
    )
    worst = sorted((row.short_kg for row in months), reverse=True)[:3]
    for number, (name, figures) in enumerate(rows):
        y = top + 5.4 + number * 4.5
        canvas.line((MARGIN, y), (right, y), HAIR)
        canvas.text((MARGIN, y + 3.4), name, Style(Face.TEXT, 3.1))
        for end, kg in zip(ends, figures, strict=True):
            heavy = name == "Short" and kg in worst and kg > 0
            face = Face.STRONG if heavy else Face.TEXT
            words = (
                weight_figure(round(kg), bundle.units) if kg >= 1 else ("0" if kg < 0.05 else "<1")
            )
            canvas.text((end, y + 3.4), words, Style(face, 3.1, anchor="end"))
    foot = top + 5.4 + len(rows) * 4.5
    canvas.line((MARGIN, foot), (right, foot), Pen(0.45))


def _draw_legend(bundle: SheetBundle, canvas: Canvas, tide: Tide) -> None:
    y = canvas.height - 11.5
    x = MARGIN
    shown: list[tuple[str, Hatch]] = [
        (layer, _HATCH[layer]) for layer in LAYERS if tide.store[layer].sum() > 0
    ]
    shown.append(("short", Hatch.SHORT))
    for words, hatch in shown:
        canvas.rectangle((x, y), 7, 3.8, Pen(0.2, hatch))
        canvas.text((x + 8.2, y + 2.9), words, _NOTE)
        x += 8.2 + width_of(words, Face.TEXT, 2.9) + 5
    words = (
        f"white at table: fresh from the ground. Hungry gap: {GAP_WEEKS} weeks or more with "
        f"{GAP_SHARE:.0%} or more of the table short."
    )
    canvas.text((x, y + 2.9), words, _NOTE)
    if bundle.invented:
        at = (canvas.width - MARGIN, y + 2.9)
        canvas.text(at, "Invented garden.", Style(Face.SLANTED, 2.9, anchor="end"))
