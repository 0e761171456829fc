"""A stranger's first visit in a real browser, by keyboard alone, on a laptop and a phone."""

from collections.abc import Callable
from io import BytesIO
from pathlib import Path
from typing import Protocol

import pytest
from playwright.sync_api import Page, expect
from pypdf import PdfReader

LAPTOP, PHONE = (1440, 900), (360, 740)
PLANNED_MS = 240_000
FIRST_PAGE_BYTES = 150_000

OpenPage = Callable[..., Page]


class Served(Protocol):
    """A garden that is being served: where."""

    address: str


Serve = Callable[[Path], Served]


def pressed(page: Page, *keys: str) -> None:
    """Press keys one after another."""
    for key in keys:
        page.keyboard.press(key)


def test_a_stranger_plans_by_keyboard_alone(
    serve: Serve, open_page: OpenPage, tmp_path: Path, accessible: Callable[[Page], None]
) -> None:
    """From the opening address to a printed sheet of an own bed, no mouse."""
    page = open_page(serve(tmp_path / "mine.haulm").address, LAPTOP)
    expect(page.get_by_role("heading", level=1)).to_have_text("A garden from three answers")
    town = page.get_by_role("combobox", name="Town near you")
    while not town.evaluate("field => field === document.activeElement"):
        pressed(page, "Tab")
    page.keyboard.type("Zür")
    expect(page.get_by_role("option", name="Zürich, Switzerland")).to_be_visible()
    pressed(page, "ArrowDown", "Enter")
    expect(town).to_have_value("Zürich, Switzerland")
    expect(town).to_have_attribute("aria-expanded", "false")
    pressed(page, "Tab", "Tab", "Tab")
    page.keyboard.type("2")
    pressed(page, "Tab")
    page.keyboard.type("1")
    pressed(page, "Tab")
    page.keyboard.type("12 m2")
    pressed(page, "Tab", "Space", "Tab")
    expect(page.get_by_role("button", name="Make a first plan")).to_be_focused()
    pressed(page, "Enter")
    done = page.get_by_role("heading", level=1, name="Your first plan", exact=True)
    expect(done).to_be_visible(timeout=PLANNED_MS)
    accessible(page)
    sheets = page.locator("main").get_by_role("link", name="Sheets")
    sheets.focus()
    pressed(page, "Enter")
    expect(page.get_by_role("heading", level=1)).to_have_text("Sheets")
    printed = page.get_by_role("link", name="Print this sheet (PDF)")
    pdf = page.request.get(page.url.split("/sheets")[0] + (printed.get_attribute("href") or ""))
    words = PdfReader(BytesIO(pdf.body())).pages[0].extract_text()
    assert "Bed 1" in words or "Bed 2" in words


@pytest.mark.parametrize("size", [LAPTOP, PHONE])
def test_the_questions_can_be_read_by_anyone(
    serve: Serve,
    open_page: OpenPage,
    tmp_path: Path,
    accessible: Callable[[Page], None],
    size: tuple[int, int],
) -> None:
    """The first page holds to WCAG 2.2 AA and never scrolls sideways, faults shown or not."""
    page = open_page(serve(tmp_path / "mine.haulm").address, size)
    accessible(page)
    page.get_by_role("button", name="Make a first plan").click()
    expect(page.locator("p.fault").first).to_be_visible()
    accessible(page)
    assert page.evaluate("document.documentElement.scrollWidth") <= size[0]


def test_without_scripts_a_stranger_plans_as_well(
    serve: Serve, open_page: OpenPage, tmp_path: Path
) -> None:
    """With scripts off the towns meant are offered on the page, and the plan comes by itself."""
    page = open_page(serve(tmp_path / "mine.haulm").address, PHONE, java_script_enabled=False)
    page.get_by_label("Town near you").fill("Springfield")
    page.get_by_label("Adults").fill("1")
    page.get_by_label("All beds together").fill("100 sq ft")
    page.get_by_label("feet and pounds").check()
    page.get_by_role("button", name="Make a first plan").click()
    page.get_by_label("Springfield, Ohio, United States").check()
    expect(page.get_by_label("All beds together")).to_have_value("100 sq ft")
    page.get_by_role("button", name="Make a first plan").click()
    done = page.get_by_role("heading", level=1, name="Your first plan", exact=True)
    expect(done).to_be_visible(timeout=PLANNED_MS)
    page.locator("main").get_by_role("link", name="This week").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("This week")


def test_the_first_page_is_light(serve: Serve, open_page: OpenPage, tmp_path: Path) -> None:
    """All that the first page takes, letters included, is under 150 kB over the wire."""
    address = serve(tmp_path / "mine.haulm").address
    page = open_page("about:blank", LAPTOP)
    client = page.context.new_cdp_session(page)
    client.send("Network.enable")
    taken: list[float] = []
    client.on("Network.loadingFinished", lambda event: taken.append(event["encodedDataLength"]))
    page.goto(address, wait_until="networkidle")
    assert 1000 < sum(taken) < FIRST_PAGE_BYTES


def test_a_touch_chooses_a_town(serve: Serve, open_page: OpenPage, tmp_path: Path) -> None:
    """On a phone a town that is offered is taken by touching it."""
    page = open_page(serve(tmp_path / "mine.haulm").address, PHONE, has_touch=True)
    town = page.get_by_role("combobox", name="Town near you")
    town.fill("Springfield, Oh")
    page.get_by_role("option", name="Springfield, Ohio, United States").tap()
    expect(town).to_have_value("Springfield, Ohio, United States")
    assert page.locator('input[name="town"]').input_value() == "39.92 -83.81 Springfield"


def test_the_invented_garden_is_one_press_away(
    serve: Serve, open_page: OpenPage, tmp_path: Path
) -> None:
    """One press opens the invented garden, which says on every page that it is invented."""
    page = open_page(serve(tmp_path / "mine.haulm").address, LAPTOP)
    page.get_by_role("button", name="Look round an invented garden").click()
    expect(page.get_by_text("An invented garden.")).to_be_visible()
    page.get_by_role("button", name="Give it up").click()
    expect(page.get_by_text("An invented garden.")).to_be_visible()
    page.get_by_role("link", name="Go to your own garden").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("A garden from three answers")
