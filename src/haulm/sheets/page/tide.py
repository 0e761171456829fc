"""The larder tide on a page: what lies in store above, what the table takes and lacks below."""

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from haulm.measure.day_words import short_month, span_text
from haulm.measure.errors import LabelsDifferError
from haulm.sheets.bundle import SheetBundle
from haulm.sheets.draw.canvas import PAPER, Pen, Point
from haulm.sheets.draw.hatches import Hatch
from haulm.sheets.draw.time_axis import TimeAxis
from haulm.sheets.draw.type import Face, Style
from haulm.sheets.page.drawing import NOW, ChartTable, PageCanvas
from haulm.sheets.page.tide_fan import draw_fan, draw_run_out, fan_key
from haulm.sheets.page.tide_names import (
    TideField,
    draw_gaps,
    draw_month_figures,
    draw_ticks,
    name_layers,
    name_table,
    name_waters,
)
from haulm.sheets.page.time_edge import draw_now, draw_now_label, draw_rule
from haulm.sheets.page.view import NAMES_PX, YearView, axis_of
from haulm.sheets.store_odds import StoreFan, store_fan
from haulm.sheets.tide_marks import HATCH_OF_LAYER, stacked
from haulm.sheets.tide_sums import (
    Gap,
    Tide,
    TideMonth,
    Weekly,
    hungry_gaps,
    tide_of,
)
from haulm.sheets.tide_sums import tide_table as months_of
from haulm.sheets.wording import (
    shown_a_kg,
    ticks,
    weight_figure,
    weight_text,
    weight_unit,
)

CHART = "tide"
HATCHES = (*HATCH_OF_LAYER.values(), Hatch.SHORT)
_STORE_TOP, _STORE_FOOT, _RULE_Y, _ZERO, _GAPS_Y, _TABLE_Y, _HEIGHT = (
    48.0, 320.0, 348.0, 548.0, 644.0, 708.0, 828.0,
)  # fmt: skip
_TABLE_PX, _SHORT_PX = 156.0, 84.0
_NARROW_PX = 120.0
_ROW_NAMES = ("Eaten fresh", "From store", "Short", "In store, month’s end")
_USUAL_VIEW = YearView()
_NOTHING_KG = 0.005


@dataclass(frozen=True, slots=True)
class HungryGap:
    """Weeks on end in which much of the table is missing.

    ``first_day`` to ``last_day``; ``weeks`` their count; kilograms short and wanted;
    ``lines`` what each line of the table lacks then, the most first: (line, name, kg).
    """

    first_day: date
    last_day: date
    weeks: int
    short_kg: float
    wanted_kg: float
    lines: tuple[tuple[str, str, float], ...]


def hungry_gap(bundle: SheetBundle) -> tuple[HungryGap, ...]:
    """Find a plan's hungry gaps in order of time, and which lines of the table make them."""
    plan = bundle.plan
    found = []
    for gap in hungry_gaps(tide_of(plan)):
        lacks: dict[str, float] = {}
        for row in plan.table:
            if gap.first_week <= row.week <= gap.last_week and row.short_kg > _NOTHING_KG:
                lacks[row.line] = lacks.get(row.line, 0.0) + row.short_kg
        order = sorted(lacks.items(), key=lambda item: (-item[1], item[0]))
        found.append(
            HungryGap(
                plan.horizon.monday(gap.first_week),
                plan.horizon.monday(gap.last_week + 1) - timedelta(days=1),
                gap.last_week - gap.first_week + 1,
                gap.short_kg,
                gap.wanted_kg,
                tuple((line, bundle.lines.get(line, line), kg) for line, kg in order),
            )
        )
    return tuple(found)


