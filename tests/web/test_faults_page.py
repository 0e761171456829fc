"""An unexpected fault shows a reference and no more; the log holds the rest."""

import logging
import re
from datetime import date
from pathlib import Path

import pytest
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route
from starlette.testclient import TestClient

from haulm.web.app import create_app
from haulm.web.guard import cookie_name
from haulm.web.run import hosts_of
from haulm.web.shelf import Shelf

PORT = 4180


def break_down(_request: Request) -> Response:
    """Fail as only a mistake of ours can."""
    message = "a secret of the garden"
    raise ZeroDivisionError(message)


def test_a_fault_of_ours_is_told_by_a_reference_that_the_log_holds(
    unplanned: Path, caplog: pytest.LogCaptureFixture
) -> None:
    """The page gives no inner workings away; whoever reads the log finds them by the reference."""
    shelf = Shelf(unplanned, lambda: date(2027, 2, 1))
    app = create_app(shelf, "key", PORT, hosts_of("127.0.0.1", PORT))
    app.router.routes.append(Route("/broken", break_down))
    visit = TestClient(app, base_url=f"http://127.0.0.1:{PORT}", raise_server_exceptions=False)
    visit.cookies.set(cookie_name(PORT), "key")
    with caplog.at_level(logging.ERROR, logger="haulm.web"):
        answer = visit.get("/broken")
    assert answer.status_code == 500
    assert "secret" not in answer.text
    assert "Traceback" not in answer.text
    reference = re.search(r"reference (\w{8})", answer.text)
    assert reference is not None
    assert reference.group(1) in caplog.text
    assert "a secret of the garden" in caplog.text
