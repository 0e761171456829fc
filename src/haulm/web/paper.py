"""On which paper a reader prints: the one asked for, the one chosen before, else the usual one."""

from starlette.requests import Request

from haulm.sheets.bundle import Paper, usual_paper
from haulm.web.show import reader_of
from haulm.web.words import gettext as _

PAPERS = {"a4": Paper.A4, "letter": Paper.LETTER}
PAPER = "paper"
"""What a request asks for it by, and the cookie that keeps what was chosen."""


def paper_name(request: Request) -> str:
    """Name the paper asked for, else the one chosen before, else the usual one of the units."""
    usual = usual_paper(reader_of(request).units).name.lower()
    named = (request.query_params.get(PAPER), request.cookies.get(PAPER), usual)
    return next(name for name in named if name in PAPERS)


def paper_of(request: Request) -> Paper:
    """Give that paper."""
    return PAPERS[paper_name(request)]


def papers_of(request: Request) -> list[tuple[str, str]]:
    """Name the papers there are, the one that is likely wanted first."""
    papers = [("a4", "A4"), ("letter", _("Letter"))]
    return papers if paper_name(request) == "a4" else papers[::-1]
