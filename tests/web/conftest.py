"""The pages' door without a browser: a client inside the test, past the guard."""

from collections.abc import Callable, Iterator
from datetime import date
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from haulm.web.app import create_app
from haulm.web.guard import cookie_name
from haulm.web.run import hosts_of
from haulm.web.shelf import Shelf

TOKEN, PORT = "a-key-for-tests", 4180
ORIGIN = f"http://127.0.0.1:{PORT}"
DAY = date(2027, 2, 1)

Door = Callable[[Path], TestClient]


@pytest.fixture
def door() -> Iterator[Door]:
    """Give a function that opens the pages of a notebook, there or not yet."""
    opened: list[TestClient] = []

    def open_door(notebook: Path) -> TestClient:
        shelf = Shelf(notebook, lambda: DAY)
        app = create_app(shelf, TOKEN, PORT, hosts_of("127.0.0.1", PORT))
        client = TestClient(app, base_url=ORIGIN, headers={"Origin": ORIGIN})
        client.cookies.set(cookie_name(PORT), TOKEN)
        opened.append(client.__enter__())
        return client

    yield open_door
    for client in opened:
        client.__exit__(None, None, None)


@pytest.fixture
def visit(door: Door, planned: Path) -> TestClient:
    """Give the pages of the small garden, planned as of 1 February 2027."""
    return door(planned)
