"""The letters of the pages: cut down to what is written here, and served from this machine."""

from concurrent.futures import Executor
from functools import cache

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from haulm import __version__
from haulm.desk.showing.drawings import FACES, web_face
from haulm.web.show import LASTING, shelf_of


def face(request: Request) -> Response:
    """Serve one face."""
    name = request.path_params["name"]
    if name not in FACES:
        return Response(status_code=404)
    return Response(_cut(name, shelf_of(request).beside), media_type="font/woff2", headers=LASTING)


def sheet(_request: Request) -> Response:
    """Serve the style sheet that names the faces."""
    return Response(_faces(), media_type="text/css", headers=LASTING)


@cache
def _cut(name: str, beside: Executor | None) -> bytes:
    return web_face(name) if beside is None else beside.submit(web_face, name).result()


@cache
def _faces() -> str:
    return "\n".join(
        f"@font-face {{ font-family: '{face.family}'; font-weight: {face.weight}; "
        f"font-style: {face.style}; font-display: swap; "
        f"src: url('/type/{name}?{__version__}') format('woff2') }}"
        for name, face in FACES.items()
    )


routes = [Route("/type.css", sheet), Route("/type/{name}", face)]
