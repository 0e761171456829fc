"""What the place's page shows: the climate as charts and figures, each with its table."""

from dataclasses import dataclass

from haulm.measure.units import Units
from haulm.notebook.garden import Garden
from haulm.sheets.page.drawing import ChartTable
from haulm.sheets.page.place import (
    day_length_chart,
    day_length_rows,
    rain_chart,
    rain_rows,
    rests_on,
    warmth_chart,
    warmth_rows,
)
from haulm.sheets.page.place_frost import frost_chart, frost_rows
from haulm.site.spread import Spread
from haulm.site.summary import SiteSummary

__all__ = ["PlaceChart", "degree_days", "place_charts", "rests_on"]

WIDTH_PX, PHONE_WIDTH_PX = 480.0, 328.0
FAHRENHEIT_A_CELSIUS = 9 / 5
"""Degrees of Fahrenheit in one of Celsius, as steps, not as temperatures [1]."""


@dataclass(frozen=True, slots=True)
class PlaceChart:
    """A chart as SVG, by its id, drawn wide and for a phone, with the table behind it."""

    id: str
    drawn: str
    narrow: str
    table: ChartTable


def place_charts(summary: SiteSummary, garden: Garden) -> tuple[PlaceChart, ...]:
    """Draw frost odds, warmth, rain and day length of a garden's place."""
    place, units = garden.place, garden.units
    frosts = (summary.frost, summary.hard_frost)
    drawn = [
        (
            frost_chart(frosts, place, units, width_px=width_px),
            warmth_chart(summary, place, units, width_px=width_px),
            rain_chart(summary, place, units, width_px=width_px),
            day_length_chart(summary, place, width_px=width_px),
        )
        for width_px in (WIDTH_PX, PHONE_WIDTH_PX)
    ]
    tables = (
        frost_rows(frosts, place, units),
        warmth_rows(summary, place, units),
        rain_rows(summary, place, units),
        day_length_rows(summary, place),
    )
    ids = ("frost", "warmth", "rain", "day-length")
    return tuple(PlaceChart(*chart) for chart in zip(ids, drawn[0], drawn[1], tables, strict=True))


def degree_days(sums: Spread, units: Units) -> Spread:
    """Give sums of warmth in the degrees that a garden is read in [°C d or °F d]."""
    size = FAHRENHEIT_A_CELSIUS if units == "us" else 1.0
    return Spread(sums.low * size, sums.middle * size, sums.high * size)
