"""The Year in a real browser: settled, planned again, compared, kept; stopped early; cut off."""

import shutil
from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from haulm.desk.garden.editing import parts_of
from haulm.desk.planning.plans import kept_plan, plan_garden, proposed_plan
from haulm.plan.records import Planting
from haulm.planner.solve import EFFORTS
from served import Serve, Served

Open = Callable[..., Page]
LAPTOP, PHONE = (1440, 900), (360, 740)
LONG_MS = 240_000


def look(open_page: Open, served: Served, path: str, **more: object) -> Page:
    """Open a page of a served garden, past its key."""
    page = open_page(served.address, **more)
    page.goto(served.address.split("/open/")[0] + path)
    return page


def leek(notebook: Path) -> Planting:
    """Give the first leeks of the kept plan."""
    return next(one for one in kept_plan(notebook).plan.plantings if one.crop == "leek")


def press(page: Page, name: str) -> None:
    """Press a button from the keyboard alone."""
    button = page.get_by_role("button", name=name, exact=True)
    button.focus()
    page.keyboard.press("Enter")


def test_a_planting_is_opened_forbidden_and_planned_around_by_keyboard(
    serve: Serve, open_page: Open, planned: Path
) -> None:
    """By keys alone: open the leeks from their patch, settle that there are none, plan again, read
    what would change, keep it, and see the strips without them.
    """
    page = look(open_page, serve(planned), "/year")
    leeks = page.locator(f'a.patch[href="/year/{leek(planned).id}"]')
    leeks.focus()
    page.keyboard.press("Enter")
    opened = page.get_by_role("heading", name="Leek")
    expect(opened).to_be_visible()
    expect(opened).to_be_focused()
    expect(page.get_by_role("heading", name="The sum")).to_be_visible()
    press(page, "Not at all, in no bed")
    expect(page.get_by_role("status")).to_contain_text("Settled.")
    page.get_by_label("How hard to look").first.select_option("quick")
    press(page, "Plan again around it")
    page.wait_for_url("**/proposal", timeout=LONG_MS)
    expect(page.get_by_text("leek will not be planted").first).to_be_visible()
    expect(page.locator("a.patch.gone").first).to_be_visible()
    press(page, "Keep this plan")
    expect(page.get_by_role("status")).to_contain_text("The new plan is kept.")
    kind = parts_of(planned)["pin"][0]["kind"]
    kept = kept_plan(planned).plan.plantings
    assert kind not in {one.kind for one in kept}
    expect(page.locator("a.patch")).to_have_count(len(kept))


def test_planning_stopped_early_keeps_the_best_so_far(
    serve: Serve, open_page: Open, planned: Path
) -> None:
    """Who stops the search is shown the best plan so far, held against the one kept before."""
    page = look(open_page, serve(planned), "/year")
    page.get_by_label("How hard to look").select_option("thorough")
    press(page, "Plan again")
    page.wait_for_url("**/planning")
    expect(page.locator(".close")).to_contain_text("of the best there can be", timeout=LONG_MS)
    press(page, "Stop here and keep the best so far")
    page.wait_for_url("**/proposal", timeout=LONG_MS)
    expect(page.get_by_role("heading", name="What would change")).to_be_visible()
    assert proposed_plan(planned) is not None


def test_a_server_killed_while_it_plans_loses_nothing(
    serve: Serve, open_page: Open, planned: Path
) -> None:
    """After a power cut in the middle of planning, what was settled and the plan that was kept are
    there as before, no half plan is, and the page says that none is in the making.
    """
    first = serve(planned)
    page = look(open_page, first, f"/year/{leek(planned).id}")
    press(page, "Keep it as it is")
    before, pins = kept_plan(planned).plan, parts_of(planned)["pin"]
    page.get_by_label("How hard to look").first.select_option("thorough")
    press(page, "Plan again around it")
    page.wait_for_url("**/planning")
    first.kill()
    again = look(open_page, serve(planned), "/planning")
    expect(again.get_by_role("heading", name="No plan is in the making")).to_be_visible()
    again.get_by_role("link", name="Go to the Year").click()
    expect(again.locator("a.patch").first).to_be_visible()
    assert parts_of(planned)["pin"] == pins
    assert kept_plan(planned).plan == before
    assert proposed_plan(planned) is None


