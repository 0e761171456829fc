"""The phones that may write in the diary: let one in, shut one out."""

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from haulm.web.forms import Form, with_form
from haulm.web.phone_door.door import PhoneDoor, folder_of
from haulm.web.phone_door.keys import Phones
from haulm.web.phone_door.square import drawn
from haulm.web.show import go, page, shelf_of
from haulm.web.words import gettext as _

HERE = "/phones"


def show(request: Request) -> Response:
    """Show the phones that may write, and how another is let in."""
    door: PhoneDoor | None = getattr(request.app.state, "phone_door", None)
    address = door.new_address() if door else ""
    return page(
        request,
        "phones.html",
        door=door,
        address=address,
        square=drawn(address) if address else "",
        phones=_phones(request).there,
    )


def shut_out(request: Request, form: Form) -> Response:
    """Shut a phone out."""
    name = _phones(request).shut_out(form.text("phone"))
    told = _("%(phone)s is shut out. What it had not sent yet stays on it.") if name else ""
    return go(HERE, told % {"phone": name} if told else "")


def _phones(request: Request) -> Phones:
    """Give the phones of the grower's own notebook, whether their door is open or not."""
    door: PhoneDoor | None = getattr(request.app.state, "phone_door", None)
    if door is not None:
        return door.phones
    shelf = shelf_of(request)
    return Phones(folder_of(shelf.own), shelf.now)


routes = [
    Route(HERE, show, methods=["GET"]),
    Route(HERE, with_form(shut_out), methods=["POST"]),
]
