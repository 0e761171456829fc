"""What a page says when it can't be shown: the findings, or a reference to find in the log."""

import logging
from secrets import token_hex
from urllib.parse import urlsplit

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import PlainTextResponse, Response

from haulm.measure.errors import (
    AuditFailedError,
    ChangedElsewhereError,
    FaultsFoundError,
    HaulmError,
)
from haulm.measure.findings import Finding
from haulm.web.show import changed_elsewhere, page
from haulm.web.words import gettext as _

log = logging.getLogger("haulm.web")


def refused(request: Request, error: Exception) -> Response:
    """Show why haulm refused: every finding, in the grower's words."""
    if isinstance(error, ChangedElsewhereError):
        back = urlsplit(request.headers.get("referer", "")).path or "/"
        return changed_elsewhere(request, error, back)
    if isinstance(error, FaultsFoundError | AuditFailedError):
        found = error.findings
    else:
        found = (Finding(_("This page"), f"{error}."),)
    return page(request, "refused.html", status=422, findings=found, title=_("To mend first"))


def missing(request: Request, error: Exception) -> Response:
    """Say that there is no such page, or that this can't be asked of it."""
    status = error.status_code if isinstance(error, HTTPException) else 404
    words = {
        404: _("There is no such page."),
        405: _("This page is read, not sent."),
        413: _("That is too large: haulm takes files up to 25 MB."),
    }
    detail = error.detail if isinstance(error, HTTPException) else ""
    found = (Finding(request.url.path, words.get(status, detail)),)
    return page(request, "refused.html", status=status, findings=found, title=_("Not here"))


def unexpected(request: Request, error: Exception) -> Response:
    """Give an unexpected fault a reference, and log the fault under it; the page shows no more."""
    reference = token_hex(4)
    log.error("Fault %s at %s", reference, request.url.path, exc_info=error)
    text = _("Something went wrong that should not have. Nothing you entered before is lost.")
    where = _("The fault is in haulm's log under the reference %(reference)s.")
    return PlainTextResponse(f"{text}\n{where % {'reference': reference}}\n", status_code=500)


HANDLERS = {HaulmError: refused, HTTPException: missing, Exception: unexpected}
"""What answers in place of a page, by what was raised."""
