"""The fan on a page's larder tide: what lies in store in poor, middle and good years."""

from haulm.measure.sentences import capital
from haulm.sheets.bundle import SheetBundle
from haulm.sheets.draw.canvas import PAPER, Pen
from haulm.sheets.draw.type import Face, Style, width_of
from haulm.sheets.page.drawing import PageCanvas
from haulm.sheets.page.tide_names import TideField
from haulm.sheets.store_odds import FAN, StoreFan

LINE_PX, WHITE_PX = 1.8, 4.2
MOST_BRACKETS = 3
"""More foods than this would not leave their brackets room; the table beneath tells them all."""
_FOOT_PX, _ROW_PX, _END_PX = 12.0, 18.0, 5.0


def dashes(dash: str, width: float) -> str:
    """Write dashes told in line widths for a line of a width."""
    return " ".join(f"{float(part) * width:g}" for part in dash.split())


def draw_fan(canvas: PageCanvas, field: TideField, fan: StoreFan) -> None:
    """Draw the fan's lines over the tide, each on white so that the hatches leave it to be seen."""
    for levels, (_share, _words, dash) in zip(fan.levels_kg, FAN, strict=True):
        weeks = [max(field.first_week - 1, 0), *field.weeks]
        places = [field.axis.left, *(field.week_x(week + 1) for week in field.weeks)]
        line = [
            (x, field.store_y(float(levels[week])))
            for week, x in zip(weeks, places, strict=True)
            if week < len(levels)
        ]
        canvas.polyline(line, Pen(WHITE_PX, ink=PAPER))
        canvas.polyline(line, Pen(LINE_PX, dash=dashes(dash, LINE_PX)))


def draw_run_out(bundle: SheetBundle, canvas: PageCanvas, field: TideField, fan: StoreFan) -> None:
    """Bracket the weeks between an early and a late running out, where there is room for it."""
    shown = [
        out
        for out in fan.run_out
        if out.weeks[0] is not None and field.weeks.start <= out.weeks[0] < field.weeks.stop
    ]
    if len({out.food for out in shown}) > MOST_BRACKETS or len(shown) > MOST_BRACKETS:
        return
    for row, out in enumerate(shown):
        early, middle, late = (
            field.axis.right if week is None else min(field.week_x(week), field.axis.right)
            for week in out.weeks
        )
        y = field.store_foot - _FOOT_PX - _ROW_PX * row
        known = bundle.catalogue.foods.get(out.food)
        words = f"{capital(known.name if known else out.food)} has run out"
        style = Style(Face.FIRM, 12, halo=3, anchor="end")
        canvas.line((early, y), (late, y), Pen(WHITE_PX + 2, ink=PAPER))
        canvas.line((early, y), (late, y), Pen(1.6))
        ends = [early] if out.weeks[2] is None else [early, late]
        for x in ends:
            canvas.line((x, y - _END_PX), (x, y + _END_PX), Pen(1.6))
        canvas.circle((middle, y), 3, Pen(1.2, fill=PAPER))
        x = early - 6
        if x - width_of(words, style.face, style.size) < field.axis.left:
            x, style = late + 6, Style(Face.FIRM, 12, halo=3)
        if x + (0 if style.anchor == "end" else width_of(words, style.face, style.size)) <= (
            field.axis.right
        ):
            canvas.plate(((x, y + 4), words, style))
            canvas.text((x, y + 4), words, style)


def fan_key(chart: str) -> list[tuple[str, str]]:
    """Give the key to the fan's lines: a drawing and its words each."""
    marks = []
    for _share, words, dash in FAN:
        canvas = PageCanvas(chart, 28, 16)
        canvas.line((0, 8), (28, 8), Pen(LINE_PX, dash=dashes(dash, LINE_PX)))
        marks.append((canvas.hidden(), f"in store {words}"))
    return marks