def page_tide(
    bundle: SheetBundle, foods: Collection[str] | None = None, view: YearView = _USUAL_VIEW
) -> str:
    """Draw the tide of the whole table, or of some of its lines, on a page's axis of time.

    Raises
    ------
    LabelsDifferError
        If the table has no line of an id that is asked for.
    """
    tide = tide_of(bundle.plan, _known(bundle, foods))
    axis = axis_of(bundle, view)
    fan = store_fan(bundle.store_odds, bundle.plan, foods)
    field = _field(bundle, tide, axis, fan)
    canvas = PageCanvas(CHART, axis.right, _HEIGHT)
    _draw_store(bundle, canvas, tide, field)
    if fan is not None:
        draw_fan(canvas, field, fan)
    _draw_table(bundle, canvas, tide, field)
    draw_rule(canvas, axis, _RULE_Y)
    draw_now(canvas, axis, bundle.printed_on, (20, _GAPS_Y))
    name_layers(canvas, tide, field)
    name_table(canvas, tide, field)
    name_waters(bundle, canvas, tide, field)
    draw_now_label(canvas, axis, bundle.printed_on, 8)
    gaps = hungry_gaps(tide)
    name = _gap_name(foods)
    draw_gaps(bundle, canvas, field, gaps, (name, _GAPS_Y))
    months = _months(bundle, tide, axis)
    draw_month_figures(bundle, canvas, field, months, _TABLE_Y)
    if fan is not None:
        draw_run_out(bundle, canvas, field, fan)
    return canvas.picture(_title(bundle, foods), _told(bundle, months, gaps, name), HATCHES)


def page_tide_names(
    bundle: SheetBundle, foods: Collection[str] | None = None, width_px: float = NAMES_PX
) -> str:
    """Draw the column of names and scales that stands beside ``page_tide``, as high as it.

    A column under 120 px, for a phone, has shorter names.
    """
    tide = tide_of(bundle.plan, _known(bundle, foods))
    fan = store_fan(bundle.store_odds, bundle.plan, foods)
    field = _field(bundle, tide, axis_of(bundle, _USUAL_VIEW), fan)
    canvas = PageCanvas(CHART, width_px, _HEIGHT)
    narrow, right = width_px < _NARROW_PX, width_px - 8
    unit, name = weight_unit(bundle.units), Style(Face.NAME, 14 if narrow else 18)
    note, end = Style(Face.TEXT, 12), Style(Face.TEXT, 12, anchor="end")
    canvas.text((right, _STORE_TOP - 16), f"{unit} in store", end)
    if not narrow:
        canvas.text((0, (_STORE_TOP + _STORE_FOOT) / 2), "In store", name)
    canvas.text((right, _RULE_Y + 17), "week", end)
    # In a narrow column the scale leaves no room beside it, but over it.
    table = _ZERO - _TABLE_PX - 18 if narrow else _ZERO - 84
    canvas.text((0, table), "At table", name)
    canvas.text((0, table + 16), f"{unit} a week", note)
    canvas.text((0, _ZERO + 28), "Short", name)
    if not narrow:
        canvas.text((0, _ZERO + 46), "wanted, not there", note)
    draw_ticks(canvas, field, bundle.units, right)
    _draw_row_names(canvas, unit, narrow=narrow)
    return canvas.hidden()


def _draw_row_names(canvas: PageCanvas, unit: str, *, narrow: bool) -> None:
    """Write what the rows of monthly figures are, level with them."""
    lines = ("Fresh", "From store", "Short", "In store") if narrow else _ROW_NAMES
    canvas.line((0, _TABLE_Y), (canvas.width, _TABLE_Y), Pen(1.4))
    canvas.text((0, _TABLE_Y + 17), f"Tide table, {unit}", Style(Face.NAME, 14))
    for number, words in enumerate(lines):
        y = _TABLE_Y + 24 + 23 * number
        canvas.line((0, y), (canvas.width, y), Pen(0.8))
        canvas.text((0, y + 16), words, Style(Face.TEXT, 14))
    foot = _TABLE_Y + 24 + 23 * len(lines)
    canvas.line((0, foot), (canvas.width, foot), Pen(1.4))


