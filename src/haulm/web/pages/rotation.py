"""Rotation: several years laid out, beds down and years across; kept, dropped, laid out again."""

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from haulm.desk.beds.rotation import USUAL_YEARS, YearsLaid, drop_rotation, keep_rotation
from haulm.desk.beds.rotation_table import rows_kept, rows_laid, years_kept
from haulm.rotation.records import LEAST_YEARS, MOST_YEARS, CoverSown
from haulm.rotation.seasons import QUARTERS, year_of
from haulm.web.forms import Form, with_form
from haulm.web.show import go, page, shelf_of
from haulm.web.words import gettext as _
from haulm.web.words import noted

NORTHERN = (noted("winter"), noted("spring"), noted("summer"), noted("autumn"))
SOUTHERN = (noted("summer"), noted("autumn"), noted("winter"), noted("spring"))
TOLD_SHARE = 0.02
"""Ground gone without is told by itself where it is more than this share of what was wanted [1]."""


def show(request: Request) -> Response:
    """Show the rotation asked for, else the one that is kept, else what a rotation is."""
    garden = shelf_of(request).garden
    kept = garden.opened.garden
    years = _years(request.query_params.get("years", ""))
    laid = garden.rotation(years) if years else None
    rotation = laid.rotation if laid else None
    without = rotation.going_without if rotation else ()
    return page(
        request,
        "rotation.html",
        laid=laid,
        waits=years is not None and laid is None,
        rows=rows_laid(laid) if laid else rows_kept(kept, garden.catalogue),
        years=tuple(laid.question.span) if laid else years_kept(kept),
        kept=bool(kept.allotments),
        asked=years or USUAL_YEARS,
        choices=range(LEAST_YEARS, MOST_YEARS + 1),
        without=[one for one in without if one.share > TOLD_SHARE],
        trifles=[one for one in without if one.share <= TOLD_SHARE],
        season=_season(laid),
        covers=_covers(laid),
        names=laid.question.names if laid else {},
    )


def change(request: Request, form: Form) -> Response:
    """Keep the rotation that was looked at, or drop the one that is kept."""
    shelf = shelf_of(request)
    path, years = shelf.garden.path, _years(form.text("years"))
    if form.text("do") == "drop":
        drop_rotation(path, shelf.now())
        return go("/rotation", _("Dropped: plans are no longer held to it."), undo=True)
    laid = shelf.garden.rotation(years) if years else None
    if laid is not None:
        keep_rotation(path, laid.rotation, shelf.now())
        told = _("Kept: the next plan is made within it.")
        return go("/rotation", told, undo=True)
    return go(f"/rotation?years={years}" if years else "/rotation")


def _years(text: str) -> int | None:
    """Read a number of years; None where it is none that a rotation has."""
    return int(text) if text in {str(n) for n in range(LEAST_YEARS, MOST_YEARS + 1)} else None


def _covers(laid: YearsLaid | None) -> dict[str, tuple[CoverSown, ...]]:
    """Gather the green manures by bed, in their order."""
    sown = laid.rotation.covers if laid else ()
    beds = laid.question.beds if laid else ()
    return {bed.id: tuple(one for one in sown if one.bed == bed.id) for bed in beds}


def _season(laid: YearsLaid | None) -> dict[int, str]:
    """Name every season that green manure is sown in or ends in."""
    if laid is None:
        return {}
    words = SOUTHERN if laid.question.southern else NORTHERN
    ends = {end for sown in laid.rotation.covers for end in (sown.first_season, sown.last_season)}
    return {end: f"{_(words[end % QUARTERS])} {year_of(end)}" for end in ends}


routes = [
    Route("/rotation", show, methods=["GET"]),
    Route("/rotation", with_form(change), methods=["POST"]),
]
