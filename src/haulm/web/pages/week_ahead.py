"""What is forecast, typed on This week: one day at a time."""

from dataclasses import asdict
from datetime import timedelta
from urllib.parse import urlencode

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from haulm.desk.garden.fetching_ahead import fetch_ahead, place_asked
from haulm.desk.season.ahead import TypedAhead, tell_ahead, typed_ahead_fields
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.season.point_forecast import SERVICE
from haulm.web.forms import Form, with_form
from haulm.web.show import go, page, shelf_of
from haulm.web.words import gettext as _
from haulm.web.words import ngettext

FIELD_OF = {"tmin_c": "tmin", "tmax_c": "tmax", "rain_mm": "rain", "rain_odds": "odds"}
FIELD_OF |= {"min": "tmin", "max": "tmax", "humid_hours": "humid"}
"""The field in which a finding's figure was typed."""


def show(request: Request) -> Response:
    """Show what is told of the coming days, and the form to tell more."""
    asked = request.query_params
    day = shelf_of(request).garden.day
    typed = {name: asked[name] for name in typed_ahead_fields() if name in asked}
    tonight = (day + timedelta(days=1)).isoformat()
    return _shown(request, TypedAhead(**({"day": tonight} | typed)))


def tell(request: Request, form: Form) -> Response:
    """Write down what was typed, and offer the day after."""
    shelf = shelf_of(request)
    typed = TypedAhead(**{name: form.text(name) for name in typed_ahead_fields()})
    try:
        told = tell_ahead(shelf.garden.path, typed, shelf.units, shelf.now())
    except FaultsFoundError as error:
        return _shown(request, typed, error.findings)
    following = (told.day + timedelta(days=1)).isoformat()
    return go(f"/week/ahead?{urlencode({'day': following})}", _("Written down."))


def ask(request: Request, form: Form) -> Response:
    """Ask the public service, where the grower ticked that it may be asked."""
    shelf = shelf_of(request)
    typed = TypedAhead(shelf.garden.day.isoformat())
    if not form.text("may"):
        what, remedy = "nothing was asked for.", "Tick that the place may be sent."
        return _shown(request, typed, (Finding(SERVICE, what, remedy),))
    try:
        fetched = fetch_ahead(shelf.garden.path, shelf.network, shelf.now())
    except FaultsFoundError as error:
        return _shown(request, typed, error.findings)
    said = ngettext("%(days)s day fetched.", "%(days)s days fetched.", fetched.days)
    return go("/week/ahead", said % {"days": fetched.days})


def _shown(request: Request, typed: TypedAhead, found: tuple[Finding, ...] = ()) -> Response:
    garden = shelf_of(request).garden
    placed = {
        FIELD_OF.get(str(one.place[-1]), str(one.place[-1])): one for one in found if one.place
    }
    return page(
        request,
        "week_ahead.html",
        status=422 if found else 200,
        garden=garden,
        days=garden.ahead,
        service=SERVICE,
        sent=place_asked(garden.path).words(),
        typed=asdict(typed),
        faults=placed,
        others=[one for one in found if not one.place],
    )


routes = [
    Route("/week/ahead", show),
    Route("/week/ahead", with_form(tell), methods=["POST"]),
    Route("/week/ahead/ask", with_form(ask), methods=["POST"]),
]
