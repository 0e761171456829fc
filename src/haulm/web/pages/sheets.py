"""Sheets: every sheet of the plan to look at, to print and to take along as a file."""

from urllib.parse import quote

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from haulm.desk.at_hand import AtHand
from haulm.desk.garden.uploads import garden_text, load_garden, record_csv
from haulm.desk.showing import sheet_shelf
from haulm.desk.showing.sheet_shelf import GardenFile
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.sheets.bundle import SheetBundle
from haulm.web.forms import Form, with_form
from haulm.web.paper import PAPER, PAPERS, paper_name, paper_of
from haulm.web.show import A_YEAR_S, go, page, shelf_of
from haulm.web.words import gettext as _

GARDEN_FILE, RECORD_FILE = "garden.toml", "weather.csv"


def show(request: Request) -> Response:
    """List the sheets, and show one page of one of them."""
    return _shown(request)


def print_sheets(request: Request) -> Response:
    """Give one sheet, or the whole set, as a PDF that opens in the browser."""
    garden, bundle = _plan_of(request)
    sheet = request.path_params.get("sheet")
    if sheet is not None:
        _known(garden, bundle, sheet)
    made = sheet_shelf.pdf(garden, bundle, sheet, paper_of(request))
    name = f"{sheet or 'sheets'}.pdf".replace("/", "-")
    return _file(made, "application/pdf", name, "inline")


def hand_out(request: Request) -> Response:
    """Give a table, the calendar, the plan, the garden or its weather as a file to keep."""
    name = request.path_params["name"]
    garden = shelf_of(request).garden
    if name == GARDEN_FILE:
        return _file(garden_text(garden.path).encode(), "application/toml", name)
    if name == RECORD_FILE:
        record = record_csv(garden.path)
        if record is None:
            raise HTTPException(404)
        return _file(record, "text/csv", name)
    garden, bundle = _plan_of(request)
    for file in sheet_shelf.files(bundle):
        if file.name == name:
            return _file(file.make(), file.media_type, name)
    raise HTTPException(404)


def look_into(request: Request, form: Form) -> Response:
    """Read a garden file, and say what it would replace before it does."""
    dropped = form.files.get("file")
    if dropped is None:
        nothing = Finding(GARDEN_FILE, _("no file was chosen."), _("Choose one."))
        return _shown(request, file_findings=(nothing,))
    try:
        found = sheet_shelf.read_garden_file(dropped.data, shelf_of(request).now())
    except FaultsFoundError as error:
        return _shown(request, file_findings=error.findings)
    return _asked(request, found, dropped.data.decode())


def take_in(request: Request, form: Form) -> Response:
    """Put the garden of a file in the place of the one there is, as was asked and answered."""
    garden, now = shelf_of(request).garden, shelf_of(request).now()
    content = form.text("content").encode()
    try:
        if form.text("seen") != garden.mark:
            return _asked(request, sheet_shelf.read_garden_file(content, now), content.decode())
        load_garden(garden.path, content, now)
    except FaultsFoundError as error:
        return _shown(request, file_findings=error.findings)
    return go("/table", _("The garden file was taken in. Plan again to see what it brings."))


def _shown(request: Request, file_findings: tuple[Finding, ...] = ()) -> Response:
    garden = shelf_of(request).garden
    paper = paper_name(request)
    bundle = garden.bundle
    listed = sheet_shelf.sheets(garden, bundle) if bundle else ()
    sheet = request.query_params.get("sheet") or (listed[0].id if listed else "")
    number, pages = 1, tuple[str, ...]()
    if bundle and sheet:
        _known(garden, bundle, sheet)
        pages = sheet_shelf.pages(garden, bundle, sheet, PAPERS[paper])
        asked = request.query_params.get("page", "1")
        number = int(asked) if asked.isdecimal() and len(asked) < len("1000") else 0
        if not 1 <= number <= len(pages):
            raise HTTPException(404)
    response = page(
        request,
        "sheets.html",
        here="/sheets",
        status=422 if file_findings else 200,
        garden=garden,
        listed=listed,
        sheet=sheet,
        title=next((one.title for one in listed if one.id == sheet), ""),
        number=number,
        count=len(pages),
        drawn=pages[number - 1] if pages else "",
        paper=paper,
        files=sheet_shelf.files(bundle) if bundle else (),
        has_record=any("record" in part for part in garden.parts["weather"]),
        file_findings=file_findings,
        since=garden.made.since if garden.made else (),
    )
    if PAPER in request.query_params:
        response.set_cookie(PAPER, paper, httponly=True, samesite="lax", max_age=A_YEAR_S)
    return response


def _asked(request: Request, found: GardenFile, content: str) -> Response:
    garden = shelf_of(request).garden
    return page(
        request,
        "sheets_garden.html",
        here="/sheets",
        before=garden.opened.garden,
        after=found.garden,
        findings=found.findings,
        content=content,
        seen=garden.mark,
        has_record=any("record" in part for part in garden.parts["weather"]),
    )


def _plan_of(request: Request) -> tuple[AtHand, SheetBundle]:
    """Give the garden and what its sheets are drawn from; without a plan there is no such page."""
    garden = shelf_of(request).garden
    bundle = garden.bundle
    if bundle is None:
        raise HTTPException(404)
    return garden, bundle


def _known(garden: AtHand, bundle: SheetBundle, sheet: str) -> None:
    if sheet not in {one.id for one in sheet_shelf.sheets(garden, bundle)}:
        raise HTTPException(404)


def _file(content: bytes, media_type: str, name: str, way: str = "attachment") -> Response:
    headers = {"Content-Disposition": f"{way}; filename*=UTF-8''{quote(name)}"}
    return Response(content, media_type=media_type, headers=headers)


routes = [
    Route("/sheets", show),
    Route("/sheets/print", print_sheets),
    Route("/sheets/print/{sheet:path}", print_sheets),
    Route("/sheets/file/{name}", hand_out),
    Route("/sheets/garden", with_form(look_into), methods=["POST"]),
    Route("/sheets/garden/take", with_form(take_in), methods=["POST"]),
]
