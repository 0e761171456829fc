"""How figures are read: units, decimal mark, order of dates; and undoing the last change."""

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from haulm.web.forms import Form, with_form
from haulm.web.reader import COOKIE, cookie_of
from haulm.web.show import go
from haulm.web.words import gettext as _

A_YEAR_S = 31_536_000


def choose(_request: Request, form: Form) -> Response:
    """Keep a reader's choices in this browser."""
    response = go(back_to(form.text("back")), _("Figures and dates are written as you chose."))
    cookie = cookie_of(form.text("numbers"), form.text("dates"))
    response.set_cookie(COOKIE, cookie, max_age=A_YEAR_S, samesite="lax")
    if form.text("language"):
        response.set_cookie("language", form.text("language"), max_age=A_YEAR_S, samesite="lax")
    return response


def back_to(address: str) -> str:
    """Give the page to go back to: one of ours, never another site."""
    return address if address.startswith("/") and not address.startswith(("//", "/\\")) else "/"


routes = [Route("/reading", with_form(choose), methods=["POST"])]
