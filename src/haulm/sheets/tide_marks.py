"""What is written on the larder tide: names of layers, high water, hungry gaps, the tide table."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import timedelta

import numpy as np

from haulm.measure.day_words import day_text, short_month, span_text
from haulm.measure.sentences import capital
from haulm.sheets.bundle import SheetBundle
from haulm.sheets.draw.canvas import HAIR, Canvas, Pen
from haulm.sheets.draw.hatches import Hatch
from haulm.sheets.draw.time_axis import TimeAxis
from haulm.sheets.draw.type import Face, Style, width_of
from haulm.sheets.tide_sums import GAP_SHARE, GAP_WEEKS, Gap, Tide, TideMonth, Weekly
from haulm.sheets.wording import (
    LAYERS,
    shown_a_kg,
    weight_figure,
    weight_text,
    weight_unit,
)

MARGIN = 12.0
HATCH_OF_LAYER = dict(
    zip(LAYERS, (Hatch.CELLAR, Hatch.HUNG, Hatch.JARS, Hatch.FROZEN), strict=True)
)
NOTE = Style(Face.TEXT, 2.9)
_NOTHING = 0.05
# A line of type and its white.
_LINE_MM = 4.0
# A tide lower than this on the sheet has no room for its mark.
_LEAST_TIDE_MM = 8.0
_LOW_SHARE, _APART_MM, _EDGE_WEEKS = 0.6, 45.0, 4


@dataclass(frozen=True, slots=True)
class TideChart:
    """One sheet of the tide: axis, weeks shown, levels on the sheet [mm], kg to a mm."""

    axis: TimeAxis
    first_week: int
    store_foot: float
    rule: float
    zero: float
    store_kg_mm: float
    table_kg_mm: float
    which: str
    store_top: float = 36.0

    @property
    def weeks(self) -> range:
        """The weeks this sheet shows."""
        return range(self.first_week, self.first_week + self.axis.weeks)

    def week_x(self, week: int) -> float:
        """Where a week begins on the sheet [mm]."""
        return self.axis.left + (week - self.first_week) * self.axis.week_step


def stacked(layers: dict[str, Weekly]) -> list[tuple[str, Weekly, Weekly]]:
    """Stack the layers that hold anything, the heaviest lowest: name, lower and upper edge."""
    order = sorted(layers, key=lambda layer: (-float(layers[layer].sum()), LAYERS.index(layer)))
    found = []
    lower = np.zeros_like(next(iter(layers.values())))
    for layer in order:
        if layers[layer].sum() > 0:
            found.append((layer, lower, lower + layers[layer]))
            lower = lower + layers[layer]
    return found


@dataclass(frozen=True, slots=True)
class NamePlace:
    """Where a band carries a name: the week of its middle, and the band's edges along it [kg]."""

    week: int
    floor_kg: float
    ceiling_kg: float

    @property
    def thick_kg(self) -> float:
        """How thick the band is along the whole name."""
        return self.ceiling_kg - self.floor_kg

    @property
    def middle_kg(self) -> float:
        """The height of the name's middle."""
        return (self.ceiling_kg + self.floor_kg) / 2


def place_for_name(weeks: range, lower: Weekly, upper: Weekly, reach: int) -> NamePlace | None:
    """Find where a band is thick along a name's whole length, and level enough to hold it.

    ``reach`` is how far the name reaches to either side [weeks]; None where the band is nowhere so.
    """
    places = []
    for week in weeks[reach:-reach]:
        along = slice(week - reach, week + reach + 1)
        places.append(NamePlace(week, float(lower[along].max()), float(upper[along].min())))
    best = max(places, key=lambda place: place.thick_kg, default=None)
    return best if best is not None and best.thick_kg > 0 else None


def name_layers(canvas: Canvas, tide: Tide, chart: TideChart) -> None:
    """Write each layer's name where it is thickest, if it is thick enough to carry it."""
    for layer, lower, upper in stacked(tide.store):
        size = 3.4
        half = width_of(layer, Face.NAME, size) / 2
        reach = math.ceil((half + 1) / chart.axis.week_step)
        place = place_for_name(chart.weeks, lower, upper, reach)
        if place is None or place.thick_kg / chart.store_kg_mm < _LINE_MM:
            continue
        x = chart.week_x(place.week) + chart.axis.week_step / 2
        y = chart.store_foot - place.middle_kg / chart.store_kg_mm + 1.2
        name = capital(layer)
        style = Style(Face.NAME, size, anchor="middle", halo=0.8)
        canvas.plate(((x, y), name, style))
        canvas.text((x, y), name, style)


def name_waters(bundle: SheetBundle, canvas: Canvas, tide: Tide, chart: TideChart) -> None:
    """Mark the sheet's high water, and its low water if that is well below, with their weight."""
    weeks = list(chart.weeks)
    store = tide.all_store[weeks]
    high = int(np.argmax(store))
    if store[high] / chart.store_kg_mm < _LEAST_TIDE_MM:
        return
    _name_water(bundle, canvas, chart, "High water", float(store[high]), weeks[high], 0.0)
    # At a plan's very ends the store is low because the plan is at its end.
    inner = store[_EDGE_WEEKS:-_EDGE_WEEKS]
    if not inner.size:
        return
    low = int(np.argmin(inner)) + _EDGE_WEEKS
    apart = abs(high - low) * chart.axis.week_step
    if store[low] < _LOW_SHARE * store[high] and apart > _APART_MM:
        _name_water(bundle, canvas, chart, "Low water", float(store[low]), weeks[low], 11.0)


