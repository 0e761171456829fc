"""The note for whoever looks after the garden while the household is away."""

from datetime import date

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from haulm.desk.season.away import away_note, next_away
from haulm.desk.season.away_records import AwayNote
from haulm.measure.findings import Finding
from haulm.sheets.away_note import draw_away_note
from haulm.sheets.paper import to_pdf
from haulm.web.away_words import sheet_of
from haulm.web.paper import paper_of
from haulm.web.show import page, reader_of, shelf_of
from haulm.web.words import gettext as _

HERE = "/week/away"


def show(request: Request) -> Response:
    """Show the note for the days asked for, else for the next that the garden tells."""
    garden = shelf_of(request).garden
    opened = garden.opened.garden
    told = next_away(opened, garden.day)
    asked = request.query_params
    faults = _faults(asked.get("from", ""), asked.get("to", ""))
    found = None if faults else _note(request)
    note = found if isinstance(found, AwayNote) else None
    refused = () if note or found is None else found
    wanted = bool(asked.get("from") or asked.get("to") or told)
    span = (note.first, note.last) if note else (told.first_day, told.last_day) if told else ()
    return page(
        request,
        "away.html",
        garden=garden,
        sheet=sheet_of(note, reader_of(request)) if note else None,
        first=asked.get("from") or (span[0].isoformat() if span else ""),
        last=asked.get("to") or (span[1].isoformat() if span else ""),
        faults=faults,
        refused=refused if wanted else (),
    )


def print_note(request: Request) -> Response:
    """Give the note as a PDF."""
    note = None if _faults(*_typed(request)) else _note(request)
    if not isinstance(note, AwayNote):
        raise HTTPException(404)
    pdf = to_pdf(draw_away_note(sheet_of(note, reader_of(request)), paper_of(request)))
    head = {"Content-Disposition": 'inline; filename="away.pdf"'}
    return Response(pdf, media_type="application/pdf", headers=head)


def _note(request: Request) -> AwayNote | tuple[Finding, ...] | None:
    first, last = (date.fromisoformat(text) if text else None for text in _typed(request))
    garden = shelf_of(request).garden
    return garden.of_diary("away", away_note, garden.day, first, last)


def _typed(request: Request) -> tuple[str, str]:
    asked = request.query_params
    return asked.get("from", "").strip(), asked.get("to", "").strip()


def _faults(first: str, last: str) -> dict[str, Finding]:
    """Say which of the days typed are no days."""
    return {
        key: Finding(_("the day"), _("this is no day."), _("Write it as in 2027-07-20."))
        for key, text in (("from", first), ("to", last))
        if text and not _is_day(text.strip())
    }


def _is_day(text: str) -> bool:
    try:
        date.fromisoformat(text)
    except ValueError:
        return False
    return True


routes = [Route(HERE, show), Route(f"{HERE}/note.pdf", print_note)]
