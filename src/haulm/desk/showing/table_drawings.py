"""What the table's page draws: each line's year as small weeks, and the edge of time over them."""

from datetime import date, timedelta
from itertools import groupby

from haulm.desk.table.table_sums import TableRow, TableYear
from haulm.measure.day_words import span_text
from haulm.measure.units import FOOT_M
from haulm.sheets.draw.canvas import Pen
from haulm.sheets.page.drawing import PageCanvas
from haulm.sheets.page.sparks import WEEK_PX, spark_axis, sparkline
from haulm.sheets.wording import shown_a_kg, weight_unit

_HEIGHT_PX, _LINE_PX, _BAR_PX = 32.0, 21.0, 8.0


def year_axis(year: TableYear) -> str:
    """Draw the edge of time at the head of the column of weeks."""
    return spark_axis(year.weeks.first_day, year.weeks.weeks)


def year_of(row: TableRow, year: TableYear) -> str:
    """Draw a line's year: what the plan brings it, or without a plan when it is wanted."""
    first_day = year.weeks.first_day
    if row.brought is None:
        return _wanted(row.wanted, first_day)
    return sparkline(row.brought.fresh, row.brought.stored, row.brought.short, first_day)


def _wanted(weeks_kg: tuple[float, ...], first_day: date) -> str:
    """Draw the weeks of a year in which a line is wanted, as bars of outline."""
    canvas = PageCanvas("spark", WEEK_PX * len(weeks_kg), _HEIGHT_PX)
    spans, at = [], 0
    for wanted, weeks in groupby(weeks_kg, key=lambda kg: kg > 0):
        length = len(list(weeks))
        if wanted:
            corner = (at * WEEK_PX + 0.5, _LINE_PX - _BAR_PX)
            canvas.rectangle(corner, length * WEEK_PX - 1, _BAR_PX, Pen(0.8, dash="2 2"))
            first = first_day + timedelta(weeks=at)
            spans.append(span_text(first, first + timedelta(weeks=length, days=-1)))
        at += length
    canvas.line((0, _LINE_PX), (canvas.width, _LINE_PX), Pen(0.8))
    told = "Wanted " + ", ".join(spans) if spans else "Not wanted"
    return canvas.picture(told, "")


def shown_weight(kg: float, units: str) -> float:
    """Give a weight in the unit of its column."""
    return kg * shown_a_kg(units)


def shown_area(area_m2: float, units: str) -> float:
    """Give an area in the unit of its column."""
    return area_m2 / FOOT_M**2 if units == "us" else area_m2


def column_units(units: str) -> tuple[str, str]:
    """Name the units of the columns of weight and of ground."""
    return weight_unit(units), "sq ft" if units == "us" else "m²"