def tide_key(
    bundle: SheetBundle, foods: Collection[str] | None = None
) -> tuple[tuple[str, str], ...]:
    """Give the key to the tide's hatches, those it uses: a drawing and its words each.

    The hatches are those the tide itself carries: it has to stand on the page.
    """
    tide = tide_of(bundle.plan, _known(bundle, foods))
    shown: list[tuple[str, Pen]] = [
        (layer, Pen(0.9, hatch))
        for layer, hatch in HATCH_OF_LAYER.items()
        if tide.store[layer].any() or tide.from_store[layer].any()
    ]
    shown.append(("fresh from the ground", Pen(0.9, fill=PAPER)))
    shown.append(("short", Pen(0.9, Hatch.SHORT, ink=NOW)))
    marks = []
    for words, pen in shown:
        canvas = PageCanvas(CHART, 28, 16)
        canvas.rectangle((0.5, 0.5), 27, 15, pen)
        marks.append((canvas.hidden(), words))
    if store_fan(bundle.store_odds, bundle.plan, foods) is not None:
        marks += fan_key(CHART)
    return tuple(marks)


def tide_table(
    bundle: SheetBundle, foods: Collection[str] | None = None, view: YearView | None = None
) -> ChartTable:
    """Give the tide's figures by month, those the chart writes; without a view, of all months."""
    tide = tide_of(bundle.plan, _known(bundle, foods))
    months = (
        months_of(bundle.plan, tide)
        if view is None
        else _months(bundle, tide, axis_of(bundle, view))
    )
    unit = weight_unit(bundle.units)
    heads = ("eaten fresh", "from store", "short", "in store at the month’s end")
    return ChartTable(
        _title(bundle, foods),
        ("month", *(f"{head}, {unit}" for head in heads)),
        tuple(
            (
                f"{short_month(row.month.month)} {row.month.year}",
                *(
                    weight_figure(kg, bundle.units)
                    for kg in (row.fresh_kg, row.stored_kg, row.short_kg, row.store_kg)
                ),
            )
            for row in months
        ),
    )


def _known(bundle: SheetBundle, foods: Collection[str] | None) -> Collection[str] | None:
    unknown = sorted(set(foods or ()) - set(bundle.lines))
    if unknown:
        message = f"The table has no line called {', '.join(unknown)}."
        raise LabelsDifferError(message)
    return foods


def _title(bundle: SheetBundle, foods: Collection[str] | None) -> str:
    if foods is None:
        return f"Larder tide of {bundle.plan.garden}"
    names = ", ".join(bundle.lines[line] for line in bundle.lines if line in set(foods))
    return f"Larder tide: {names}"


def _months(bundle: SheetBundle, tide: Tide, axis: TimeAxis) -> list[TideMonth]:
    return [
        month
        for month in months_of(bundle.plan, tide)
        if axis.first_day.replace(day=1) <= month.month < axis.end_day
    ]


def _gap_name(foods: Collection[str] | None) -> str:
    # A hungry gap is the whole table's; a line that is missing for weeks only runs short.
    return "Hungry gap" if foods is None else "Runs short"


def _told(bundle: SheetBundle, months: Sequence[TideMonth], gaps: Sequence[Gap], name: str) -> str:
    units, horizon = bundle.units, bundle.plan.horizon
    told = [
        f"{short_month(row.month.month)} {row.month.year}: fresh "
        f"{weight_text(row.fresh_kg, units)}, from store {weight_text(row.stored_kg, units)}, "
        f"short {weight_text(row.short_kg, units)}, in store {weight_text(row.store_kg, units)}."
        for row in months
    ]
    for gap in gaps:
        last = horizon.monday(gap.last_week + 1) - timedelta(days=1)
        told.append(
            f"{name} {span_text(horizon.monday(gap.first_week), last)}: "
            f"{weight_text(gap.short_kg, units)} of {weight_text(gap.wanted_kg, units)} short."
        )
    return " ".join(told)


