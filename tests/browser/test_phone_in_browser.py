"""The phone's page in a real browser: cut off, written in, and sent when the laptop is near."""

from collections.abc import Callable
from datetime import date
from pathlib import Path

from playwright.sync_api import Page, expect

from haulm.desk.season.diary import diary_of
from served import Serve

PHONE = (360, 740)
SHORT = (360, 640)
KEPT = """new Promise((resolve) => {
  if (navigator.serviceWorker.controller) resolve(true);
  navigator.serviceWorker.addEventListener('controllerchange', () => resolve(true));
})"""
"""Settles once the page is kept by its worker."""
OpenPage = Callable[..., Page]


def phone_page(served_at: str, open_page: OpenPage) -> Page:
    """Open the phone's page, and wait until the phone keeps it."""
    page = open_page("about:blank", size=PHONE, has_touch=True, is_mobile=True)
    page.goto(served_at, wait_until="commit")
    page.goto(served_at.split("/open/", maxsplit=1)[0] + "/phone/")
    ready(page)
    page.evaluate(KEPT)
    return page


def ready(page: Page) -> None:
    """Wait until the page has read what it carries."""
    page.wait_for_selector("body[data-ready=yes]")


def write_rain(page: Page, figure: str) -> None:
    """Write down rain in the gauge, as a thumb does."""
    page.get_by_role("button", name="Rain in the gauge").last.click()
    page.get_by_role("button", name=figure, exact=True).click()
    page.get_by_role("button", name="Done", exact=True).click()
    expect(page.get_by_text("Written down: Rain in the gauge")).to_be_visible()


def on_this_phone(page: Page) -> None:
    """Go to what the phone keeps."""
    page.locator("#tabs").get_by_role("link", name="On this phone").click()


def rain(notebook: Path) -> list[float]:
    """Give the rain that a notebook's diary tells of [mm]."""
    return sorted(one.amount.number for one in diary_of(notebook).entries if one.amount)


def test_three_entries_without_a_network_arrive_once(
    serve: Serve, planned: Path, open_page: OpenPage
) -> None:
    """Opened and written in at the far end of the plot; near the laptop again all is sent, once."""
    page = phone_page(serve(planned).address, open_page)
    page.context.set_offline(True)
    page.reload()
    ready(page)
    expect(page.get_by_role("heading", name="Quill Yard")).to_be_visible()
    for figure in "468":
        write_rain(page, figure)
    expect(page.locator("#state")).to_contain_text("3 entries wait")
    page.reload()
    ready(page)
    expect(page.locator("#state")).to_contain_text("out of reach")
    assert diary_of(planned).entries == ()
    page.context.set_offline(False)
    on_this_phone(page)
    expect(page.locator("#state")).to_contain_text("The laptop has everything")
    assert rain(planned) == [4, 6, 8]
    page.reload()
    ready(page)
    assert rain(planned) == [4, 6, 8]


def test_an_answer_that_got_lost_doubles_nothing(
    serve: Serve, planned: Path, open_page: OpenPage
) -> None:
    """The laptop took it but the phone never heard: it keeps the entry, sends again, once it is."""
    page = phone_page(serve(planned).address, open_page)

    def lose(route: object) -> None:
        """Let the request reach the laptop, and lose the answer."""
        route.fetch()  # type: ignore[attr-defined]
        route.abort()  # type: ignore[attr-defined]

    page.context.route("**/phone/send", lose)
    write_rain(page, "5")
    expect(page.locator("#state")).to_contain_text("out of reach. 1 entry waits")
    assert rain(planned) == [5]
    page.context.unroute("**/phone/send")
    on_this_phone(page)
    page.get_by_role("button", name="Send again").click()
    expect(page.locator("#state")).to_contain_text("The laptop has everything")
    assert rain(planned) == [5]


def test_two_phones_write_one_diary(serve: Serve, planned: Path, open_page: OpenPage) -> None:
    """Entries of two phones, both cut off meanwhile, come together."""
    served = serve(planned)
    pages = [phone_page(served.address, open_page) for _ in range(2)]
    for page, figure in zip(pages, "37", strict=True):
        page.context.set_offline(True)
        write_rain(page, figure)
    for page in pages:
        page.context.set_offline(False)
        page.reload()
        ready(page)
        expect(page.locator("#state")).to_contain_text("The laptop has everything")
    assert rain(planned) == [3, 7]
    assert len({entry.device for entry in diary_of(planned).entries}) == 2


