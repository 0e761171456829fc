"""How much of a table so much ground feeds, as a chart with what comes in when beneath it."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate

from haulm.measure.units import FOOT_M, show_area
from haulm.sheets.draw.canvas import INK, PAPER, Pen
from haulm.sheets.draw.hatches import Hatch
from haulm.sheets.draw.type import Face, Style, width_of, wrapped
from haulm.sheets.page.drawing import ChartTable, PageCanvas
from haulm.sheets.page.year_axis import table_told
from haulm.sheets.wording import ticks

USUAL_WIDTH_PX = 640.0
_LEFT, _RIGHT, _TOP, _PLOT = 44.0, 16.0, 56.0, 200.0
_LEADING, _GAP, _SIZE = 15.0, 9.0, 12.0
_LEVEL = Pen(0.6, dash="1 4")
_LADDER = Pen(0.8, dash="2 3")
_CURVE = Pen(2)
_NEAR_PX = 6.0
ENOUGH = "enough"


@dataclass(frozen=True, slots=True)
class GroundStep:
    """So much open ground [m²], the share of the table it feeds [1], and what comes in there.

    ``called`` names it, as in *enough*; empty for an ordinary step.
    """

    open_m2: float
    share: float
    comes_in: tuple[str, ...]
    called: str = ""


@dataclass(frozen=True, slots=True)
class _Plot:
    """Where ground and share lie on the field [px]."""

    most_m2: float
    right: float

    def x(self, area_m2: float) -> float:
        return _LEFT + area_m2 / self.most_m2 * (self.right - _LEFT)

    def y(self, share: float) -> float:
        return _TOP + (1 - share) * _PLOT


def land_chart(
    steps: Sequence[GroundStep], units: str = "metric", width_px: float = USUAL_WIDTH_PX
) -> str:
    """Draw the share of the table fed over the ground; a rung for each step that brings lines in.

    Parameters
    ----------
    steps
        From little ground to much.
    units
        ``metric`` or ``us``.
    width_px
        How wide the chart is [px].
    """
    plot = _Plot(max(step.open_m2 for step in steps), width_px - _RIGHT)
    rungs = [(step, _rung(step, plot)) for step in steps if step.comes_in]
    foot = _TOP + _PLOT + 46
    deep = sum(len(lines) * _LEADING + _GAP for _, (_, lines, _) in rungs)
    table = land_rows(steps, units)
    canvas = PageCanvas(f"land-{width_px:.0f}", width_px, foot + deep + 4)
    _draw_field(canvas, plot, units)
    _draw_curve(canvas, plot, steps)
    for step in steps:
        if step.called:
            _draw_called(canvas, plot, step)
    _draw_rungs(canvas, plot, rungs, foot)
    return canvas.picture(table.caption, table_told(table), (Hatch.GROWING,))


def land_rows(steps: Sequence[GroundStep], units: str = "metric") -> ChartTable:
    """Give each step's ground, the share of the table it feeds, and what comes in."""
    rows = tuple(
        (
            _area(step.open_m2, units) + (f", {step.called}" if step.called else ""),
            f"{step.share:.0%}",
            ", ".join(step.comes_in) or "nothing new",
        )
        for step in steps
    )
    head = ("ground in the open", "feeds of the kilograms wanted", "comes in")
    return ChartTable("What so much ground feeds", head, rows)


def _area(area_m2: float, units: str) -> str:
    return show_area(area_m2, "us" if units == "us" else "metric")


