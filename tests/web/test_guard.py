"""Who may ask: only this machine, with the key, and only haulm's own pages may change anything."""

from datetime import date
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from haulm.web.app import create_app
from haulm.web.guard import HEADERS, cookie_name
from haulm.web.run import hosts_of
from haulm.web.shelf import Shelf

PORT, TOKEN = 4180, "the-key"
OURS = f"http://127.0.0.1:{PORT}"


@pytest.fixture
def stranger(unplanned: Path) -> TestClient:
    """Give a client without the key."""
    shelf = Shelf(unplanned, lambda: date(2027, 2, 1))
    app = create_app(shelf, TOKEN, PORT, hosts_of("127.0.0.1", PORT))
    return TestClient(app, base_url=OURS, follow_redirects=False)


def test_without_the_key_no_page_is_shown(stranger: TestClient) -> None:
    """Another program of this machine that lacks the key reads nothing of the garden."""
    for path in ("/", "/table", "/ground", "/year", "/sheets", "/alive"):
        answer = stranger.get(path)
        assert answer.status_code == 403
        assert "Quill" not in answer.text


def test_the_opening_address_hands_over_the_key(stranger: TestClient) -> None:
    """The address shown at the start lets its browser in from then on."""
    opened = stranger.get(f"/open/{TOKEN}")
    assert opened.status_code == 303
    assert "httponly" in opened.headers["set-cookie"].lower()
    stranger.cookies.set(cookie_name(PORT), TOKEN)
    assert stranger.get("/table").status_code == 200


def test_an_old_opening_address_is_refused(stranger: TestClient) -> None:
    """The address of a server that has ended opens nothing at a new one."""
    answer = stranger.get("/open/another-key")
    assert answer.status_code == 403
    assert "set-cookie" not in answer.headers


def test_a_name_that_is_not_ours_is_refused(stranger: TestClient) -> None:
    """A foreign name that was pointed at this machine cannot read the garden."""
    stranger.cookies.set(cookie_name(PORT), TOKEN)
    for host in ("garden.example", "127.0.0.1", f"127.0.0.1:{PORT}.example", ""):
        assert stranger.get("/table", headers={"Host": host}).status_code == 403


@pytest.mark.parametrize(
    "headers",
    [
        {"Origin": "http://garden.example"},
        {"Origin": "null"},
        {"Origin": "http://127.0.0.1:1"},
        {"Origin": f"https://127.0.0.1:{PORT}"},
        {"Sec-Fetch-Site": "cross-site"},
        {},
    ],
)
def test_a_change_from_another_site_is_refused(
    stranger: TestClient, headers: dict[str, str]
) -> None:
    """A page of another site cannot change the garden, even in the grower's own browser."""
    stranger.cookies.set(cookie_name(PORT), TOKEN)
    assert stranger.post("/undo", headers=headers).status_code == 403


def test_a_change_from_our_own_page_is_taken(stranger: TestClient) -> None:
    """Haulm's own pages may change the garden."""
    stranger.cookies.set(cookie_name(PORT), TOKEN)
    assert stranger.post("/undo", headers={"Origin": OURS}).status_code == 303


def test_every_answer_keeps_other_sites_out(stranger: TestClient) -> None:
    """No page can be framed by another site or load anything from elsewhere."""
    stranger.cookies.set(cookie_name(PORT), TOKEN)
    for path in ("/table", "/nowhere", "/static/almanac.css"):
        answer = stranger.get(path)
        assert all(answer.headers[name] == value for name, value in HEADERS.items())
    assert stranger.get("/table").headers["cache-control"] == "no-store"


def test_a_request_that_is_too_large_is_refused(stranger: TestClient) -> None:
    """A file of hundreds of megabytes is not taken into memory."""
    stranger.cookies.set(cookie_name(PORT), TOKEN)
    sent = {"Origin": OURS, "Content-Type": "application/x-www-form-urlencoded"}
    answer = stranger.post("/undo", headers=sent, content=b"back=/" + b"x" * 26_000_000)
    assert answer.status_code == 413
