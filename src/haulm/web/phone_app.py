"""The phones' door: their page and the way in, and nothing else of the garden."""

from starlette.applications import Starlette
from starlette.middleware import Middleware
from starlette.middleware.body_limit import RequestBodyLimitMiddleware
from starlette.middleware.gzip import GZipMiddleware
from starlette.routing import Mount

from haulm.season.pictures import MOST_BYTES
from haulm.web import faults
from haulm.web.app import Lasting
from haulm.web.copying import CopiedWeekly
from haulm.web.pages import faces, phone, phone_pairing
from haulm.web.phone_door.door import PhoneDoor
from haulm.web.phone_door.guard import PhoneGuard
from haulm.web.shelf import Shelf
from haulm.web.show import HERE

ROOM = 500_000
"""What a request may hold beside a photo of the largest size [bytes]."""


def create_phone_app(shelf: Shelf, door: PhoneDoor) -> Starlette:
    """Make the phones' door over a shelf."""
    routes = [route for module in (phone, phone_pairing, faces) for route in module.routes]
    guard = Middleware(PhoneGuard, phones=door.phones, scheme=door.scheme, hosts=door.hosts)
    app = Starlette(
        routes=[*routes, Mount("/static", Lasting(directory=HERE / "static"))],
        middleware=[
            guard,
            Middleware(GZipMiddleware, minimum_size=1000, compresslevel=5),
            Middleware(RequestBodyLimitMiddleware, max_body_size=MOST_BYTES + ROOM),
            Middleware(CopiedWeekly, shelf=shelf),
        ],
        exception_handlers=faults.HANDLERS,
    )
    app.state.shelf = shelf
    app.state.phone_door = door
    return app
