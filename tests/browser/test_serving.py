"""Serving as a grower does it: started twice, killed, started again, asked by the wrong page."""

import json
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from time import monotonic, sleep

import pytest
from playwright.sync_api import Page

from served import Serve

HTML = "text/html"


def note_of(notebook: Path) -> Path:
    """Give the note that a server keeps beside its notebook."""
    return notebook.with_name(f".{notebook.name}.serving")


def children_of(process: int) -> list[int]:
    """Wait until a process has children, and list them."""
    end = monotonic() + 60
    while monotonic() < end:
        listed = Path(f"/proc/{process}/task/{process}/children")
        if not listed.exists():
            pytest.skip("this system does not list the children of a process")
        found = [int(one) for one in listed.read_text(encoding="ascii").split()]
        if found:
            return found
        sleep(0.1)
    return []


def second_start(notebook: Path) -> str:
    """Start haulm a second time for a notebook, and give what it says before it ends."""
    command = [sys.executable, "-m", "haulm", "serve", str(notebook), "--no-browser"]
    ran = subprocess.run(command, capture_output=True, text=True, timeout=60, check=True)  # noqa: S603
    return ran.stdout


def test_a_second_start_finds_the_first(serve: Serve, planned: Path) -> None:
    """Whoever starts haulm twice lands at one server, not at two."""
    served = serve(planned)
    said = second_start(planned)
    assert "served already" in said
    assert served.address in said


def test_a_note_left_by_a_crash_is_no_server(
    serve: Serve, planned: Path, open_page: Callable[..., Page]
) -> None:
    """After a power cut haulm starts again, and the old address no longer opens anything."""
    first = serve(planned)
    first.kill()
    assert note_of(planned).exists()
    second = serve(planned)
    assert second.address != first.address
    page = open_page(second.address)
    assert "Quill Yard" in page.content()


def test_the_note_is_for_the_growers_eyes_alone(serve: Serve, planned: Path) -> None:
    """Other users of the machine cannot read the key."""
    served = serve(planned)
    note = note_of(planned)
    assert note.stat().st_mode & 0o077 == 0
    assert json.loads(note.read_text(encoding="utf-8"))["address"] == served.address


def test_a_note_that_is_nonsense_does_no_harm(serve: Serve, planned: Path) -> None:
    """A torn note beside the notebook does not keep haulm from starting."""
    note_of(planned).write_text('{"port": "x"', encoding="utf-8")
    assert serve(planned).address.startswith("http://127.0.0.1:")


def test_a_page_of_another_site_changes_nothing(
    serve: Serve, planned: Path, open_page: Callable[..., Page]
) -> None:
    """A form on another program's page of this machine, sent from the same browser, is refused."""
    served = serve(planned)
    page = open_page(served.address)
    base = served.address.split("/open/")[0]
    foreign = page.context.new_page()
    form = f'<form method="post" action="{base}/undo"><button>Win</button></form>'
    # Another port of this machine: the browser sends our cookie along with such a form.
    foreign.route("http://127.0.0.1:9/", lambda asked: asked.fulfill(body=form, content_type=HTML))
    foreign.goto("http://127.0.0.1:9/")
    with foreign.expect_navigation():
        foreign.click("button")
    assert "not come from" in foreign.content()


def test_nothing_is_asked_of_the_network(
    serve: Serve, planned: Path, open_page: Callable[..., Page]
) -> None:
    """With the network cable out every page is whole: all it needs comes from this machine."""
    served = serve(planned)
    page = open_page("about:blank")
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    base = served.address.split("/open/")[0]
    page.goto(served.address)
    for path in ("/table", "/ground", "/year", "/larder", "/week", "/sheets", "/place", "/crops"):
        page.goto(base + path, wait_until="networkidle")
    elsewhere = [url for url in asked if not url.startswith((base, "data:", "blob:"))]
    assert elsewhere == []
    assert any("/type/" in url for url in asked)


def test_nothing_is_left_running_after_a_crash(serve: Serve, planned: Path) -> None:
    """When the server is killed, the processes that worked for it end by themselves."""
    served = serve(planned)
    helpers = children_of(served.process.pid)
    assert helpers
    served.kill()
    end = monotonic() + 60
    while any(Path(f"/proc/{one}").exists() for one in helpers):
        assert monotonic() < end
        sleep(0.2)
