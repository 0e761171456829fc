"""A line's year as 52 small weeks, and a tally of years: read in a row of a table."""

from collections.abc import Sequence
from datetime import date, timedelta
from itertools import groupby

from haulm.measure.day_words import short_month
from haulm.measure.sentences import capital
from haulm.sheets.draw.canvas import INK, PAPER, Pen
from haulm.sheets.draw.time_axis import TimeAxis
from haulm.sheets.draw.type import Face, Style
from haulm.sheets.page.drawing import NOW, PageCanvas

WEEK_PX = 5.0
_BAR_PX = 4.0
_UP_PX, _DOWN_PX, _HEIGHT_PX = 20.0, 14.0, 36.0
_HATCH_PX = 4.2
_LEAST_PX = 1.0
_NOTHING_KG = 0.005
_YEARS = 10


def sparkline(
    weeks_fresh: Sequence[float],
    weeks_stored: Sequence[float],
    weeks_short: Sequence[float],
    first_day: date | None = None,
) -> str:
    """Draw weeks of one line of the table: solid fresh, outline from store, falling hatch short.

    Each is scaled to its own greatest week; what is eaten and what is short share the scale, so
    that the two compare. With the first day given, the text alternative names months, else it
    counts weeks.

    Parameters
    ----------
    weeks_fresh, weeks_stored, weeks_short
        One figure a week, all of one length [kg].
    first_day
        The Monday of the first week.

    Raises
    ------
    ValueError
        If the three differ in length.
    """
    weeks = list(zip(weeks_fresh, weeks_stored, weeks_short, strict=True))
    canvas = PageCanvas("spark", max(1.0, WEEK_PX * len(weeks)), _HEIGHT_PX)
    most_up = max((fresh + stored for fresh, stored, _ in weeks), default=0.0)
    most_down = max((short for _, _, short in weeks), default=0.0)
    kg_px = max(most_up / _UP_PX, most_down / _DOWN_PX, _NOTHING_KG)
    zero = _UP_PX + 1
    solid, outline, hatch, frame = [], [], [], []
    for week, (fresh, stored, short) in enumerate(weeks):
        x, low = week * WEEK_PX + 0.5, zero
        if fresh > _NOTHING_KG:
            high = max(fresh / kg_px, _LEAST_PX)
            solid.append(f"M{x:g} {low:.1f}v-{high:.1f}h{_BAR_PX:g}v{high:.1f}z")
            low -= high
        if stored > _NOTHING_KG:
            high = max(stored / kg_px, _LEAST_PX)
            wide = _BAR_PX - 0.8
            outline.append(f"M{x + 0.4:.1f} {low:.1f}v-{high:.1f}h{wide:g}v{high:.1f}z")
        if short > _NOTHING_KG:
            deep = max(short / kg_px, _LEAST_PX)
            hatch.append(_falling(week * WEEK_PX, zero, deep))
            frame.append(f"M{week * WEEK_PX:g} {zero + deep:.1f}h{WEEK_PX:g}")
    canvas.line((0, zero), (canvas.width, zero), Pen(0.8))
    now, white, ink = canvas.colour(NOW), canvas.colour(PAPER), canvas.colour(INK)
    for path, look in (
        (solid, ""),
        (outline, f'fill="{white}" stroke="{ink}" stroke-width="0.8"'),
        (hatch, f'stroke="{now}" stroke-width="1.5"'),
        (frame, f'stroke="{now}" stroke-width="0.8"'),
    ):  # fmt: skip
        if path:
            canvas.raw(f'<path d="{"".join(path)}" {look}/>')
    return canvas.picture(_told(weeks, first_day), "")


def _falling(x: float, top: float, deep: float) -> str:
    """Hatch one week's shortage with strokes that fall to the right, in step with its neighbours.

    Strokes lie where x − y is a multiple of their distance, so that they run on from week to week.
    """
    right, foot, marks = x + WEEK_PX, top + deep, []
    first = int((x - foot) // _HATCH_PX)
    last = int((right - top) // _HATCH_PX) + 1
    for number in range(first, last + 1):
        offset = number * _HATCH_PX
        start, end = max(x, top + offset), min(right, foot + offset)
        if end - start > 0.2:  # noqa: PLR2004 - shorter is a speck
            marks.append(f"M{start:.1f} {start - offset:.1f}L{end:.1f} {end - offset:.1f}")
    return "".join(marks)


def _told(weeks: Sequence[tuple[float, float, float]], first_day: date | None) -> str:
    parts = []
    for words, number in (("Fresh", 0), ("from store", 1), ("short", 2)):
        there = [week for week, figures in enumerate(weeks) if figures[number] > _NOTHING_KG]
        if there:
            parts.append(f"{words} {_weeks_text(there, first_day)}")
    text = "; ".join(parts) or "Nothing wanted"
    return capital(text)


def _weeks_text(there: Sequence[int], first_day: date | None) -> str:
    if first_day is None:
        return "1 week" if len(there) == 1 else f"{len(there)} weeks"
    runs = []
    for _, group in groupby(enumerate(there), key=lambda pair: pair[1] - pair[0]):
        run = [week for _, week in group]
        start, end = (first_day + timedelta(days=7 * week + 3) for week in (run[0], run[-1]))
        first, last = short_month(start.month), short_month(end.month)
        same = (start.year, start.month) == (end.year, end.month)
        runs.append(first if same else f"{first} to {last}")
    return ", ".join(dict.fromkeys(runs))


def spark_axis(first_day: date, weeks: int = 52) -> str:
    """Draw the edge of time that stands at the head of a column of sparklines."""
    axis = TimeAxis(first_day, weeks, 0.0, weeks * WEEK_PX)
    canvas = PageCanvas("spark-axis", axis.right, 20)
    canvas.rectangle((0, 15), axis.right, 4, Pen(0.8, fill=PAPER))
    black = [
        f"M{week * WEEK_PX:g} 15h{WEEK_PX:g}v4h-{WEEK_PX:g}z"
        for week in range(weeks)
        if (first_day + timedelta(weeks=week)).isocalendar().week % 2 == 0
    ]
    canvas.raw(f'<path d="{"".join(black)}"/>')
    for month, start, end in axis.months():
        if month >= first_day:
            canvas.line((start, 5), (start, 15), Pen(0.8))
        if end - start >= 2 * WEEK_PX:
            canvas.text((start + 3, 12), short_month(month.month)[0], Style(Face.STRONG, 10.5))
    return canvas.hidden()


def tally(years_in_ten: float | None) -> str:
    """Draw ten strokes, as many tall as there are years in ten in which it holds.

    None where nobody can say, which is drawn as a dash and told.

    Raises
    ------
    ValueError
        If there are fewer than 0 or more than 10.
    """
    canvas = PageCanvas("tally", 52, 16)
    if years_in_ten is None:
        canvas.line((0, 12), (10, 12), Pen(1.4))
        return canvas.picture("not known", "")
    if not 0 <= years_in_ten <= _YEARS:
        message = f"Of ten years it cannot hold in {years_in_ten}."
        raise ValueError(message)
    tall = round(years_in_ten)
    for year in range(_YEARS):
        x = 1.5 + 5 * year
        if year < tall:
            canvas.line((x, 2), (x, 14), Pen(2.2))
        else:
            canvas.line((x, 12), (x, 14), Pen(1.2))
    return canvas.picture(f"{tall} years in 10" if tall != 1 else "1 year in 10", "")
