"""The price of certainty on its page: reckoned beside, told side by side, one to choose."""

from collections.abc import Callable
from datetime import date
from importlib.resources import as_file, files
from pathlib import Path
from time import monotonic, sleep

import pytest
from starlette.testclient import TestClient

from haulm.desk.garden.exchange import import_garden
from haulm.desk.garden.opening import open_garden
from haulm.desk.odds.certainty_prices import Priced, price_of_certainty
from haulm.desk.planning.beside import Order
from haulm.planner.question import Effort
from haulm.web.planning import Making, State
from haulm.web.shelf import Shelf

Door = Callable[[Path], TestClient]
DAY = date(2027, 2, 1)
QUICK = Effort("quick", rounds=0, target_gap=0.05)
PATIENCE_S = 90.0


@pytest.fixture(scope="module")
def one_food(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Give a notebook of the example garden of one food."""
    with as_file(files("haulm.examples") / "one-food" / "garden.toml") as example:
        folder = tmp_path_factory.mktemp("one-food")
        return import_garden(example, folder / "yard.haulm")[0]


@pytest.fixture(scope="module")
def priced(one_food: Path) -> tuple[Priced, ...]:
    """Price means and 9 years in 10 there."""
    return price_of_certainty(one_food, DAY, [None, 0.9], QUICK, 1)[1]


@pytest.fixture
def page(door: Door, one_food: Path, tmp_path: Path) -> TestClient:
    """Open the pages of a copy of that garden."""
    copy = tmp_path / "yard.haulm"
    copy.write_bytes(one_food.read_bytes())
    return door(copy)


def shelf_of(page: TestClient) -> Shelf:
    """Give what the server holds."""
    shelf: Shelf = page.app.state.shelf  # type: ignore[attr-defined]
    return shelf


def put(page: TestClient, priced: tuple[Priced, ...], state: State = State.MADE) -> None:
    """Put prices before the pages, as if they had been reckoned beside them."""
    shelf = shelf_of(page)
    order = Order(shelf.garden.path, DAY, "quick", 1, propose=False, parent=0)
    shelf.pricer.making = Making(order, state, priced=list(priced))
    shelf._priced_for = shelf.garden.price_mark  # noqa: SLF001 - as after reckoning


def test_each_choice_stands_beside_the_others(page: TestClient, priced: tuple[Priced, ...]) -> None:
    """The page sets ground, hours, money and weeks short side by side, says what has no price, and
    offers to plan for each.
    """
    put(page, priced)
    html = page.get("/certainty").text
    for words in (
        "by means",
        "9 years in 10",
        "Ground in use",
        "Hours of work",
        "Planting stock to buy",
        "Weeks in which a line is short",
        "Gaps of a poor year",
        "Plan by means",
        "Plan for 9 years in 10",
    ):
        assert words in html
    assert html.count('name="do" value="choose"') == 2


def test_it_is_reached_from_how_sure_it_is_and_from_planning(page: TestClient) -> None:
    """Whoever reads how sure the plan is, or is about to plan, finds what certainty costs."""
    for address in ("/seasons", "/planning", "/table-household"):
        assert 'href="/certainty"' in page.get(address).text


def test_prices_are_kept_until_the_garden_changes(
    page: TestClient, priced: tuple[Priced, ...]
) -> None:
    """Another certainty of the garden leaves the prices as they are; other hours do not."""
    put(page, priced)
    page.post("/table-household", data=_surer(page, "9"))
    html = page.get("/certainty").text
    assert "Side by side" in html
    assert "keep its promises 9 years in 10" in html
    hours = {"part": "hours", "form": "hours", "seen": _seen(page, "hours"), "every_week": "3"}
    page.post("/table-household", data=hours)
    assert "Side by side" not in page.get("/certainty").text


def _seen(page: TestClient, form: str) -> str:
    """Give the mark with which a form of the household is shown."""
    html = page.get("/table-household").text
    return html.split(f'id="{form}"', 1)[1].split('name="seen" value="', 1)[1].split('"', 1)[0]


def _surer(page: TestClient, years: str) -> dict[str, str]:
    """Fill in how sure plans are to be."""
    seen = _seen(page, "certainty")
    return {"part": "certainty", "form": "certainty", "seen": seen, "certainty": years}


def test_the_household_says_how_sure_plans_are_to_be(page: TestClient) -> None:
    """The garden's certainty is set and taken back where the household is told; what nobody can
    promise is refused there.
    """
    path = shelf_of(page).garden.path
    page.post("/table-household", data=_surer(page, "8"))
    assert open_garden(path).garden.household.certainty == 0.8
    assert '<option value="8" selected>' in page.get("/table-household").text
    refused = page.post("/table-household", data=_surer(page, "10"))
    assert refused.status_code == 422
    assert "10 years in 10 cannot be planned for" in refused.text
    page.post("/table-household", data=_surer(page, ""))
    assert open_garden(path).garden.household.certainty is None


def test_a_line_may_ask_for_a_certainty_of_its_own(page: TestClient) -> None:
    """In a line's own form stands how sure it is to be; left alone it is as the garden."""
    html = page.get("/table/garlic").text
    assert "as the garden" in html
    seen = html.split('name="seen" value="', 1)[1].split('"', 1)[0]
    typed = {"do": "save", "seen": seen, "eat": "garlic", "amount": "100 g", "certainty": "9"}
    page.post("/table/garlic", data=typed)
    (line,) = open_garden(shelf_of(page).garden.path).garden.household.table
    assert line.certainty == 0.9
    assert '<option value="9" selected>' in page.get("/table/garlic").text


def test_reckoning_goes_on_beside_and_what_is_made_stays_when_stopped(page: TestClient) -> None:
    """Begun on the page, each plan is shown as soon as it is made; stopped, those stay."""
    page.post("/certainty", data={"do": "reckon", "effort": "quick"})
    making = shelf_of(page).pricer.making
    assert making is not None
    end = monotonic() + PATIENCE_S
    while not making.priced:
        assert monotonic() < end, making
        sleep(0.05)
    assert "plans are made" in page.get("/certainty").text
    stopped = page.post("/certainty", data={"do": "stop"})
    assert "What was reckoned stands here" in stopped.text
    assert "Side by side" in stopped.text
    assert "Reckon it again" in stopped.text


def test_what_is_chosen_is_what_the_garden_asks_from_then_on(
    page: TestClient, priced: tuple[Priced, ...]
) -> None:
    """Who chooses 9 years in 10 has a garden that asks for it, and a plan in the making for it."""
    put(page, priced)
    page.post("/certainty", data={"do": "choose", "years": "9"})
    shelf = shelf_of(page)
    assert open_garden(shelf.garden.path).garden.household.certainty == 0.9
    making = shelf.planner.making
    assert making is not None
    assert making.order.notebook == shelf.garden.path
    shelf.planner.give_up()
    page.post("/certainty", data={"do": "choose", "years": "means"})
    assert open_garden(shelf.garden.path).garden.household.certainty is None


def test_the_invented_garden_offers_it(page: TestClient) -> None:
    """Who looks round in the demo finds what certainty would cost there, one press away."""
    page.post("/first/demo")
    html = page.get("/certainty").text
    assert "An invented garden." in html
    assert "Reckon what certainty costs here" in html
    assert "This garden is planned by means." in html
