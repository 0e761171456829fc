"""The pages of dates in a real browser: successive sowings, what follows, winter, last days."""

from collections.abc import Callable
from pathlib import Path
from typing import Protocol

from playwright.sync_api import Page, expect

LAPTOP, PHONE = (1440, 900), (360, 740)
PAGES = (
    "/succession/french bean/dwarf",
    "/follow/north?free=2027-07-05",
    "/winter",
    "/week/decide",
)


class Served(Protocol):
    """A garden that is being served: where."""

    address: str


Serve = Callable[[Path], Served]


def test_the_pages_of_dates_are_accessible_wide_and_narrow(
    serve: Serve,
    open_page: Callable[..., Page],
    accessible: Callable[[Page], None],
    planned: Path,
) -> None:
    """Each passes the checker with all that folds opened, by day, night and on a phone."""
    address = serve(planned).address
    for size, scheme in ((LAPTOP, "dark"), (PHONE, "light")):
        page = open_page(address, size, color_scheme=scheme)
        for path in PAGES:
            page.goto(address.split("/open/")[0] + path)
            page.evaluate(
                "document.querySelectorAll('main details').forEach((d) => { d.open = true })"
            )
            accessible(page)
            assert page.evaluate("document.documentElement.scrollWidth") <= size[0]


def test_what_waiting_costs_fills_in_by_itself(
    serve: Serve, open_page: Callable[..., Page], planned: Path
) -> None:
    """Choices of the next months are reckoned one by one once the page is there; the others wait
    for their link.
    """
    address = serve(planned).address
    page = open_page(address)
    page.goto(address.split("/open/")[0] + "/week/decide")
    expect(page.locator("[data-later]")).to_have_count(0)
    first = page.locator(".choice").first
    expect(first.get_by_text("What does waiting cost?")).to_have_count(0)


def test_without_scripts_a_link_leads_to_the_answer(
    serve: Serve, open_page: Callable[..., Page], planned: Path
) -> None:
    """With scripts off the first choice is reckoned on the page of its own."""
    address = serve(planned).address
    page = open_page(address, java_script_enabled=False)
    page.goto(address.split("/open/")[0] + "/week/decide")
    page.get_by_role("link", name="What does waiting cost?").first.click()
    expect(page.get_by_role("heading", level=1)).to_contain_text("Last day to decide:")
    expect(page.get_by_text("What does waiting cost?")).to_have_count(0)
