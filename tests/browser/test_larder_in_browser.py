"""The Larder page in a real browser."""

from collections.abc import Callable
from pathlib import Path
from typing import Protocol

from playwright.sync_api import Page, expect

LAPTOP, PHONE = (1440, 900), (360, 740)


class Served(Protocol):
    """A garden that is being served: where."""

    address: str


Serve = Callable[[Path], Served]


def test_the_larder_is_accessible_wide_and_narrow(
    serve: Serve,
    open_page: Callable[..., Page],
    accessible: Callable[[Page], None],
    planned: Path,
) -> None:
    """The larder passes the checker with all that folds opened, by day, night and on a phone."""
    served = serve(planned)
    address = served.address
    for size, scheme in ((LAPTOP, "light"), (LAPTOP, "dark"), (PHONE, "light")):
        page = open_page(address, size, color_scheme=scheme)
        page.goto(address.split("/open/")[0] + "/larder")
        page.evaluate("document.querySelectorAll('main details').forEach((d) => { d.open = true })")
        accessible(page)
        assert page.evaluate("document.documentElement.scrollWidth") <= size[0]


def test_the_tide_of_one_food_is_chosen_by_keyboard(
    serve: Serve, open_page: Callable[..., Page], planned: Path
) -> None:
    """With keys alone one food is marked, and its own tide is drawn."""
    served = serve(planned)
    address = served.address
    page = open_page(address)
    page.goto(address.split("/open/")[0] + "/larder")
    page.get_by_text("Of some foods only").press("Enter")
    page.get_by_role("checkbox", name="garlic").press("Space")
    page.get_by_role("button", name="Draw these").press("Enter")
    expect(page.get_by_role("region", name="Larder tide: garlic")).to_be_visible()
    expect(page.get_by_role("checkbox", name="garlic")).to_be_checked()
