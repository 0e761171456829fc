"""A small plan of one bed to scale, with what stands in it on a day."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from itertools import combinations, product

from haulm.ground.records import Bed
from haulm.measure.day_words import day_text
from haulm.plan.records import Planting
from haulm.planting.records import Piece
from haulm.sheets.bed_drawing import holds
from haulm.sheets.bundle import SheetBundle
from haulm.sheets.draw.canvas import PAPER, Pen, Point
from haulm.sheets.draw.hatches import Hatch
from haulm.sheets.draw.labels import ON_PAGE, Box, name_lines
from haulm.sheets.draw.type import Face, Style, width_of
from haulm.sheets.page.drawing import RIPE, PageCanvas
from haulm.sheets.strip_names import LETTERS, to_dig_in
from haulm.sheets.wording import area_text, length_text, main_ready

_MARGIN = 24.0
_LEAST_PX = 40.0
_MOST_LINES, _FEW_LINES, _HALVES = 9, 4, 6


@dataclass(frozen=True, slots=True)
class PlanScale:
    """How a bed is laid on a page: pixels to a metre, and the drawing's size [px]."""

    px_m: float
    width: float
    height: float

    def at(self, point_m: Point) -> Point:
        """Give where a point of the bed lies; north is up."""
        x, y = point_m
        return _MARGIN + x * self.px_m, self.height - _MARGIN - y * self.px_m


def page_bed_plan(
    bundle: SheetBundle, bed_id: str, day: date, most_px: tuple[float, float] = (320.0, 240.0)
) -> str:
    """Draw a bed to scale with the patches that stand in it on a day.

    Parameters
    ----------
    bundle
        The plan and its layouts.
    bed_id
        Which bed.
    day
        The day.
    most_px
        The greatest width and height of the drawing, its margins counted [px].

    Raises
    ------
    LabelsDifferError
        If no bed has that id, or a planting of it has no layout.
    """
    bed = bundle.bed(bed_id)
    scale = _scale(bed, most_px)
    canvas = PageCanvas(f"plan-{bed.id}", scale.width, scale.height)
    canvas.polygon([scale.at(corner) for corner in bed.outline.corners_m], Pen(0, fill=PAPER))
    standing = [
        planting
        for planting in bundle.plantings_in(bed_id)
        if planting.in_ground_from <= day < planting.clear_by
    ]
    for planting in standing:
        for piece in bundle.layout_of(planting).pieces:
            _draw_piece(bundle, canvas, scale, (planting, piece), day)
    canvas.polygon([scale.at(corner) for corner in bed.outline.corners_m], Pen(2))
    letters = _name_pieces(bundle, canvas, scale, standing)
    _draw_measures(bundle, canvas, scale, bed)
    area = area_text(bed.outline.area_m2, bundle.units)
    title = f"Plan of {bed.name}, {area}, on {day_text(day, year=True)}"
    stands = [
        f"{bundle.full_name(one)}, {area_text(one.area_m2, bundle.units)}" for one in standing
    ]
    told = f"{'; '.join(stands) or 'Nothing stands in it'}."
    told += "".join(f" {letter}: {words}." for letter, words in letters)
    return canvas.picture(title, told, (Hatch.GROWING, Hatch.READY, Hatch.DIG))


def _scale(bed: Bed, most_px: tuple[float, float]) -> PlanScale:
    width_m = max(x for x, _ in bed.outline.corners_m)
    height_m = max(y for _, y in bed.outline.corners_m)
    room = (max(side - 2 * _MARGIN, _LEAST_PX) for side in most_px)
    px_m = min(side / metres for side, metres in zip(room, (width_m, height_m), strict=True))
    return PlanScale(px_m, width_m * px_m + 2 * _MARGIN, height_m * px_m + 2 * _MARGIN)


