"""A place's frost odds through the year as a chart, with the years they rest on."""

from collections.abc import Sequence

from haulm.measure.units import fahrenheit
from haulm.sheets.draw.canvas import Pen
from haulm.sheets.draw.type import Face, Style, width_of
from haulm.sheets.frost import day_for_odds, share_later
from haulm.sheets.page.drawing import COLD, ChartTable, PageCanvas
from haulm.sheets.page.place import USUAL_WIDTH_PX
from haulm.sheets.page.year_axis import (
    DAYS,
    LEFT_PX,
    RIGHT_PX,
    YearAxis,
    draw_months,
    draw_note,
    note_height,
    table_told,
)
from haulm.site.records import FrostOdds, Place

_FULL_PX, _LANE_PX, _NAMES_PX = 48.0, 112.0, 34.0
_STEP_DAYS = 2
_TICK = Pen(0.8, ink=COLD)


def frost_chart(
    odds: Sequence[FrostOdds], place: Place, units: str = "metric", width_px: float = USUAL_WIDTH_PX
) -> str:
    """Hang each threshold's odds from a line through the year; a full stroke is 10 years in 10.

    In spring a stroke is the odds that a frost is still to come, in autumn that one has come. The
    days for 9, 5 and 1 years in 10 are named where there is room; all stand in the rows.
    """
    table, note = frost_rows(odds, place, units), _note(odds)
    axis = YearAxis(place.southern, LEFT_PX, width_px - RIGHT_PX)
    foot = 8 + _LANE_PX * max(1, len(odds))
    canvas = PageCanvas("frost", width_px, foot + 36 + note_height(note, width_px))
    for number, one in enumerate(odds):
        _draw_lane(canvas, axis, one, units, 8 + _LANE_PX * number)
    draw_months(canvas, axis, foot)
    draw_note(canvas, note, foot + 44)
    return canvas.picture(table.caption, f"{table_told(table)} {note}")


def frost_rows(odds: Sequence[FrostOdds], place: Place, units: str = "metric") -> ChartTable:
    """Give the dates of last and first frost by odds and threshold."""
    axis = YearAxis(place.southern, 0.0, 1.0)
    rows = []
    for one in odds:
        for share, last, first in zip(one.odds, one.last_spring, one.first_autumn, strict=True):
            years = f"{round(10 * share)} year{'s' if round(10 * share) != 1 else ''} in 10"
            rows.append(
                (
                    f"{_threshold(one, units)}, {years}",
                    "too few frosts to say" if last is None else axis.day_name(last),
                    "too few frosts to say" if first is None else axis.day_name(first),
                )
            )
    head = ("odds", "last spring frost later than", "first autumn frost earlier than")
    return ChartTable(f"Frost odds at {place.name}", head, tuple(rows))


def _threshold(odds: FrostOdds, units: str) -> str:
    shown = fahrenheit(odds.threshold_c) if units == "us" else odds.threshold_c
    text = f"{shown:.1f}".removesuffix(".0").replace("-", "−")
    return f"{text} °F" if units == "us" else f"{text} °C"


def _note(odds: Sequence[FrostOdds]) -> str:
    if not odds:
        return "No frost odds are known here."
    years = "1 year" if odds[0].years == 1 else f"{odds[0].years} years"
    return f"Rests on {years}: {odds[0].how}."


def _draw_lane(canvas: PageCanvas, axis: YearAxis, odds: FrostOdds, units: str, top: float) -> None:
    line = top + _NAMES_PX
    canvas.text((0, line + 4), _threshold(odds, units), Style(Face.STRONG, 12))
    canvas.line((axis.left, line), (axis.right, line), Pen(0.8, ink=COLD))
    strokes = []
    for day in range(0, DAYS, _STEP_DAYS):
        still = share_later(odds.last_spring, odds.odds, day) or 0.0
        come = share_later(odds.first_autumn, odds.odds, day) or 0.0
        share = max(still, come)
        if share > 0.01:  # noqa: PLR2004 - under a hundredth nothing would show
            strokes.append(f"M{axis.x(day):.1f} {line:g}v{_FULL_PX * share:.1f}")
    if strokes:
        ink = canvas.colour(COLD)
        canvas.raw(f'<path d="{"".join(strokes)}" stroke="{ink}" stroke-width="0.9"/>')
    else:
        style = Style(Face.NAME_LEANING, 14)
        canvas.text((axis.left + 8, line + 24), "too few years freeze to give odds", style)
    taken: list[tuple[float, float, float]] = []
    for days, words, low_share, high_share in (
        (odds.last_spring, "frost still to come", 0.9, 0.1),
        (odds.first_autumn, "frost has come", 0.1, 0.9),
    ):
        # In order of time: one before its day, one over it, one after it.
        for share, anchor, rise in ((0.5, "middle", 20), (low_share, "end", 6),
                                    (high_share, "start", 6)):  # fmt: skip
            when = day_for_odds(days, odds.odds, share)
            if when is not None:
                said = f"{round(10 * share)} in 10 at {axis.day_name(when)}"
                said = f"{words}: {said}" if anchor == "middle" else said
                _name_day(canvas, axis, (axis.x(when), line), (said, anchor, rise), taken)


def _name_day(
    canvas: PageCanvas,
    axis: YearAxis,
    at: tuple[float, float],
    name: tuple[str, str, float],
    taken: list[tuple[float, float, float]],
) -> None:
    """Name a day above its line, unless its words would meet others or leave the chart."""
    (x, line), (words, anchor, rise) = at, name
    width = width_of(words, Face.TEXT, 11) + 8
    left = x - width * {"start": 0.0, "middle": 0.5, "end": 1.0}[anchor]
    left = min(max(left, axis.left), axis.right - width) if anchor == "middle" else left
    right = left + width
    free = all(right + 8 <= start or end + 8 <= left or on != rise for start, end, on in taken)
    if free and left >= axis.left - 8 and right <= axis.right + RIGHT_PX:
        taken.append((left, right, rise))
        canvas.line((x, line - rise + (3 if anchor == "middle" else -8)), (x, line), _TICK)
        style = Style(Face.TEXT, 11, anchor=anchor, ink=COLD, halo=3)
        inner = {"start": x + 4, "middle": left + width / 2, "end": x - 4}[anchor]
        canvas.text((inner, line - rise), words, style)
