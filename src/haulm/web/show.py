"""Show a page: its template, filled with what the desk answered and what every page carries."""

import json
import re
from collections.abc import Mapping, Sequence
from functools import cache
from hashlib import sha256
from pathlib import Path
from typing import Any
from urllib.parse import quote, unquote

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from starlette.requests import Request
from starlette.responses import HTMLResponse, RedirectResponse, Response

from haulm import __version__
from haulm.measure.findings import Finding, Grade
from haulm.web.forms import GARDEN, Form
from haulm.web.reader import COOKIE, Reader, reader_from
from haulm.web.shelf import Shelf
from haulm.web.words import gettext, language, named_languages, ngettext, noted

HERE = Path(__file__).parent
TOLD = "told"
FORM = re.compile(r'<form\b[^>]*method="post"[^>]*>')
PAGES: tuple[tuple[str, str], ...] = (
    ("/table", noted("Table")),
    ("/ground", noted("Ground")),
    ("/year", noted("Year")),
    ("/larder", noted("Larder")),
    ("/week", noted("This week")),
    ("/sheets", noted("Sheets")),
    ("/place", noted("Place")),
    ("/crops", noted("Crops")),
)
"""The pages in the order of the year's work: address and name."""
AT_HAND: tuple[tuple[str, str], ...] = (
    ("/week", noted("This week")),
    ("/larder", noted("Larder")),
    ("/year", noted("Year")),
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
    units = request.app.state.units()
    return reader_from(request.cookies.get(COOKIE), units)


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
    full = {
        "reader": reader_of(request),
        "shelf": shelf_of(request),
        "pages": PAGES,
        "pages_at_hand": AT_HAND,
        "grades": GRADES,
        "here": request.url.path,
        "told": json.loads(unquote(told)) if told else None,
        "language": language(),
        "languages": named_languages(),
        "version": __version__,
    } | context
    html = _marked(templates().get_template(template).render(full), shelf_of(request).mark)
    html = reader_of(request).drawn(html)
    response = HTMLResponse(html, status_code=status)
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


def by_field(findings: Sequence[Finding], *place: str | int) -> dict[str, Finding]:
    """Sort findings by the field they lie in, for those that lie in one part."""
    size = len(place)
    return {
        str(finding.place[size]): finding
        for finding in reversed(findings)
        if finding.place[:size] == place and len(finding.place) > size
    }


def typed_again(form: Form | None, stored: Mapping[str, object]) -> dict[str, str]:
    """Give a form's fields: what was typed, where it was sent back, else what is stored."""
    kept = {name: str(value) for name, value in stored.items()}
    return kept | (form.as_dict() if form else {})


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
    return env
