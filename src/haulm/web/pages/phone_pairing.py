"""Letting a phone in: it opens the address it was shown, and is given a key of its own."""

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from haulm.web.forms import Form, with_form
from haulm.web.guard import refused
from haulm.web.pages.phone import HOME
from haulm.web.phone_door.door import PhoneDoor
from haulm.web.phone_door.guard import AGAIN, COOKIE, PAIR, TRUST
from haulm.web.show import page
from haulm.web.words import gettext as _

COOKIE_LASTS_S = 400 * 86_400
"""Browsers keep a cookie no longer than this."""


def door_of(request: Request) -> PhoneDoor:
    """Give the door that the request came by."""
    door: PhoneDoor = request.app.state.phone_door
    return door


def show(request: Request) -> Response:
    """Show what is to be done on this phone, once."""
    door, code = door_of(request), request.path_params["code"]
    if not door.phones.holds(code):
        return _run_out()
    certified = door.certified
    return page(request, "phone_pair.html", code=code, certified=certified, trust=TRUST)


def pair(request: Request, form: Form) -> Response:
    """Let a phone in, and hand it its key."""
    door = door_of(request)
    key = door.phones.let_in(request.path_params["code"], form.text("name"))
    return _run_out() if key is None else _with_key(door, key)


def again(request: Request) -> Response:
    """Open the page by the phone's own key, as one does that was put among its programs."""
    door, key = door_of(request), request.path_params["key"]
    if not door.phones.name_of(key):
        return refused(_("This phone is not let in. On the laptop, look under Phones."))
    return _with_key(door, key)


def trust(request: Request) -> Response:
    """Hand out the certificate that the phone is to trust; it holds no secret."""
    certified = door_of(request).certified
    if certified is None:
        return Response(status_code=404)
    headers = {"Content-Disposition": 'attachment; filename="haulm.crt"'}
    kind = "application/x-x509-ca-cert"
    return Response(certified.authority, media_type=kind, headers=headers)


def home(_request: Request) -> Response:
    """Lead to the phone's page, the only one of this door."""
    return RedirectResponse(HOME)


def _run_out() -> Response:
    return refused(_("This address has run out or was used. On the laptop, ask for a new one."))


def _with_key(door: PhoneDoor, key: str) -> Response:
    response = RedirectResponse(HOME, status_code=303)
    response.set_cookie(
        COOKIE,
        key,
        max_age=COOKIE_LASTS_S,
        httponly=True,
        secure=door.scheme == "https",
        samesite="lax",
        path="/",
    )
    return response


routes = [
    Route("/", home),
    Route(f"{PAIR}{{code}}", show, methods=["GET"]),
    Route(f"{PAIR}{{code}}", with_form(pair), methods=["POST"]),
    Route(f"{AGAIN}{{key}}", again),
    Route(TRUST, trust),
]
