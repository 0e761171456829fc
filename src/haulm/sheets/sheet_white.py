"""The white of a bed sheet: where tables and the reading key may stand beside the drawings."""

from collections.abc import Callable, Iterator

from haulm.sheets.bed_drawing import Ground, holds, scale_end
from haulm.sheets.measure_table import LEAST_HEIGHT_MM, LEAST_WIDTH_MM, Slot
from haulm.sheets.reading_key import LEAST_KEY_MM

MARGIN, TOP = 12.0, 33.0
GUTTER = 8.0
UNDER_BED_MM = 24.0
_WIDEST_TABLE_MM = 100.0
# Of what is drawn: the right end and the foot [mm].
_End = tuple[float, float]
Ways = Callable[[_End], Iterator[list[Slot]]]


def columns_below(y: float, width: float, foot: float) -> list[Slot]:
    """Give two columns from ``y`` down to the foot."""
    column = (width - 2 * MARGIN - GUTTER) / 2
    return [
        Slot(MARGIN + number * (column + GUTTER), y, column, foot - y)
        for number in range(2)
        if foot > y
    ]


def white_round_bed(ground: Ground, width: float, foot: float) -> list[Slot]:
    """Find the white round a bed: the empty corner or side of the drawing, then what is below."""
    corner = empty_corner(ground, width, LEAST_WIDTH_MM)
    below = ground.peg[1] + UNDER_BED_MM
    if corner is None or corner.height < LEAST_HEIGHT_MM:
        return columns_below(below, width, foot)
    if corner.x <= ground.right:
        return [corner, *columns_below(below, width, foot)]
    # White beside the whole drawing reaches down to the foot, and leaves one column below.
    column = Slot(MARGIN, below, corner.x - GUTTER - MARGIN, foot - below)
    side = Slot(corner.x, corner.y, corner.width, foot - corner.y)
    return [side, *([column] if column.width >= LEAST_KEY_MM and foot > below else [])]


def empty_corner(ground: Ground, width: float, least: float) -> Slot | None:
    """Find the widest empty rectangle in the drawing's upper right, out to the margin."""
    long, high = ground.size_m
    steps = 12
    found = []
    right = width - MARGIN
    for across in range(1, steps + 1):
        for up in range(steps):
            x, y = long * across / steps, high * up / steps
            if any(
                holds(ground.corners_m, (x + (long - x) * a / 7, y + (high - y) * b / 7))
                for a in range(1, 7)
                for b in range(1, 7)
            ):
                continue
            beyond = across == steps
            left = ground.at((x, 0))[0] + 8
            if beyond:
                left = max(ground.right + 20, scale_end(ground) + 8)
            foot = ground.peg[1] + UNDER_BED_MM - 4 if beyond else ground.at((0, y))[1] - 7
            found.append(Slot(left, TOP, min(right - left, _WIDEST_TABLE_MM), foot - TOP))
    fitting = [slot for slot in found if slot.width >= least]
    best = max(fitting, key=lambda slot: slot.height, default=None)
    # Ranged right, so that its figures end at the margin.
    return best and Slot(right - best.width, best.y, best.width, best.height)


def rooms_by_plan(plan: Slot, width: float, foot: float) -> list[tuple[Slot, Ways]]:
    """Offer room for details beside a small plan of the bed, and below it.

    Each room comes with the ways in which, once the end of the details is known, the white that is
    left can be shared out.
    """
    right = width - MARGIN
    edge, under = plan.x + plan.width + 4, plan.y + plan.height
    beside = Slot(edge, TOP, right - edge, foot - TOP)
    below = Slot(MARGIN, under, right - MARGIN, foot - under)

    def ways_beside(end: _End) -> Iterator[list[Slot]]:
        flank = _flank(end, TOP, right)
        base = max(end[1], under)
        hole = Slot(plan.x, under, plan.width, end[1] - under)
        yield [*flank, *columns_below(base, width, foot), hole]
        column = _ranged_right(Slot(edge, end[1], right - edge, foot - end[1]))
        yield [*flank, column, Slot(plan.x, under, plan.width, foot - under)]

    def ways_below(end: _End) -> Iterator[list[Slot]]:
        top = _ranged_right(Slot(edge + 4, TOP, right - edge - 4, plan.height - 4))
        yield [top, *_flank(end, under, right), *columns_below(end[1], width, foot)]

    return [(beside, ways_beside), (below, ways_below)]


def _flank(end: _End, top: float, right: float) -> list[Slot]:
    slot = Slot(end[0] + GUTTER, top, right - end[0] - GUTTER, end[1] - top)
    return [_ranged_right(slot)] if slot.width >= LEAST_KEY_MM else []


def _ranged_right(slot: Slot) -> Slot:
    width = min(slot.width, _WIDEST_TABLE_MM)
    return Slot(slot.x + slot.width - width, slot.y, width, slot.height)
