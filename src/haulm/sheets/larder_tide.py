"""The larder tide: what lies in store above, what the table takes and lacks below."""

from collections.abc import Callable, Sequence
from datetime import timedelta

import numpy as np

from haulm.measure.day_words import day_text, short_month, span_text
from haulm.measure.sentences import listed
from haulm.sheets.bundle import Paper, SheetBundle
from haulm.sheets.draw.canvas import HAIR, Canvas, Pen, Point
from haulm.sheets.draw.hatches import Hatch
from haulm.sheets.draw.time_axis import (
    TimeAxis,
    draw_axis_names,
    draw_today,
    draw_today_label,
    draw_week_rule,
)
from haulm.sheets.draw.type import Face, Style
from haulm.sheets.store_odds import store_fan
from haulm.sheets.tide_fan import draw_fan
from haulm.sheets.tide_marks import (
    HATCH_OF_LAYER,
    MARGIN,
    NOTE,
    TideChart,
    draw_gaps,
    draw_legend,
    draw_tide_table,
    name_layers,
    name_waters,
    stacked,
)
from haulm.sheets.tide_sums import Tide, TideMonth, Weekly, hungry_gaps, tide_of, tide_table
from haulm.sheets.wording import shown_a_kg, ticks, weight_text, weight_unit

_LEFT_MM = 29.0
_PAGE_WEEKS = 52
_STORE_TOP, _RULE_GAP, _TABLE_MM = 36.0, 6.0, 27.0
_FAN_HEAD_MM = 10.0
"""What the fan's key and the run-out dates take above the store."""
_TICK = Style(Face.TEXT, 2.9, anchor="end")


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
) -> TideChart:
    full = _PAGE_WEEKS if canvas.width < 400 else weeks  # noqa: PLR2004 - paper, not a screen
    left = MARGIN + _LEFT_MM
    right = left + (canvas.width - MARGIN - left) * weeks / full
    axis = TimeAxis(bundle.plan.horizon.monday(first_week), weeks, left, right)
    store_foot = canvas.height - 119
    zero = store_foot + 20 + _TABLE_MM
    fan = store_fan(bundle.store_odds, bundle.plan)
    top = _STORE_TOP + (_FAN_HEAD_MM if fan else 0.0)
    most_store = max(float(tide.all_store.max(initial=0.0)), fan.most_kg if fan else 0.0, 1.0)
    table = tide.fresh + tide.all_from_store
    most_table = max(float(table.max(initial=0.0)), 0.5)
    most_short = float(tide.short.max(initial=0.0))
    # One scale for table and shortage, so that the two compare; the rest is 14 mm deep at most.
    kg_mm = max(most_table / _TABLE_MM, most_short / 15.0)
    return TideChart(
        axis,
        first_week,
        store_foot,
        store_foot + _RULE_GAP,
        zero,
        most_store / (store_foot - top - 4),
        kg_mm,
        which,
        top,
    )


def _drawn(bundle: SheetBundle, canvas: Canvas, tide: Tide, chart: TideChart) -> str:
    _draw_head(bundle, canvas, chart)
    _draw_store(bundle, canvas, tide, chart)
    fan = store_fan(bundle.store_odds, bundle.plan)
    fanned = "" if fan is None else draw_fan(bundle, canvas, chart, fan)
    _draw_table(bundle, canvas, tide, chart)
    draw_week_rule(canvas, chart.axis, chart.rule)
    canvas.text((MARGIN, chart.rule + 1.6), "week", NOTE)
    draw_today(canvas, chart.axis, bundle.printed_on, (chart.store_top - 3, chart.zero + 17))
    draw_axis_names(canvas, chart.axis, chart.rule)
    name_layers(canvas, tide, chart)
    name_waters(bundle, canvas, tide, chart)
    draw_today_label(canvas, chart.axis, bundle.printed_on, chart.store_top - 6)
    told = draw_gaps(bundle, canvas, chart, hungry_gaps(tide))
    months = [
        month
        for month in tide_table(bundle.plan, tide)
        if chart.axis.first_day.replace(day=1) <= month.month < chart.axis.end_day
    ]
    draw_tide_table(bundle, canvas, months, chart)
    draw_legend(canvas, tide)
    first, last = chart.axis.first_day, chart.axis.end_day - timedelta(days=1)
    what = f"Larder tide of {bundle.plan.garden}, {span_text(first, last)}"
    more = " ".join([*told, fanned]).strip()
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


def _draw_head(bundle: SheetBundle, canvas: Canvas, chart: TideChart) -> None:
    right = canvas.width - MARGIN
    canvas.text((MARGIN, 16.5), "The larder tide", Style(Face.NAME, 7.4))
    text = (
        "What lies in store, and below it what the week’s table takes and lacks. "
        f"All figures are what the plan {_of_which_year(bundle)}."
    )
    canvas.text((MARGIN, 21.6), text, Style(Face.TEXT, 3.5))
    made = f"plan of {day_text(bundle.plan.made_on, year=True)}"
    made += f", {chart.which}" if chart.which else ""
    canvas.text((right, 16.5), made, Style(Face.FIRM, 3.5, anchor="end"))
    if bundle.invented:
        words = "Invented garden, invented weather."
        canvas.text((right, 21.6), words, Style(Face.SLANTED, 2.9, anchor="end"))


