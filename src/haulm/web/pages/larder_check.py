"""Look a store through: its sheet to print, and what was found typed all at once."""

from uuid import uuid4

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from haulm.desk.season.diary_typed import Written
from haulm.desk.season.larder_books import LarderBooks
from haulm.desk.season.store_counts import (
    FOUND,
    FoundLot,
    by_lot,
    check_csv,
    check_of,
    counted_in,
    in_words,
    likely_text,
    sheets_pdf,
    write_counts,
)
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.season.looking import looking_rules
from haulm.season.store_check import StoreCheck
from haulm.web.forms import Form, with_form
from haulm.web.pages.diary import LAPTOP
from haulm.web.pages.larder_books import books_at_hand
from haulm.web.paper import paper_of
from haulm.web.show import go, page, shelf_of
from haulm.web.words import ngettext, noted

WORDS = {
    "sound": noted("Sound"),
    "soft": noted("Soft or rotten"),
    "sprouted": noted("Sprouted"),
}


def show(request: Request) -> Response:
    """Show a store's lots with blanks for what is found."""
    return _shown(request, {}, ())


def write(request: Request, form: Form) -> Response:
    """Write down what was found, all of it or nothing."""
    shelf = shelf_of(request)
    books, check = _asked(request)
    typed = form.as_dict()
    lines = {line.lot.id: line for line in check.lines}
    found = tuple(
        in_words(
            FoundLot(
                id_,
                typed.get("day", ""),
                **{name: typed.get(f"{name} {id_}", "") for name in FOUND},
            ),
            line,
            books,
        )
        for id_, line in lines.items()
    )
    written = Written(f"check-{form.text('sent') or uuid4().hex}", shelf.now(), LAPTOP)
    try:
        entries = write_counts(shelf.garden.path, found, written, shelf.garden.day)
    except FaultsFoundError as error:
        return _shown(request, typed, error.findings)
    told = ngettext("%(num)d lot counted.", "%(num)d lots counted.", len(entries))
    return go("/larder/books", told % {"num": len(entries)})


def print_sheet(request: Request) -> Response:
    """Give a store's check sheet as a PDF."""
    books, check = _asked(request)
    opened = shelf_of(request).garden.opened
    made = sheets_pdf((check,), books, opened, paper_of(request))
    headers = {"Content-Disposition": 'inline; filename="check-sheet.pdf"'}
    return Response(made, media_type="application/pdf", headers=headers)


def hand_out(request: Request) -> Response:
    """Give a store's check sheet as a table to fill in."""
    books, check = _asked(request)
    headers = {"Content-Disposition": 'attachment; filename="check.csv"'}
    return Response(check_csv(check, books), media_type="text/csv", headers=headers)


def _asked(request: Request) -> tuple[LarderBooks, StoreCheck]:
    books = books_at_hand(shelf_of(request).garden)
    check = check_of(books, request.path_params["store"])
    if check is None:
        raise HTTPException(404)
    return books, check


def _shown(request: Request, typed: dict[str, str], faults: tuple[Finding, ...]) -> Response:
    books, check = _asked(request)
    at_field = by_lot(faults)
    fields = {(line.lot.id, name) for line in check.lines for name in FOUND}
    return page(
        request,
        "larder_check.html",
        here="/larder/check",
        status=422 if faults else 200,
        books=books,
        check=check,
        found=FOUND,
        found_words=WORDS,
        typed={"day": books.day.isoformat(), "sent": uuid4().hex, **typed},
        faults=at_field,
        others=[one for one in faults if one.place[:2] not in fields],
        likely=lambda line: likely_text(line, books),
        unit=lambda line: counted_in(line, books),
        looking=lambda line: looking_rules().of(line.lot.food, line.lot.form),
    )


routes = [
    Route("/larder/check/{store}", show, methods=["GET"]),
    Route("/larder/check/{store}", with_form(write), methods=["POST"]),
    Route("/larder/check/{store}/sheet.pdf", print_sheet),
    Route("/larder/check/{store}/table.csv", hand_out),
]
