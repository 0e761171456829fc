"""How a page looks at a plan: which weeks, at what scale, which planting is chosen."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from haulm.sheets.bundle import SheetBundle
from haulm.sheets.draw.time_axis import TimeAxis

LAPTOP_WEEKS, NARROW_WEEKS = 78, 52
NAMES_PX = 144.0
USUAL_M2_PX, MOST_M2_PX, LEAST_M2_PX = 2.75, 12.0, 1.0
BAND_PAD_PX, LEAST_ROW_PX = 4.0, 32.0
HEAD_PX, FOOT_PX = 88.0, 40.0


class Change(StrEnum):
    """What a proposed plan does to a planting: makes it, drops it, or moves or resizes it."""

    NEW = "new"
    GONE = "gone"
    CHANGED = "changed"


@dataclass(frozen=True, slots=True)
class YearView:
    """How the time charts of a page are seen; the same view lays them on one axis.

    Attributes
    ----------
    first_week, weeks
        The weeks shown, counted from the plan's first; those beyond its end are left out.
    week_px
        How long a week is [px].
    m2_px
        How tall a square metre is on the strips [px/m²].
    prefix
        What stands before a planting's id in the address of its patch; the id is quoted as in a
        URL.
    chosen
        The planting that is opened; None for none.
    changed
        What a proposed plan does, by planting id.
    """

    first_week: int = 0
    weeks: int = LAPTOP_WEEKS
    week_px: float = 16.0
    m2_px: float = USUAL_M2_PX
    prefix: str = "#"
    chosen: str | None = None
    changed: Mapping[str, Change] = field(default_factory=dict)


def axis_of(bundle: SheetBundle, view: YearView) -> TimeAxis:
    """Lay a view's weeks along a field that starts at 0 [px]."""
    horizon = bundle.plan.horizon
    first = min(max(view.first_week, 0), horizon.weeks - 1)
    weeks = max(1, min(view.weeks, horizon.weeks - first))
    return TimeAxis(horizon.monday(first), weeks, 0.0, weeks * view.week_px)


def row_height_px(area_m2: float, view: YearView) -> float:
    """Give the height of a bed's row: its band, whites, on the grid of 4 [px]."""
    needs = area_m2 * view.m2_px + 2 * BAND_PAD_PX
    return max(LEAST_ROW_PX, 4.0 * -(-needs // 4))


def scale_for(bundle: SheetBundle, height_px: float) -> float:
    """Give the largest scale at which all beds fit a height, head and foot counted [px/m²].

    Held between 1 and 12: a smaller one could not be read, a larger one tells no more.
    """
    scale = MOST_M2_PX
    areas = [bed.outline.area_m2 for bed in bundle.beds]
    room = height_px - HEAD_PX - FOOT_PX
    while scale > LEAST_M2_PX:
        if sum(row_height_px(area, YearView(m2_px=scale)) for area in areas) <= room:
            return scale
        scale = round(scale - 0.25, 2)
    return LEAST_M2_PX