def test_a_clock_wrong_by_a_day_is_told_on_the_phone(
    serve: Serve, planned: Path, open_page: OpenPage
) -> None:
    """A phone a day ahead says so before anything is written, and names the days after."""
    served = serve(planned)
    page = open_page("about:blank", size=PHONE)
    page.clock.install()
    page.goto(served.address, wait_until="commit")
    page.goto(served.address.split("/open/")[0] + "/phone/")
    ready(page)
    page.clock.fast_forward("24:00:00")
    write_rain(page, "9")
    expect(page.locator("#state")).to_contain_text("24 h ahead")
    expect(page.locator("#state")).to_contain_text("1 d 0 h fast")
    assert rain(planned) == [9]


def test_what_is_refused_stays_with_its_reason_until_it_is_mended(
    serve: Serve, planned: Path, open_page: OpenPage
) -> None:
    """An entry of a day to come is told back with its reason; mended, it is taken, once."""
    page = phone_page(serve(planned).address, open_page)
    page.get_by_role("button", name="Rain in the gauge").last.click()
    page.get_by_role("button", name="7", exact=True).click()
    page.locator("input[type=date]").evaluate("one => { one.max = ''; }")
    page.locator("input[type=date]").fill("2031-07-01")
    page.get_by_role("button", name="Done", exact=True).click()
    on_this_phone(page)
    expect(page.locator(".refused")).to_contain_text("still to come")
    page.reload()
    ready(page)
    expect(page.locator(".refused")).to_contain_text("still to come")
    expect(page.locator("#state")).to_contain_text("1 entry was not taken")
    page.get_by_role("button", name="Mend").click()
    page.locator("label").filter(has_text="Yesterday").click()
    page.get_by_role("button", name="Done", exact=True).click()
    expect(page.locator("#state")).to_contain_text("The laptop has everything")
    assert rain(planned) == [7]
    assert diary_of(planned).entries[0].day < date(2031, 1, 1)


def test_a_picking_takes_four_presses(serve: Serve, planned: Path, open_page: OpenPage) -> None:
    """What, of what, how much, done; what was named last is offered first, with its unit."""
    page = phone_page(serve(planned).address, open_page)
    for figure in "23":
        page.locator("main").get_by_role("button", name="Picked or lifted").last.click()
        page.locator("#subject label.key").first.click()
        page.get_by_role("button", name=figure, exact=True).click()
        page.locator(".units label", has_text="pieces").click()
        page.get_by_role("button", name="Done", exact=True).click()
        expect(page.get_by_text("Written down: Picked or lifted")).to_be_visible()
    expect(page.locator("#state")).to_contain_text("The laptop has everything")
    entries = diary_of(planned).entries
    assert len({entry.about.planting for entry in entries}) == 1
    again = page.locator("main section").first.get_by_role("button", name="Picked or lifted")
    again.click()
    expect(page.locator(".units input:checked + span")).to_have_text("pieces")
    expect(page.locator("#subject input").first).to_be_checked()


def test_everything_is_taken_back_that_was_written_by_mistake(
    serve: Serve, planned: Path, open_page: OpenPage
) -> None:
    """Undone at once or later, sent or not, an entry no longer counts."""
    page = phone_page(serve(planned).address, open_page)
    write_rain(page, "4")
    expect(page.locator("#state")).to_contain_text("The laptop has everything")
    page.get_by_role("button", name="Undo").click()
    expect(page.get_by_text("Taken back: Rain")).to_be_visible()
    page.context.set_offline(True)
    write_rain(page, "6")
    page.get_by_role("button", name="Undo").click()
    page.context.set_offline(False)
    on_this_phone(page)
    expect(page.locator("#state")).to_contain_text("The laptop has everything")
    assert rain(planned) == []


def test_the_phones_pages_can_be_read_by_anyone(
    serve: Serve, planned: Path, open_page: OpenPage, accessible: Callable[[Page], None]
) -> None:
    """Every view holds to WCAG 2.2 AA by day and in a dark shed; none scrolls sideways."""
    page = phone_page(serve(planned).address, open_page)
    page.set_viewport_size({"width": SHORT[0], "height": SHORT[1]})
    write_rain(page, "2")
    for scheme in ("light", "dark"):
        page.emulate_media(color_scheme=scheme)
        for name in ("Write", "This week", "On this phone"):
            page.locator("#tabs").get_by_role("link", name=name).click()
            accessible(page)
            assert page.evaluate("document.documentElement.scrollWidth") <= SHORT[0]
        page.locator("#tabs").get_by_role("link", name="Write").click()
        for name in ("Picked or lifted", "Counted in store", "Pest or disease"):
            page.locator("main").get_by_role("button", name=name).last.click()
            expect(page.get_by_role("button", name="Done", exact=True)).to_be_in_viewport()
            accessible(page)
            assert page.evaluate("document.documentElement.scrollWidth") <= SHORT[0]
            page.get_by_role("button", name="Back").click()