def test_on_a_phone_one_bed_is_seen_at_a_time(serve: Serve, open_page: Open, planned: Path) -> None:
    """A phone shows one bed, chosen by name, with a list of its plantings large enough for a
    finger; the page itself never scrolls sideways.
    """
    page = look(open_page, serve(planned), "/year", size=PHONE)
    expect(page.locator(".strip.bed:visible")).to_have_count(1)
    page.locator("#bed").select_option("south")
    page.wait_for_url("**/year?bed=south")
    link = page.locator(".in-bed a").first
    expect(link).to_be_visible()
    box = link.bounding_box()
    assert box is not None
    assert box["height"] >= 44
    link.click()
    expect(page.get_by_role("heading", name="Settle by hand")).to_be_visible()
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")


@pytest.fixture(scope="module")
def proposed(planned_once: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Give a notebook with a plan kept and another that waits."""
    notebook = Path(shutil.copy(planned_once, tmp_path_factory.mktemp("waits") / "yard.haulm"))
    plan_garden(notebook, kept_plan(notebook).plan.made_on, EFFORTS["quick"], 2, propose=True)
    return notebook


@pytest.mark.parametrize("size", [LAPTOP, PHONE])
def test_the_pages_of_the_plan_can_be_used_by_everyone(
    serve: Serve,
    open_page: Open,
    accessible: Callable[[Page], None],
    proposed: Path,
    size: tuple[int, int],
) -> None:
    """The Year, an opened planting, planning and a proposal pass the checker, by day and night, on
    a laptop and on a phone.
    """
    served = serve(proposed)
    page = look(open_page, served, "/year", size=size, color_scheme="dark")
    accessible(page)
    for path in (f"/year/{leek(proposed).id}", "/planning", "/proposal"):
        page.goto(served.address.split("/open/")[0] + path)
        accessible(page)
        assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    page.emulate_media(color_scheme="light")
    accessible(page)


def test_a_planting_is_moved_by_dragging_its_patch(
    serve: Serve, open_page: Open, planned: Path
) -> None:
    """Dropped on another bed it is settled there; let go where it stands, nothing is settled."""
    served = serve(planned)
    page = open_page(served.address)
    base = served.address.partition("/open/")[0]
    page.goto(f"{base}/year")
    address = None
    for href in [link.get_attribute("href") for link in page.locator("a.patch").all()]:
        page.goto(f"{base}{href}")
        if page.locator("#bed-for-it option").count():
            address = href
            break
    assert address is not None
    bed = page.locator("#bed-for-it option").first.get_attribute("value")
    patch = page.locator("a.patch.movable").first
    patch.scroll_into_view_if_needed()
    there = page.locator(f'.strip.bed[data-bed="{bed}"] .field')
    box, target = patch.bounding_box(), there.bounding_box()
    assert box
    assert target
    page.mouse.move(box["x"] + 10, box["y"] + box["height"] / 2)
    page.mouse.down()
    page.mouse.move(box["x"] + 30, box["y"] + box["height"] / 2)
    page.mouse.move(box["x"] + 10, box["y"] + box["height"] / 2)
    page.get_by_text("It stays").wait_for()
    page.mouse.up()
    assert parts_of(planned)["pin"] == ()
    page.mouse.down()
    page.mouse.move(box["x"] + 10, target["y"] + target["height"] / 2, steps=5)
    page.locator(".moving").wait_for()
    page.mouse.up()
    page.get_by_text("Settled.").wait_for()
    assert {pin["rule"]: pin["bed"] for pin in parts_of(planned)["pin"]}["keep"] == bed
