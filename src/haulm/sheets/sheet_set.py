"""All that a plan can be printed or exported as: one list, for previews, downloads and a folder."""

import json
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cache

from haulm.measure.errors import LabelsDifferError
from haulm.sheets.bed_sheet import draw_bed_sheets
from haulm.sheets.bed_strips import bed_strip_sheets, draw_bed_strips
from haulm.sheets.bundle import Paper, SheetBundle
from haulm.sheets.calendar import calendar_ics
from haulm.sheets.larder_tide import draw_larder_tide, larder_tide_sheets
from haulm.sheets.paper import to_pdf
from haulm.sheets.plan_json import plan_json
from haulm.sheets.shopping_list import shopping_csv, shopping_sheets
from haulm.sheets.tables import lots_csv, plantings_csv, weeks_csv

_BEDS = "beds/"
_STRIPS, _TIDE, _LIST = "bed-strips", "larder-tide", "shopping-list"
_PDF, _SVG, _CSV = "application/pdf", "image/svg+xml", "text/csv"


@dataclass(frozen=True, slots=True)
class SheetName:
    """One printable sheet of a set: its id, and its title; a bed's may run over several pages."""

    id: str
    title: str


@dataclass(frozen=True, slots=True)
class SheetFile:
    """One file that a plan can be had as: its name, what it is, its media type, how it is made."""

    name: str
    title: str
    media_type: str
    make: Callable[[], bytes]


def sheet_names(bundle: SheetBundle) -> tuple[SheetName, ...]:
    """List the sheets of a set in the order of their use; a bed nothing goes into has none.

    How many pages a sheet takes is known once it is drawn, by ``sheet_pages``.
    """
    to_plant = {
        planting.bed
        for planting in bundle.plan.plantings
        if planting.in_trays or not planting.standing
    }
    return (
        *(
            SheetName(f"{_BEDS}{bed.id}", f"Bed sheets of {bed.name}")
            for bed in bundle.beds
            if bed.id in to_plant
        ),
        SheetName(_STRIPS, "Bed strips"),
        SheetName(_TIDE, "Larder tide"),
        SheetName(_LIST, "Shopping list"),
    )


def sheet_pages(bundle: SheetBundle, sheet_id: str, paper: Paper) -> tuple[str, ...]:
    """Draw the pages of one sheet.

    Raises
    ------
    LabelsDifferError
        If the set has no sheet of that id.
    """
    known = [sheet.id for sheet in sheet_names(bundle)]
    if sheet_id not in known:
        message = f"There is no sheet {sheet_id}; there are {', '.join(known)}."
        raise LabelsDifferError(message)
    draw = {_STRIPS: bed_strip_sheets, _TIDE: larder_tide_sheets, _LIST: shopping_sheets}
    if sheet_id in draw:
        return draw[sheet_id](bundle, paper)
    return draw_bed_sheets(bundle, sheet_id.removeprefix(_BEDS), paper)


def sheet_pdf(bundle: SheetBundle, sheet_ids: Sequence[str], paper: Paper) -> bytes:
    """Put the pages of some sheets into one PDF, in the order asked for.

    Raises
    ------
    LabelsDifferError
        If the set has no sheet of one of the ids.
    """
    return to_pdf([page for one in sheet_ids for page in sheet_pages(bundle, one, paper)])


def files_of(bundle: SheetBundle, paper: Paper) -> tuple[SheetFile, ...]:
    """List every file that a plan can be had as, in the order of their use; none is made yet.

    Pages drawn for one file are kept for the next.
    """

    @cache
    def pages(sheet_id: str) -> tuple[str, ...]:
        return sheet_pages(bundle, sheet_id, paper)

    def pdf(name: str, title: str, *ids: str) -> SheetFile:
        def make() -> bytes:
            return to_pdf([page for one in ids for page in pages(one)])

        return SheetFile(f"{name}.pdf", title, _PDF, make)

    beds = [sheet for sheet in sheet_names(bundle) if sheet.id.startswith(_BEDS)]
    files = [pdf(sheet.id, sheet.title, sheet.id) for sheet in beds]
    if beds:
        files.append(pdf("bed-sheets", "All bed sheets", *(sheet.id for sheet in beds)))
    return (
        *files,
        pdf(_STRIPS, "Bed strips", _STRIPS),
        _text(f"{_STRIPS}.svg", "Bed strips, one long drawing", _SVG, bundle, draw_bed_strips),
        pdf(_TIDE, "Larder tide", _TIDE),
        _text(f"{_TIDE}.svg", "Larder tide, one long drawing", _SVG, bundle, draw_larder_tide),
        pdf(_LIST, "Shopping list", _LIST),
        _text(f"{_LIST}.csv", "Shopping list as a table", _CSV, bundle, shopping_csv),
        SheetFile(
            "calendar.ics", "Calendar of dates", "text/calendar", lambda: calendar_ics(bundle)
        ),
        _text("plan.json", "The whole plan", "application/json", bundle, _json_text),
        _text("plantings.csv", "Plantings as a table", _CSV, bundle, plantings_csv),
        _text("weeks.csv", "The table's weeks as a table", _CSV, bundle, weeks_csv),
        _text("lots.csv", "Lots in store as a table", _CSV, bundle, lots_csv),
    )


def _text(
    name: str, title: str, media_type: str, bundle: SheetBundle, draw: Callable[[SheetBundle], str]
) -> SheetFile:
    return SheetFile(name, title, media_type, lambda: draw(bundle).encode())


def _json_text(bundle: SheetBundle) -> str:
    return json.dumps(plan_json(bundle), indent=1, ensure_ascii=False) + "\n"
