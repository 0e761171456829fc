"""Who may ask at the phones' door: phones that were let in, from haulm's own page alone."""

from dataclasses import dataclass

from starlette.requests import Request
from starlette.responses import Response
from starlette.types import ASGIApp, Receive, Scope, Send

from haulm.web.guard import FREE, READING, from_us, guarded, refused
from haulm.web.phone_door.keys import Phones
from haulm.web.words import gettext as _

COOKIE = "haulm-phone"
PHONE = "haulm.phone"
"""Where a request says which phone it is from."""
PAIR, AGAIN, TRUST = "/phone/pair/", "/phone/again/", "/phone/trust.crt"
"""What a phone that is not let in yet may ask for: codes and keys are checked by what answers."""


@dataclass(frozen=True, slots=True)
class PhoneGuard:
    """Lets phones through that have a key, and refuses the rest with a reason.

    Attributes
    ----------
    app
        What is guarded; it serves the phone's page and nothing else of the garden.
    phones
        The phones that may ask.
    scheme
        ``https``, or ``http`` where there is no certificate.
    hosts
        The names under which the door is reached, with the port.
    """

    app: ASGIApp
    phones: Phones
    scheme: str
    hosts: frozenset[str]

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request."""
        await guarded(self.app, self._refusal, (scope, receive, send))

    def _refusal(self, request: Request) -> Response | None:
        if request.headers.get("host", "") not in self.hosts:
            return refused(_("haulm is not served under this name."))
        path, reading = request.url.path, request.method in READING
        if not reading and not from_us(request.headers, self.scheme):
            return refused(_("This change did not come from one of haulm's own pages."))
        if (path.startswith(FREE) and reading) or path.startswith((PAIR, AGAIN)) or path == TRUST:
            return None
        name = self.phones.name_of(request.cookies.get(COOKIE, ""))
        if not name:
            return refused(_("This phone is not let in. On the laptop, look under Phones."))
        request.scope[PHONE] = name
        return None
