"""The fan on the larder tide's sheet: stores in poor, middle and good years, and running out."""

from datetime import date

from haulm.forecast.records import RunOut
from haulm.measure.day_words import day_text
from haulm.measure.sentences import capital
from haulm.sheets.bundle import SheetBundle
from haulm.sheets.draw.canvas import PAPER, Canvas, Pen
from haulm.sheets.draw.type import Face, Style, width_of
from haulm.sheets.store_odds import FAN, StoreFan, run_out_days
from haulm.sheets.tide_marks import MARGIN, NOTE, TideChart

LINE_MM, WHITE_MM = 0.5, 1.2
_KEY_Y, _OUT_Y, _SAMPLE_MM = 27.2, 31.4, 9.0


def draw_fan(bundle: SheetBundle, canvas: Canvas, chart: TideChart, fan: StoreFan) -> str:
    """Draw the fan over the store with its key and the run-out dates above; give these in words."""
    for levels, (_share, _words, dash) in zip(fan.levels_kg, FAN, strict=True):
        line = [
            (
                chart.week_x(week + 1) if week >= chart.first_week else chart.axis.left,
                chart.store_foot - float(levels[max(week, 0)]) / chart.store_kg_mm,
            )
            for week in range(chart.first_week - 1, chart.weeks.stop)
        ]
        canvas.polyline(line, Pen(WHITE_MM, ink=PAPER))
        canvas.polyline(line, Pen(LINE_MM, dash=_dashes(dash)))
    x = MARGIN
    for _share, words, dash in FAN:
        canvas.line((x, _KEY_Y - 1), (x + _SAMPLE_MM, _KEY_Y - 1), Pen(LINE_MM, dash=_dashes(dash)))
        told = f"in store {words}"
        canvas.text((x + _SAMPLE_MM + 1.5, _KEY_Y), told, NOTE)
        x += _SAMPLE_MM + 1.5 + width_of(told, NOTE.face, NOTE.size) + 6
    return _tell_run_out(bundle, canvas, chart, fan)


def _dashes(dash: str) -> str:
    return " ".join(f"{float(part) * LINE_MM:g}" for part in dash.split())


def _tell_run_out(bundle: SheetBundle, canvas: Canvas, chart: TideChart, fan: StoreFan) -> str:
    """Write between which days foods run out in this sheet's weeks, as far as there is room."""
    told: list[str] = []
    left = canvas.width - 2 * MARGIN
    lead = "Run out in 8 years of 10:"
    room = left - width_of(lead, Face.STRONG, NOTE.size) - 3
    for out in sorted(fan.run_out, key=lambda one: one.weeks[0] or 0):
        early, late = run_out_days(bundle.plan, out)
        if early is None or not chart.axis.first_day <= early < chart.axis.end_day:
            continue
        words = _range(bundle, out, early, late)
        if width_of("; ".join([*told, words]), NOTE.face, NOTE.size) > room:
            break
        told.append(words)
    if not told:
        return ""
    canvas.text((MARGIN, _OUT_Y), lead, Style(Face.STRONG, NOTE.size))
    x = MARGIN + width_of(lead, Face.STRONG, NOTE.size) + 1.5
    canvas.text((x, _OUT_Y), "; ".join(told), NOTE)
    return f"{lead} {'; '.join(told)}."


def _range(bundle: SheetBundle, out: RunOut, early: date, late: date | None) -> str:
    """Write between which days a food runs out."""
    known = bundle.catalogue.foods.get(out.food)
    name = capital(known.name if known else out.food)
    if late is None:
        return f"{name} {day_text(early, year=True)} at the earliest"
    return f"{name} {day_text(early, year=True)} to {day_text(late, year=True)}"
