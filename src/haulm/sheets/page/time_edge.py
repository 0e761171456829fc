"""The edge of time on a page: frost odds, months, weeks and today, the same on every time chart."""

from collections.abc import Callable
from datetime import date, timedelta

from haulm.measure.day_words import day_text
from haulm.sheets.bundle import SheetBundle
from haulm.sheets.draw.canvas import INK, PAPER, Pen
from haulm.sheets.draw.time_axis import TimeAxis, month_label
from haulm.sheets.draw.type import Face, Style, width_of
from haulm.sheets.frost import frost_days, frost_has_come, frost_still_to_come
from haulm.sheets.page.drawing import COLD, NOW, PageCanvas

RULE_PX = 5.0
_MONTH = Style(Face.NAME, 13)
_WEEK = Style(Face.TEXT, 10.5, anchor="middle")
_FROST = Style(Face.TEXT, 11, ink=COLD)
_FROST_LINE, _HACHURE_PX = 20.0, 12.0


def draw_rule(canvas: PageCanvas, axis: TimeAxis, y: float, *, foot: bool = False) -> None:
    """Draw the graduated rule, months standing on it and week numbers on its other side.

    At a chart's foot the months hang under it.
    """
    canvas.rectangle((axis.left, y), axis.right - axis.left, RULE_PX, Pen(0.8, fill=PAPER))
    black = []
    every = 2 if axis.week_step >= 8 else 4  # noqa: PLR2004 - two figures and their white
    for week in range(axis.weeks):
        number = (axis.first_day + timedelta(weeks=week)).isocalendar().week
        x = axis.left + week * axis.week_step
        if number % 2 == 0:
            black.append(f"M{x:g} {y:g}h{axis.week_step:g}v{RULE_PX:g}h-{axis.week_step:g}z")
        if number % every == 1:
            at = (x + axis.week_step / 2, y - 5 if foot else y + RULE_PX + 12)
            canvas.text(at, str(number), _WEEK)
    canvas.raw(f'<path d="{"".join(black)}"/>')
    tick = (y + RULE_PX, y + RULE_PX + 16) if foot else (y - 16, y)
    for month, start, end in axis.months():
        if month >= axis.first_day:
            canvas.line((start, tick[0]), (start, tick[1]), Pen(0.8))
        name = month_label(month)
        # In full, short of its year, or by its initial: the first that fits.
        fitting = (
            words
            for words in (name, name.split()[0], name[0])
            if end - start > width_of(words, Face.NAME, _MONTH.size) + 6
        )
        words = next(fitting, "")
        if words:
            canvas.text((start + 4, y + RULE_PX + 13 if foot else y - 4), words, _MONTH)


def frost_odds_on(bundle: SheetBundle) -> Callable[[date], float]:
    """Give the odds that a frost is still to come in spring, or has come in autumn, by day."""
    frost, southern = bundle.frost[0], bundle.place.southern

    def odds(day: date) -> float:
        still = frost_still_to_come(frost, day, southern=southern) or 0.0
        come = frost_has_come(frost, day, southern=southern) or 0.0
        return max(still, come)

    return odds


def draw_frost(bundle: SheetBundle, canvas: PageCanvas, axis: TimeAxis) -> None:
    """Hang the frost odds over the axis, three strokes a week, and name their days."""
    if not bundle.frost:
        return
    odds, y = frost_odds_on(bundle), _FROST_LINE
    canvas.line((axis.left, y), (axis.right, y), Pen(0.8, ink=COLD))
    strokes = []
    for third in range(3 * axis.weeks + 1):
        share = odds(axis.first_day + timedelta(days=third * 7 / 3))
        if share > 0.01:  # noqa: PLR2004 - under a hundredth nothing would show
            strokes.append(f"M{axis.left + third / 3 * axis.week_step:.1f} {y:g}v")
            strokes.append(f"{_HACHURE_PX * share:.1f}")
    canvas.raw(f'<path d="{"".join(strokes)}" stroke="{canvas.colour(COLD)}" stroke-width="0.8"/>')
    taken: list[tuple[float, float]] = []
    for day, text in frost_days(bundle.frost[0], axis, southern=bundle.place.southern):
        x, room = axis.x(day), width_of(text, Face.TEXT, _FROST.size) + 6
        ways = {"end": (x - room, x + 3), "start": (x - 3, x + room)}
        for anchor in ("end", "start") if text.startswith("frost") else ("start", "end"):
            left, right = ways[anchor]
            free = all(right <= start or end <= left for start, end in taken)
            if free and axis.left <= left and right <= axis.right:
                taken.append((left, right))
                canvas.line((x, y - 12), (x, y), Pen(0.8, ink=COLD))
                at = (x + (4 if anchor == "start" else -4), y - 5)
                canvas.text(at, text, Style(Face.TEXT, _FROST.size, anchor=anchor, ink=COLD))
                break


def draw_now(canvas: PageCanvas, axis: TimeAxis, day: date, span: tuple[float, float]) -> None:
    """Draw the line of today from one height to another, cased in the paper's colour."""
    if axis.first_day <= day < axis.end_day:
        x, (top, foot) = axis.x(day), span
        canvas.line((x, top), (x, foot), Pen(5.6, ink=PAPER))
        canvas.line((x, top), (x, foot), Pen(2.2, ink=NOW))


def draw_now_label(canvas: PageCanvas, axis: TimeAxis, day: date, y: float) -> None:
    """Name today once in a reversed label that hangs from ``y``."""
    if axis.first_day <= day < axis.end_day:
        words = f"today, {day_text(day)}"
        width = width_of(words, Face.STRONG, 12) + 10
        x = min(max(axis.x(day), axis.left + width / 2), axis.right - width / 2)
        canvas.rectangle((x - width / 2, y), width, 18, Pen(0, fill=NOW))
        canvas.text((x, y + 13), words, Style(Face.STRONG, 12, anchor="middle", ink=PAPER))


def draw_month_lines(
    canvas: PageCanvas, axis: TimeAxis, span: tuple[float, float], *, years: bool = False
) -> None:
    """Draw a dotted line for every month, or a solid one for every new year."""
    top, foot = span
    lines = [
        f"M{start:.2f} {top:g}V{foot:g}"
        for month, start, _ in axis.months()
        if month > axis.first_day and (month.month == 1) == years
    ]
    if lines:
        look = 'stroke-width="1"' if years else 'stroke-width="0.5" stroke-dasharray="1 5"'
        canvas.raw(f'<path d="{"".join(lines)}" stroke="{canvas.colour(INK)}" {look}/>')
