"""The edge of time: weeks as a graduated rule, months standing on it, frost hanging over it."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, timedelta
from functools import lru_cache

from haulm.measure.day_words import day_text, short_month
from haulm.sheets.draw.canvas import HAIR, Canvas, Pen
from haulm.sheets.draw.type import Face, Style, width_of

RULE_MM = 1.4
_MONTH_MM, _WEEK_MM = 3.3, 2.5


@dataclass(frozen=True, slots=True)
class TimeAxis:
    """A stretch of whole weeks from ``left`` to ``right`` [mm on paper, px on a page]."""

    first_day: date
    weeks: int
    left: float
    right: float

    @property
    def week_step(self) -> float:
        """How long a week is [mm on paper, px on a page]."""
        return (self.right - self.left) / self.weeks

    @property
    def end_day(self) -> date:
        """The day after the last."""
        return self.first_day + timedelta(weeks=self.weeks)

    def x(self, day: date) -> float:
        """Give where a day begins, held within the axis."""
        return min(self.right, max(self.left, self.open_x(day)))

    def open_x(self, day: date) -> float:
        """Give where a day begins, also beyond the ends of the axis."""
        return self.left + (day - self.first_day).days / 7 * self.week_step

    def months(self) -> tuple[tuple[date, float, float], ...]:
        """Give every month that shows: its first day and where it starts and ends."""
        return _months(self)


@lru_cache(maxsize=64)
def _months(axis: TimeAxis) -> tuple[tuple[date, float, float], ...]:
    found = []
    month = axis.first_day.replace(day=1)
    while month < axis.end_day:
        after = (month + timedelta(days=32)).replace(day=1)
        found.append((month, axis.x(month), axis.x(after)))
        month = after
    return tuple(found)


def draw_week_rule(canvas: Canvas, axis: TimeAxis, y: float, *, foot: bool = False) -> None:
    """Draw the graduated rule with its upper edge at ``y``; even ISO weeks are black.

    A tick for each month stands on it; at a chart's foot it hangs under it.
    """
    canvas.rectangle((axis.left, y), axis.right - axis.left, RULE_MM, Pen(0.2, fill="#fff"))
    for week in range(axis.weeks):
        monday = axis.first_day + timedelta(weeks=week)
        if monday.isocalendar().week % 2 == 0:
            x = axis.left + week * axis.week_step
            canvas.rectangle((x, y), axis.week_step, RULE_MM, Pen(0, fill="#000"))
    tick = (y + RULE_MM, y + RULE_MM + 4.0) if foot else (y - 4.0, y)
    for month, start, _ in axis.months():
        if month >= axis.first_day:
            canvas.line((start, tick[0]), (start, tick[1]), Pen(0.2))


def draw_axis_names(canvas: Canvas, axis: TimeAxis, y: float, *, foot: bool = False) -> None:
    """Write months and week numbers at the rule whose upper edge is at ``y``, over today's line.

    Every second week's number is written, fewer where they would touch.
    """
    every = 2 if axis.week_step * 2 >= width_of("00", Face.TEXT, _WEEK_MM) + 0.9 else 4
    for week in range(axis.weeks):
        number = (axis.first_day + timedelta(weeks=week)).isocalendar().week
        if number % every == 1:
            x = axis.left + (week + 0.5) * axis.week_step
            at = (x, y - 0.9 if foot else y + RULE_MM + 2.7)
            canvas.text(at, str(number), Style(Face.TEXT, _WEEK_MM, anchor="middle", halo=0.6))
    base = y + RULE_MM + 3.5 if foot else y - 1.1
    for month, start, end in axis.months():
        name = month_label(month)
        if end - start > width_of(name, Face.NAME, _MONTH_MM) + 1:
            canvas.text((start + 0.9, base), name, Style(Face.NAME, _MONTH_MM, halo=0.8))


def month_label(month: date) -> str:
    """Name a month on the axis; January carries the year."""
    name = short_month(month.month)
    return f"{name} {month.year}" if month.month == 1 else name


def draw_hachures(
    canvas: Canvas, axis: TimeAxis, y: float, length: float, odds: Callable[[date], float]
) -> None:
    """Hang three strokes a week from a line; a full stroke is 10 years in 10."""
    canvas.line((axis.left, y), (axis.right, y), HAIR)
    for third in range(3 * axis.weeks + 1):
        day = axis.first_day + timedelta(days=third * 7 / 3)
        share = odds(day)
        if share > 0.01:  # noqa: PLR2004 - under a hundredth nothing would show
            x = axis.left + third / 3 * axis.week_step
            canvas.line((x, y), (x, y + length * share), Pen(0.2))


def draw_today(canvas: Canvas, axis: TimeAxis, day: date, span: tuple[float, float]) -> None:
    """Draw the line of today, cased in white, named once at its foot in a reversed label."""
    if not axis.first_day <= day < axis.end_day:
        return
    x, (top, foot) = axis.x(day), span
    canvas.line((x, top), (x, foot), Pen(1.5, ink="#fff"))
    canvas.line((x, top), (x, foot), Pen(0.6))


def draw_today_label(canvas: Canvas, axis: TimeAxis, day: date, y: float) -> None:
    """Name today once, reversed, hanging from ``y``."""
    if not axis.first_day <= day < axis.end_day:
        return
    words = f"today, {day_text(day)}"
    width = width_of(words, Face.STRONG, 2.9) + 2
    x = min(max(axis.x(day), axis.left + width / 2), axis.right - width / 2)
    canvas.rectangle((x - width / 2, y), width, 4, Pen(0, fill="#000"))
    style = Style(Face.STRONG, 2.9, anchor="middle", ink="#fff")
    canvas.text((x, y + 3), words, style)
