"""Odds of a date: a hump of daily hachures over a bar that spans 8 years in 10."""

from datetime import date
from math import exp

from haulm.sheets.draw.canvas import Canvas, Pen, Point

# The 1-in-10 point of a normal distribution lies 1.2816 standard deviations from its middle.
_TENTH = 1.2816
_REACH_SIGMAS = 2.4
_MOST_STROKES = 50
_LEAST_SIGMA_DAYS = 0.5


def spread_days(dates: tuple[date, date, date]) -> tuple[float, float, float, float]:
    """Give how far a hump reaches and how wide its halves are, from 1, 5 and 9 years in 10.

    Returns
    -------
    First and last day from the middle, and the standard deviations before and after it [d].
    """
    early, middle, late = dates
    before = max((middle - early).days / _TENTH, _LEAST_SIGMA_DAYS)
    after = max((late - middle).days / _TENTH, _LEAST_SIGMA_DAYS)
    return -_REACH_SIGMAS * before, _REACH_SIGMAS * after, before, after


def draw_hump(
    canvas: Canvas, at: Point, width: float, height: float, dates: tuple[date, date, date]
) -> None:
    """Draw the odds of a date from its 1, 5 and 9 years in 10.

    Each half of the hump is half a normal curve through the dates given; its foot stands at
    ``at``, its left end.
    """
    early, middle, late = dates
    first, last, left, right = spread_days(dates)
    x0, foot = at
    mm_a_day = width / (last - first)
    step = max(1, round((last - first) / _MOST_STROKES))
    canvas.line(at, (x0 + width, foot), Pen(0.25))
    for day in range(round(first), round(last) + 1, step):
        sigma = left if day < 0 else right
        stroke = height * exp(-0.5 * (day / sigma) ** 2)
        x = x0 + (day - first) * mm_a_day
        canvas.line((x, foot), (x, foot - stroke), Pen(0.3))
    start = x0 + ((early - middle).days - first) * mm_a_day
    end = x0 + ((late - middle).days - first) * mm_a_day
    canvas.line((start, foot + 1.2), (max(end, start + 0.7), foot + 1.2), Pen(0.7))
