"""Why: a page for each thing a number on a plan is of, and what one more would bring."""

from itertools import groupby

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from haulm.desk.planning.plans import Made
from haulm.desk.worth.why_records import See
from haulm.desk.worth.whys import things_in, weeks_in
from haulm.desk.worth.whys_at_hand import MORE, why_at_hand
from haulm.measure.errors import FaultsFoundError
from haulm.web.show import page, shelf_of
from haulm.web.words import gettext as _
from haulm.web.words import noted

SORT_WORDS = {
    "planting": noted("Plantings"),
    "bed": noted("Beds"),
    "store": noted("Stores"),
    "lot": noted("Lots in store"),
    "kept": noted("Foods put by"),
    "line": noted("Lines of the table"),
    "buy": noted("To buy"),
    "week": noted("Weeks"),
}


def show(request: Request) -> Response:
    """Say why of the thing that the address names, or what one more would bring."""
    path = request.path_params.get("path", MORE)
    garden = shelf_of(request).garden
    try:
        found = why_at_hand(garden, path)
    except FaultsFoundError as error:
        title = _("Nothing to say why of")
        return page(request, "refused.html", status=404, findings=error.findings, title=title)
    made = garden.unlaid
    whole = path == MORE and made is not None
    return page(
        request,
        "why.html",
        found=found,
        since=bool(made and made.since),
        sorts=_by_sort(made) if whole and made else (),
    )


def _by_sort(made: Made) -> tuple[tuple[str, tuple[See, ...]], ...]:
    """List everything that may be asked about, sort by sort."""
    things = [*things_in(made), *weeks_in(made)]
    return tuple(
        (SORT_WORDS[sort], tuple(some))
        for sort, some in groupby(things, key=lambda thing: thing.path.partition("/")[0])
    )


routes = [Route("/why", show), Route("/why/{path:path}", show)]
