"""The review: plan against what came, what to regret, and next year's plan by one press."""

from dataclasses import dataclass

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from haulm.desk.garden.editing import stamp
from haulm.desk.season.next_year import NextWish, begin_next_year
from haulm.desk.season.regret_words import (
    assumed_sentence,
    paid_sentence,
    ready_sentence,
    regret_sentence,
    tried_sentence,
    whole_sentence,
)
from haulm.desk.season.regrets import Regrets
from haulm.desk.season.regrets_beside import RegretOrder
from haulm.desk.season.review import told_of
from haulm.desk.season.review_odds import verdict
from haulm.desk.season.review_page import LookedBack, looked_back, seasons_drawn
from haulm.desk.season.review_words import (
    NOT_WRITTEN,
    cause_sentence,
    largest_causes,
    verdict_sentence,
)
from haulm.desk.showing.review_sheet import ReviewToPrint, review_sheet_of
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.season.review_records import WeekCame
from haulm.sheets.review_sheet import review_pdf
from haulm.web.forms import Form, with_form
from haulm.web.paper import PAPERS, papers_of
from haulm.web.planning import Making, State
from haulm.web.shelf import Shelf
from haulm.web.show import go, page, shelf_of

HERE = "/review"
MOST_CAUSES = 10


@dataclass(frozen=True, slots=True)
class RegretRow:
    """A regret with its sentences."""

    number: int
    sentence: str
    paid: str
    assumed: str


@dataclass(frozen=True, slots=True)
class RegretWords:
    """A regret ledger in words; without rows where none is reckoned."""

    rows: tuple[RegretRow, ...] | None = None
    whole: str = ""
    ready: str = ""
    tried: str = ""


def show(request: Request) -> Response:
    """Show the review of a year, the one that the day makes likely where none is asked for."""
    shelf = shelf_of(request)
    garden = shelf.garden
    year = _year(request.query_params.get("year", ""))
    found: LookedBack | None = None
    refused: tuple[Finding, ...] = ()
    try:
        found = _found(shelf, year)
    except FaultsFoundError as error:
        refused = error.findings
    making = _making(shelf, found)
    words = _regrets(making)
    return page(
        request,
        "review.html",
        garden=garden,
        year=year,
        refused=refused,
        found=found,
        waits=found is None and not refused,
        papers=papers_of(request),
        noted=told_of(found.reviewed) if found else (),
        verdict=verdict_sentence(verdict(found.reviewed.review, found.odds)) if found else "",
        drawn=seasons_drawn(found) if found else (),
        causes=_causes(found),
        came=WeekCame,
        not_written=NOT_WRITTEN,
        making=making,
        running=making is not None and making.state is State.RUNNING,
        regrets=words.rows,
        whole=words.whole,
        ready=words.ready,
        tried=words.tried,
    )


def hand_out(request: Request) -> Response:
    """Give the review's two pages as a PDF that opens in the browser."""
    shelf = shelf_of(request)
    garden = shelf.garden
    paper = PAPERS.get(request.path_params["paper"])
    year = _year(request.query_params.get("year", ""))
    if paper is None:
        raise HTTPException(404)
    try:
        found = _found(shelf, year) or looked_back(garden.path, garden.day, year)
    except FaultsFoundError:
        raise HTTPException(404) from None
    making = _making(shelf, found)
    ledger = making.regrets if making else None
    pdf, _ = review_pdf(review_sheet_of(ReviewToPrint(found, garden.lessons, ledger)), paper)
    headers = {"Content-Disposition": "inline; filename*=UTF-8''review.pdf"}
    return Response(pdf, media_type="application/pdf", headers=headers)


def regret(request: Request, form: Form) -> Response:
    """Begin to reckon the regret ledger of a year."""
    shelf = shelf_of(request)
    year = _year(form.text("of")) or shelf.garden.day.year
    shelf.regret(shelf.garden.day, year)
    return go(f"{HERE}?year={year}#regrets")


def stop(request: Request, _form: Form) -> Response:
    """Give up reckoning regrets; nothing else is changed."""
    shelf_of(request).regretter.give_up()
    return go(HERE)


def plan_next(request: Request, form: Form) -> Response:
    """Write down what the year taught, and begin to plan the next from it."""
    shelf = shelf_of(request)
    garden = shelf.garden
    year = _year(form.text("of"))
    found = looked_back(garden.path, garden.day, year)
    making = shelf.regretter.making
    ledger = making.regrets if making and making.order.notebook == garden.path else None
    chosen = set(form.texts("adopt"))
    adopted = tuple(
        one
        for number, one in enumerate(ledger.regrets if ledger else (), start=1)
        if str(number) in chosen
    )
    wish = NextWish(garden.day, form.text("lessons") == "yes", adopted)
    begin_next_year(found.reviewed, wish, shelf.now())
    shelf.plan("usual")
    return go("/planning")


def _found(shelf: Shelf, year: int | None) -> LookedBack | None:
    """Look back on a year, once; None until that is done."""
    garden = shelf.garden
    return garden.begun(
        f"review {year}", (stamp(garden.path), garden.day), looked_back, garden.path, garden.day,
        year,
    )  # fmt: skip


def _making(shelf: Shelf, found: LookedBack | None) -> Making | None:
    """Give the regrets that are reckoned, or were, of this garden and the year looked back on."""
    making = shelf.regretter.making
    if making is None or found is None or making.order.notebook != shelf.garden.path:
        return None
    order = making.order
    return making if isinstance(order, RegretOrder) and order.year == found.reviewed.year else None


def _causes(found: LookedBack | None) -> list[str]:
    if found is None:
        return []
    causes = largest_causes(found.reviewed.review.parted, MOST_CAUSES)
    return [cause_sentence(one, found.reviewed) for one in causes]


def _regrets(making: Making | None) -> RegretWords:
    """Put the regrets that are reckoned into words."""
    ledger: Regrets | None = making.regrets if making else None
    if ledger is None:
        return RegretWords()
    rows = tuple(
        RegretRow(
            number,
            regret_sentence(one, ledger),
            paid_sentence(one),
            assumed_sentence(one, ledger.question),
        )
        for number, one in enumerate(ledger.regrets, start=1)
    )
    return RegretWords(
        rows, whole_sentence(ledger), ready_sentence(ledger), tried_sentence(ledger.tried)
    )


def _year(text: str) -> int | None:
    """Read a year; None where it is none."""
    return int(text) if text.isascii() and text.isdigit() and len(text) == 4 else None  # noqa: PLR2004 - a year's figures


routes = [
    Route(HERE, show, methods=["GET"]),
    Route(f"{HERE}/{{paper}}.pdf", hand_out, methods=["GET"]),
    Route(f"{HERE}/regrets", with_form(regret), methods=["POST"]),
    Route(f"{HERE}/stop", with_form(stop), methods=["POST"]),
    Route(f"{HERE}/next", with_form(plan_next), methods=["POST"]),
]
