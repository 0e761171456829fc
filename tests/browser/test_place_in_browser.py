"""Place and crops in a real browser: a record dropped, a bad file refused, all to be read."""

from collections.abc import Callable
from pathlib import Path
from typing import Protocol

import pytest
from playwright.sync_api import Page, expect

LAPTOP, PHONE = (1440, 900), (360, 740)
SEATTLE = Path(__file__).parents[1] / "truth" / "data" / "weather" / "seattle_2012_2015.csv"
DROP = """({name, text}) => {
  const data = new DataTransfer();
  data.items.add(new File([text], name, {type: 'text/csv'}));
  const event = new DragEvent('drop', {dataTransfer: data, bubbles: true, cancelable: true});
  document.getElementById('main').dispatchEvent(event);
}"""

OpenPage = Callable[..., Page]


class Served(Protocol):
    """A garden that is being served: where."""

    address: str


Serve = Callable[[Path], Served]


def at(page: Page, address: str) -> str:
    """Give the address of another page of the same garden."""
    return "/".join(page.url.split("/")[:3]) + address


def test_a_record_is_dropped_and_a_bad_file_refused(
    serve: Serve, open_page: OpenPage, planned: Path, accessible: Callable[[Page], None]
) -> None:
    """A file dropped anywhere on the page is taken in at once; a bad one is told why not."""
    page = open_page(serve(planned).address, LAPTOP)
    page.goto(at(page, "/place"))
    page.evaluate(DROP, {"name": "picture.csv", "text": "<html>\0\0"})
    expect(page.get_by_text("Not taken in")).to_be_visible()
    expect(page.get_by_text("this is no text file.")).to_be_visible()
    accessible(page)
    page.evaluate(DROP, {"name": "seattle.csv", "text": SEATTLE.read_text(encoding="utf-8")})
    expect(page.get_by_text("Rests on 4 years of record").first).to_be_visible()
    expect(page.get_by_text("Not taken in")).to_have_count(0)
    accessible(page)
    page.get_by_role("button", name="Undo").click()
    expect(page.get_by_text("Rests on monthly normals").first).to_be_visible()


@pytest.mark.parametrize("size", [LAPTOP, PHONE])
def test_place_and_crops_can_be_read_by_anyone(
    serve: Serve,
    open_page: OpenPage,
    planned: Path,
    accessible: Callable[[Page], None],
    size: tuple[int, int],
) -> None:
    """Place, the list of crops and a crop hold to WCAG 2.2 AA and never scroll sideways."""
    page = open_page(serve(planned).address, size, color_scheme="dark")
    for address in ("/place", "/crops", "/crops/garlic"):
        page.goto(at(page, address))
        accessible(page)
        assert page.evaluate("document.documentElement.scrollWidth") <= size[0]
