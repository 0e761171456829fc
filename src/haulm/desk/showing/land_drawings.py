"""What the page of land shows: the chart of what so much ground feeds, with its table."""

from dataclasses import dataclass

from haulm.desk.sizing.land import Land
from haulm.sheets.page.drawing import ChartTable
from haulm.sheets.page.land import ENOUGH, GroundStep, land_chart, land_rows

WIDTH_PX, PHONE_WIDTH_PX = 720.0, 328.0


@dataclass(frozen=True, slots=True)
class LandChart:
    """The chart as SVG, drawn wide and for a phone, with the table behind it."""

    drawn: str
    narrow: str
    table: ChartTable


def drawn_land(land: Land) -> LandChart:
    """Draw what so much ground feeds, what comes in when, and where the garden's own beds lie."""
    steps = tuple(
        GroundStep(step.open_m2, step.share_kg, come, called(step.open_m2, land))
        for step, come in zip(land.steps, land.comes_in, strict=True)
    )
    wide, narrow = (
        land_chart(steps, land.units, width_px) for width_px in (WIDTH_PX, PHONE_WIDTH_PX)
    )
    return LandChart(wide, narrow, land_rows(steps, land.units))


def called(open_m2: float, land: Land) -> str:
    """Name a step: enough, or the garden's own beds; empty for an ordinary one."""
    if open_m2 == land.enough.open_m2:
        return ENOUGH
    return "your beds" if open_m2 == land.own_m2 else ""