def _of_which_year(bundle: SheetBundle) -> str:
    """Say of which year a plan's figures are: of a middle one, or of all but so many bad ones."""
    certainty = bundle.plan.certainty
    asked = sorted({share for _line, share in certainty.lines}) if certainty else []
    if not asked:
        return "expects of a middle year"
    return f"counts on, to hold {listed([f'{10 * share:g}' for share in asked])} years in 10"


def _draw_grid(
    canvas: Canvas, chart: TideChart, marks: Sequence[float], y: Callable[[float], float]
) -> None:
    for mark in marks:
        level = y(mark)
        if mark:
            ends = (chart.axis.left, level), (chart.axis.right, level)
            canvas.line(*ends, Pen(0.15, dash="0.3 1.2"))
        canvas.text((chart.axis.left - 1.8, level + 1), f"{mark:g}", _TICK)


def _steps(
    chart: TideChart, lower: Weekly, upper: Weekly, y: Callable[[float], float]
) -> list[Point]:
    """Outline the band between two weekly figures as steps, out along the one, back the other."""
    out: list[Point] = []
    back: list[Point] = []
    for week in chart.weeks:
        ends = (chart.week_x(week), chart.week_x(week + 1))
        out += [(x, y(float(upper[week]))) for x in ends]
        back += [(x, y(float(lower[week]))) for x in ends]
    return out + back[::-1]


def _slopes(
    chart: TideChart, lower: Weekly, upper: Weekly, y: Callable[[float], float]
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


def _draw_store(bundle: SheetBundle, canvas: Canvas, tide: Tide, chart: TideChart) -> None:
    shown = shown_a_kg(bundle.units)

    def y(kg: float) -> float:
        return chart.store_foot - kg / chart.store_kg_mm

    most = (chart.store_foot - chart.store_top) * chart.store_kg_mm * shown
    _draw_grid(canvas, chart, ticks(most, 4), lambda mark: y(mark / shown))
    unit = f"{weight_unit(bundle.units)} in store"
    canvas.text((chart.axis.left - 1.8, chart.store_top - 4), unit, _TICK)
    for layer, lower, upper in stacked(tide.store):
        outline = _slopes(chart, lower, upper, y)
        canvas.polygon(outline, Pen(0, HATCH_OF_LAYER[layer]))
        canvas.polyline(outline[: len(outline) // 2], Pen(0.15))
    top = _slopes(chart, np.zeros_like(tide.fresh), tide.all_store, y)
    canvas.polyline(top[: len(top) // 2], Pen(0.45))
    canvas.line((chart.axis.left, chart.store_foot), (chart.axis.right, chart.store_foot), HAIR)
    middle = (chart.store_foot + chart.store_top) / 2
    canvas.text((MARGIN, middle), "In store", Style(Face.NAME, 4.4))


def _draw_table(bundle: SheetBundle, canvas: Canvas, tide: Tide, chart: TideChart) -> None:
    shown = shown_a_kg(bundle.units)

    def y(kg: float) -> float:
        return chart.zero - kg / chart.table_kg_mm

    up = _TABLE_MM * chart.table_kg_mm * shown
    down = 15.0 * chart.table_kg_mm * shown
    step = ticks(up, 4)
    _draw_grid(canvas, chart, step, lambda mark: y(mark / shown))
    below = [mark for mark in step[1:] if mark <= down]
    _draw_grid(canvas, chart, below, lambda mark: y(-mark / shown))
    zeros = np.zeros_like(tide.fresh)
    canvas.polygon(_steps(chart, zeros, tide.fresh, y), Pen(0.3, fill="#fff"))
    for layer, lower, upper in stacked(tide.from_store):
        band = _steps(chart, tide.fresh + lower, tide.fresh + upper, y)
        canvas.polygon(band, Pen(0, HATCH_OF_LAYER[layer]))
        canvas.polyline(band[: len(band) // 2], Pen(0.15))
    whole = _steps(chart, zeros, tide.fresh + tide.all_from_store, y)
    canvas.polyline(whole[: len(whole) // 2], Pen(0.3))
    canvas.polygon(_steps(chart, -tide.short, zeros, y), Pen(0.3, Hatch.SHORT))
    canvas.line((chart.axis.left, chart.zero), (chart.axis.right, chart.zero), Pen(0.5))
    canvas.text((MARGIN, chart.zero - 13), "At table", Style(Face.NAME, 4.4))
    canvas.text((MARGIN, chart.zero - 9.4), f"{weight_unit(bundle.units)} a week", NOTE)
    canvas.text((MARGIN, chart.zero + 6), "Short", Style(Face.NAME, 4.4))
    canvas.text((MARGIN, chart.zero + 9.6), "wanted, not there", NOTE)
