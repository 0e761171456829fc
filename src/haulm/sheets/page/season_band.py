"""A food's season: what was picked week by week beside what the plan had promised."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from haulm.measure.day_words import short_month
from haulm.sheets.draw.canvas import Pen
from haulm.sheets.draw.hatches import Hatch
from haulm.sheets.draw.time_axis import TimeAxis
from haulm.sheets.draw.type import Face, Style
from haulm.sheets.page.drawing import PageCanvas

WIDE_PX, HIGH_PX = 312.0, 132.0
_LEFT, _TOP, _FOOT, _GAP_PX = 4.0, 16.0, 96.0, 9.0
_NOTHING_KG = 0.005


@dataclass(frozen=True, slots=True)
class SeasonBand:
    """What a food's season was to be and what it was.

    Attributes
    ----------
    first_day
        The Monday of the first week.
    low_kg, high_kg
        What 8 seasons in 10 lie between, picked up to the end of each week [kg].
    planned_kg, picked_kg
        What the plan meant to have picked by then, and what was [kg]; None where nobody wrote.
    without
        The weeks in which a line that it serves went without, counted from the first.
    """

    first_day: date
    low_kg: Sequence[float]
    high_kg: Sequence[float]
    planned_kg: Sequence[float]
    picked_kg: Sequence[float] | None
    without: frozenset[int]


def season_band(name: str, band: SeasonBand, title: str, told: str) -> str:
    """Draw a food's season: the band promised hatched, the plan dashed, what came a thick line.

    Weeks in which a line that it serves went without stand beneath, in falling hatch. Nothing is
    told by colour alone.
    """
    canvas = PageCanvas(f"season-{name}", WIDE_PX, HIGH_PX)
    weeks = len(band.planned_kg)
    most = max(
        *band.high_kg, *band.planned_kg, *(band.picked_kg or (0.0,)), _NOTHING_KG
    )  # fmt: skip
    step = (WIDE_PX - 2 * _LEFT) / max(weeks, 1)

    def at(week: float, kg: float) -> tuple[float, float]:
        return _LEFT + step * week, _FOOT - (_FOOT - _TOP) * kg / most

    def steps(kg: Sequence[float]) -> list[tuple[float, float]]:
        return [at(0, 0.0), *(at(week + 1, each) for week, each in enumerate(kg))]

    hatches = []
    if max(band.high_kg, default=0.0) > _NOTHING_KG:
        canvas.polygon(
            [*steps(band.low_kg), *reversed(steps(band.high_kg))],
            Pen(0.5, fill=Hatch.GROWING),
        )
        hatches.append(Hatch.GROWING)
    canvas.polyline(steps(band.planned_kg), Pen(1.2, dash="5 3"))
    if band.picked_kg is not None:
        canvas.polyline(steps(band.picked_kg), Pen(2.6))
    canvas.line((_LEFT, _FOOT), (WIDE_PX - _LEFT, _FOOT), Pen(0.8))
    for week in sorted(band.without):
        if 0 <= week < weeks:
            canvas.rectangle(
                (_LEFT + step * week, _FOOT + 3), step, _GAP_PX, Pen(0.4, fill=Hatch.SHORT)
            )
            hatches.append(Hatch.SHORT)
    _months(canvas, band.first_day, weeks)
    return canvas.picture(title, told, dict.fromkeys(hatches))


def _months(canvas: PageCanvas, first_day: date, weeks: int) -> None:
    axis = TimeAxis(first_day, weeks, _LEFT, WIDE_PX - _LEFT)
    for month, start, end in axis.months():
        if end - start > 10:  # noqa: PLR2004 - room for a letter
            canvas.text((start + 2, HIGH_PX - 8), short_month(month.month)[0], Style(Face.TEXT, 11))