def _draw_field(canvas: PageCanvas, plot: _Plot, units: str) -> None:
    """Draw levels of a quarter each and the edge of ground with its figures."""
    canvas.text((0, 12), "of the kilograms wanted", Style(Face.TEXT, _SIZE))
    for quarter in range(5):
        y = plot.y(quarter / 4)
        if quarter:
            canvas.line((_LEFT, y), (plot.right, y), _LEVEL)
        canvas.text((_LEFT - 6, y + 4), f"{quarter / 4:.0%}", Style(Face.TEXT, _SIZE, anchor="end"))
    edge = plot.y(0)
    canvas.line((_LEFT, edge), (plot.right, edge), Pen(1.6))
    per_m2 = 1 / FOOT_M**2 if units == "us" else 1.0
    unit = "sq ft" if units == "us" else "m²"
    for tick in ticks(plot.most_m2 * per_m2, 5 if plot.right > 400 else 3):  # noqa: PLR2004 - a phone
        x = plot.x(tick / per_m2)
        canvas.line((x, edge), (x, edge + 5), Pen(1))
        canvas.text((x, edge + 18), f"{tick:g}", Style(Face.TEXT, _SIZE, anchor="middle"))
    canvas.text((0, edge + 18), unit, Style(Face.TEXT, _SIZE))


def _draw_curve(canvas: PageCanvas, plot: _Plot, steps: Sequence[GroundStep]) -> None:
    points = [(plot.x(0), plot.y(0))]
    points += [(plot.x(step.open_m2), plot.y(step.share)) for step in steps]
    under = [*points, (points[-1][0], plot.y(0))]
    canvas.polygon(under, Pen(0, fill=Hatch.GROWING), bare=True)
    canvas.polyline(points, _CURVE)
    for step, point in zip(steps, points[1:], strict=True):
        canvas.circle(point, 4, Pen(1.6, fill=INK if step.called else PAPER))


def _draw_called(canvas: PageCanvas, plot: _Plot, step: GroundStep) -> None:
    """Name a step over the field, its name turned inward at the edges."""
    x, y = plot.x(step.open_m2), plot.y(step.share)
    half = width_of(step.called, Face.STRONG, 13) / 2
    at = min(max(x, _LEFT + half), plot.right + _RIGHT - half)
    # Each at a height of its own, so that two that lie near are both read.
    over = _TOP - (10 if step.called == ENOUGH else 26)
    canvas.line((x, over + 3), (x, y - 4), Pen(1))
    style = Style(Face.STRONG, 13, anchor="middle", halo=3)
    canvas.text((at, over), step.called, style)


_Rung = tuple[bool, list[str], float]
"""Whether its names stand right of its mark, their lines, and where they begin or end [px]."""


def _rung(step: GroundStep, plot: _Plot) -> _Rung:
    """Set a rung's names to whichever side of its mark has more room."""
    x = plot.x(step.open_m2)
    rightward = plot.right + _RIGHT - x >= x
    room = (plot.right + _RIGHT - x if rightward else x) - 2 * _NEAR_PX
    lines = wrapped(", ".join(step.comes_in), Face.TEXT, _SIZE, room)
    return rightward, lines, x + (_NEAR_PX if rightward else -_NEAR_PX)


def _draw_rungs(
    canvas: PageCanvas, plot: _Plot, rungs: Sequence[tuple[GroundStep, _Rung]], foot: float
) -> None:
    """Draw the rungs: a mark each, a line up to its ground, and the names on paper beside it."""
    heights = list(accumulate((len(rung[1]) * _LEADING + _GAP for _, rung in rungs), initial=foot))
    for (step, _), y in zip(rungs, heights, strict=False):
        x = plot.x(step.open_m2)
        canvas.line((x, plot.y(0) + 24), (x, y - 4), _LADDER)
        canvas.circle((x, y), 2.5, Pen(0, fill=INK))
    # Names come last, so that no line of a later rung runs through them.
    for (_, (rightward, lines, at)), y in zip(rungs, heights, strict=False):
        style = Style(Face.TEXT, _SIZE, anchor="start" if rightward else "end")
        set_lines = [((at, y + 4 + n * _LEADING), words, style) for n, words in enumerate(lines)]
        canvas.plate(*set_lines)
        for one in set_lines:
            canvas.text(*one)
