"""Show a page: its template, filled with what the desk answered and what every page carries."""

import json
import re
from collections.abc import Sequence
from functools import cache
from hashlib import sha256
from pathlib import Path
from typing import Any
from urllib.parse import quote, unquote

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from starlette.requests import Request
from starlette.responses import HTMLResponse, RedirectResponse, Response

from haulm import __version__
from haulm.measure.errors import ChangedElsewhereError
from haulm.measure.findings import Finding, Grade
from haulm.measure.sentences import capital
from haulm.web.forms import GARDEN
from haulm.web.reader import COOKIE, Reader, reader_from
from haulm.web.shelf import Shelf
from haulm.web.words import gettext, language, named_languages, ngettext, noted

HERE = Path(__file__).parent
TOLD = "told"
A_YEAR_S = 31_536_000
LASTING = {"Cache-Control": f"public, max-age={A_YEAR_S}, immutable"}
"""The header of files whose address changes with what they hold, so that browsers may keep them."""
FORM = re.compile(r'<form\b[^>]*method="post"[^>]*>')
PAGES: tuple[tuple[str, str], ...] = (
    ("/table", noted("Table")),
    ("/ground", noted("Ground")),
    ("/year", noted("Year")),
    ("/larder", noted("Larder")),
    ("/week", noted("This week")),
    ("/diary", noted("Diary")),
    ("/sheets", noted("Sheets")),
    ("/place", noted("Place")),
    ("/crops", noted("Crops")),
)
"""The pages in the order of the year's work: address and name."""
AT_HAND: tuple[tuple[str, str], ...] = (
    ("/week", noted("This week")),
    ("/diary", noted("Diary")),
    ("/larder", noted("Larder")),
)
"""The pages that a phone's bar holds; all of them stand at the foot of every page."""
GRADES = {
    Grade.FAULT: noted("To mend"),
    Grade.WARNING: noted("Take care"),
    Grade.NOTE: noted("Note"),
}


def shelf_of(request: Request) -> Shelf:
    """Give what the server holds."""
    shelf: Shelf = request.app.state.shelf
    return shelf


def reader_of(request: Request) -> Reader:
    """Give how this reader likes figures and dates; units are the open garden's."""
    return reader_from(request.cookies.get(COOKIE), shelf_of(request).units)


def page(
    request: Request,
    template: str,
    *,
    status: int = 200,
    **context: Any,  # noqa: ANN401
) -> Response:
    """Fill a page's template.

    Every template has besides: ``reader``, ``shelf``, ``pages``, ``here`` (the path asked),
    ``told`` (what the last change told), ``static`` (the address of a file of ours), ``gettext``.
    """
    told = request.cookies.get(TOLD)
    reader, shelf = reader_of(request), shelf_of(request)
    full = {
        "reader": reader,
        "shelf": shelf,
        "pages": PAGES,
        "pages_at_hand": AT_HAND,
        "grades": GRADES,
        "here": request.url.path,
        "told": json.loads(unquote(told)) if told else None,
        "language": language(),
        "languages": named_languages(),
        "version": __version__,
    } | context
    html = _marked(templates().get_template(template).render(full), shelf.mark)
    response = HTMLResponse(reader.drawn(html), status_code=status)
    if told:
        response.delete_cookie(TOLD)
    return response


def _marked(html: str, mark: str) -> str:
    """Put into every form which garden it was drawn from."""
    return FORM.sub(rf'\g<0><input type="hidden" name="{GARDEN}" value="{mark}">', html)


def fragment(request: Request, template: str, **context: Any) -> str:  # noqa: ANN401
    """Fill a template that is a piece of a page."""
    full = {"reader": reader_of(request), "grades": GRADES} | context
    return templates().get_template(template).render(full)


def go(address: str, told: str = "", *, undo: bool = False) -> Response:
    """Send the browser on after a change, telling there in a sentence what was done."""
    response = RedirectResponse(address, status_code=303)
    if told:
        value = quote(json.dumps({"words": told, "undo": undo}))
        response.set_cookie(TOLD, value, httponly=True, samesite="lax", max_age=60)
    return response


def changed_elsewhere(request: Request, error: ChangedElsewhereError, back: str) -> Response:
    """Say that another window was quicker, and lead back to what it is now."""
    return page(request, "changed.html", status=409, error=error, back=back)


def by_field(findings: Sequence[Finding], *place: str | int) -> dict[str, Finding]:
    """Sort findings by the field they lie in, for those that lie in one part."""
    size = len(place)
    return {
        str(finding.place[size]): finding
        for finding in reversed(findings)
        if finding.place[:size] == place and len(finding.place) > size
    }


@cache
def static(name: str) -> str:
    """Give the address of a file of ours; it changes with what the file holds."""
    held = (HERE / "static" / name).read_bytes()
    return f"/static/{name}?{sha256(held).hexdigest()[:10]}"


@cache
def templates() -> Environment:
    """Make the one environment of templates; a name that is not given is an error, never blank."""
    env = Environment(
        loader=FileSystemLoader(HERE / "templates"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        extensions=["jinja2.ext.i18n", "jinja2.ext.do"],
    )
    env.install_gettext_callables(gettext, ngettext, newstyle=True)  # type: ignore[attr-defined]
    env.globals["static"] = static
    env.filters["capital"] = capital
    return env
