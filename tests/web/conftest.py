"""The pages' door without a browser: a client inside the test, past the guard."""

import shutil
from collections.abc import Callable, Iterator
from datetime import date
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from gardens import small_garden
from haulm.desk.exchange import import_garden
from haulm.desk.plans import plan_garden
from haulm.planner.solve import EFFORTS
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


@pytest.fixture(scope="session")
def planned_once(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Plan the small garden once; tests take copies of its notebook."""
    folder = tmp_path_factory.mktemp("planned")
    notebook, _ = import_garden(small_garden(folder), folder / "yard.haulm")
    plan_garden(notebook, DAY, EFFORTS["quick"], 1)
    return notebook


@pytest.fixture
def planned(planned_once: Path, tmp_path: Path) -> Path:
    """Give a notebook of the small garden with a plan kept as of 1 February 2027."""
    return Path(shutil.copy(planned_once, tmp_path / "yard.haulm"))


@pytest.fixture
def unplanned(tmp_path: Path) -> Path:
    """Give a notebook of the small garden without a plan."""
    return import_garden(small_garden(tmp_path), tmp_path / "yard.haulm")[0]


@pytest.fixture
def visit(door: Door, planned: Path) -> TestClient:
    """Give the pages of the small garden, planned as of 1 February 2027."""
    return door(planned)
