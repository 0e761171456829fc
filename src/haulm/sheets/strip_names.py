"""Names on the bed strips: on the patch, or a letter explained at the foot; and the legend."""

from collections.abc import Sequence
from dataclasses import dataclass
from string import ascii_lowercase

from haulm.ground.records import Bed
from haulm.plan.records import Planting
from haulm.planting.records import Piece
from haulm.sheets.bundle import SheetBundle
from haulm.sheets.draw.canvas import Canvas, Pen, Point
from haulm.sheets.draw.hatches import Hatch
from haulm.sheets.draw.labels import Box, Line, draw_lines, name_lines
from haulm.sheets.draw.time_axis import TimeAxis
from haulm.sheets.draw.type import Face, Style, width_of, wrapped
from haulm.sheets.wording import main_expects, weight_text

MARGIN = 12.0
LIST_MM = 3.4
LETTERS = tuple(f"{first}{letter}".strip() for first in " abcdefgh" for letter in ascii_lowercase)
# A letter keeps this far from other texts [mm], and tries these places along its patch.
_LETTER_GAP, _LETTER_HEIGHT = 0.4, 2.4
_PLACES = (0.5, 0.35, 0.65, 0.2, 0.8, 0.1, 0.9, 0.97)


@dataclass(frozen=True, slots=True)
class Band:
    """A bed's band on a sheet: the bed and its upper edge and height [mm]."""

    bed: Bed
    number: int
    top: float
    height: float


@dataclass(frozen=True, slots=True)
class Strip:
    """One sheet of strips: its axis, its bands, and what the head says of it."""

    axis: TimeAxis
    bands: tuple[Band, ...]
    which: str


def box_of(axis: TimeAxis, band: Band, planting: Planting, piece: Piece) -> Box | None:
    """Give a piece's place within a sheet; None where it lies outside the sheet's weeks."""
    if planting.clear_by <= axis.first_day or planting.in_ground_from >= axis.end_day:
        return None
    start, end = axis.x(planting.in_ground_from), axis.x(planting.clear_by)
    top = band.top + piece.share_from * band.height
    return Box(start, top, end - start, (piece.share_to - piece.share_from) * band.height)


def _widest(bundle: SheetBundle, axis: TimeAxis, band: Band, planting: Planting) -> Box | None:
    boxes = [
        box
        for piece in bundle.layout_of(planting).pieces
        if (box := box_of(axis, band, planting, piece)) is not None
    ]
    return max(boxes, key=lambda one: one.width * one.height, default=None)


def _shown(
    bundle: SheetBundle, axis: TimeAxis, band: Band
) -> list[tuple[Planting, Box, tuple[Line, ...]]]:
    """Give every planting that shows in a band, its largest piece, and how its name is set."""
    return [
        (planting, box, name_lines(box, bundle.crop_name(planting), detail_of(bundle, planting)))
        for planting in bundle.plantings_in(band.bed.id)
        if (box := _widest(bundle, axis, band, planting)) is not None
    ]


def name_patches(bundle: SheetBundle, canvas: Canvas, axis: TimeAxis, band: Band) -> None:
    """Name every patch of a band; one too small for its name has a letter, told at the foot."""
    letters = iter(LETTERS)
    taken: list[Run] = []
    shown = _shown(bundle, axis, band)
    for planting, box, lines in shown:
        if lines:
            _draw_family(bundle, canvas, box, planting)
            draw_lines(canvas, lines)
            taken += [run_of(*line) for line in lines]
    for _, box, lines in shown:
        if not lines:
            line = _letter_line(box, next(letters), taken)
            taken.append(run_of(*line))
            draw_lines(canvas, (line,))


Run = tuple[float, float, float]
"""What a text covers: left end, right end, base line [mm on paper, px on a page]."""


def run_of(at: Point, words: str, style: Style) -> Run:
    """Give what a text covers: left end, right end, base line."""
    width = width_of(words, style.face, style.size)
    left = at[0] - (width / 2 if style.anchor == "middle" else 0.0)
    return left, left + width, at[1]


def _letter_line(box: Box, letter: str, taken: Sequence[Run]) -> Line:
    """Set a letter where along a low patch it stands clear of other texts."""
    style = Style(Face.NARROW_STRONG, 2.5, anchor="middle", halo=0.6)
    y = box.y + box.height / 2 + 0.8
    lines: list[Line] = [((box.x + box.width * share, y), letter, style) for share in _PLACES]
    clear = (line for line in lines if not any(meet(run_of(*line), run) for run in taken))
    return next(clear, lines[0])


def meet(one: Run, other: Run, clear: tuple[float, float] = (_LETTER_GAP, _LETTER_HEIGHT)) -> bool:
    """Whether two texts come nearer than is clear, beside one another and in height."""
    gap, high = clear
    beside = one[0] < other[1] + gap and other[0] < one[1] + gap
    return beside and abs(one[2] - other[2]) < high