def _name_water(  # noqa: PLR0913, PLR0917 - a mark is all of these
    bundle: SheetBundle,
    canvas: Canvas,
    chart: TideChart,
    name: str,
    kg: float,
    week: int,
    lead: float,
) -> None:
    x, y = chart.week_x(week + 1), chart.store_foot - kg / chart.store_kg_mm
    day = bundle.plan.horizon.monday(week + 1) - timedelta(days=1)
    words = f"{name} {day_text(day)}"
    to_left = x - chart.axis.left > width_of(words, Face.NAME, 3.6) + 8
    way, anchor = (-1.6, "end") if to_left else (1.6, "start")
    if lead:
        canvas.line((x, y), (x, y - lead), Pen(0.2))
    canvas.circle((x, y), 0.9, Pen(0.3, fill="#fff"))
    top = y - lead
    canvas.text((x + way, top - 4.6), words, Style(Face.NAME, 3.6, anchor=anchor, halo=0.8))
    style = Style(Face.FIRM, 2.9, anchor=anchor, halo=0.8)
    weight = f"{weight_text(kg, bundle.units)} expected" if kg > _NOTHING else "nothing in store"
    canvas.text((x + way, top - 1.3), weight, style)


def draw_gaps(
    bundle: SheetBundle, canvas: Canvas, chart: TideChart, gaps: Sequence[Gap]
) -> list[str]:
    """Bracket, name, date and weigh the hungry gaps of a sheet; give the same in words.

    A gap whose words would run into the one before it stands aside, or keeps its bracket alone.
    """
    told = []
    free_from = chart.axis.left
    for gap in gaps:
        first = bundle.plan.horizon.monday(gap.first_week)
        last = bundle.plan.horizon.monday(gap.last_week + 1) - timedelta(days=1)
        if last < chart.axis.first_day or first >= chart.axis.end_day:
            continue
        short = weight_figure(gap.short_kg, bundle.units)
        wanted = weight_text(gap.wanted_kg, bundle.units)
        lines = (span_text(first, last), f"{short} of {wanted} short")
        free_from = _draw_gap(canvas, chart, gap, lines, free_from)
        told.append(f"Hungry gap {lines[0]}: {lines[1]}.")
    return told


def _draw_gap(
    canvas: Canvas, chart: TideChart, gap: Gap, lines: tuple[str, str], free_from: float
) -> float:
    """Draw one gap with its words right of ``free_from``; give where the white goes on."""
    start = max(chart.week_x(gap.first_week), chart.axis.left)
    end = min(chart.week_x(gap.last_week + 1), chart.axis.right)
    y = chart.zero + 18
    canvas.polyline(((start, y - 1.4), (start, y), (end, y), (end, y - 1.4)), Pen(0.35))
    name = Style(Face.NAME_SLANTED, 4.2, anchor="middle")
    widths = [width_of(line, Face.FIRM, 2.9) for line in lines]
    half = max(*widths, width_of("Hungry gap", name.face, name.size)) / 2
    x = max(min((start + end) / 2, chart.axis.right - half), free_from + half)
    if x + half > chart.axis.right + 1:
        return free_from
    canvas.text((x, y + 4.4), "Hungry gap", name)
    for number, line in enumerate(lines):
        at = (x, y + 8 + number * 3.5)
        canvas.text(at, line, Style(Face.FIRM, 2.9, anchor="middle"))
    return x + half + 2


def draw_tide_table(
    bundle: SheetBundle, canvas: Canvas, months: Sequence[TideMonth], chart: TideChart
) -> None:
    """Write the figures by month beneath the chart; the three worst shortages stand out."""
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
            words = whole_weight(kg, bundle.units)
            canvas.text((end, y + 3.4), words, Style(face, 3.1, anchor="end"))
    foot = top + 5.4 + len(rows) * 4.5
    canvas.line((MARGIN, foot), (right, foot), Pen(0.45))


def whole_weight(kg: float, units: str) -> str:
    """Write a weight to the whole unit; what is there but less than one is said to be."""
    shown = kg * shown_a_kg(units)
    if shown < _NOTHING:
        return "0"
    return f"{shown:.0f}" if shown >= 1 else "<1"


def draw_legend(canvas: Canvas, tide: Tide) -> None:
    """Say what each hatch is, and what is called a hungry gap."""
    y = canvas.height - 11.5
    x = MARGIN
    shown: list[tuple[str, Hatch]] = [
        (layer, HATCH_OF_LAYER[layer]) for layer in LAYERS if tide.store[layer].sum() > 0
    ]
    shown.append(("short", Hatch.SHORT))
    for words, hatch in shown:
        canvas.rectangle((x, y), 7, 3.8, Pen(0.2, hatch))
        canvas.text((x + 8.2, y + 2.9), words, NOTE)
        x += 8.2 + width_of(words, Face.TEXT, 2.9) + 5
    words = (
        f"white at table: fresh from the ground. Hungry gap: {GAP_WEEKS} weeks or more with "
        f"{GAP_SHARE:.0%} or more of the table short."
    )
    canvas.text((x, y + 2.9), words, NOTE)
