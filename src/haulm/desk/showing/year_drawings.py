"""What the Year page draws: the strips of all beds, an opened planting, the key to their marks."""

from collections.abc import Mapping
from dataclasses import dataclass

from haulm.desk.planning.differences import by_line, weeks_of
from haulm.plan.records import Plan
from haulm.sheets.bundle import SheetBundle
from haulm.sheets.draw.canvas import INK, PAPER, Pen
from haulm.sheets.draw.hatches import Hatch
from haulm.sheets.page.drawing import RIPE, ChartTable, PageCanvas
from haulm.sheets.page.fold_out import fold_out, fold_out_rows
from haulm.sheets.page.strips import CHART, StripParts, strip_parts
from haulm.sheets.page.view import NAMES_PX, USUAL_M2_PX, Change, YearView, axis_of, scale_for
from haulm.sheets.strip_names import to_dig_in
from haulm.sheets.wording import main_expects, main_ready

__all__ = [
    "NAMES_PX",
    "WEEK_PX",
    "Change",
    "ChartTable",
    "LineSum",
    "Opened",
    "StripParts",
    "families_in",
    "key_marks",
    "line_sums",
    "main_expects",
    "main_ready",
    "now_px",
    "opened",
    "strips",
]

WEEK_PX = YearView().week_px
"""How long a week is on the strips [px]."""
_WIDE, _HIGH = 28.0, 16.0
_MOST_HIGH_PX, _USUAL_HIGH_PX = 4000.0, 720.0


@dataclass(frozen=True, slots=True)
class Opened:
    """An opened planting's dates on the axis of the strips, and the same as a table."""

    drawing: str
    table: ChartTable


@dataclass(frozen=True, slots=True)
class LineSum:
    """One line of the table, added up before and after [kg].

    What is not on a plan's table is None there, not nothing.
    """

    line: str
    wanted_before_kg: float | None
    wanted_kg: float | None
    short_before_kg: float | None
    short_kg: float | None


def strips(
    bundle: SheetBundle,
    prefix: str,
    chosen: str | None = None,
    changed: Mapping[str, Change] | None = None,
    height_px: float | None = None,
) -> StripParts:
    """Draw the strips of all beds through all weeks of the plan.

    Parameters
    ----------
    bundle
        The plan.
    prefix
        What stands before a planting's id in the address of its patch.
    chosen
        The planting that is opened.
    changed
        What a proposed plan does, by planting id.
    height_px
        The room the strips may take on a window, which their scale follows; None where it is not
        known [px].
    """
    return strip_parts(bundle, _view(bundle, prefix, chosen, changed, height_px))


def now_px(bundle: SheetBundle) -> int | None:
    """Say how far from the field's left edge today lies; None where it is not among the weeks."""
    axis = axis_of(bundle, _view(bundle, "", None))
    seen = axis.first_day <= bundle.printed_on < axis.end_day
    return round(axis.x(bundle.printed_on)) if seen else None


def opened(bundle: SheetBundle, planting_id: str) -> Opened:
    """Draw what is opened of a planting: its dates with their odds, and its bed's free ground.

    Raises
    ------
    LabelsDifferError
        If the plan has no planting of that id.
    """
    view = _view(bundle, "", planting_id)
    return Opened(fold_out(bundle, planting_id, view), fold_out_rows(bundle, planting_id))


def key_marks(bundle: SheetBundle) -> dict[str, str]:
    """Draw each mark that the strips of a plan use, by what it stands for.

    The hatches are those that the head of the strips carries: it has to stand on the page.
    """
    marks = {"growing": _swatch(Pen(0.9, Hatch.GROWING)), "ready": _ripe()}
    if any(to_dig_in(bundle, planting) for planting in bundle.plan.plantings):
        marks["dig"] = _swatch(Pen(0.9, Hatch.DIG))
    if bundle.closures:
        marks["closed"] = _swatch(Pen(0.9, Hatch.CLOSED))
    marks |= {"sown": _ring(PAPER), "set out": _ring(INK)}
    if any(planting.standing for planting in bundle.plan.plantings):
        marks["stands"] = _line(((14, 0), (14, _HIGH)), Pen(2.6))
    if any(planting.under_cover for planting in bundle.plan.plantings):
        marks["cover"] = _cover()
    marks["weather"] = _line(((6, 0), (22, _HIGH)), Pen(0.9))
    return marks


def families_in(bundle: SheetBundle) -> tuple[tuple[str, str], ...]:
    """Give the two letters and the name of every family that is planted, in order of letters."""
    families = (bundle.family_of(planting) for planting in bundle.plan.plantings)
    return tuple(sorted({(family.mark, family.name.lower()) for family in families}))


def line_sums(before: Plan, after: Plan) -> tuple[LineSum, ...]:
    """Add up what each line of the table wants and lacks, before and after, by the line's id.

    Only the weeks that both plans hold are added, so that the sums compare.
    """
    shared = weeks_of(before) & weeks_of(after)
    wanted_before, short_before = by_line(before, shared)
    wanted, short = by_line(after, shared)
    return tuple(
        LineSum(
            line, wanted_before.get(line), wanted.get(line), short_before.get(line), short.get(line)
        )
        for line in dict.fromkeys([*wanted, *wanted_before])
    )


def _view(
    bundle: SheetBundle,
    prefix: str,
    chosen: str | None,
    changed: Mapping[str, Change] | None = None,
    height_px: float | None = None,
) -> YearView:
    height = _USUAL_HIGH_PX if height_px is None else height_px
    # A low window scrolls rather than shrink the names of patches to letters.
    scale = max(USUAL_M2_PX, scale_for(bundle, min(_MOST_HIGH_PX, max(_USUAL_HIGH_PX, height))))
    return YearView(
        weeks=bundle.plan.horizon.weeks,
        m2_px=scale,
        prefix=prefix,
        chosen=chosen,
        changed=changed or {},
    )


def _swatch(pen: Pen) -> str:
    canvas = PageCanvas(CHART, _WIDE, _HIGH)
    canvas.rectangle((0.5, 0.5), _WIDE - 1, _HIGH - 1, pen)
    return canvas.hidden()


def _ripe() -> str:
    canvas = PageCanvas(CHART, _WIDE, _HIGH)
    canvas.rectangle((0.5, 0.5), _WIDE - 1, _HIGH - 1, Pen(0, fill=RIPE))
    corners = ((0.5, 0.5), (_WIDE - 0.5, 0.5), (_WIDE - 0.5, _HIGH - 0.5), (0.5, _HIGH - 0.5))
    canvas.polygon(corners, Pen(0.9, Hatch.READY), bare=True)
    return canvas.hidden()


def _ring(fill: str) -> str:
    canvas = PageCanvas(CHART, 10, _HIGH)
    canvas.circle((5, _HIGH / 2), 3.2, Pen(1, fill=fill))
    return canvas.hidden()


def _line(ends: tuple[tuple[float, float], tuple[float, float]], pen: Pen) -> str:
    canvas = PageCanvas(CHART, _WIDE, _HIGH)
    canvas.line(*ends, pen)
    return canvas.hidden()


def _cover() -> str:
    canvas = PageCanvas(CHART, _WIDE, _HIGH)
    canvas.rectangle((0.5, 0.5), _WIDE - 1, _HIGH - 1, Pen(0.9, fill=PAPER))
    canvas.line((0.5, 2.9), (_WIDE - 0.5, 2.9), Pen(0.8))
    return canvas.hidden()