def _field(bundle: SheetBundle, tide: Tide, axis: TimeAxis, fan: StoreFan | None) -> TideField:
    """Choose the scales: one for the store, one for table and shortage, which so compare.

    Both are of the whole plan, whatever weeks are shown, so that views of it compare.
    """
    most_store = max(float(tide.all_store.max(initial=0.0)), fan.most_kg if fan else 0.0, 1.0)
    most_table = max(float((tide.fresh + tide.all_from_store).max(initial=0.0)), 0.1)
    most_short = float(tide.short.max(initial=0.0))
    table_kg_px = max(most_table / _TABLE_PX, most_short / _SHORT_PX)
    return TideField(
        axis=axis,
        first_week=bundle.plan.horizon.week_of(axis.first_day),
        store_foot=_STORE_FOOT,
        store_top=_STORE_TOP,
        zero=_ZERO,
        store_kg_px=most_store / (_STORE_FOOT - _STORE_TOP),
        table_kg_px=table_kg_px,
        table_px=_TABLE_PX,
        short_px=_SHORT_PX,
    )


def _steps(field: TideField, lower: Weekly, upper: Weekly) -> list[Point]:
    """Outline the band between two weekly figures as steps, out along the one, back the other."""
    out: list[Point] = []
    back: list[Point] = []
    for week in field.weeks:
        ends = (field.week_x(week), field.week_x(week + 1))
        out += [(x, field.table_y(float(upper[week]))) for x in ends]
        back += [(x, field.table_y(float(lower[week]))) for x in ends]
    return out + back[::-1]


def _slopes(field: TideField, lower: Weekly, upper: Weekly) -> list[Point]:
    """Outline the band between two stocks: a stock is known at a week's end and flows between."""
    weeks = [max(field.first_week - 1, 0), *field.weeks]
    places = [field.axis.left, *(field.week_x(week + 1) for week in field.weeks)]
    ends = list(zip(weeks, places, strict=True))
    out = [(x, field.store_y(float(upper[week]))) for week, x in ends]
    return out + [(x, field.store_y(float(lower[week]))) for week, x in reversed(ends)]


def _draw_levels(canvas: PageCanvas, field: TideField, levels: Sequence[float]) -> None:
    for level in levels:
        ends = (field.axis.left, level), (field.axis.right, level)
        canvas.line(*ends, Pen(0.6, dash="1 4"))


def _draw_store(bundle: SheetBundle, canvas: PageCanvas, tide: Tide, field: TideField) -> None:
    shown = shown_a_kg(bundle.units)
    marks = ticks(field.most_store * shown, 4)
    _draw_levels(canvas, field, [field.store_y(mark / shown) for mark in marks if mark])
    for layer, lower, upper in stacked(tide.store):
        outline = _slopes(field, lower, upper)
        canvas.polygon(outline, Pen(0, HATCH_OF_LAYER[layer]))
        canvas.polyline(outline[: len(outline) // 2], Pen(0.7))
    top = _slopes(field, np.zeros_like(tide.fresh), tide.all_store)
    canvas.polyline(top[: len(top) // 2], Pen(1.6))
    foot = field.store_foot
    canvas.line((field.axis.left, foot), (field.axis.right, foot), Pen(0.8))


def _draw_table(bundle: SheetBundle, canvas: PageCanvas, tide: Tide, field: TideField) -> None:
    shown = shown_a_kg(bundle.units)
    marks = field.table_marks(shown)
    _draw_levels(canvas, field, [field.table_y(mark / shown) for mark in marks if mark])
    zeros = np.zeros_like(tide.fresh)
    canvas.polygon(_steps(field, zeros, tide.fresh), Pen(0, fill=PAPER))
    for layer, lower, upper in stacked(tide.from_store):
        band = _steps(field, tide.fresh + lower, tide.fresh + upper)
        canvas.polygon(band, Pen(0, HATCH_OF_LAYER[layer]))
        canvas.polyline(band[: len(band) // 2], Pen(0.7))
    fresh = _steps(field, zeros, tide.fresh)
    canvas.polyline(fresh[: len(fresh) // 2], Pen(0.9))
    whole = _steps(field, zeros, tide.fresh + tide.all_from_store)
    canvas.polyline(whole[: len(whole) // 2], Pen(1.2))
    canvas.polygon(_steps(field, -tide.short, zeros), Pen(1, Hatch.SHORT, ink=NOW))
    canvas.line((field.axis.left, field.zero), (field.axis.right, field.zero), Pen(1.6))
