"""One bed's row: patches as links, hatched and sloped, and their names over today's line."""

from dataclasses import dataclass
from urllib.parse import quote

from haulm.ground.records import Bed
from haulm.measure.day_words import long_day, long_span
from haulm.plan.records import Planting
from haulm.sheets.bundle import SheetBundle
from haulm.sheets.draw.canvas import INK, PAPER, Pen
from haulm.sheets.draw.hatches import Hatch
from haulm.sheets.draw.labels import ON_PAGE, Box, Line, name_lines
from haulm.sheets.draw.time_axis import TimeAxis
from haulm.sheets.draw.type import Face, Style, width_of
from haulm.sheets.page.drawing import RIPE, PageCanvas
from haulm.sheets.page.letters import Listing, listing_in
from haulm.sheets.page.time_edge import draw_month_lines, draw_now
from haulm.sheets.page.view import BAND_PAD_PX, Change, YearView, row_height_px
from haulm.sheets.strip_names import (
    LETTERS,
    Band,
    Run,
    box_of,
    detail_of,
    meet,
    pick_spans,
    run_of,
    to_dig_in,
)
from haulm.sheets.wording import area_text, from_trays, main_ready

_LETTER = Style(Face.NARROW_STRONG, 11, halo=3)
# How far a letter keeps from other texts: beside them, and from base line to base line [px].
_CLEAR = (3.0, 9.0)
_CHANGE_WORDS = {
    Change.NEW: "proposed new",
    Change.GONE: "proposed to go",
    Change.CHANGED: "proposed to change",
}


@dataclass(frozen=True, slots=True)
class Patch:
    """A planting as a row shows it: its boxes, the largest first, and its name or its letter."""

    planting: Planting
    boxes: tuple[Box, ...]
    lines: tuple[Line, ...]
    letter: str


@dataclass(frozen=True, slots=True)
class Row:
    """One bed's row [px]: its band, its patches in order of date, and what their letters mean."""

    bed: Bed
    band: Band
    height: float
    patches: tuple[Patch, ...]
    listing: Listing
    letters: tuple[tuple[str, str], ...]


def row_of(bundle: SheetBundle, axis: TimeAxis, view: YearView, bed: Bed) -> Row:
    """Set out one bed's row; letters that find no white in the band make the row higher."""
    height = row_height_px(bed.outline.area_m2, view)
    band = Band(bed, 0, BAND_PAD_PX, bed.outline.area_m2 * view.m2_px)
    letters = iter(LETTERS)
    patches: list[Patch] = []
    for planting in bundle.plantings_in(bed.id):
        boxes = _boxes(bundle, axis, band, planting)
        if boxes:
            name, detail = bundle.crop_name(planting), detail_of(bundle, planting)
            lines = name_lines(boxes[0], name, detail, ON_PAGE)
            patches.append(Patch(planting, boxes, lines, "" if lines else next(letters)))
    small = [patch for patch in patches if patch.letter]
    told = tuple(
        (
            patch.letter,
            f"{bundle.crop_name(patch.planting)} {detail_of(bundle, patch.planting)}".strip(),
        )
        for patch in small
    )
    everything = [box for patch in patches for box in patch.boxes]
    listing = listing_in(told, everything, band, axis.right)
    return Row(bed, band, height + listing.below_px, tuple(patches), listing, told)


def _boxes(bundle: SheetBundle, axis: TimeAxis, band: Band, planting: Planting) -> tuple[Box, ...]:
    pieces = bundle.layout_of(planting).pieces
    boxes = [box for piece in pieces if (box := box_of(axis, band, planting, piece)) is not None]
    return tuple(sorted(boxes, key=lambda box: -box.width * box.height))


def draw_row(
    bundle: SheetBundle, canvas: PageCanvas, axis: TimeAxis, view: YearView, row: Row
) -> None:
    """Draw a row's patches, each a link, then the year's line, today, and the names over all."""
    for patch in row.patches:
        change = view.changed.get(patch.planting.id)
        names = f"patch {change}" if change else "patch"
        href = f"{view.prefix}{quote(patch.planting.id, safe='')}"
        canvas.open_link(href, patch_label(bundle, patch.planting, change), names)
        for box in patch.boxes:
            _draw_box(bundle, canvas, axis, patch.planting, box)
            _draw_change(canvas, box, change)
        canvas.close_link()
    draw_month_lines(canvas, axis, (0, row.height), years=True)
    draw_now(canvas, axis, bundle.printed_on, (0, row.height))
    canvas.open_group('pointer-events="none" aria-hidden="true"')
    # Over its neighbours' edges, so that the frame is whole.
    for box in (
        one for patch in row.patches if patch.planting.id == view.chosen for one in patch.boxes
    ):
        canvas.rectangle((box.x, box.y), box.width, box.height, Pen(3))
    taken = [run_of(*line) for patch in row.patches if not patch.letter for line in patch.lines]
    for patch in row.patches:
        if patch.letter:
            _draw_letter(canvas, patch, taken)
        else:
            gone = view.changed.get(patch.planting.id) == Change.GONE
            _draw_name(bundle, canvas, patch, gone=gone)
    row.listing.draw(canvas)
    canvas.close_group()


