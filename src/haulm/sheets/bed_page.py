"""A bed sheet laid out: at which scale the bed stands, what is drawn larger, where tables go."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from haulm.sheets.bed_detail import (
    DETAIL_SCALES,
    Bedding,
    Frame,
    Window,
    frames_in,
    taken_by,
    windows_of,
)
from haulm.sheets.bed_drawing import Ground, scale_end
from haulm.sheets.bed_names import OlderName, place_older
from haulm.sheets.measure_table import Slot, TablePart, Wanted, flow
from haulm.sheets.reading_key import LEAST_KEY_MM, NO_KEY, Key, key_in, key_texts
from haulm.sheets.sheet_white import (
    MARGIN,
    TOP,
    UNDER_BED_MM,
    empty_corner,
    rooms_by_plan,
    white_round_bed,
)

# Past 1:100 a hole is hardly seen; the scales after it are for ground too long for that.
SCALES = (20, 25, 40, 50, 100, 150, 200, 500, 1000, 2000, 5000, 10000)
# A scale so near the largest may be taken instead, if it brings all measures on the sheet.
_NEAR = 2.0
_SMALLEST_BY_CHOICE = 100
# Up to this scale a bed is drawn once; beyond it new ground is drawn larger, if that is worth it.
_LARGE_ENOUGH, _WORTH = 40, 1.5
_LEFT_ROOM, _RIGHT_ROOM, _TOP_ROOM = 26.0, 14.0, 12.0
_PLAN_SCALES = (100, 150, 200, 250, 400, 500, 1000, 2000, 5000, 10000)
_PLAN_LONG_MM, _PLAN_HIGH_MM = 140.0, 100.0
# Of the scales that fit, those are tried at which the plan is no shorter than this.
_PLAN_LEAST_MM, _PLAN_LEAST_AT_NEED_MM = 36.0, 20.0


@dataclass(frozen=True, slots=True)
class Page:
    """A sheet laid out: the bed, parts of it drawn larger, tables, what found no room, the key.

    ``key`` is None where how to measure must be told and there is no room for it.
    """

    ground: Ground
    scale: int
    frames: tuple[Frame, ...]
    parts: list[TablePart]
    left: list[Wanted]
    key: Key | None
    older: list[OlderName]

    @property
    def whole(self) -> bool:
        """Whether all measures and all that must be told stand on the sheet."""
        return not self.left and self.key is not None

    @property
    def guided(self) -> bool:
        """Whether the sheet tells how to measure."""
        return bool(self.key and self.key.lines)


@dataclass(frozen=True, slots=True)
class Task:
    """What a sheet has to show, the room it has [mm], and whether it must tell how to measure."""

    place: Bedding
    wanted: list[Wanted]
    width: float
    foot: float
    guide: bool


def laid_out(task: Task) -> Page:
    """Draw the bed as large as it fits; where that is small, its new ground larger beside it."""
    once = _drawn_once(task)
    if once.whole and once.scale <= _LARGE_ENOUGH:
        return once
    windows = windows_of(task.place)
    # Where the drawing leaves no room for the measures, a smaller plan may.
    limit = once.scale / _WORTH if once.whole else DETAIL_SCALES[-1]
    scales = [scale for scale in DETAIL_SCALES if scale <= limit]
    pages = (
        page
        for least in (_PLAN_LEAST_MM, _PLAN_LEAST_AT_NEED_MM)
        for scale in scales
        for page in _with_details(task, windows, scale, least)
    )
    some: Page | None = None
    for page in pages:
        if page.whole:
            return page
        some = some or page
    return once if once.whole or some is None else some


def _drawn_once(task: Task) -> Page:
    """Choose the largest scale that fits; one smaller if that brings the measures on the sheet."""
    pages: list[Page] = []
    for scale in SCALES:
        near = not pages or scale <= min(_NEAR * pages[0].scale, _SMALLEST_BY_CHOICE)
        page = _page_at(task, scale) if near else None
        if page is not None:
            pages.append(page)
    return next((page for page in pages if page.whole), pages[0])


def _size_m(place: Bedding) -> tuple[float, float]:
    corners = place.bed.outline.corners_m
    across = place.bed.outline.diameter_m
    return (across, across) if across else (max(x for x, _ in corners), max(y for _, y in corners))


def _page_at(task: Task, scale: int) -> Page | None:
    mm_a_metre = 1000 / scale
    long, high = (length * mm_a_metre for length in _size_m(task.place))
    wide = task.width - 2 * MARGIN - _LEFT_ROOM - _RIGHT_ROOM
    tall = task.foot - TOP - _TOP_ROOM - UNDER_BED_MM
    if (long > wide or high > tall) and scale < SCALES[-1]:
        return None
    ground = _ground(task, scale, high)
    older = place_older(ground, task.place.older)
    slots = white_round_bed(ground, task.width, task.foot)
    tables = any(slot.y == TOP for slot in slots)
    beside = None if tables else empty_corner(ground, task.width, LEAST_KEY_MM)
    return _filled(task, Page(ground, scale, (), [], [], None, older), slots, beside)


def _ground(task: Task, scale: int, high: float) -> Ground:
    peg = (MARGIN + _LEFT_ROOM, TOP + _TOP_ROOM + high)
    return Ground(task.place.bed.outline.corners_m, peg, 1000 / scale, task.place.units)


def _filled(task: Task, page: Page, slots: Sequence[Slot], spare: Slot | None = None) -> Page:
    """Stand tables on the white of a page, then the reading key if there is room for it."""
    parts, left, free = flow(task.wanted, slots)
    white = [*free, *([spare] if spare else [])]
    key = key_in(white, key_texts([measure for _, measure in task.place.fresh], task.place.units))
    if key is None and not task.guide:
        key = NO_KEY
    return replace(page, parts=parts, left=left, key=key)


def _with_details(
    task: Task, windows: Sequence[Window], scale: int, least: float
) -> Iterator[Page]:
    """Lay out the whole bed small and its new ground at a scale, in every way that fits."""
    if not windows:
        return
    fitting = 0
    for plan_scale in _PLAN_SCALES:
        long, high = (length * 1000 / plan_scale for length in _size_m(task.place))
        if long > _PLAN_LONG_MM or high > _PLAN_HIGH_MM:
            continue
        fitting += 1
        if fitting > 1 and max(long, high) < least:
            return
        ground = _ground(task, plan_scale, high)
        older = place_older(ground, task.place.older)
        if fitting > 1 and not all(name.lines for name in older):
            # Still smaller, what stands would have neither name nor letter.
            return
        right = max(ground.right + _RIGHT_ROOM, scale_end(ground) + 4, MARGIN + LEAST_KEY_MM)
        plan = Slot(MARGIN, TOP, right - MARGIN, ground.peg[1] + UNDER_BED_MM - TOP)
        for room, ways in rooms_by_plan(plan, task.width, task.foot):
            frames = frames_in(task.place, windows, scale, room)
            if frames:
                page = Page(ground, plan_scale, frames, [], [], None, older)
                for slots in ways(taken_by(frames)):
                    yield _filled(task, page, slots)
