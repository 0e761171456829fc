"""What is forecast, typed on This week: one day at a time."""

from dataclasses import asdict
from datetime import timedelta
from urllib.parse import urlencode

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from haulm.desk.season.ahead import TypedAhead, tell_ahead, typed_ahead_fields
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.web.forms import Form, with_form
from haulm.web.show import go, page, shelf_of
from haulm.web.words import gettext as _

FIELD_OF = {"tmin_c": "tmin", "tmax_c": "tmax", "rain_mm": "rain", "rain_odds": "odds"}
FIELD_OF |= {"min": "tmin", "max": "tmax", "humid_hours": "humid"}
"""The field in which a finding's figure was typed."""


def show(request: Request) -> Response:
    """Show what is told of the coming days, and the form to tell more."""
    asked = request.query_params
    day = shelf_of(request).garden.day
    typed = {name: asked[name] for name in typed_ahead_fields() if name in asked}
    return _shown(request, TypedAhead(**({"day": day.isoformat()} | typed)))


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
        typed=asdict(typed),
        faults=placed,
        others=[one for one in found if not one.place],
    )


routes = [
    Route("/week/ahead", show),
    Route("/week/ahead", with_form(tell), methods=["POST"]),
]
