"""The web door: every page's routes, behind the guard."""

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager

from starlette.applications import Starlette
from starlette.middleware import Middleware
from starlette.middleware.body_limit import RequestBodyLimitMiddleware
from starlette.middleware.gzip import GZipMiddleware
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Mount, Route
from starlette.staticfiles import StaticFiles
from starlette.types import ASGIApp, Receive, Scope, Send

from haulm.web import faults
from haulm.web.copying import CopiedWeekly
from haulm.web.forms import MOST_BYTES
from haulm.web.guard import Guard
from haulm.web.pages import (
    away,
    certainty,
    crops,
    crops_own,
    decide,
    diary,
    faces,
    first,
    follow,
    ground,
    handover,
    land,
    larder,
    larder_books,
    larder_check,
    phone,
    phones,
    place,
    planning,
    proposal,
    reading,
    review,
    rotation,
    seasons,
    seasons_again,
    seed,
    sheets,
    succession,
    table,
    taught,
    watering,
    week,
    week_ahead,
    week_water,
    why,
    winter,
    year,
)
from haulm.web.phone_door.door import PhoneDoor
from haulm.web.shelf import Shelf
from haulm.web.show import HERE, LASTING, go, shelf_of
from haulm.web.words import choose

PAGES = (
    first,
    table,
    land,
    ground,
    rotation,
    year,
    larder,
    larder_books,
    larder_check,
    seasons,
    seasons_again,
    certainty,
    week,
    week_ahead,
    watering,
    week_water,
    away,
    diary,
    phone,
    phones,
    taught,
    seed,
    review,
    sheets,
    handover,
    place,
    crops,
    crops_own,
    planning,
    proposal,
    reading,
    faces,
    succession,
    decide,
    follow,
    winter,
    why,
)
WITHOUT_GARDEN = ("/first", "/static/", "/type", "/reading", "/crops", "/towns", "/alive")
"""What can be seen before there is a garden."""


def create_app(
    shelf: Shelf,
    token: str,
    port: int,
    hosts: frozenset[str],
    phone_door: PhoneDoor | None = None,
) -> Starlette:
    """Make the whole web door over a shelf.

    Parameters
    ----------
    shelf
        The gardens within reach.
    token, port, hosts
        The key of the opening address, the port, and the names under which haulm is served.
    phone_door
        The door for phones, where it is open.
    """
    routes = [route for module in PAGES for route in module.routes]
    routes += [
        Route("/", home),
        Route("/alive", alive),
        Mount("/static", Lasting(directory=HERE / "static")),
    ]

    @asynccontextmanager
    async def lifespan(_app: Starlette) -> AsyncIterator[None]:
        """End what is in the making when the server ends."""
        yield
        shelf.planner.close()
        shelf.pricer.close()
        shelf.regretter.close()

    app = Starlette(
        routes=routes,
        middleware=[
            Middleware(Guard, token=token, port=port, hosts=hosts),
            Middleware(GZipMiddleware, minimum_size=1000, compresslevel=5),
            Middleware(RequestBodyLimitMiddleware, max_body_size=MOST_BYTES),
            Middleware(_Settled, shelf=shelf),
            Middleware(CopiedWeekly, shelf=shelf),
        ],
        exception_handlers=faults.HANDLERS,
        lifespan=lifespan,
    )
    app.state.shelf = shelf
    app.state.phone_door = phone_door
    return app


def home(request: Request) -> Response:
    """Send on to what matters first: this week where there is a plan, else the table."""
    return go("/week" if shelf_of(request).garden.has_plan else "/table")


def alive(request: Request) -> Response:
    """Answer a second start: which notebook is served here."""
    own = shelf_of(request).own.resolve()
    return Response(str(own), media_type="text/plain; charset=utf-8")


class _Settled:
    """Chooses the language of a request; sends on to the first visit while there is no garden."""

    def __init__(self, app: ASGIApp, shelf: Shelf) -> None:
        self._app = app
        self._shelf = shelf

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            await self._app(scope, receive, send)
            return
        choose(Request(scope).cookies.get("language", ""))
        answer: ASGIApp = self._app
        if not self._shelf.garden.there and not scope["path"].startswith(WITHOUT_GARDEN):
            answer = go("/first")
        await answer(scope, receive, send)


class Lasting(StaticFiles):
    """Files of ours, whose addresses change with what they hold, so that they may be kept."""

    def file_response(self, *args: object, **more: object) -> Response:
        """Answer with a file that browsers keep."""
        response = super().file_response(*args, **more)  # type: ignore[arg-type]
        response.headers.update(LASTING)
        return response
