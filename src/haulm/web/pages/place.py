"""Place."""

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from haulm.web.show import page


def show(request: Request) -> Response:
    """Show the page."""
    return page(request, "refused.html", title="Place", findings=())


routes = [Route("/place", show)]
