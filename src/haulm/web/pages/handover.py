"""The handover: all that whoever takes the garden over needs, to read and on two printed pages."""

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from haulm.desk.garden.safekeeping import copies_of
from haulm.desk.showing.handover_at_hand import handover_at_hand
from haulm.sheets.handover import handover_pdf
from haulm.web.paper import PAPERS, papers_of
from haulm.web.show import page, shelf_of


def show(request: Request) -> Response:
    """Show the handover in full, and where its two pages are had."""
    shelf = shelf_of(request)
    garden = shelf.garden
    copies = copies_of(garden.path)
    return page(
        request,
        "handover.html",
        garden=garden,
        handover=handover_at_hand(garden),
        papers=papers_of(request),
        copied_days=copies[-1].age_days(shelf.now()) if copies else None,
    )


def hand_out(request: Request) -> Response:
    """Give the two pages as a PDF that opens in the browser."""
    paper = PAPERS.get(request.path_params["paper"])
    told = handover_at_hand(shelf_of(request).garden)
    if paper is None or told is None:
        raise HTTPException(404)
    pdf, _ = handover_pdf(told, paper)
    headers = {"Content-Disposition": "inline; filename*=UTF-8''handover.pdf"}
    return Response(pdf, media_type="application/pdf", headers=headers)


routes = [
    Route("/handover", show),
    Route("/handover/{paper}.pdf", hand_out),
]
