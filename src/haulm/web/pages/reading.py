"""How figures are read, and taking back the last change: what every page carries at its edge."""

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from haulm.desk.garden.editing import undo_last
from haulm.web.forms import Form, with_form
from haulm.web.reader import COOKIE, cookie_of
from haulm.web.show import A_YEAR_S, go, shelf_of
from haulm.web.words import gettext as _


def choose(_request: Request, form: Form) -> Response:
    """Keep a reader's choices in this browser."""
    response = go(back_to(form.text("back")), _("Figures and dates are written as you chose."))
    cookie = cookie_of(form.text("numbers"), form.text("dates"))
    response.set_cookie(COOKIE, cookie, max_age=A_YEAR_S, samesite="lax")
    if form.text("language"):
        response.set_cookie("language", form.text("language"), max_age=A_YEAR_S, samesite="lax")
    return response


def undo(request: Request, form: Form) -> Response:
    """Take back the last change of the garden."""
    what = undo_last(shelf_of(request).garden.path)
    if what is None:
        return go(back_to(form.text("back")), _("There is nothing to take back."))
    return go(back_to(form.text("back")), _("Taken back: %(what)s") % {"what": what})


def back_to(address: str) -> str:
    """Give the page to go back to: one of ours, never another site."""
    return address if address.startswith("/") and not address.startswith(("//", "/\\")) else "/"


routes = [
    Route("/reading", with_form(choose), methods=["POST"]),
    Route("/undo", with_form(undo), methods=["POST"]),
]
