"""What is forecast, typed on This week: one day at a time; and what the look-out goes by."""

import re
from collections.abc import Mapping
from dataclasses import asdict, replace
from datetime import timedelta
from urllib.parse import urlencode

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from haulm.desk.garden.editing import Change, mark_of
from haulm.desk.garden.fetching_ahead import fetch_ahead, place_asked
from haulm.desk.season.ahead import TypedAhead, tell_ahead, typed_ahead_fields
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.season.blight_rules import BlightBy, blight_rules
from haulm.season.point_forecast import SERVICE
from haulm.web.changing import NOTHING_REFUSED, Refused, write_down
from haulm.web.forms import Form, with_form
from haulm.web.show import go, page, shelf_of
from haulm.web.words import gettext as _
from haulm.web.words import ngettext

HERE = "/week/ahead"
FIELD_OF = {"tmin_c": "tmin", "tmax_c": "tmax", "rain_mm": "rain", "rain_odds": "odds"}
FIELD_OF |= {"min": "tmin", "max": "tmax", "humid_hours": "humid"}
"""The field in which a finding's figure was typed."""


def show(request: Request) -> Response:
    """Show what is told of the coming days, and the form to tell more."""
    asked = request.query_params
    typed = {name: asked[name] for name in typed_ahead_fields() if name in asked}
    return _shown(request, TypedAhead(**({"day": _tonight(request)} | typed)))


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


def go_by(request: Request, form: Form) -> Response:
    """Keep the rules on blight that were ticked, and the fleece that was told."""
    shelf = shelf_of(request)
    pieces = [piece.strip() for piece in re.split(r"[,;\n]", form.text("fleece"))]
    typed = {"blight": list(form.texts("blight")), "fleece": [one for one in pieces if one]}
    told = {key: value for key, value in typed.items() if value}
    if not told and not form.text("seen"):
        return go(HERE)
    refused = write_down(shelf, Change("lookout", form.text("seen"), told), "lookout", form)
    if refused is not None:
        return _shown(request, TypedAhead(_tonight(request)), refused=refused)
    return go(HERE, _("Written down."), undo=True)


def _tonight(request: Request) -> str:
    """Give the day on which tonight ends."""
    return (shelf_of(request).garden.day + timedelta(days=1)).isoformat()


def _shown(
    request: Request,
    typed: TypedAhead,
    found: tuple[Finding, ...] = (),
    refused: Refused = NOTHING_REFUSED,
) -> Response:
    garden = shelf_of(request).garden
    told = next(iter(garden.parts["lookout"]), {})
    mine = refused.form == "lookout"
    placed = {
        FIELD_OF.get(str(one.place[-1]), str(one.place[-1])): one for one in found if one.place
    }
    return page(
        request,
        "week_ahead.html",
        status=422 if found else refused.status,
        garden=garden,
        days=garden.ahead,
        service=SERVICE,
        sent=place_asked(garden.path).words(),
        typed=asdict(typed),
        faults=placed,
        others=[*(one for one in found if not one.place), *refused.others],
        seen=mark_of(told) if told else "",
        rules=[(by.value, getattr(blight_rules(), by.value).name) for by in BlightBy],
        chosen=refused.sent.texts("blight") if mine else told.get("blight", ()),
        fleece=refused.sent.text("fleece") if mine else ", ".join(_several(told.get("fleece"))),
        lookout_faults=_by_field(refused.faults),
    )


def _by_field(faults: Mapping[str, Finding]) -> Mapping[str, Finding]:
    """Give one fault for each field: what is wrong with several pieces stands together."""
    found: dict[str, Finding] = {}
    for key, one in faults.items():
        name = key.partition(".")[0]
        before = found.get(name)
        found[name] = replace(before, what=f"{before.what} {one.what}") if before else one
    return found


def _several(value: object) -> list[str]:
    """Give one text or several as a list."""
    if isinstance(value, list | tuple):
        return [str(one) for one in value]
    return [str(value)] if value else []


routes = [
    Route(HERE, show),
    Route(HERE, with_form(tell), methods=["POST"]),
    Route("/week/ahead/by", with_form(go_by), methods=["POST"]),
    Route("/week/ahead/ask", with_form(ask), methods=["POST"]),
]
