"""A place's climate as charts: warmth, rain and day length, each with the years it rests on."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from haulm.measure.day_words import day_text, month_name
from haulm.measure.units import fahrenheit
from haulm.sheets.draw.canvas import INK, PAPER, Pen
from haulm.sheets.draw.type import Face, Style
from haulm.sheets.page.drawing import COLD, ChartTable, PageCanvas
from haulm.sheets.page.year_axis import (
    DAYS,
    LEFT_PX,
    RIGHT_PX,
    YearAxis,
    draw_levels,
    draw_months,
    draw_note,
    months_of,
    note_height,
    table_told,
)
from haulm.sheets.wording import INCH_M, ticks
from haulm.site.calendar import MONTH_LENGTHS
from haulm.site.day_length import TEN_HOURS_H, daylight_of_year_h
from haulm.site.records import Place
from haulm.site.spread import Spread
from haulm.site.summary import SiteSummary

USUAL_WIDTH_PX = 640.0
_TOP, _PLOT_PX = 28.0, 168.0
_MM_AN_INCH = INCH_M * 1000


@dataclass(frozen=True, slots=True)
class _Plot:
    """The field of a chart: its axis, and what value lies at its foot and top."""

    axis: YearAxis
    low: float
    high: float

    @property
    def foot(self) -> float:
        """The lower edge [px]."""
        return _TOP + _PLOT_PX

    def y(self, value: float) -> float:
        """Give how high a value lies [px]."""
        return self.foot - (value - self.low) / (self.high - self.low) * _PLOT_PX


def rests_on(summary: SiteSummary) -> str:
    """Say in words how many years a climate rests on."""
    if not summary.years:
        return f"Rests on monthly normals, not on single years: {summary.origin}."
    years = "1 year" if summary.years == 1 else f"{summary.years} years"
    return f"Rests on {years} of record: {summary.origin}."


def _axis(place: Place, width_px: float) -> YearAxis:
    return YearAxis(place.southern, LEFT_PX, width_px - RIGHT_PX)


def _canvas(name: str, width_px: float, note: str) -> PageCanvas:
    return PageCanvas(name, width_px, _TOP + _PLOT_PX + 36 + note_height(note, width_px))


def _finished(canvas: PageCanvas, plot: _Plot, table: ChartTable, note: str) -> str:
    draw_months(canvas, plot.axis, plot.foot + 4)
    draw_note(canvas, note, plot.foot + 48)
    return canvas.picture(table.caption, f"{table_told(table)} {note}")


def _warm(value_c: float, units: str) -> float:
    return fahrenheit(value_c) if units == "us" else value_c


def _degrees(value_c: float, units: str) -> str:
    shown = round(_warm(value_c, units), 1)
    return f"{shown:.0f}" if units == "us" else f"{shown:.1f}"


def _signed(text: str) -> str:
    text = "0" if text in {"-0", "-0.0", "0.0"} else text
    return text.replace("-", "−")


def warmth_chart(
    summary: SiteSummary,
    place: Place,
    units: str = "metric",
    soil_c: Sequence[float] | None = None,
    width_px: float = USUAL_WIDTH_PX,
) -> str:
    """Draw each month's mean daily highest and lowest temperature, 8 years in 10.

    A box spans 8 years in 10 of the month's mean and its middle line is the middle year; black is
    the day's lowest, white its highest. The soil's mean warmth, January first, is a line if given.
    """
    table, note = warmth_rows(summary, place, units, soil_c), rests_on(summary)
    lows = [_warm(month.tmin_c.low, units) for month in summary.months]
    highs = [_warm(month.tmax_c.high, units) for month in summary.months]
    step = 20.0 if units == "us" else 10.0
    low = step * np.floor(min(lows) / step)
    high = step * np.ceil(max(highs) / step)
    plot = _Plot(_axis(place, width_px), float(low), float(max(high, low + step)))
    canvas = _canvas("warmth", width_px, note)
    levels = np.arange(plot.low, plot.high + step / 2, step)
    marks = [(plot.y(float(level)), _signed(f"{level:.0f}")) for level in levels]
    draw_levels(canvas, plot.axis, marks, "°F" if units == "us" else "°C")
    freezing = _warm(0.0, units)
    if plot.low < freezing < plot.high:
        y = plot.y(freezing)
        canvas.line((plot.axis.left, y), (plot.axis.right, y), Pen(1.2, ink=COLD))
    for month in summary.months:
        start, end = plot.axis.span(month.month)
        wide = (end - start) * 0.5
        for spread, fill, line in ((month.tmax_c, PAPER, INK), (month.tmin_c, INK, PAPER)):
            shown = Spread(*(_warm(one, units) for one in (spread.low, spread.middle, spread.high)))
            x = (start + end - wide) / 2
            top, tall = plot.y(shown.high), max(2.0, plot.y(shown.low) - plot.y(shown.high))
            canvas.rectangle((x, top), wide, tall, Pen(1, fill=fill))
            middle = plot.y(shown.middle)
            canvas.line((x, middle), (x + wide, middle), Pen(1.2, ink=line))
    if soil_c is not None:
        _draw_soil(canvas, plot, [_warm(value, units) for value in soil_c])
    _name_boxes(canvas, plot)
    return _finished(canvas, plot, table, note)


def _draw_soil(canvas: PageCanvas, plot: _Plot, soil: Sequence[float]) -> None:
    points = []
    for month in plot.axis.months:
        start, end = plot.axis.span(month)
        points.append(((start + end) / 2, plot.y(soil[month - 1])))
    canvas.polyline(points, Pen(1.4, dash="5 3"))


def _name_boxes(canvas: PageCanvas, plot: _Plot) -> None:
    x = plot.axis.left + 4
    for words, fill in (("day’s highest", PAPER), ("day’s lowest", INK)):
        canvas.rectangle((x, 6), 14, 9, Pen(1, fill=fill))
        canvas.text((x + 20, 15), words, Style(Face.TEXT, 12))
        x += 104


def warmth_rows(
    summary: SiteSummary,
    place: Place,
    units: str = "metric",
    soil_c: Sequence[float] | None = None,
) -> ChartTable:
    """Give the warmth of each month as the chart shows it: middle year, and 8 years in 10."""
    unit = "°F" if units == "us" else "°C"
    head = ["month", f"day’s lowest, {unit}", "8 years in 10"]
    head += [f"day’s highest, {unit}", "8 years in 10"]
    head += [f"soil, {unit}"] if soil_c is not None else []
    by_month = {month.month: month for month in summary.months}
    rows = []
    for number in months_of(southern=place.southern):
        month = by_month[number]
        row = [month_name(number)]
        for spread in (month.tmin_c, month.tmax_c):
            low, middle, high = (
                _signed(_degrees(one, units)) for one in (spread.low, spread.middle, spread.high)
            )
            row += [middle, f"{low} to {high}"]
        row += [_signed(_degrees(soil_c[number - 1], units))] if soil_c is not None else []
        rows.append(tuple(row))
    return ChartTable(f"Warmth of {place.name}, month by month", tuple(head), tuple(rows))


def _depth(mm: float, units: str) -> float:
    return mm / _MM_AN_INCH if units == "us" else mm


def rain_chart(
    summary: SiteSummary,
    place: Place,
    units: str = "metric",
    width_px: float = USUAL_WIDTH_PX,
) -> str:
    """Draw each month's rain as a bar to the middle year, with a line for 8 years in 10.

    A place without rain on record has an empty chart that says so.
    """
    table, note = rain_rows(summary, place, units), rests_on(summary)
    known = [month.rain_mm.high for month in summary.months if month.rain_mm is not None]
    most = max((_depth(mm, units) for mm in known), default=0.0)
    steps = ticks(most, 4) if most > 0 else [0.0, 1.0]
    step = steps[1] if len(steps) > 1 else most
    high = step * float(np.ceil(most / step)) if most > 0 else 1.0
    plot = _Plot(_axis(place, width_px), 0.0, high)
    canvas = _canvas("rain", width_px, note)
    if known:
        levels = np.arange(0, high + step / 2, step)
        marks = [(plot.y(float(level)), f"{level:g}") for level in levels]
        draw_levels(canvas, plot.axis, marks, "in" if units == "us" else "mm")
    else:
        middle = (plot.axis.left + plot.axis.right) / 2
        style = Style(Face.NAME_LEANING, 14, anchor="middle")
        canvas.text((middle, plot.foot - _PLOT_PX / 2), "No rain is on record.", style)
    for month in summary.months:
        if month.rain_mm is not None:
            start, end = plot.axis.span(month.month)
            _draw_bar(canvas, plot, (start, end), month.rain_mm, units)
    canvas.line((plot.axis.left, plot.foot), (plot.axis.right, plot.foot), Pen(0.8))
    return _finished(canvas, plot, table, note)


def _draw_bar(
    canvas: PageCanvas, plot: _Plot, span: tuple[float, float], rain_mm: Spread, units: str
) -> None:
    start, end = span
    wide = (end - start) * 0.5
    x, middle = (start + end - wide) / 2, (start + end) / 2
    low, half, high = (
        plot.y(_depth(mm, units)) for mm in (rain_mm.low, rain_mm.middle, rain_mm.high)
    )
    canvas.rectangle((x, half), wide, plot.foot - half, Pen(1, fill=PAPER, ink=COLD))
    canvas.line((middle, low), (middle, high), Pen(2.2, ink=COLD))


def rain_rows(summary: SiteSummary, place: Place, units: str = "metric") -> ChartTable:
    """Give the rain of each month as the chart shows it; what is not known is said to be so."""
    unit = "in" if units == "us" else "mm"
    by_month = {month.month: month.rain_mm for month in summary.months}
    rows = []
    for number in months_of(southern=place.southern):
        rain = by_month[number]
        if rain is None:
            rows.append((month_name(number), "not known", "not known"))
            continue
        low, middle, high = (
            f"{_depth(mm, units):.{1 if units == 'us' else 0}f}"
            for mm in (rain.low, rain.middle, rain.high)
        )
        rows.append((month_name(number), middle, f"{low} to {high}"))
    head = ("month", f"rain, {unit}", "8 years in 10")
    return ChartTable(f"Rain at {place.name}, month by month", head, tuple(rows))


def day_length_chart(summary: SiteSummary, place: Place, width_px: float = USUAL_WIDTH_PX) -> str:
    """Draw the hours from sunrise to sunset through the year, ten hours marked."""
    note = "Sunrise to sunset as almanacs count, from the latitude alone; it rests on no record."
    table = day_length_rows(summary, place)
    plot = _Plot(_axis(place, width_px), 0.0, 24.0)
    canvas = _canvas("daylength", width_px, note)
    marks = [(plot.y(hours), f"{hours}") for hours in (0, 6, 12, 18, 24)]
    draw_levels(canvas, plot.axis, marks, "hours")
    days = np.arange(1, DAYS + 1)
    hours = daylight_of_year_h(place.latitude_deg)
    order = sorted(
        (plot.axis.season_day(int(day)), float(length))
        for day, length in zip(days, hours, strict=True)
    )
    points = [(plot.axis.x(day + 0.5), plot.y(length)) for day, length in order[::3]]
    canvas.polyline(points, Pen(2.2))
    ten = plot.y(TEN_HOURS_H)
    canvas.line((plot.axis.left, ten), (plot.axis.right, ten), Pen(1.2, dash="5 3"))
    style = Style(Face.TEXT, 12, anchor="middle", halo=3.6)
    words = "ten hours: under it growth all but stops"
    # High summer stands in the middle of the axis, and the curve well above.
    canvas.text(((plot.axis.left + plot.axis.right) / 2, ten + 15), words, style)
    return _finished(canvas, plot, table, note)


def day_length_rows(summary: SiteSummary, place: Place) -> ChartTable:
    """Give the day's length in the middle of each month, and the days the year turns on."""
    rows = []
    starts = np.cumsum((0, *MONTH_LENGTHS))
    lengths = daylight_of_year_h(place.latitude_deg)
    for number in months_of(southern=place.southern):
        hours = float(lengths[starts[number - 1] + 14])
        rows.append((f"15 {month_name(number)}", f"{hours:.1f}"))
    for words, (day, hours) in (
        ("longest day", summary.longest_day), ("shortest day", summary.shortest_day),
    ):  # fmt: skip
        rows.append((f"{words}, {day_text(day)}", f"{hours:.1f}"))
    if summary.ten_hours is not None:
        first, last = summary.ten_hours
        rows.append((f"under ten hours after {day_text(first)}", f"until {day_text(last)}"))
    return ChartTable(f"Day length at {place.name}", ("day", "hours"), tuple(rows))