def patch_label(bundle: SheetBundle, planting: Planting, change: Change | None = None) -> str:
    """Say in full what a patch is: its name, bed, ground, when it starts and is ready."""
    if planting.standing and not planting.in_trays:
        start = f"standing since {long_day(planting.in_ground_from)}"
    elif from_trays(planting):
        start = f"set out {long_day(planting.in_ground_from)}"
    else:
        verb = "sown" if planting.stock_unit == "seed" else "planted"
        start = f"{verb} {long_day(planting.in_ground_from)}"
    ready = main_ready(planting)
    if to_dig_in(bundle, planting):
        end = f"dug in {long_day(planting.clear_by)}"
    elif bundle.stays(planting):
        end = "stays for years"
    elif ready is not None:
        end = f"ready {long_span(ready.early, ready.late)}"
    else:
        end = f"ground free {long_day(planting.clear_by)}"
    parts = [
        bundle.full_name(planting),
        bundle.bed(planting.bed).name,
        area_text(planting.area_m2, bundle.units),
        start,
        end,
    ]
    if change is not None:
        parts.append(_CHANGE_WORDS[change])
    return ", ".join(parts)


def _draw_box(
    bundle: SheetBundle, canvas: PageCanvas, axis: TimeAxis, planting: Planting, box: Box
) -> None:
    foot, right = box.y + box.height, box.x + box.width
    ground = Hatch.DIG if to_dig_in(bundle, planting) else Hatch.GROWING
    canvas.rectangle((box.x, box.y), box.width, box.height, Pen(0.9, ground))
    ready = main_ready(planting)
    if bundle.stays(planting):
        for left, end in pick_spans(bundle, axis, planting):
            canvas.rectangle((left, box.y), end - left, box.height, Pen(0, fill=PAPER))
            canvas.rectangle((left, box.y), end - left, box.height, Pen(0, fill=RIPE))
            canvas.rectangle((left, box.y), end - left, box.height, Pen(0.9, Hatch.READY))
    elif ready is not None and ready.early < planting.clear_by:
        early = max(box.x, min(right, axis.open_x(ready.early)))
        late = max(box.x, min(right, axis.open_x(ready.late)))
        if early < right:
            corners = ((early, box.y), (right, box.y), (right, foot), (late, foot))
            canvas.polygon(corners, Pen(0, fill=PAPER))
            canvas.polygon(corners, Pen(0, fill=RIPE))
            canvas.polygon(corners, Pen(0.9, Hatch.READY), bare=True)
    if planting.under_cover:
        canvas.line((box.x, box.y + 2.4), (right, box.y + 2.4), Pen(0.8))
    if planting.in_ground_from >= axis.first_day:
        if planting.standing and not planting.in_trays:
            canvas.line((box.x, box.y), (box.x, foot), Pen(2.6))
        fill = INK if from_trays(planting) else PAPER
        canvas.circle((box.x, box.y + min(3, box.height / 2)), 2.4, Pen(1, fill=fill))


def _draw_change(canvas: PageCanvas, box: Box, change: Change | None) -> None:
    """Frame what is proposed, and cross what is to go; the first frame is for focus."""
    inner = ((box.x + 1.5, box.y + 1.5), max(1, box.width - 3), max(1, box.height - 3))
    canvas.frame(*inner)
    if change == Change.NEW:
        canvas.rectangle(*inner, Pen(2.2, dash="6 4"))
    elif change == Change.CHANGED:
        canvas.rectangle(*inner, Pen(2.2, dash="2 3"))
    elif change == Change.GONE:
        foot, right = box.y + box.height, box.x + box.width
        canvas.line((box.x, box.y), (right, foot), Pen(1.6))
        canvas.line((box.x, foot), (right, box.y), Pen(1.6))


def _draw_letter(canvas: PageCanvas, patch: Patch, taken: list[Run]) -> None:
    """Write a letter where along its low patch it stands clear of other texts, first at its start.

    Where the patch has no such place, the letter stands where the fewest texts are met.
    """
    box = patch.boxes[0]
    base = box.y + box.height / 2 + 4
    last = max(box.x + 2, box.x + box.width - 8)
    width = width_of(patch.letter, _LETTER.face, _LETTER.size)
    near = [run for run in taken if abs(run[2] - base) < _CLEAR[1]]
    best, fewest = min(box.x + 6, last), len(near) + 1
    for step in range(6, max(7, int(box.width)), 8):
        x = min(box.x + step, last)
        meetings = sum(meet((x, x + width, base), other, _CLEAR) for other in near)
        if meetings < fewest:
            best, fewest = x, meetings
        if not meetings:
            break
    taken.append((best, best + width, base))
    canvas.text((best, base), patch.letter, _LETTER)


def _draw_name(bundle: SheetBundle, canvas: PageCanvas, patch: Patch, *, gone: bool) -> None:
    box = patch.boxes[0]
    if gone:
        canvas.open_group('text-decoration="line-through"')
    canvas.plate(*patch.lines)
    for at, words, style in patch.lines:
        canvas.text(at, words, style)
    if gone:
        canvas.close_group()
    mark = bundle.family_of(patch.planting).mark
    style = Style(Face.NAME_LEANING, 12, anchor="end", halo=3)
    right, foot = box.x + box.width - 4, box.y + box.height - 4
    taken = max(at[0] + width_of(words, one.face, one.size) for at, words, one in patch.lines)
    if box.width > 56 and box.height > 27 and taken + 24 < right:  # noqa: PLR2004 - room beside
        canvas.text((right, foot), mark, style)
