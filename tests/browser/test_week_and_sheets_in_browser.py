"""A week and the sheets in a real browser: read, printed, and taken along."""

from collections.abc import Callable
from io import BytesIO
from pathlib import Path
from typing import Protocol

import pytest
from playwright.sync_api import Page, expect
from pypdf import PdfReader

LAPTOP, PHONE = (1440, 900), (360, 740)
BUSY = "/week?of=2027-W21"

OpenPage = Callable[..., Page]


class Served(Protocol):
    """A garden that is being served: where."""

    address: str


Serve = Callable[[Path], Served]


def at(page: Page, address: str) -> str:
    """Give the address of another page of the same garden."""
    return "/".join(page.url.split("/")[:3]) + address


@pytest.mark.parametrize("size", [LAPTOP, PHONE])
def test_a_week_and_the_sheets_can_be_read_by_anyone(
    serve: Serve,
    open_page: OpenPage,
    planned: Path,
    accessible: Callable[[Page], None],
    size: tuple[int, int],
) -> None:
    """A busy week and a sheet hold to WCAG 2.2 AA and never scroll sideways, by day and night."""
    address = serve(planned).address
    for scheme, path in (("light", BUSY), ("dark", "/sheets")):
        page = open_page(address, size, color_scheme=scheme)
        page.goto(at(page, path))
        accessible(page)
        assert page.evaluate("document.documentElement.scrollWidth") <= size[0]


def test_a_week_prints_on_one_page(serve: Serve, open_page: OpenPage, planned: Path) -> None:
    """A week's jobs fit one sheet of A4, without the pages' bar and buttons."""
    page = open_page(serve(planned).address, LAPTOP)
    page.goto(at(page, BUSY))
    printed = PdfReader(BytesIO(page.pdf(format="A4")))
    assert len(printed.pages) == 1
    words = printed.pages[0].extract_text()
    assert "To do, what loses most by waiting first" in words
    assert "Next week" not in words


def test_a_sheet_is_printed_and_taken_along(
    serve: Serve, open_page: OpenPage, planned: Path
) -> None:
    """A sheet is turned over, its PDF names its bed, and the list is saved as a file."""
    page = open_page(serve(planned).address, LAPTOP)
    page.goto(at(page, "/sheets"))
    page.get_by_role("link", name="Larder tide").click()
    expect(page.get_by_role("heading", level=2, name="Larder tide")).to_be_visible()
    page.get_by_role("link", name="Next page").click()
    expect(page.get_by_text("page 2 of")).to_be_visible()
    page.get_by_role("link", name="Bed sheets of North").click()
    link = page.get_by_role("link", name="Print this sheet (PDF)")
    pdf = page.request.get(at(page, link.get_attribute("href") or ""))
    assert "North" in PdfReader(BytesIO(pdf.body())).pages[0].extract_text()
    with page.expect_download() as taken:
        page.get_by_role("link", name="shopping-list.csv").click()
    assert taken.value.suggested_filename == "shopping-list.csv"
    assert taken.value.path().read_bytes()


def test_the_paper_that_was_chosen_stays(serve: Serve, open_page: OpenPage, planned: Path) -> None:
    """Letter is chosen by keyboard, and the next sheet is on Letter too."""
    page = open_page(serve(planned).address, LAPTOP)
    page.goto(at(page, "/sheets"))
    page.get_by_role("radio", name="A4").focus()
    page.keyboard.press("ArrowRight")
    page.keyboard.press("Enter")
    expect(page.get_by_role("radio", name="Letter")).to_be_checked()
    page.get_by_role("link", name="Bed strips").click()
    expect(page.get_by_role("radio", name="Letter")).to_be_checked()
