"""The drawing board in a real browser: by mouse, by keys alone, by touch, in two windows."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from gardens import small_garden
from haulm.desk.garden.editing import parts_of
from haulm.desk.garden.exchange import import_garden

Open = Callable[..., Page]
Serve = Callable[[Path], Any]
LAPTOP, TABLET, PHONE = (1440, 900), (768, 1024), (360, 740)
L_SHAPE = [
    ["0 m", "0 m"],
    ["3 m", "0 m"],
    ["3 m", "1 m"],
    ["1 m", "1 m"],
    ["1 m", "4 m"],
    ["0 m", "4 m"],
]
"""Three metres by one, and a leg of one by three: 6 m²."""


@pytest.fixture
def yard(tmp_path: Path) -> Path:
    """Give a notebook of the small garden without a plan."""
    return import_garden(small_garden(tmp_path), tmp_path / "yard.haulm")[0]


def open_at(open_page: Open, address: str, path: str, **more: object) -> Page:
    """Open a page of the garden that is served, past its key."""
    page = open_page("about:blank", **more)
    page.context.request.get(address, max_redirects=0)
    page.goto(address.partition("/open/")[0] + path)
    return page


def corner(page: Page, number: int) -> tuple[float, float]:
    """Give where a corner lies in the window [px]."""
    box = page.locator("#board button").nth(number - 1).bounding_box()
    assert box
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


def place(page: Page, east: float, north: float) -> tuple[float, float]:
    """Give where a point of the ground [m] lies in the window; corner 1 is its origin."""
    east_px, north_px = corner(page, 1)
    px_m = page.evaluate("document.querySelector('#board').dataset.scale")
    return east_px + east * float(px_m), north_px - north * float(px_m)


def middle(page: Page, one: int, other: int) -> tuple[float, float]:
    """Give the middle of the side between two corners [px]."""
    (x1, y1), (x2, y2) = corner(page, one), corner(page, other)
    return (x1 + x2) / 2, (y1 + y2) / 2


Drag = Callable[[tuple[float, float], tuple[float, float]], None]


def draw_l(page: Page, drag: Drag) -> None:
    """Draw the L from the rectangle that a new bed begins with, dragging alone."""
    drag(middle(page, 2, 3), place(page, 1, 1))
    drag(middle(page, 2, 3), place(page, 3, 1))
    drag(corner(page, 2), place(page, 3, 0))
    drag(corner(page, 5), place(page, 1, 4))


def by_mouse(page: Page) -> Drag:
    """Drag with the mouse."""

    def drag(start: tuple[float, float], end: tuple[float, float]) -> None:
        page.mouse.move(*start)
        page.mouse.down()
        page.mouse.move(*end, steps=4)
        page.mouse.up()

    return drag


def by_touch(page: Page) -> Drag:
    """Drag with a finger."""
    hand = page.context.new_cdp_session(page)

    def drag(start: tuple[float, float], end: tuple[float, float]) -> None:
        ways = [
            (start[0] + (end[0] - start[0]) * part / 4, start[1] + (end[1] - start[1]) * part / 4)
            for part in range(5)
        ]
        for at, (x, y) in enumerate(ways):
            kind = "touchMove" if at else "touchStart"
            hand.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": [{"x": x, "y": y}]})
        hand.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})

    return drag


def saved(page: Page, notebook: Path) -> None:
    """Hold the bed that was added to the L, to the centimetre, after its page is read anew."""
    page.wait_for_url("**/ground/ell")
    page.reload()
    assert page.locator("#said").inner_text().startswith("6 m²;")
    assert parts_of(notebook)["bed"][2]["corners"] == L_SHAPE


def test_an_l_is_drawn_by_mouse(serve: Serve, open_page: Open, yard: Path) -> None:
    """Corners dragged to the step, corners made by pulling at an edge: the area is exact."""
    page = open_at(open_page, serve(yard).address, "/ground?add=corners")
    page.fill("#name", "Ell")
    draw_l(page, by_mouse(page))
    page.get_by_text("6 m²; sides 3 m, 1 m, 2 m, 3 m, 1 m, 4 m").wait_for()
    page.locator("#board button").nth(1).focus()
    page.keyboard.press("Control+z")
    page.get_by_text("6 m²; sides").wait_for(state="hidden")
    page.keyboard.press("Control+y")
    page.get_by_text("6 m²; sides 3 m, 1 m").wait_for()
    page.get_by_role("button", name="Write the bed").click()
    saved(page, yard)


def test_an_l_is_drawn_by_touch(serve: Serve, open_page: Open, yard: Path) -> None:
    """A finger draws as well as a mouse does, on a tablet."""
    page = open_at(
        open_page,
        serve(yard).address,
        "/ground?add=corners",
        has_touch=True,
        is_mobile=True,
        size=TABLET,
    )
    page.fill("#name", "Ell")
    page.locator("#board").scroll_into_view_if_needed()
    draw_l(page, by_touch(page))
    page.get_by_text("6 m²; sides").wait_for()
    page.get_by_role("button", name="Write the bed").tap()
    saved(page, yard)


def test_an_l_is_drawn_by_keys_alone(serve: Serve, open_page: Open, yard: Path) -> None:
    """Corners are reached, moved, added and written without a pointer."""
    page = open_at(open_page, serve(yard).address, "/ground?add=corners")
    press = page.keyboard.press

    def go_to(words: str) -> None:
        for _ in range(80):
            if words in page.evaluate(
                "(document.activeElement.getAttribute('aria-label') ?? '')"
                " + document.activeElement.textContent + document.activeElement.id"
            ):
                return
            press("Tab")
        pytest.fail(f"{words} is not reached by Tab")

    def press_times(key: str, times: int) -> None:
        for _ in range(times):
            press(key)

    page.locator("#board button").first.wait_for()
    press("Tab")
    go_to("name")
    page.keyboard.type("Ell")
    go_to("Corner 2")
    press("+")
    press_times("ArrowLeft", 2)
    press("Shift+ArrowDown")
    press("Shift+Tab")
    press("+")
    press("Shift+ArrowRight")
    press_times("ArrowRight", 9)
    press_times("ArrowUp", 5)
    press("Shift+Tab")
    press("Shift+ArrowRight")
    press_times("ArrowRight", 8)
    press_times("Tab", 3)
    press_times("ArrowLeft", 2)
    press("+")
    press("Delete")
    page.get_by_text("6 m²; sides 3 m, 1 m, 2 m, 3 m, 1 m, 4 m").wait_for()
    go_to("Write the bed")
    press("Enter")
    saved(page, yard)


def test_a_crossing_outline_is_refused_at_once_and_on_writing(
    serve: Serve, open_page: Open, yard: Path
) -> None:
    """A corner pulled across another side is told in words, and such a bed is not written."""
    page = open_at(open_page, serve(yard).address, "/ground/north")
    by_mouse(page)(middle(page, 2, 3), place(page, -1, 2))
    page.locator("#outline-fault", has_text="cross or touch each other").wait_for()
    page.get_by_role("button", name="Write the bed").click()
    page.locator("#corners-said", has_text="cross or touch each other").wait_for()
    assert parts_of(yard)["bed"][0]["width"] == "1.2 m"


def test_drawing_and_typing_stay_in_step(serve: Serve, open_page: Open, yard: Path) -> None:
    """A typed width moves the drawing, a moved corner the typed width, a typed side the corners."""
    page = open_at(open_page, serve(yard).address, "/ground/north")
    page.fill("#width", "4 ft")
    page.get_by_text("7.32 m²").wait_for()
    page.locator("#board button").nth(2).focus()
    page.keyboard.press("ArrowRight")
    assert page.input_value("#width") == "1.32 m"
    page.get_by_label("Any outline, by its corners").check()
    page.get_by_label("Side from corner 1", exact=True).fill("2 m")
    page.get_by_label("Side from corner 1", exact=True).press("Tab")
    expect(page.locator("[data-is=east]").nth(1)).to_have_value("2 m")
    page.get_by_role("button", name="Take back").click()
    expect(page.locator("[data-is=east]").nth(1)).to_have_value("1.32 m")


def test_two_windows_never_overwrite_one_another(serve: Serve, open_page: Open, yard: Path) -> None:
    """Different beds are both written; of the same bed the second is held back, still as typed."""
    address = serve(yard).address
    pages = [open_at(open_page, address, f"/ground/{bed}") for bed in ("north", "south", "north")]
    for page, name in zip(pages, ("One", "Two", "Three"), strict=True):
        page.fill("#name", name)
        page.locator("#name").press("Enter")
    pages[1].get_by_text("Two is written.").wait_for()
    pages[2].get_by_role("heading", name="Changed elsewhere").wait_for()
    assert pages[2].input_value("#name") == "Three"
    assert [bed["name"] for bed in parts_of(yard)["bed"]] == ["One", "Two"]


def test_every_way_of_looking_is_accessible(
    serve: Serve, open_page: Open, planned: Path, accessible: Callable[[Page], None]
) -> None:
    """The beds and a bed's board hold to WCAG 2.2 AA on laptop and phone, by day and by night."""
    address = serve(planned).address
    for size, scheme in ((LAPTOP, "light"), (PHONE, "dark")):
        for path in ("/ground", "/ground/south", "/ground?add=round"):
            page = open_at(open_page, address, path, size=size, color_scheme=scheme)
            page.wait_for_load_state("networkidle")
            accessible(page)
            assert page.evaluate("document.documentElement.scrollWidth") <= size[0]
