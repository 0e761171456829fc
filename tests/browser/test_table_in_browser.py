"""The Table page in a real browser: what is eaten is changed, and the plan moves."""

import re
from collections.abc import Callable
from pathlib import Path
from typing import Protocol

from playwright.sync_api import Page, expect

from haulm.desk.garden.editing import parts_of

LAPTOP, PHONE = (1440, 900), (360, 740)


class Served(Protocol):
    """A garden that is being served: where."""

    address: str


Serve = Callable[[Path], Served]


def at(served_address: str, path: str) -> str:
    """Give the address of a page of the garden that is served."""
    return served_address.split("/open/", 1)[0] + path


def takes(page: Page, line: str) -> list[float]:
    """Read what stands beside a line: its kilograms a year, plants, ground and hours."""
    cells = page.locator(f"#line-{line} :is(.year-kg, .takes)").all_text_contents()
    return [float(re.sub(r"[^\d.]", "", cell.replace("m²", ""))) for cell in cells]


def test_what_is_eaten_is_changed_by_keyboard_and_the_plan_moves(
    serve: Serve, open_page: Callable[..., Page], planned: Path
) -> None:
    """With keys alone more is asked for; the figures move at once, and the plan when made anew."""
    served = serve(planned)
    page = open_page(served.address)
    page.goto(at(served.address, "/table"))
    before = takes(page, "onion")
    more = page.get_by_role("button", name="More onion")
    more.focus()
    for helpings in ("6", "7", "8"):
        page.keyboard.press("Enter")
        expect(page.get_by_label("Helpings of onion a week")).to_have_value(helpings)
        expect(more).to_be_focused()
    after = takes(page, "onion")
    assert all(now > then for now, then in zip(after, before, strict=True))
    expect(page.get_by_text("The plan was made for another table")).to_be_visible()
    page.get_by_role("button", name="Plan again").focus()
    page.get_by_label("How hard to look").select_option("quick")
    page.get_by_role("button", name="Plan again").press("Enter")
    page.wait_for_url(lambda url: "/planning" not in url, timeout=240_000)
    page.goto(at(served.address, "/proposal"))
    expect(page.get_by_role("heading", level=1)).to_be_visible()
    expect(page.get_by_text(re.compile("onion", re.IGNORECASE)).first).to_be_attached()


def test_quick_presses_are_all_counted(
    serve: Serve, open_page: Callable[..., Page], planned: Path
) -> None:
    """Four presses one after another, without waiting, are four helpings more."""
    served = serve(planned)
    page = open_page(served.address)
    page.goto(at(served.address, "/table"))
    page.get_by_role("button", name="More leek").click(click_count=4, delay=10)
    expect(page.get_by_label("Helpings of leek a week")).to_have_value("6")


def test_a_bad_amount_stays_in_its_field_with_the_reason_beside_it(
    serve: Serve, open_page: Callable[..., Page], planned: Path
) -> None:
    """A number written as a word is kept as typed and told to be none, and nothing is written."""
    served = serve(planned)
    page = open_page(served.address)
    page.goto(at(served.address, "/table"))
    field = page.get_by_label("Helpings of leek a week")
    field.fill("three")
    field.press("Tab")
    expect(page.get_by_text("“three” is no amount.")).to_be_visible()
    expect(page.get_by_label("Helpings of leek a week")).to_have_value("three")
    assert [line["amount"] for line in parts_of(planned)["table"] if line["eat"] == "leek"] == [
        "0.4 kg"
    ]


def test_two_windows_never_overwrite_one_another(
    serve: Serve, open_page: Callable[..., Page], planned: Path
) -> None:
    """Two windows may change two lines; on one line the later is told and writes nothing."""
    served = serve(planned)
    address = served.address
    windows = [open_page(address), open_page(address)]
    for window in windows:
        window.goto(at(address, "/table"))
    for window, line, week in zip(windows, ("onion", "garlic"), ("9", "20"), strict=True):
        field = window.get_by_label(f"Helpings of {line} a week")
        field.fill(week)
        with window.expect_response(f"**/table/{line}") as written:
            field.press("Tab")
        assert written.value.status == 303
        expect(window.get_by_text("changed in another window")).to_have_count(0)
    for window in windows:
        window.goto(at(address, "/table"))
    for window, week in zip(windows, ("11", "12"), strict=True):
        window.get_by_label("Helpings of onion a week").fill(week)
        with window.expect_response("**/table/onion"):
            window.get_by_label("Helpings of onion a week").press("Tab")
    expect(windows[1].get_by_text("changed in another window")).to_be_visible()
    assert [line["amount"] for line in parts_of(planned)["table"] if line["eat"] == "onion"] == [
        "1.1 kg"
    ]


def test_the_table_is_accessible_wide_and_narrow(
    serve: Serve,
    open_page: Callable[..., Page],
    accessible: Callable[[Page], None],
    planned: Path,
) -> None:
    """Table, opened line and household pass the checker, by day, by night and on a phone."""
    served = serve(planned)
    address = served.address
    for size, scheme in ((LAPTOP, "light"), (LAPTOP, "dark"), (PHONE, "light")):
        page = open_page(address, size, color_scheme=scheme)
        for path in ("/table", "/table/garlic", "/table-household"):
            page.goto(at(address, path))
            accessible(page)
            wide = page.evaluate("document.documentElement.scrollWidth")
            assert wide <= size[0], (path, size)
