"""Who may ask: this machine alone, with the token of the opening address, from haulm's own pages.

A page of another site open in the same browser can send requests to this machine too. So every
request must name a host we serve, carry the token's cookie, and, if it changes anything, come from
one of our own pages.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from secrets import compare_digest
from urllib.parse import urlsplit

from starlette.datastructures import Headers, MutableHeaders
from starlette.requests import Request
from starlette.responses import PlainTextResponse, RedirectResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from haulm.web.words import gettext as _

OPENING = "/open/"
FREE = ("/static/", "/type/", "/type.css")
"""What anyone on this machine may read: style sheets, scripts and letters hold nothing private."""
READING = frozenset({"GET", "HEAD"})
HEADERS: Mapping[str, str] = {
    "Content-Security-Policy": "default-src 'self'; img-src 'self' data:; object-src 'none'; "
    "base-uri 'none'; form-action 'self'; frame-ancestors 'self'",
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
}


def cookie_name(port: int) -> str:
    """Name the token's cookie; a browser shares cookies between the ports of a machine."""
    return f"haulm-{port}"


@dataclass(frozen=True, slots=True)
class Guard:
    """Lets through what may ask, and refuses the rest with a reason.

    Attributes
    ----------
    app
        What is guarded.
    token
        The secret of the opening address.
    port
        The port served.
    hosts
        The names under which haulm is served, with the port.
    """

    app: ASGIApp
    token: str
    port: int
    hosts: frozenset[str]

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request."""
        await guarded(self.app, self._refusal, (scope, receive, send))

    def _refusal(self, request: Request) -> Response | None:
        if request.headers.get("host", "") not in self.hosts:
            return refused(_("haulm is not served under this name."))
        path = request.url.path
        if path.startswith(FREE) and request.method in READING:
            return None
        if path.startswith(OPENING):
            return self._opened(path.removeprefix(OPENING))
        if not self._same(request.cookies.get(cookie_name(self.port), "")):
            return refused(
                _("Open haulm by the address that was shown where it was started; it holds a key.")
            )
        if request.method not in READING and not from_us(request.headers, "http"):
            return refused(_("This change did not come from one of haulm's own pages."))
        return None

    def _opened(self, token: str) -> Response:
        if not self._same(token):
            return refused(_("This address has an old key. Start haulm again for a new one."))
        response = RedirectResponse("/", status_code=303)
        name = cookie_name(self.port)
        response.set_cookie(name, self.token, httponly=True, samesite="lax", path="/")
        return response

    def _same(self, token: str) -> bool:
        return compare_digest(token.encode(), self.token.encode())


async def guarded(
    app: ASGIApp,
    refusal_of: Callable[[Request], Response | None],
    asked: tuple[Scope, Receive, Send],
) -> None:
    """Answer a request by an app, unless there is a refusal of it."""
    scope, receive, send = asked
    if scope["type"] != "http":
        await app(scope, receive, send)
        return
    refusal = refusal_of(Request(scope))
    answer: ASGIApp = app if refusal is None else refusal
    await answer(scope, receive, with_headers(send, scope["path"]))


def from_us(headers: Headers, scheme: str) -> bool:
    """Say whether a request comes from a page of ours, served by this scheme under this host."""
    origin = headers.get("origin")
    if origin is None:
        return headers.get("sec-fetch-site") == "same-origin"
    parts = urlsplit(origin)
    return parts.scheme == scheme and parts.netloc == headers.get("host")


def refused(reason: str) -> Response:
    """Refuse a request with a reason."""
    return PlainTextResponse(reason + "\n", status_code=403)


def with_headers(send: Send, path: str) -> Send:
    """Add to every answer what keeps browsers from mixing our pages with others'."""

    async def send_with_headers(message: Message) -> None:
        if message["type"] == "http.response.start":
            headers = MutableHeaders(scope=message)
            for name, value in HEADERS.items():
                headers.setdefault(name, value)
            if not path.startswith(FREE):
                headers.setdefault("Cache-Control", "no-store")
        await send(message)

    return send_with_headers