def listed(bundle: SheetBundle, strip: Strip) -> list[str]:
    """Say what the letters of a sheet stand for, bed by bed."""
    lists = []
    for band in strip.bands:
        small = [one for one, _, lines in _shown(bundle, strip.axis, band) if not lines]
        words = [
            f"{letter} {bundle.crop_name(planting)} {detail_of(bundle, planting)}".rstrip()
            for letter, planting in zip(LETTERS, small, strict=False)
        ]
        if words:
            lists.append(f"{band.bed.name}: {'; '.join(words)}.")
    return lists


def closed_marks(bundle: SheetBundle, bed: Bed) -> list[str]:
    """Give the marks of the families that a bed is closed to, and the names of single crops."""
    families, crops = bundle.catalogue.families, bundle.catalogue.crops
    closed = [closure for closure in bundle.closures if closure.bed == bed.id]
    whole = {one.family for one in closed if one.crop is None}
    marks = {families[key].mark if key in families else key for key in whole}
    names = {crops[one.crop].name for one in closed if one.crop and one.family not in whole}
    return [*sorted(marks), *sorted(names)]


def pick_spans(
    bundle: SheetBundle, axis: TimeAxis, planting: Planting
) -> tuple[tuple[float, float], ...]:
    """Give from where to where on an axis a planting is picked: unbroken weeks, within the axis."""
    weeks = sorted({pick.week for pick in planting.picks})
    firsts = [week for week in weeks if week - 1 not in weeks]
    lasts = [week for week in weeks if week + 1 not in weeks]
    monday = bundle.plan.horizon.monday
    spans = (
        (max(axis.left, axis.open_x(monday(first))), min(axis.right, axis.open_x(monday(last + 1))))
        for first, last in zip(firsts, lasts, strict=True)
    )
    return tuple((left, right) for left, right in spans if left < right)


def to_dig_in(bundle: SheetBundle, planting: Planting) -> bool:
    """Whether a planting is grown for the ground alone: its kind gives no food."""
    return not planting.expects and not bundle.kind_of(planting).givings


def detail_of(bundle: SheetBundle, planting: Planting) -> str:
    """Say what a patch is beside its crop: its kind and what it gives."""
    kind = bundle.kind_detail(planting.kind)
    chief = main_expects(planting)
    gives = weight_text(chief.kg, bundle.units) if chief else ""
    if to_dig_in(bundle, planting):
        gives = "to dig in"
    return " · ".join(words for words in (kind, gives) if words)


def _draw_family(bundle: SheetBundle, canvas: Canvas, box: Box, planting: Planting) -> None:
    if box.width > 16 and box.height > 7:  # noqa: PLR2004 - beside a name of two lines
        at = (box.x + box.width - 0.8, box.y + box.height - 0.9)
        mark = bundle.family_of(planting).mark
        canvas.text(at, mark, Style(Face.NAME_SLANTED, 2.9, anchor="end", halo=0.8))


def draw_legend(bundle: SheetBundle, canvas: Canvas, top: float, lists: list[str]) -> None:
    """Say what each hatch and mark is, what the letters stand for, and the families."""
    x = MARGIN
    style = Style(Face.TEXT, 2.9)
    shown = [("growing", Hatch.GROWING), ("ready to pick", Hatch.READY)]
    if any(to_dig_in(bundle, planting) for planting in bundle.plan.plantings):
        shown.append(("to dig in", Hatch.DIG))
    if bundle.closures:
        shown.append(("closed to a family", Hatch.CLOSED))
    for words, hatch in shown:
        canvas.rectangle((x, top), 7, 3.8, Pen(0.2, hatch))
        canvas.text((x + 8.2, top + 2.9), words, style)
        x += 8.2 + width_of(words, Face.TEXT, 2.9) + 5
    for words, fill in (("sown or planted in place", "#fff"), ("set out from trays", "#000")):
        canvas.circle((x + 0.8, top + 1.9), 0.6, Pen(0.2, fill=fill))
        canvas.text((x + 2.4, top + 2.9), words, style)
        x += 2.4 + width_of(words, Face.TEXT, 2.9) + 5
    words = "left to the weather: top, 1 year in 10 this early; foot, 1 in 10 this late"
    canvas.line((x, top), (x + 3, top + 3.8), Pen(0.25))
    canvas.text((x + 4.4, top + 2.9), words, style)
    y = top + 8.0
    for line in list_lines(lists, canvas.width):
        canvas.text((MARGIN, y), line, Style(Face.TEXT, 2.6))
        y += LIST_MM
    marks = {
        bundle.family_of(planting).mark: bundle.family_of(planting).name
        for planting in bundle.plan.plantings
    }
    families = " · ".join(f"{mark} {name.lower()}" for mark, name in sorted(marks.items()))
    canvas.text((MARGIN, y), families, Style(Face.SLANTED, 2.6))
    if bundle.invented:
        at = (canvas.width - MARGIN, y)
        words = "Invented garden, invented weather."
        canvas.text(at, words, Style(Face.SLANTED, 2.6, anchor="end"))


def list_lines(lists: list[str], width: float) -> list[str]:
    """Break the lists of letters to the width of a sheet [mm]."""
    room = width - 2 * MARGIN
    return [line for words in lists for line in wrapped(words, Face.TEXT, 2.6, room)]
