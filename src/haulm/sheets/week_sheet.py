"""A week's jobs on one sheet for the shed door: large, black, with boxes and room to write."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import partial

from haulm.measure.day_words import day_text, long_span
from haulm.sheets.acts import JobKind
from haulm.sheets.bundle import Paper, SheetBundle
from haulm.sheets.draw.canvas import HAIR, Canvas, Pen
from haulm.sheets.draw.type import Face, Style, shortened, wrapped
from haulm.sheets.rack_words import rack_words
from haulm.sheets.week_jobs import Job
from haulm.sheets.week_list import Stands, WeekJob, WeekList
from haulm.sheets.week_words import WeekWords, day_words, duration
from haulm.sheets.wording import food_name, weight_unit

MARGIN = 12.0
TOP, FOOT = 41.0, 13.0
HEAD_MM, LARGE_MM, SMALL_MM = 8.6, 12.2, 8.4
NOTE_MM = 4.5
BOX_MM = 5.0
RULED_MM = 9.0
MOST_OPEN = 12
WEIGHED = frozenset({JobKind.PICK, JobKind.LIFT, JobKind.PUT_BY})
"""Jobs whose outcome is weighed: beside them is room to write it."""
_WRITE_MM, _MINUTES_MM = 34.0, 18.0


@dataclass(frozen=True, slots=True)
class Line:
    """One line of the sheet: a heading, a job with its boxes, or a note."""

    words: str
    second: str = ""
    minutes: str = ""
    weighed: bool = False
    heading: bool = False
    note: bool = False


def week_sheets(bundle: SheetBundle, week: WeekList, paper: Paper) -> tuple[str, ...]:
    """Draw a week's list: one sheet where it fits, else as few as it takes.

    By days where their weather is told, else what wants a dry day, what any day will do for, and
    what a wet day will do for. What falls out of the hours, what can be left and what is still open
    stand below.
    """
    width, height = paper.upright
    lines = list(_lines(bundle, week, width - 2 * MARGIN))
    room = height - TOP - FOOT
    large = sum(_height(line, LARGE_MM) for line in lines) <= room
    row = LARGE_MM if large else SMALL_MM
    pages = _paged(lines, row, room)
    sheets = []
    for number, page in enumerate(pages, start=1):
        canvas = Canvas("week", width, height)
        _draw_head(bundle, week, canvas, (number, len(pages)))
        y = TOP
        for line in page:
            _draw_line(bundle, canvas, line, y, row)
            y += _height(line, row)
        if number == len(pages):
            _draw_room_to_write(canvas, y)
        title = f"This week in {bundle.plan.garden}, {week.label}"
        sheets.append(canvas.svg(title, "The same jobs stand on the page This week."))
    return tuple(sheets)


def _height(line: Line, row: float) -> float:
    if line.heading:
        return HEAD_MM
    return NOTE_MM if line.note else row


def _paged(lines: Sequence[Line], row: float, room: float) -> list[list[Line]]:
    pages: list[list[Line]] = [[]]
    used = 0.0
    for line in lines:
        need = _height(line, row) + (row if line.heading else 0.0)
        if used + need > room and pages[-1]:
            pages.append([])
            used = 0.0
        pages[-1].append(line)
        used += _height(line, row)
    return pages


def _lines(bundle: SheetBundle, week: WeekList, width: float) -> Iterator[Line]:
    words = WeekWords(bundle.lines, bundle.units)
    if any(job.on or job.no_day for job in week.chosen):
        for day in week.hours.days:
            some = week.on_day(day.day)
            if some:
                whole = duration(sum(minutes for _, minutes in some))
                yield Line(day_words(day), minutes=whole, heading=True)
                yield from _jobs([job for job, _ in some], words)
        yield from _group("No day suits", [job for job in week.chosen if job.no_day], words)
    else:
        dry, wet = week.dry_order, week.wet_order
        both = {job.id for job in dry} & {job.id for job in wet}
        yield from _group("On a dry day", [job for job in dry if job.id not in both], words)
        rest = [job for job in week.chosen if job.id in both]
        yield from _group("On any day, a wet one too", rest, words)
    yield from _notes(bundle, week, width)


def _group(heading: str, jobs: Sequence[WeekJob], words: WeekWords) -> Iterator[Line]:
    if jobs:
        yield Line(heading, minutes=duration(sum(job.minutes for job in jobs)), heading=True)
        yield from _jobs(jobs, words)


def _jobs(jobs: Sequence[WeekJob], words: WeekWords) -> Iterator[Line]:
    """Give a line for each job; the tending of several beds is one."""
    tending = [job for job in jobs if job.due.job.kind is JobKind.TEND]
    for job in jobs:
        told = job.due.job
        if told.kind is JobKind.TEND:
            if job is tending[0]:
                yield _tending(tending)
            continue
        yield Line(
            _named(told),
            f"{told.amount}; {words.short(job)}",
            duration(job.minutes) if job.minutes else "",
            weighed=told.kind in WEIGHED,
        )


def _tending(jobs: Sequence[WeekJob]) -> Line:
    beds = ", ".join(f"{job.due.job.place} {round(job.minutes)}" for job in jobs)
    whole = duration(sum(job.minutes for job in jobs))
    return Line("Tend: weed, thin, tie", f"{beds} (minutes; strike through)", whole)


def _racks(bundle: SheetBundle, week: WeekList) -> list[str]:
    """Say whether the racks hold what cures, as one; nothing where nothing cures."""
    if week.racks is None:
        return []
    name = partial(food_name, bundle.catalogue)
    return [" ".join(rack_words(week.racks, name, bundle.units))]


def _notes(bundle: SheetBundle, week: WeekList, width: float) -> Iterator[Line]:
    """Give what is not to be done this week, what was left open, and the racks, in small type."""
    words = WeekWords(bundle.lines, bundle.units)
    out = week.standing(Stands.FALLS_OUT)
    left = week.standing(Stands.CAN_BE_LEFT)
    still = [_named(job.due.job) for job in week.still_open if not job.too_late]
    rest = len(still) - MOST_OPEN
    still = [*still[:MOST_OPEN], f"{rest} more on the page"] if rest > 0 else still
    told = [
        (f"Falls out of the hours ({words.cut(week)})", [_named(job.due.job) for job in out]),
        ("Can be left", [_until(job) for job in left]),
        ("Still open from weeks before", still if week.diary_kept else []),
        ("Racks to cure on", _racks(bundle, week)),
    ]
    for heading, some in told:
        if some:
            yield Line("", heading=False, note=True)
            words_told = "; ".join(some).rstrip(".")
            for text in wrapped(f"{heading}: {words_told}.", Face.TEXT, 3.6, width):
                yield Line(text, note=True)


def _named(job: Job) -> str:
    """Name a job with its place, where its words do not say it."""
    return job.what if not job.place or job.place in job.what else f"{job.what}, {job.place}"


def _until(job: WeekJob) -> str:
    until = f" until {day_text(job.free_until)}" if job.free_until else ""
    return f"{_named(job.due.job)}{until}"


def _draw_head(bundle: SheetBundle, week: WeekList, canvas: Canvas, which: tuple[int, int]) -> None:
    right = canvas.width - MARGIN
    words = WeekWords(bundle.lines, bundle.units)
    canvas.text((MARGIN, 22), "This week", Style(Face.NAME, 10))
    span = long_span(week.monday, week.sunday)
    canvas.text((right, 17), f"{span}, {week.label}", Style(Face.FIRM, 4.6, anchor="end"))
    printed = f"printed {day_text(bundle.printed_on, year=True)}"
    number, count = which
    printed += f", sheet {number} of {count}" if count > 1 else ""
    canvas.text((right, 22), printed, Style(Face.TEXT, 4.0, anchor="end"))
    canvas.line((MARGIN, 26), (right, 26), Pen(0.8))
    canvas.text((MARGIN, 32), f"Hours: {words.hours(week.hours)}.", Style(Face.TEXT, 4.4))
    hint = "Tick what is done; write what was weighed. Then tell the diary."
    canvas.text((MARGIN, 37), hint, Style(Face.SLANTED, 4.0))
    foot = f"{bundle.garden_words}."
    foot += " Invented garden." if bundle.invented else ""
    at = (right, canvas.height - 6)
    canvas.text(at, foot, Style(Face.SLANTED, 3.6, anchor="end"))


def _draw_room_to_write(canvas: Canvas, y: float) -> None:
    """Rule what is left of the sheet, for what was done or seen besides."""
    left, right = MARGIN, canvas.width - MARGIN
    foot = canvas.height - FOOT
    if foot - y < HEAD_MM + 2 * RULED_MM:
        return
    canvas.text((left, y + 6.6), "Done or seen besides", Style(Face.NAME_LEANING, 5.4))
    y += HEAD_MM + RULED_MM
    while y <= foot:
        canvas.line((left, y), (right, y), HAIR)
        y += RULED_MM


def _draw_line(bundle: SheetBundle, canvas: Canvas, line: Line, y: float, row: float) -> None:
    left, right = MARGIN, canvas.width - MARGIN
    if line.heading:
        canvas.text((left, y + 6.6), line.words, Style(Face.NAME_LEANING, 5.4))
        canvas.text((right, y + 6.6), line.minutes, Style(Face.STRONG, 4.4, anchor="end"))
        canvas.line((left, y + 8.2), (right, y + 8.2), Pen(0.5))
        return
    if line.note:
        canvas.text((left, y + 3.5), line.words, Style(Face.TEXT, 3.6))
        return
    large = row > SMALL_MM
    size, second = (5.2, 3.7) if large else (4.1, 3.0)
    base = y + (5.4 if large else 3.9)
    box = BOX_MM if large else BOX_MM - 0.6
    canvas.rectangle((left, y + (row - box) / 2), box, box, Pen(0.4, fill="#fff"))
    text = left + BOX_MM + 3
    write = right - _MINUTES_MM - (_WRITE_MM if line.weighed else 0.0)
    room = write - text - 2
    canvas.text((text, base), shortened(line.words, Face.NAME, size, room), Style(Face.NAME, size))
    told = shortened(line.second, Face.TEXT, second, right - text)
    canvas.text((text, y + row - (1.6 if large else 1.0)), told, Style(Face.TEXT, second))
    canvas.text((right, base), line.minutes, Style(Face.STRONG, 4.4, anchor="end"))
    if line.weighed:
        end = right - _MINUTES_MM - 6
        canvas.line((write, base + 1.2), (end, base + 1.2), Pen(0.25))
        unit = weight_unit(bundle.units)
        canvas.text((end + 1, base), unit, Style(Face.TEXT, 4.0))
    canvas.line((left, y + row), (right, y + row), HAIR)