def _draw_piece(
    bundle: SheetBundle,
    canvas: PageCanvas,
    scale: PlanScale,
    patch: tuple[Planting, Piece],
    day: date,
) -> None:
    planting, piece = patch
    corners = [scale.at(corner) for corner in piece.corners_m]
    ready = main_ready(planting)
    canvas.polygon(corners, Pen(0, fill=PAPER))
    if to_dig_in(bundle, planting):
        canvas.polygon(corners, Pen(0.9, Hatch.DIG), bare=True)
    elif ready is not None and day >= ready.middle:
        canvas.polygon(corners, Pen(0, fill=RIPE))
        canvas.polygon(corners, Pen(0.9, Hatch.READY), bare=True)
    else:
        canvas.polygon(corners, Pen(0.9, Hatch.GROWING), bare=True)


def _name_pieces(
    bundle: SheetBundle, canvas: PageCanvas, scale: PlanScale, standing: list[Planting]
) -> list[tuple[str, str]]:
    """Name each patch on its largest piece; one too small for its name has a letter."""
    letters, told = iter(LETTERS), []
    for planting in standing:
        pieces = bundle.layout_of(planting).pieces
        box = max((_box(scale, piece) for piece in pieces), key=lambda one: one.width * one.height)
        area = area_text(planting.area_m2, bundle.units)
        lines = name_lines(box, bundle.crop_name(planting), area, ON_PAGE)
        if not lines:
            letter = next(letters)
            told.append((letter, bundle.full_name(planting)))
            style = Style(Face.NARROW_STRONG, 11, anchor="middle", halo=3)
            canvas.text((box.x + box.width / 2, box.y + box.height / 2 + 4), letter, style)
            continue
        canvas.plate(*lines)
        for at, words, style in lines:
            canvas.text(at, words, style)
    return told


def _box(scale: PlanScale, piece: Piece) -> Box:
    """Give the largest upright box inside a piece whose sides lie on its corners' lines."""
    corners = [scale.at(corner) for corner in piece.corners_m]
    xs, ys = _lines([x for x, _ in corners]), _lines([y for _, y in corners])
    best = Box(xs[0], ys[0], 0.0, 0.0)
    for (left, right), (top, foot) in product(combinations(xs, 2), combinations(ys, 2)):
        larger = (right - left) * (foot - top) > best.width * best.height
        if larger and _inside(corners, left, right, top, foot):
            best = Box(left, top, right - left, foot - top)
    return best


def _lines(values: Sequence[float]) -> list[float]:
    """Give the lines a box may lie on: the corners', thinned out on a round bed, and halves."""
    there = sorted({round(value, 2) for value in values})
    some = there[:: max(1, len(there) // _MOST_LINES)]
    some = [*some, there[-1]] if some[-1] != there[-1] else some
    if len(some) <= _FEW_LINES:
        step = (some[-1] - some[0]) / _HALVES
        some = sorted({*some, *(round(some[0] + step * part, 2) for part in range(_HALVES + 1))})
    return some


def _inside(corners: Sequence[Point], left: float, right: float, top: float, foot: float) -> bool:
    """Whether a box lies inside an outline, looked at along its edges a little within."""
    xs = [left + 0.5 + (right - left - 1) * part / 4 for part in range(5)]
    ys = [top + 0.5 + (foot - top - 1) * part / 4 for part in range(5)]
    edge = [(x, y) for x in xs for y in (ys[0], ys[-1])]
    edge += [(x, y) for y in ys for x in (xs[0], xs[-1])]
    return all(holds(corners, point) for point in edge)


def _draw_measures(bundle: SheetBundle, canvas: PageCanvas, scale: PlanScale, bed: Bed) -> None:
    """Write the bed's width under its base and its depth at its west side; north is up."""
    width_m = max(x for x, _ in bed.outline.corners_m)
    height_m = max(y for _, y in bed.outline.corners_m)
    (left, foot), (right, top) = scale.at((0, 0)), scale.at((width_m, height_m))
    style = Style(Face.TEXT, 12, anchor="middle")
    canvas.text(((left + right) / 2, foot + 16), length_text(width_m, bundle.units), style)
    turned = Style(Face.TEXT, 12, anchor="middle", turn=-90)
    words = length_text(height_m, bundle.units)
    if width_of(words, Face.TEXT, 12) <= foot - top + 2 * _MARGIN:
        canvas.text((left - 8, (top + foot) / 2), words, turned)
